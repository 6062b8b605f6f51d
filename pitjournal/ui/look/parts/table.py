"""A small table of words and numbers on a card: hairlines between rows, numbers at the right."""

from collections.abc import Iterator, Sequence

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import Mark
from pitjournal.ui.look.parts.words import clear, rule, words

Head = tuple[str, int | None]
"""A column's heading, with the look of an arm or None."""

Row = tuple[str, Sequence[str]]
"""A label and a cell for each column."""


AT_ONCE, A_TURN = 16, 8
"""So many rows are made at once, and so many in each turn of the event loop after that."""


class FactTable(QWidget):
    """Rows with a label at the left and a cell for each column.

    A row takes a millisecond to make: of a long table the first are made at once, the rest in
    turns of their own; what only reads differently is written anew, not made anew.
    """

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self._outer = QVBoxLayout(self)
        self._outer.setContentsMargins(0, 0, 0, 0)
        self._heads: tuple[Head, ...] = ()
        self._arms: tuple[Head, ...] = ()
        self._rows: list[Row] = []
        self._made: list[list[QLabel]] = []
        self._inner, self._grid = self._empty()
        self._more = QTimer(self, interval=0, singleShot=True)
        self._more.timeout.connect(lambda: self._make(A_TURN))

    def show_rows(
        self, heads: Sequence[Head], rows: Sequence[Row], arms: Sequence[Head] = ()
    ) -> None:
        """Show rows under headings; `arms` are those of the rows, which then bear their marks.

        Without headings, or with empty ones only, the rows begin at the top.
        """
        alike = (tuple(heads), tuple(arms)) == (self._heads, self._arms)
        alike = alike and [_shape(row) for row in rows] == [_shape(row) for row in self._rows]
        self._rows = [(label, tuple(cells)) for label, cells in rows]
        if alike:
            for made, (_, cells) in zip(self._made, self._rows, strict=False):
                for shown, cell in zip(made, cells, strict=True):
                    if shown.text() != cell:
                        shown.setText(cell)
            return
        self._heads, self._arms = tuple(heads), tuple(arms)
        self._begin()
        self._make(AT_ONCE)

    def _empty(self) -> tuple[QWidget, QGridLayout]:
        inner = QWidget()
        grid = QGridLayout(inner)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(tokens.M)
        grid.setVerticalSpacing(5)
        self._outer.addWidget(inner)
        return inner, grid

    def _begin(self) -> None:
        """Put away what was shown, all in one, and set the headings."""
        clear(self._outer)
        self._inner, self._grid = self._empty()
        self._made = []
        for place, (text, look) in enumerate(self._heads if any(self._heads_said()) else (), 1):
            head = QWidget()
            line = QHBoxLayout(head)
            line.setContentsMargins(0, 0, 0, 0)
            line.setSpacing(2)
            line.addStretch(1)
            if look is not None:
                line.addWidget(Mark(look, text))
            line.addWidget(words(text, "heading", wrap=False))
            self._grid.addWidget(head, 0, place)
        self._grid.addWidget(rule(), 1, 0, 1, self._columns())
        self._grid.setColumnStretch(0, 1)

    def _heads_said(self) -> Iterator[bool]:
        return (bool(text) or look is not None for text, look in self._heads)

    def _columns(self) -> int:
        """Return how many columns there are: a line between rows goes over all of them."""
        return 1 + max(len(self._heads), *(len(cells) for _, cells in self._rows), 0)

    def _make(self, most: int) -> None:
        """Make some rows more, and the others after them."""
        begin = len(self._made)
        for number, row in enumerate(self._rows[begin : begin + most], begin):
            self._made.append(self._row(number, row))
        self.updateGeometry()
        if len(self._made) < len(self._rows):
            self._more.start()

    def _row(self, number: int, row: Row) -> list[QLabel]:
        label, cells = row
        below = 2 * number + 2
        arm = self._arms[number] if number < len(self._arms) else ("", None)
        self._grid.addWidget(_marked(label, arm), below, 0)
        made = []
        for place, cell in enumerate(cells, 1):
            quiet = _is_quiet(cell)
            shown = words(cell, "quiet" if quiet else "", wrap=False, tabular=not quiet)
            shown.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            self._grid.addWidget(shown, below, place)
            made.append(shown)
        self._grid.addWidget(rule(), below + 1, 0, 1, self._columns())
        return made


def _is_quiet(cell: str) -> bool:
    return cell in {"–", "not recorded"}


def _shape(row: Row) -> tuple[str, tuple[bool, ...]]:
    """Return what a row looks like, whatever its cells say."""
    label, cells = row
    return label, tuple(_is_quiet(cell) for cell in cells)


def _marked(label: str, arm: Head) -> QWidget:
    """Return a row's label, behind the mark of its arm where it has one."""
    name, look = arm
    if look is None:
        return words(label)
    made = QWidget()
    line = QHBoxLayout(made)
    line.setContentsMargins(0, 0, 0, 0)
    line.setSpacing(tokens.XS)
    line.addWidget(Mark(look, name))
    line.addWidget(words(label), 1)
    return made
