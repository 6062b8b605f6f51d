"""The line under a thing on the Shelf: what one's own cooks say of it, and a tap to ask more."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from pitjournal.analysis.shelf.own_cooks import OfOwnCooks, SlotHeat
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.words import column, row, words
from pitjournal.ui.look.theme import at_size, font, look, px
from pitjournal.units.figures import figure

TILE, HIGH, GAP = 92.0, 28.0, 6.0
ALIKE = 5.0
"""Slots that differ by less, min, are alike."""


class SlotMap(QWidget):
    """The slots of a cooker as small tiles: what comes off sooner there, and what later."""

    def __init__(self) -> None:
        super().__init__()
        self._slots: tuple[SlotHeat, ...] = ()
        self._across = 1
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        look().changed.connect(self.update)
        look().resized.connect(self._fit)

    def show_slots(self, slots: Sequence[SlotHeat], across: int) -> None:
        """Show a cooker's, so many side by side; none without two."""
        self._across = across
        self._slots = tuple(slots) if len(slots) > 1 else ()
        self.setVisible(bool(self._slots))
        said = "; ".join(f"slot {one.slot} {_said(one)}" for one in self._slots)
        self.setAccessibleName("hot slots")
        self.setAccessibleDescription(said)
        self.setToolTip(said)
        self._fit()

    def _fit(self) -> None:
        self.setFixedSize(self.sizeHint())
        self.update()

    def sizeHint(self) -> QSize:
        """Return what its tiles need."""
        lines = -(-len(self._slots) // self._across)
        across = min(len(self._slots), self._across)
        wide, tall = across * (self._tile() + GAP), lines * (HIGH + GAP)
        return QSize(px(max(wide, 1)), px(max(tall, 1)))

    def _tile(self) -> float:
        metrics = QFontMetricsF(font(tokens.SMALL, tabular=True))
        wanted = [metrics.horizontalAdvance(f"{s.slot}  {_sign(s)}") + 20 for s in self._slots]
        return max([TILE, *wanted])

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the tiles: sooner in ember, later in the colour of what is quiet."""
        theme = look().theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        at_size(painter, self.rect())
        painter.setFont(font(tokens.SMALL, tabular=True))
        wide = self._tile()
        for place, one in enumerate(self._slots):
            line, at = divmod(place, self._across)
            room = QRectF(at * (wide + GAP) + 1, line * (HIGH + GAP) + 1, wide, HIGH)
            hot = one.later < -60 * ALIKE
            edge = theme.ember if hot else theme.hairline
            painter.setPen(QPen(QColor(edge), 2.0 if hot else 1.4))
            painter.setBrush(QColor(theme.ember_tint if hot else theme.card))
            painter.drawRoundedRect(room, 6, 6)
            painter.setPen(QColor(theme.ink))
            inner = room.adjusted(8, 0, -8, 0)
            painter.drawText(inner, Qt.AlignmentFlag.AlignVCenter, one.slot)
            right = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
            painter.setPen(QColor(theme.ink if hot else theme.quiet))
            painter.drawText(inner, right, _sign(one))
        painter.end()


def _sign(one: SlotHeat) -> str:
    return f"{figure(one.later / 60, signed=True)} min"


def _said(one: SlotHeat) -> str:
    minutes = abs(one.later) / 60
    if minutes < ALIKE:
        return f"as the others, {one.cooks} cooks"
    way = "sooner: hot" if one.later < 0 else "later: cool"
    return f"off {figure(minutes)} min {way}, {one.cooks} cooks"


class OwnLine(QWidget):
    """What cooks say of a thing."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._told = OfOwnCooks("")
        self.said = words("", "quiet")
        self.ask = button("Ask Trends", self._ask, "link")
        self.map = SlotMap()
        line = row(self.said, self.ask)
        line.setStretch(0, 1)
        self.heat = words("Against the cook's mean, off", "quiet", wrap=False)
        self.setLayout(column(line, row(self.heat, self.map, None), space=tokens.XS))
        self.hide()

    def show_told(self, told: OfOwnCooks, name: str) -> None:
        """Show it."""
        self._told = told
        self.said.setText(told.words)
        self.ask.setVisible(bool(told.where))
        self.ask.tell_about(name)
        self.map.show_slots(told.slots, told.across)
        self.heat.setVisible(len(told.slots) > 1)
        self.setVisible(bool(told.words))

    def _ask(self) -> None:
        self._desk.go_to(Destination(place="trends", where=self._told.where))
