"""Chips: an arm or a piece in its colour and shape, a choice of one or several, a tag."""

from collections.abc import Callable, Iterable, Mapping
from math import ceil

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QFontMetricsF, QKeyEvent, QPainter, QPen, QShowEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QLayout,
    QLayoutItem,
    QSizePolicy,
    QWidget,
)

from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.parts.spoken import REMOVE
from pitjournal.ui.look.parts.words import clear
from pitjournal.ui.look.theme import at_size, bold, font, high, look, px

_HEIGHT, TALL = 30, 46
BESIDE_MARK = 22
"""What an arm's mark takes beside the words, px."""

WIDEST = 360
"""Words that are wider than a chip are cut short, px."""

_NO_MARK = -1
ARROWS = (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down)


def in_gloves(part: QWidget) -> bool:
    """Whether a part stands where hands are in gloves: on the bench, and in what it opens."""
    holder: QWidget | None = part
    while holder is not None:
        if holder.property("gloves"):
            return True
        holder = holder.parentWidget()
    return False


class Chip(QAbstractButton):
    """A small round button: a word, with an arm's mark or a cross beside it.

    A checkable one chooses; one with a cross takes itself away; a tall one is for gloves.
    """

    def __init__(
        self,
        text: str,
        *,
        mark: int | None = _NO_MARK,
        checkable: bool = False,
        cross: bool = False,
        strong: bool = False,
        tall: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._height = TALL if tall else _HEIGHT
        self._cross = cross
        self.setText(text)
        self.setCheckable(checkable)
        self._mark, self._strong = mark, strong
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        look().changed.connect(self.update)

    def setText(self, text: str) -> None:
        """Show another word, by which it is called from now on."""
        super().setText(text)
        self.setAccessibleName(f"{REMOVE} {text}" if self._cross else text)

    @property
    def _has_mark(self) -> bool:
        return self._mark != _NO_MARK

    def sizeHint(self) -> QSize:
        """Return what its words need."""
        wide = self._strong or self.isCheckable()  # a chosen chip is bold, and keeps its size
        metrics = QFontMetricsF(bold(tokens.SMALL) if wide else font(tokens.SMALL))
        width = metrics.horizontalAdvance(self._shown()) + 2 * tokens.M + 1
        if in_gloves(self):
            self._height = TALL
        tall = high(self._height)
        # Never narrower than high: a short word is a round target, not a slit.
        return QSize(min(max(px(width + BESIDE_MARK * self._has_mark), tall), px(WIDEST)), tall)

    def _shown(self) -> str:
        return f"{self.text()}  ×" if self._cross else self.text()

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        theme = look().theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        chosen = self.isChecked()
        edge = theme.ember if self.hasFocus() else theme.ink if chosen else theme.hairline
        width = float(theme.edge) * (2 if self.hasFocus() or chosen else 1)
        whole = at_size(painter, self.rect())
        inside = whole.adjusted(width / 2, width / 2, -width / 2, -width / 2)
        painter.setPen(QPen(QColor(edge), width))
        plain = chosen and not self._has_mark
        painter.setBrush(QColor(theme.ink if plain else theme.card))
        painter.drawRoundedRect(inside, whole.height() / 2, whole.height() / 2)
        if chosen and self.hasFocus():  # a ring that is told from the edge and from the ground
            painter.setPen(QPen(QColor(theme.card), width))
            ring = inside.adjusted(width, width, -width, -width)
            painter.drawRoundedRect(ring, ring.height() / 2, ring.height() / 2)
        painter.setPen(QColor(theme.card if plain else theme.ink))
        painter.setFont(bold(tokens.SMALL) if self._strong or chosen else font(tokens.SMALL))
        beside = BESIDE_MARK if self._has_mark else 0
        most = whole.width() - 2 * tokens.S - beside
        text = painter.fontMetrics().elidedText(
            self._shown(), Qt.TextElideMode.ElideRight, ceil(most)
        )
        width = QFontMetricsF(painter.font()).horizontalAdvance(text)
        left = (whole.width() - width - beside) / 2  # mark and words stand in the middle
        painter.drawText(
            QRectF(left + beside, 0, width + 2, whole.height()), Qt.AlignmentFlag.AlignVCenter, text
        )
        if self._has_mark:
            paint_mark(painter, left + tokens.MARK, whole.height() / 2, self._mark, 6)
        painter.end()


class OneChip(Chip):
    """A chip of a choice of one: a radio button to a screen reader.

    Qt calls so what is exclusive by itself. What else comes with that is undone here: Tab would
    stop at the chosen one only, arrows would choose, and nothing chosen could not be shown.
    """

    def __init__(self, text: str, *, mark: int | None = _NO_MARK, tall: bool = False) -> None:
        super().__init__(text, mark=mark, checkable=True, tall=tall)
        self.setAutoExclusive(True)

    def show_chosen(self, chosen: bool) -> None:
        """Show whether it is the chosen one, without a say of its neighbours."""
        self.setAutoExclusive(False)
        self.setChecked(chosen)
        self.setAutoExclusive(True)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Take the focus, and leave it to be had to the others."""
        super().focusInEvent(event)
        holder = self.parentWidget()
        for chip in holder.findChildren(OneChip) if holder is not None else ():
            chip.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave the arrows to the page."""
        if event.key() in ARROWS:
            event.ignore()
        else:
            super().keyPressEvent(event)


class Flow(QLayout):
    """Lays chips in a line, and in the next when it is full.

    Where all stand in one line, the last so many (`ends`) stand at its end. With `middle` each line
    stands in the middle. It is the layout of a
    widget of its own: of one within another layout PySide lets the items go, and Qt then dies.
    """

    def __init__(self, space: int = tokens.S, ends: int = 0, *, middle: bool = False) -> None:
        super().__init__()
        self._items: list[QLayoutItem] = []
        self._ends, self._middle = ends, middle
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(space)

    def addItem(self, item: QLayoutItem) -> None:
        """Add an item at the end."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """Return an item."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Take an item out."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """Ask for no more room than the chips need."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Its height depends on its width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of its lines."""
        return self._lay(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:
        """Lay the items."""
        super().setGeometry(rect)
        self._lay(rect, move=True)

    def sizeHint(self) -> QSize:
        """Return the least size."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        """Return the size of the largest item."""
        found = QSize()
        for item in self._items:
            found = found.expandedTo(item.minimumSize())
        return found

    def _lay(self, rect: QRect, *, move: bool) -> int:
        x, y, line = rect.x(), rect.y(), 0
        seen = [item for item in self._items if not item.isEmpty()]  # what is hidden takes no gap
        if self._middle:
            return self._lay_middle(rect, seen, move=move)
        ends = sum(not item.isEmpty() for item in self._items[len(self._items) - self._ends :])
        last = len(seen) - ends if ends else -1
        for place, item in enumerate(seen):
            size = item.sizeHint()
            if place == last and y == rect.y():
                rest = sum(one.sizeHint().width() for one in seen[place:])
                rest += self.spacing() * (ends - 1)
                x = max(x, rect.right() + 1 - rest) if x + rest <= rect.right() + 1 else x
            if x > rect.x() and x + size.width() > rect.right() + 1:
                x, y, line = rect.x(), y + line + self.spacing(), 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x += size.width() + self.spacing()
            line = max(line, size.height())
        return y + line - rect.y()

    def _lay_middle(self, rect: QRect, seen: list[QLayoutItem], *, move: bool) -> int:
        """Lay lines that stand in the middle; return their height."""
        lines: list[list[QLayoutItem]] = [[]]
        for item in seen:
            width = sum(one.sizeHint().width() + self.spacing() for one in lines[-1])
            if lines[-1] and width + item.sizeHint().width() > rect.width():
                lines.append([])
            lines[-1].append(item)
        y = rect.y()
        for line in lines:
            sizes = [item.sizeHint() for item in line]
            width = sum(size.width() for size in sizes) + self.spacing() * max(len(line) - 1, 0)
            x = rect.x() + max(rect.width() - width, 0) // 2
            for item, size in zip(line, sizes, strict=True):
                if move:
                    item.setGeometry(QRect(QPoint(x, y), size))
                x += size.width() + self.spacing()
            y += max((size.height() for size in sizes), default=0) + self.spacing()
        return y - self.spacing() - rect.y()


class Choice(QWidget):
    """Chips of which one is chosen (`several`: any number); `tall` ones are for gloves.

    Signals
    -------
    chosen(object)
        The value, or for `several` the tuple of values; by the cook, not by `choose`.
    """

    chosen = Signal(object)

    def __init__(self, name: str, *, several: bool = False, tall: bool = False) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self._several, self._tall = several, tall
        self._chips: dict[object, Chip] = {}
        self._offered: list[tuple[object, str, int | None]] = []
        self._in_a_row = False
        self._flow = Flow()
        self.setLayout(self._flow)

    def offer(self, options: Iterable[tuple[object, str, int | None]]) -> None:
        """Offer values with their words and marks (−1: no mark); none of them is chosen."""
        found = list(options)
        if found == self._offered:
            self.choose()
            return
        self._offered = found
        clear(self._flow)
        self._chips.clear()
        for value, text, mark in found:
            if self._several:
                chip = Chip(text, mark=mark, checkable=True, tall=self._tall)
            else:
                chip = OneChip(text, mark=mark, tall=self._tall)
            chip.clicked.connect(self._picker(value))
            self._chips[value] = chip
            self._flow.addWidget(chip)
            chip.show()  # at once: what waits to be shown takes no room, and is asked for it now
        self.updateGeometry()

    def tell(self, about: Mapping[object, str]) -> None:
        """Say what the values mean: under the pointer, and to whoever reads the screen aloud."""
        for value, chip in self._chips.items():
            chip.setToolTip(about.get(value, ""))
            chip.setAccessibleDescription(about.get(value, ""))

    def keep_in_a_row(self) -> None:
        """Take the width at which all stand beside one another."""
        self.setMinimumWidth(self.row_width())
        if not self._in_a_row:
            self._in_a_row = True
            look().resized.connect(self.keep_in_a_row)

    def showEvent(self, event: QShowEvent) -> None:
        """Take that width anew, once the letters are those of the look."""
        super().showEvent(event)
        if self._in_a_row:
            for chip in self._chips.values():
                chip.ensurePolished()
            self.keep_in_a_row()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Hand the focus on to the chosen chip, else to the first: none of its own is seen."""
        super().focusInEvent(event)
        chips = [chip for chip in self._chips.values() if chip.isVisibleTo(self)]
        first = next((chip for chip in chips if chip.isChecked()), next(iter(chips), None))
        if first is not None:
            first.setFocus(event.reason())

    def sizeHint(self) -> QSize:
        """Ask for a line where all stand in one, whatever lines they would take at the least width."""
        if not self._in_a_row:
            return super().sizeHint()
        high = max((chip.sizeHint().height() for chip in self._chips.values()), default=0)
        return QSize(self.row_width(), high)

    def row_width(self) -> int:
        """Return the width at which all stand beside one another, px."""
        widths = [chip.sizeHint().width() for chip in self._chips.values()]
        return sum(widths) + tokens.S * max(len(widths) - 1, 0)

    def height_at(self, width: int) -> int:
        """Return the height that its lines take at a width, px."""
        return self._flow.heightForWidth(width)

    def _picker(self, value: object) -> Callable[..., None]:
        def pick(*_: object) -> None:
            if not self._several:
                self.choose(value)
                self.chosen.emit(value)
            else:
                self.chosen.emit(self.values())

        return pick

    def choose(self, *values: object) -> None:
        """Show these values as chosen."""
        for value, chip in self._chips.items():
            if isinstance(chip, OneChip):
                chip.show_chosen(value in values)
            else:
                chip.setChecked(value in values)

    @property
    def offered(self) -> tuple[object, ...]:
        """The values to choose from."""
        return tuple(self._chips)

    def values(self) -> tuple[object, ...]:
        """Return the chosen values."""
        return tuple(value for value, chip in self._chips.items() if chip.isChecked())
