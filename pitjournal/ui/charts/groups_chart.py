"""Groups of cooks: a mean with its interval each, and how many cooks it rests on."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from pitjournal.science.scale import span_about
from pitjournal.ui.charts.canvas import MINUTES, Axis, elided, horizontal_grid, tick_text, ticks
from pitjournal.ui.charts.marks_chart import MarksChart
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, font, look

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
            f"{m.place}{' ' + m.series if m.series else ''}: {m.mean:.3g} {self._unit}, {m.cooks} cooks"
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
            rows.append([mark.place, mark.series, f"{mark.mean:.3g}", *bounds, str(mark.cooks)])
        return rows

    def paint_marks(self, painter: QPainter) -> None:
        """Paint it."""
        self.spots = []
        if not self.marks:
            self.say(painter, "No cook has what is asked for. Take a filter away.")
            return
        theme = look().theme
        area = QRectF(48, 12, self.width() - 60, self.height() - 66)
        low, high = self._span or span_of(self.marks)
        y = Axis(low, high, area.bottom(), area.top()).at
        minutes = self._unit == MINUTES
        horizontal_grid(painter, area, ticks(low, high, 5, minutes=minutes), y, minutes=minutes)
        places = list(dict.fromkeys(mark.place for mark in self.marks))
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
        every = self._every(painter, places, width)
        for place in range(0, len(places), every):
            room = QRectF(area.left() + place * width, area.bottom() + 26, width * every, 18)
            if every > 1:  # a few of many names, each under its own mark
                room.translate((width - room.width()) / 2, 0)
            middle = Qt.AlignmentFlag.AlignHCenter
            painter.drawText(room, middle, elided(painter, places[place], room.width() - 4))

    def _every(self, painter: QPainter, places: list[str], width: float) -> int:
        """Return of how many names one is written: of times so many that each is whole."""
        needed = 70.0
        if self._joined:
            needed = max(painter.fontMetrics().horizontalAdvance(name) for name in places) + 8.0
            return max(1, ceil(needed / max(width, 1)))
        return max(1, round(needed / max(width, 1)))

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
        paint_mark(painter, x, y(mark.mean), mark.look, 8 if step > 18 else 5, grey=mark.few)
        text = "1 cook" if mark.cooks == 1 else f"{mark.cooks} cooks"
        if step < 54:
            text = str(mark.cooks)
        if step < 16:
            return
        foot = y(mark.mean) + 12
        if mark.low is not None:
            foot = min(y(mark.low), area.bottom()) + 2
        painter.setFont(font(12))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(QRectF(x - 40, foot, 80, 18), Qt.AlignmentFlag.AlignHCenter, text)
