"""Groups of cooks: a mean with its interval each, and how many cooks it rests on."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from pitjournal.science.scale import span_about
from pitjournal.ui.charts.axis import Axis
from pitjournal.ui.charts.canvas import (
    MINUTES,
    elided,
    horizontal_grid,
    room_for,
    tick_text,
    tick_texts,
    ticks,
)
from pitjournal.ui.charts.marks_chart import MarksChart
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, font, look
from pitjournal.units.figures import counted, trimmed

RIGHT = 12
LINES, LINE = 4, 17
"""Names along the foot lie in so many lines at most, each so high, px."""

Span = tuple[float, float]


@dataclass(frozen=True)
class GroupMark:
    """One group in the unit shown: its place along the foot, its mark, and its numbers."""

    place: str
    series: str
    look: int
    mean: float
    low: float | None
    high: float | None
    cooks: int
    few: bool


def span_of(marks: Sequence[GroupMark]) -> Span:
    """Return the values that groups cover; a very wide interval of few cooks runs out of it."""
    means = [mark.mean for mark in marks]
    ends = [v for m in marks if not m.few for v in (m.low, m.high) if v is not None]
    return span_about([*means, *ends], 0.15)


class GroupsChart(MarksChart):
    """Means with intervals, by one or two variables; over time the means are joined."""

    def __init__(self, name: str = "groups of cooks", height: int = 260) -> None:
        super().__init__(name, height)
        self._counts: list[QRectF] = []
        self.marks: tuple[GroupMark, ...] = ()
        self._unit = ""
        self._span: Span | None = None
        self._joined = False

    def show_groups(
        self,
        marks: Sequence[GroupMark],
        unit: str,
        *,
        span: Span | None = None,
        joined: bool = False,
    ) -> None:
        """Show groups in their order.

        Parameters
        ----------
        span
            The values the chart covers, where several charts share them.
        joined
            Join the means of a series, as over time.
        """
        self.marks, self._unit, self._span, self._joined = tuple(marks), unit, span, joined
        self.begin()

    def sentence(self) -> str:
        """Return each group's mean in words."""
        parts = [
            f"{m.place}{' ' + m.series if m.series else ''}: {trimmed(m.mean, 3)} {self._unit}, {m.cooks} cooks"
            for m in self.marks[:20]
        ]
        return "; ".join(parts) or "No cook has what is asked for."

    def table(self) -> list[list[str]]:
        """Return a row a group."""
        rows = [["group", "", f"mean, {self._unit}", "low", "high", "cooks"]]
        for mark in self.marks:
            bounds = [
                "none" if v is None else tick_text(round(v, 3)) for v in (mark.low, mark.high)
            ]
            rows.append([mark.place, mark.series, trimmed(mark.mean, 3), *bounds, str(mark.cooks)])
        return rows

    def paint_marks(self, painter: QPainter) -> None:
        """Paint it."""
        self.spots, self._counts = [], []
        if not self.marks:
            self.say(painter, "No cook has what is asked for. Take a filter away.")
            return
        theme = look().theme
        low, high = self._span or span_of(self.marks)
        minutes = self._unit == MINUTES
        levels = ticks(low, high, 5, minutes=minutes)
        places = list(dict.fromkeys(mark.place for mark in self.marks))
        left = room_for(tick_texts(levels, minutes=minutes))
        named = self._names(places, left)
        below = max((room.top() for _, room in named), default=0.0)
        area = QRectF(left, 12, self.wide - left - RIGHT, self.high - 66 - below)
        for _, room in named:
            room.translate(0, area.bottom() + 26)
        y = Axis(low, high, area.bottom(), area.top()).at
        horizontal_grid(painter, area, levels, y, minutes=minutes)
        width = area.width() / len(places)
        steps = self._put(area, places, width, y)
        painter.save()
        painter.setClipRect(area.adjusted(-8, -12, 8, 30))
        if self._joined:
            self._join(painter)
        for mark, spot, step in zip(self.marks, self.spots, steps, strict=True):
            self._mark(painter, mark, spot.x(), y, area, step)
        painter.restore()
        painter.setFont(bold(tokens.SMALL))
        painter.setPen(QColor(theme.ink))
        for name, room in named:
            painter.drawText(
                room, Qt.AlignmentFlag.AlignHCenter, elided(painter, name, room.width())
            )

    def _names(self, places: list[str], left: float) -> list[tuple[str, QRectF]]:
        """Return the names along the foot, each whole, with its room from the area's foot on.

        Names of groups lie in as many lines as they need; of moments so many are left out that
        the rest stands in one.
        """
        metrics = QFontMetricsF(bold(tokens.SMALL))
        width = (self.wide - left - RIGHT) / len(places)
        needed = [metrics.horizontalAdvance(name) + 4 for name in places]
        every = max(1, ceil((max(needed) + 4) / max(width, 1))) if self._joined else 1
        most = 1 if self._joined else LINES
        ends = [0.0] * most
        found = []
        for place in range(0, len(places), every):
            own = min(needed[place], self.wide * 0.45)
            start = left + (place + 0.5) * width - own / 2
            start = min(max(start, 0.0), self.wide - own)
            line = next((n for n, end in enumerate(ends) if start >= end), None)
            if line is not None:
                ends[line] = start + own + 6
                found.append((places[place], QRectF(start, line * LINE, own, 18)))
        return found

    def _put(
        self, area: QRectF, places: list[str], width: float, y: Callable[[float], float]
    ) -> list[float]:
        """Put each mark at its spot; return the room beside each, px."""
        here: dict[str, list[GroupMark]] = {}
        for mark in self.marks:
            here.setdefault(mark.place, []).append(mark)
        steps, spots = [], []
        for mark in self.marks:
            beside = here[mark.place]
            spot = 0 if self._joined else beside.index(mark) - (len(beside) - 1) / 2
            step = width if self._joined else min(66.0, width * 0.8 / len(beside))
            x = area.left() + (places.index(mark.place) + 0.5) * width + spot * step
            spots.append(QPointF(x, y(mark.mean)))
            steps.append(step)
        self.spots = spots
        return steps

    def _join(self, painter: QPainter) -> None:
        theme = look().theme
        lines: dict[str, tuple[int, list[QPointF]]] = {}
        for mark, spot in zip(self.marks, self.spots, strict=True):
            lines.setdefault(mark.series, (mark.look, []))[1].append(spot)
        for arm, line in lines.values():
            painter.setPen(QPen(QColor(theme.arm(arm)), theme.line - 0.8))
            painter.drawPolyline(line)

    def _mark(  # noqa: PLR0917 - where and how one mark stands
        self,
        painter: QPainter,
        mark: GroupMark,
        x: float,
        y: Callable[[float], float],
        area: QRectF,
        step: float,
    ) -> None:
        theme = look().theme
        if mark.low is not None and mark.high is not None:
            shade = QColor(theme.quiet if mark.few else theme.arm(mark.look))
            painter.setPen(QPen(shade, theme.line + 0.4))
            top, bottom = max(y(mark.high), area.top()), min(y(mark.low), area.bottom())
            painter.drawLine(QPointF(x, top), QPointF(x, bottom))
            if y(mark.high) < area.top():
                paint_arrow(painter, QPointF(x, area.top()), -1)
            if y(mark.low) > area.bottom():
                paint_arrow(painter, QPointF(x, area.bottom()), 1)
        paint_mark(painter, x, y(mark.mean), mark.look, 8 if step > 18 else 5, grey=mark.few)
        foot = y(mark.mean) + 12
        if mark.low is not None:
            foot = min(y(mark.low), area.bottom()) + 2
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(theme.quiet))
        words = counted(mark.cooks, "cook")
        for text in (words, str(mark.cooks)):  # what is wider than its column would meet another
            width = painter.fontMetrics().horizontalAdvance(text) + 2
            room = QRectF(x - width / 2, foot, width, 18)
            if width <= step - 2 and not any(room.intersects(other) for other in self._counts):
                self._counts.append(room)
                painter.drawText(room, Qt.AlignmentFlag.AlignHCenter, text)
                return


def paint_arrow(painter: QPainter, tip: QPointF, down: int) -> None:
    """Paint an arrow of a pen's colour where a line goes on beyond the edge: 1 down, −1 up."""
    painter.save()
    half = max(5.5, 2.2 * painter.pen().widthF())
    painter.setBrush(painter.pen().color())
    painter.setPen(Qt.PenStyle.NoPen)
    foot = tip.y() - 1.6 * half * down
    painter.drawPolygon([tip, QPointF(tip.x() - half, foot), QPointF(tip.x() + half, foot)])
    painter.restore()
