"""What the painted charts share: a widget that paints in the theme and tells itself in words."""

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import font, look


class Canvas(QWidget):
    """A painted chart. Subclasses paint in `draw`, and say the same in `sentence`."""

    def __init__(self, name: str, height: int) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setMinimumSize(200, height)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        look().changed.connect(self.update)

    def draw(self, painter: QPainter) -> None:
        """Paint the chart."""
        raise NotImplementedError

    def sentence(self) -> str:
        """Return what the chart shows, in words."""
        raise NotImplementedError

    def table(self) -> list[list[str]]:
        """Return what the chart shows as rows of cells."""
        raise NotImplementedError

    def told(self) -> None:
        """Take over what is shown: say it to whoever listens, and paint it."""
        self.setAccessibleDescription(self.sentence())
        self.update()

    def paintEvent(self, _event: object) -> None:
        """Paint the chart."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.draw(painter)
        painter.end()

    def say(self, painter: QPainter, text: str) -> None:
        """Say a sentence where a chart would be."""
        painter.setFont(font())
        painter.setPen(QColor(look().theme.quiet))
        middle = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(QRectF(self.rect()).adjusted(12, 0, -12, 0), middle, text)


MINUTES = "min"
"""The unit of lengths of time as they are shown."""

_CLOCK_STEPS = (1, 2, 5, 10, 15, 30, 60, 120, 180, 240, 360, 720, 1440)
"""Minutes between the marks of a length of time."""


def ticks(low: float, high: float, most: int = 5, *, minutes: bool = False) -> list[float]:
    """Return round places between two numbers; of minutes, such as are round on a clock."""
    if not high > low:
        return [low]
    raw = (high - low) / max(most, 1)
    power = 10.0 ** _floor_log(raw)
    step = next(s * power for s in (1, 2, 2.5, 5, 10) if s * power >= raw * 0.999)
    if minutes:
        step = next((float(s) for s in _CLOCK_STEPS if s >= raw * 0.999), step)
    first = -(-low // step) * step
    found = []
    while first <= high + 1e-9 * step:
        found.append(round(first, 10) + 0.0)
        first += step
    return found


def _floor_log(value: float) -> int:
    exponent = 0
    while value >= 10:
        value, exponent = value / 10, exponent + 1
    while 0 < value < 1:
        value, exponent = value * 10, exponent - 1
    return exponent


def tick_text(value: float, *, signed: bool = False, minutes: bool = False) -> str:
    """Return a number on an axis, with a true minus; of minutes, hours and minutes."""
    if minutes and value == round(value):
        hours, rest = divmod(abs(int(value)), 60)
        words = f"{hours} h {rest}" if rest else f"{hours} h"
        return ("−" if value < 0 else "") + (words if hours else f"{rest} min")
    text = f"{value:+g}" if signed and value else f"{value:g}"
    return text.replace("-", "−")


def horizontal_grid(
    painter: QPainter,
    area: QRectF,
    places: list[float],
    y: Callable[[float], float],
    *,
    minutes: bool = False,
) -> None:
    """Paint the horizontal lines of a chart with their numbers (or minutes) at the left."""
    theme = look().theme
    painter.setFont(font(tokens.SMALL, tabular=True))
    for value in places:
        height = y(value)
        painter.setPen(QPen(QColor(theme.grid), 1))
        painter.drawLine(QPointF(area.left(), height), QPointF(area.right(), height))
        painter.setPen(QColor(theme.quiet))
        room = QRectF(0, height - 10, area.left() - 8, 20)
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(room, right, tick_text(value, minutes=minutes))


def elided(painter: QPainter, text: str, width: float) -> str:
    """Return a text cut to a width."""
    return painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, int(max(width, 12)))
