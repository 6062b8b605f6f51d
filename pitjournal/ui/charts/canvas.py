"""What the painted charts share: a widget that paints in the theme and tells itself in words."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFocusEvent, QFontMetricsF, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from pitjournal.science.scale import is_known, multiples, round_step, same
from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import at_size, font, look, sized
from pitjournal.units.figures import trimmed


class Canvas(QWidget):
    """A painted chart. Subclasses paint in `draw`, and say the same in `sentence`."""

    def __init__(self, name: str, height: int) -> None:
        super().__init__()
        self.setAccessibleName(name)
        sized(self, least_width=200, least_height=height)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        look().changed.connect(self.update)

    @property
    def wide(self) -> float:
        """How wide it is, px at 100 %: in these is painted, whatever the text size."""
        return self.width() / look().sizes.scale

    @property
    def high(self) -> float:
        """How high it is, px at 100 %."""
        return self.height() / look().sizes.scale

    def place(self, event: QMouseEvent) -> QPointF:
        """Return where a hand is, in the px in which is painted."""
        return event.position() / look().sizes.scale

    def draw(self, painter: QPainter) -> None:
        """Paint the chart, `wide` by `high`."""
        raise NotImplementedError

    def sentence(self) -> str:
        """Return what the chart shows, in words."""
        raise NotImplementedError

    def table(self) -> list[list[str]]:
        """Return what the chart shows as rows of cells."""
        raise NotImplementedError

    def show_anew(self) -> None:
        """Take over what is shown: say it to whoever listens, and paint it."""
        self.setAccessibleDescription(self.sentence())
        self.update()

    def paintEvent(self, _event: object) -> None:
        """Paint the chart."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        at_size(painter, self.rect())
        self.draw(painter)
        painter.end()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show where the keys go."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show that the keys go elsewhere."""
        super().focusOutEvent(event)
        self.update()

    def paint_focus(self, painter: QPainter) -> None:
        """Paint the frame that says that keys go here."""
        painter.setPen(QPen(QColor(look().theme.ember), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(QRectF(1, 1, self.wide - 2, self.high - 2), 8, 8)

    def say(self, painter: QPainter, text: str) -> None:
        """Say a sentence where a chart would be."""
        painter.setFont(font())
        painter.setPen(QColor(look().theme.quiet))
        middle = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(QRectF(0, 0, self.wide, self.high).adjusted(12, 0, -12, 0), middle, text)


MINUTES = "min"
"""The unit of lengths of time as they are shown."""


def ticks(low: float, high: float, most: int = 5, *, minutes: bool = False) -> list[float]:
    """Return round places between two numbers; of minutes, such as are round on a clock.

    Numbers no further apart than rounding are one place, and what is no number has none.
    """
    if not (is_known(low) and is_known(high)):
        return []
    if high < low or same(low, high):
        return [low]
    return multiples(low, high, round_step(high - low, most, minutes=minutes))


def tick_text(value: float, *, signed: bool = False, minutes: bool = False) -> str:
    """Return a number on an axis, with a true minus; of minutes, hours and minutes."""
    if minutes and value == round(value):
        hours, rest = divmod(abs(int(value)), 60)
        words = f"{hours} h {rest}" if rest else f"{hours} h"
        return ("−" if value < 0 else "") + (words if hours else f"{rest} min")
    return trimmed(value, signed=signed)


def tick_texts(
    places: Sequence[float], *, signed: bool = False, minutes: bool = False
) -> list[str]:
    """Return the numbers of an axis, each with as many digits as tell it from the others."""
    texts = [tick_text(value, signed=signed, minutes=minutes) for value in places]
    if len(set(texts)) == len(set(places)):
        return texts
    return [trimmed(value, 12, signed=signed) for value in places]


BESIDE = 8
"""Between the numbers at the left and the chart, px."""


def room_for(texts: Sequence[str], least: float = 36.0) -> float:
    """Return the room at the left that the numbers of an axis need, px."""
    metrics = QFontMetricsF(font(tokens.SMALL, tabular=True))
    return max([least, *(metrics.horizontalAdvance(text) + 4 for text in texts)]) + BESIDE


def horizontal_grid(
    painter: QPainter,
    area: QRectF,
    places: Sequence[float],
    y: Callable[[float], float],
    *,
    minutes: bool = False,
) -> None:
    """Paint the horizontal lines of a chart with their numbers (or minutes) at the left.

    The room at the left of the area is what `room_for` gives for `tick_texts`.
    """
    theme = look().theme
    painter.setFont(font(tokens.SMALL, tabular=True))
    for value, text in zip(places, tick_texts(places, minutes=minutes), strict=True):
        height = y(value)
        painter.setPen(QPen(QColor(theme.grid), 1))
        painter.drawLine(QPointF(area.left(), height), QPointF(area.right(), height))
        painter.setPen(QColor(theme.quiet))
        room = QRectF(0, height - 10, area.left() - BESIDE, 20)
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(room, right, text)


def paint_foot(
    painter: QPainter,
    top: float,
    width: float,
    marks: Sequence[tuple[float, str]],
) -> None:
    """Paint the numbers along a foot, each under its place, whole, and none over another.

    Parameters
    ----------
    top
        Where they begin, px.
    width
        Of the chart: what would stand beyond is moved in.
    marks
        Where each stands, and its words, from left to right.
    """
    painter.setFont(font(tokens.SMALL, tabular=True))
    painter.setPen(QColor(look().theme.quiet))
    metrics = QFontMetricsF(painter.font())
    free = 0.0
    for place, text in marks:
        needed = metrics.horizontalAdvance(text) + 2
        left = min(max(place - needed / 2, 0.0), width - needed)
        if left >= free:
            room = QRectF(left, top, needed, 18)
            painter.drawText(room, Qt.AlignmentFlag.AlignHCenter, text)
            free = left + needed + BESIDE


def elided(painter: QPainter, text: str, width: float) -> str:
    """Return a text cut to a width."""
    return painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, int(max(width, 12)))
