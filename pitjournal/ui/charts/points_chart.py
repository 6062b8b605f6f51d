"""Every piece as a point, arm by arm; pieces of one block are joined."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from pitjournal.science.scale import is_known, span_about
from pitjournal.ui.charts.axis import Axis
from pitjournal.ui.charts.canvas import (
    Canvas,
    elided,
    horizontal_grid,
    room_for,
    tick_text,
    tick_texts,
    ticks,
)
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, font, look
from pitjournal.units.figures import trimmed


@dataclass(frozen=True)
class ArmPoints:
    """An arm's points: (label, block, value in the unit shown), and their mean."""

    name: str
    look: int
    points: tuple[tuple[str, str, float], ...]
    mean: float | None


class PointsChart(Canvas):
    """Raw points by arm with the mean of each."""

    def __init__(self) -> None:
        super().__init__("each piece by arm", 170)
        self._arms: tuple[ArmPoints, ...] = ()
        self._unit = ""

    def show_arms(self, arms: Sequence[ArmPoints], unit: str) -> None:
        """Show arms."""
        self._arms, self._unit = tuple(arms), unit
        self.show_anew()

    def sentence(self) -> str:
        """Return each arm's mean in words."""
        parts = [
            f"{arm.name} {trimmed(arm.mean, 3)} {self._unit}, {len(arm.points)} pieces"
            for arm in self._arms
            if arm.mean is not None
        ]
        return "; ".join(parts) or "Nothing is recorded yet."

    def table(self) -> list[list[str]]:
        """Return a row a piece."""
        rows = [["arm", "piece", "block", self._unit]]
        rows += [
            [arm.name, label, block, tick_text(round(value, 3))]
            for arm in self._arms
            for label, block, value in arm.points
        ]
        return rows

    def draw(self, painter: QPainter) -> None:
        """Paint it."""
        values = [value for arm in self._arms for _, _, value in arm.points if is_known(value)]
        if not values:
            self.say(painter, "Nothing is recorded yet.")
            return
        theme = look().theme
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(QRectF(0, 0, self.wide, 18), elided(painter, self._unit, self.wide))
        low, high = span_about(values, 0.25)
        levels = ticks(low, high, 4)
        left = room_for(tick_texts(levels), 26)
        area = QRectF(left, 24, self.wide - left - 8, self.high - 56)
        y = Axis(low, high, area.bottom(), area.top()).at
        horizontal_grid(painter, area, levels, y)
        width = area.width() / len(self._arms)
        places = self._places(area.left(), width)
        painter.setPen(QPen(QColor(theme.hairline), 1.4))
        self._join(painter, places, y)
        for place, arm in enumerate(self._arms):
            middle = area.left() + (place + 0.5) * width
            shade = QColor(theme.arm(arm.look))
            if arm.mean is not None:
                painter.setPen(QPen(shade, theme.line + 0.6))
                half = min(width * 0.3, 36)
                painter.drawLine(
                    QPointF(middle - half, y(arm.mean)), QPointF(middle + half, y(arm.mean))
                )
            for label, _, value in arm.points:
                paint_mark(painter, places[arm.name, label], y(value), arm.look)
            painter.setPen(QColor(theme.ink))
            painter.setFont(bold(tokens.SMALL))
            room = QRectF(middle - width / 2 + 2, area.bottom() + 8, width - 4, 20)
            painter.drawText(
                room, Qt.AlignmentFlag.AlignHCenter, elided(painter, arm.name, room.width())
            )

    def _places(self, left: float, width: float) -> dict[tuple[str, str], float]:
        found = {}
        for place, arm in enumerate(self._arms):
            middle = left + (place + 0.5) * width
            count = len(arm.points)
            step = min(18.0, width * 0.7 / max(count, 1))
            for spot, (label, _, _) in enumerate(arm.points):
                found[arm.name, label] = middle + (spot - (count - 1) / 2) * step
        return found

    def _join(
        self,
        painter: QPainter,
        places: dict[tuple[str, str], float],
        y: Callable[[float], float],
    ) -> None:
        blocks: dict[str, list[QPointF]] = {}
        for arm in self._arms:
            for label, block, value in arm.points:
                if block and is_known(value):
                    spot = QPointF(places[arm.name, label], y(value))
                    blocks.setdefault(block, []).append(spot)
        for line in blocks.values():
            if len(line) > 1:
                painter.drawPolyline(line)
