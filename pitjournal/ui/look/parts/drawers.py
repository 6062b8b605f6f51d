"""Drawers: what is folded away, each saying in a line what is in it."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QFontMetrics,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QAbstractButton,
    QFrame,
    QGridLayout,
    QScrollArea,
    QSizePolicy,
    QWidget,
)

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.words import column
from pitjournal.ui.look.theme import at_size, bold, font, high, look, px, sized

HEAD = 32
"""The height of a drawer's head, px."""

THREE, TWO = 1000, 560
"""From this width on so many drawers lie side by side, px at 100 %."""

NAME_AT = 36
MOVES = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class DrawerHead(QAbstractButton):
    """What a drawer is opened by: a chevron, its name, and what is in it.

    Signals
    -------
    moved(int, int)
        An arrow was pressed: columns and lines from here.
    """

    moved = Signal(int, int)

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setText(name)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        sized(self, lines=1, height=HEAD)
        self._holds = ""
        self.last = False
        self.toggled.connect(self._name)
        look().changed.connect(self.update)
        self._name()

    def sizeHint(self) -> QSize:
        """Return a size for name and some words."""
        return QSize(px(200), high(HEAD, 1))

    def tell(self, holds: str) -> None:
        """Say what is in it."""
        self._holds = holds
        self._name()
        self.update()

    def _name(self) -> None:
        state = "open" if self.isChecked() else "folded"
        said = ", ".join(part for part in (self.text(), state, self._holds) if part)
        self.setAccessibleName(said)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open and fold by Enter, go on by the arrows."""
        key = Qt.Key(event.key())
        if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.click()
        elif key in MOVES:
            self.moved.emit(*MOVES[key])
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint it."""
        theme = look().theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        room = at_size(painter, self.rect())
        middle = room.center().y()
        painter.setPen(QPen(QColor(theme.hairline), theme.edge))
        if not self.last:
            right = room.right() - theme.edge / 2
            painter.drawLine(QPointF(right, 0), QPointF(right, room.bottom()))
        self._paint_chevron(painter, middle)
        painter.setFont(bold(tokens.BODY))
        painter.setPen(QColor(theme.ink))
        wide = QFontMetrics(painter.font()).horizontalAdvance(self.text())
        left = Qt.AlignmentFlag.AlignVCenter
        painter.drawText(QRectF(NAME_AT, 0, wide + 2, room.height()), left, self.text())
        painter.setFont(font(tokens.SMALL, tabular=True))
        painter.setPen(QColor(theme.quiet))
        begin = NAME_AT + wide + tokens.S
        space = room.right() - begin - tokens.M
        cut = Qt.TextElideMode.ElideRight
        words = painter.fontMetrics().elidedText(self._holds, cut, int(max(space, 0)))
        self.setToolTip("" if words == self._holds else self._holds)
        painter.drawText(QRectF(begin, 0, max(space, 0) + 2, room.height()), left, words)
        if self.hasFocus():
            painter.setPen(QPen(QColor(theme.ember), 2))
            painter.drawRoundedRect(room.adjusted(3, 3, -4, -3), 6, 6)
        painter.end()

    def _paint_chevron(self, painter: QPainter, middle: float) -> None:
        painter.setPen(QPen(QColor(look().theme.quiet), 2))
        x = 20.0
        corners = ((-4, -2), (0, 2), (4, -2)) if self.isChecked() else ((-2, -4), (2, 0), (-2, 4))
        painter.drawPolyline([QPointF(x + dx, middle + dy) for dx, dy in corners])


@dataclass
class Drawer:
    """A drawer: its key, its head, and what is in it."""

    key: str
    head: DrawerHead
    holds: QWidget
    wanted: bool = True


class Drawers(QFrame):
    """A grid of drawers on one card; what is opened lies at full width under its line.

    Signals
    -------
    turned()
        One was opened or folded.
    """

    turned = Signal()

    def __init__(self, drawers: Iterable[tuple[str, str, QWidget]]) -> None:
        super().__init__()
        self.setProperty("role", "card")
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(1, 1, 1, 1)
        self._grid.setSpacing(0)
        self._drawers = [Drawer(key, DrawerHead(name), holds) for key, name, holds in drawers]
        self._columns = 0
        for drawer in self._drawers:
            drawer.head.setParent(self)
            drawer.holds.setParent(self)
            drawer.holds.hide()
            drawer.head.toggled.connect(self._turner(drawer))
            drawer.head.moved.connect(self._mover(drawer))
        look().resized.connect(self._lay)
        self._lay()

    # which there are

    def tell(self, key: str, holds: str) -> None:
        """Say what is in a drawer; one with nothing in it is not there."""
        drawer = self._of(key)
        drawer.head.tell(holds)
        if drawer.wanted != bool(holds):
            drawer.wanted = bool(holds)
            self._lay(anew=True)

    @property
    def all(self) -> Sequence[Drawer]:
        """All drawers, those with nothing in them too."""
        return tuple(self._drawers)

    @property
    def opened(self) -> tuple[str, ...]:
        """The keys of those that are open."""
        return tuple(one.key for one in self._drawers if one.head.isChecked())

    def open_only(self, keys: Sequence[str]) -> None:
        """Open these and fold all others, without a word to whoever remembers."""
        self.blockSignals(True)
        for drawer in self._drawers:
            drawer.head.setChecked(drawer.key in keys)
        self.blockSignals(False)

    def open(self, key: str) -> None:
        """Open one, and go to it."""
        drawer = self._of(key)
        drawer.head.setChecked(True)
        drawer.head.setFocus()
        self._show(drawer)

    def head(self, key: str) -> DrawerHead:
        """Return the head of one."""
        return self._of(key).head

    def _of(self, key: str) -> Drawer:
        return next(one for one in self._drawers if one.key == key)

    def _turner(self, drawer: Drawer) -> Callable[[bool], None]:
        def turn(on: bool) -> None:
            drawer.holds.setVisible(on and drawer.wanted)
            self.turned.emit()
            if on and drawer.head.hasFocus():
                QTimer.singleShot(0, self, lambda: self._show(drawer))

        return turn

    def _show(self, drawer: Drawer) -> None:
        """Scroll the head of a drawer to the top of what holds it."""
        parent = self.parentWidget()
        while parent is not None and not isinstance(parent, QScrollArea):
            parent = parent.parentWidget()
        if isinstance(parent, QScrollArea) and (inner := parent.widget()) is not None:
            top = drawer.head.mapTo(inner, drawer.head.rect().topLeft()).y()
            parent.verticalScrollBar().setValue(top - tokens.S)

    # where they lie

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay them for the width there is."""
        super().resizeEvent(event)
        self._lay()

    def _lay(self, *, anew: bool = False) -> None:
        wide = self.width() / look().sizes.scale
        columns = 3 if wide >= THREE else 2 if wide >= TWO else 1
        if columns == self._columns and not anew:
            return
        self._columns = columns
        there = [drawer for drawer in self._drawers if drawer.wanted]
        for drawer in self._drawers:
            self._grid.removeWidget(drawer.head)
            self._grid.removeWidget(drawer.holds)
            drawer.head.setVisible(drawer.wanted)
            drawer.holds.setVisible(drawer.wanted and drawer.head.isChecked())
        for place, drawer in enumerate(there):
            line, at = divmod(place, columns)
            drawer.head.last = at == columns - 1
            top = line * (columns + 1)
            self._grid.addWidget(drawer.head, top, at)
            self._grid.addWidget(drawer.holds, top + 1 + at, 0, 1, columns)
        for at in range(3):
            self._grid.setColumnStretch(at, 1 if at < columns else 0)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the card, and a hairline over each line of heads but the first."""
        super().paintEvent(event)
        theme = look().theme
        painter = QPainter(self)
        painter.setPen(QPen(QColor(theme.hairline), theme.edge))
        tops = {one.head.y() for one in self._drawers if one.wanted}
        for top in sorted(tops)[1:]:
            painter.drawLine(1, top, self.width() - 2, top)
        painter.end()

    def _mover(self, drawer: Drawer) -> Callable[[int, int], None]:
        def move(across: int, down: int) -> None:
            there = [one for one in self._drawers if one.wanted]
            place = there.index(drawer) + across + down * self._columns
            if 0 <= place < len(there):
                there[place].head.setFocus()

        return move


def inside(*things: QWidget) -> QWidget:
    """Return what lies in a drawer: things one under the other, with the air of a card."""
    made = QWidget()
    made.setObjectName("scrolled")
    for card in things:
        for part in (card, *card.findChildren(QFrame)):
            if part.property("role") == "card":
                part.setProperty("role", "plain")  # no card stands on a card
    layout = column(*things, space=tokens.M)
    layout.setContentsMargins(tokens.M, tokens.S, tokens.M, tokens.L)
    made.setLayout(layout)
    return made
