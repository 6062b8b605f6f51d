"""A table that sorts by any column and shows the columns the cook wants."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QVBoxLayout, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import row
from pitjournal.ui.look.theme import bold_letters, high, letters, look, px

Index = QModelIndex | QPersistentModelIndex
ROW = 32
LEAST = 58
"""No column is narrower, px."""

SHOWN = 12
"""So many rows are seen without scrolling."""

WRAPPED = int(Qt.TextFlag.TextWordWrap)
ARROW = 14
"""Room for the arrow of the column that is sorted by, px."""


@dataclass(frozen=True)
class Cell:
    """What a cell shows, and what it is sorted by; None goes last either way."""

    text: str
    order: float | str | None = None


@dataclass(frozen=True)
class Heading:
    """A column's name; numbers stand at the right.

    The `roomy` one takes the room that the others leave, in several lines; else the first does.
    """

    text: str
    number: bool = False
    roomy: bool = False


class _Model(QAbstractTableModel):
    """Rows of cells in the order chosen."""

    def __init__(self) -> None:
        super().__init__()
        self.heads: tuple[Heading, ...] = ()
        self.rows: list[tuple[int, tuple[Cell, ...]]] = []

    def take(self, heads: Sequence[Heading], rows: Sequence[Sequence[Cell]]) -> None:
        """Show other rows, in the order given."""
        self.beginResetModel()
        self.heads = tuple(heads)
        self.rows = [(number, tuple(cells)) for number, cells in enumerate(rows)]
        self.endResetModel()

    def rowCount(self, parent: Index | None = None) -> int:
        """Return how many rows there are."""
        return 0 if parent is not None and parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index | None = None) -> int:
        """Return how many columns there are."""
        return 0 if parent is not None and parent.isValid() else len(self.heads)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return a cell's text, or how it is set."""
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}:
            return self.rows[index.row()][1][index.column()].text
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return self._side(index.column())
        if role == Qt.ItemDataRole.FontRole:
            return letters(tabular=self.heads[index.column()].number)
        return None

    def _side(self, column: int) -> int:
        number = self.heads[column].number
        side = Qt.AlignmentFlag.AlignRight if number else Qt.AlignmentFlag.AlignLeft
        return int(side | Qt.AlignmentFlag.AlignVCenter)

    def headerData(
        self,
        section: int,
        orientation: Qt.Orientation,
        role: int = Qt.ItemDataRole.DisplayRole,
    ) -> object:
        """Return a column's name."""
        if orientation is not Qt.Orientation.Horizontal or section >= len(self.heads):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.heads[section].text
        return self._side(section) if role == Qt.ItemDataRole.TextAlignmentRole else None

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sort by a column; what is not known stays last."""
        if not 0 <= column < len(self.heads):
            return
        self.beginResetModel()
        known = [line for line in self.rows if line[1][column].order is not None]
        rest = [line for line in self.rows if line[1][column].order is None]
        known.sort(
            key=lambda line: _order(line[1][column]),
            reverse=order is Qt.SortOrder.DescendingOrder,
        )
        self.rows = known + rest
        self.endResetModel()


def _order(cell: Cell) -> tuple[float, str]:
    """Return what a cell is sorted by: numbers before words."""
    if isinstance(cell.order, str):
        return float("inf"), cell.order.casefold()
    return cell.order or 0.0, ""


class _View(QTableView):
    """A table that says when it is as wide as it was not: a bar at its side takes width too."""

    wider = Signal()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Say so."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.wider.emit()


class SortTable(QWidget):
    """Rows to sort by a tap on a heading, with columns to choose.

    Columns named in `hidden` are shown when the cook chooses them.

    Signals
    -------
    chosen(int)
        A row was opened: its number among those given.
    """

    chosen = Signal(int)

    def __init__(self, name: str, hidden: Sequence[str] = ()) -> None:
        super().__init__()
        self._model = _Model()
        self._hidden = set(hidden)
        self._widths: list[int] = []
        self._roomy = 0
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        self._wider = False
        self.view = _View()
        self.view.setAccessibleName(name)
        self.view.setModel(self._model)
        self.view.setSortingEnabled(True)
        self.view.setShowGrid(False)
        self.view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.view.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.view.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.view.setTabKeyNavigation(False)
        self.view.verticalHeader().hide()
        head = self.view.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setAccessibleName(f"headings of {name}")
        self.view.verticalHeader().setAccessibleName(f"rows of {name}")
        head.setStretchLastSection(False)
        head.setHighlightSections(False)
        head.setSortIndicatorClearable(True)
        self.view.wider.connect(self._fit)
        self._model.modelReset.connect(self._fit)
        look().resized.connect(self._measure)
        self.view.activated.connect(self._opened)
        self.view.clicked.connect(self._opened)
        layout.addWidget(self.view)
        self.columns = button("Columns", self._choose, "link", about=f"of {name}")
        layout.addLayout(row(None, self.columns))

    def show_rows(self, heads: Sequence[Heading], rows: Sequence[Sequence[Cell]]) -> None:
        """Show rows; the order is that given until a heading is tapped."""
        head = self.view.horizontalHeader()
        head.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        self._model.take(heads, rows)
        self._roomy = next((n for n, one in enumerate(heads) if one.roomy), 0)
        for place in range(len(heads)):
            modes = QHeaderView.ResizeMode
            mode = modes.Stretch if place == self._roomy else modes.Fixed
            head.setSectionResizeMode(place, mode)
            self.view.setColumnHidden(place, False)
        self._hide()
        self._measure()

    def _measure(self) -> None:
        """Give the columns the widths of their words."""
        self.view.verticalHeader().setDefaultSectionSize(high(ROW))
        self.view.horizontalHeader().setMinimumSectionSize(px(LEAST))
        places = range(len(self._model.heads))
        self._widths = [0 if place == self._roomy else self._wide(place) for place in places]
        self._fit()

    def _fit(self) -> None:
        """Give the columns their widths, and each row the lines that its roomy cell takes."""
        metrics, head = QFontMetrics(letters()), self.view.horizontalHeader()
        width = max(self._share(metrics), px(LEAST)) - 2 * tokens.S
        heights = []
        for place, (_, cells) in enumerate(self._model.rows):
            room = metrics.boundingRect(0, 0, width, 999, WRAPPED, cells[self._roomy].text)
            heights.append(max(high(ROW), room.height() + tokens.S + 4))
            self.view.setRowHeight(place, heights[-1])
        shown = sum(heights[:SHOWN])
        bar = self.view.horizontalScrollBar().sizeHint().height() * self._wider
        self.view.setFixedHeight(shown + head.sizeHint().height() + tokens.S + bar)

    def _share(self, metrics: QFontMetrics) -> int:
        """Give the columns their widths, and return that of the roomy one, px.

        They go without their margins where a name would be cut.
        """
        others = (place for place in range(len(self._widths)) if place != self._roomy)
        shown = [place for place in others if not self.view.isColumnHidden(place)]
        names = [cells[self._roomy].text.split() for _, cells in self._model.rows]
        longest = max((metrics.horizontalAdvance(w) for words in names for w in words), default=0)
        left = self._room() - sum(self._widths[place] for place in shown)
        spare = tokens.S + tokens.XS if left < longest + 2 * tokens.S else 0
        head = self.view.horizontalHeader()
        for place in shown:
            head.resizeSection(place, self._widths[place] - spare)
        self._wider = left + spare * len(shown) < longest + tokens.S and bool(names)
        policy = Qt.ScrollBarPolicy
        scrolls = policy.ScrollBarAlwaysOn if self._wider else policy.ScrollBarAlwaysOff
        self.view.setHorizontalScrollBarPolicy(scrolls)
        modes = QHeaderView.ResizeMode
        if self._model.heads:
            mode = modes.Fixed if self._wider else modes.Stretch
            head.setSectionResizeMode(self._roomy, mode)
        if self._wider:  # no name is cut: the table is moved to the side
            head.resizeSection(self._roomy, longest + 2 * tokens.S)
            return longest + 2 * tokens.S
        return self._room() - sum(head.sectionSize(place) for place in shown)

    def _room(self) -> int:
        """Return the width that the columns share, px; a bar that is to come takes its own."""
        bar = self.view.verticalScrollBar()
        comes = len(self._model.rows) > SHOWN and not bar.isVisible()
        return self.view.viewport().width() - bar.sizeHint().width() * comes

    def _wide(self, place: int) -> int:
        """Return how wide a column must be; Qt's own hint has room for a large sort arrow."""
        face = bold_letters(tokens.SMALL)
        words = QFontMetrics(face).horizontalAdvance(self._model.heads[place].text)
        return max(words + ARROW, self.view.sizeHintForColumn(place)) + 2 * tokens.S

    def texts(self) -> list[list[str]]:
        """Return the rows as they stand, for tests and for reading aloud."""
        return [[cell.text for cell in cells] for _, cells in self._model.rows]

    def _opened(self, index: QModelIndex) -> None:
        self.chosen.emit(self._model.rows[index.row()][0])

    def _hide(self) -> None:
        for place, head in enumerate(self._model.heads):
            self.view.setColumnHidden(place, place > 0 and head.text in self._hidden)

    def _choose(self) -> None:
        panel = Overlay(self.window(), "Columns", 460)
        choice = Choice("columns", several=True)
        names = [head.text for head in self._model.heads[1:]]
        choice.offer((name, name, -1) for name in names)
        choice.choose(*(name for name in names if name not in self._hidden))

        def take(shown: object) -> None:
            assert isinstance(shown, tuple)
            self._hidden = {name for name in names if name not in shown}
            self._hide()
            self._fit()

        choice.chosen.connect(take)
        panel.body.addWidget(choice)
        panel.open_panel(choice)
