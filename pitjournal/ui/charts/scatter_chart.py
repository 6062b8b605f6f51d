"""Cooks as points, a number along and the measure up, with a line that no odd cook can turn."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from pitjournal.ui.charts.canvas import horizontal_grid, tick_text, ticks
from pitjournal.ui.charts.marks_chart import MarksChart, padded
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, font, look

Span = tuple[float, float]

MANY = 600
"""More points than so many are painted as dots."""


@dataclass(frozen=True)
class Spot:
    """A cook: its number along, its measure up, in the units shown; its series and its look."""

    x: float
    y: float
    series: str = ""
    look: int | None = None


@dataclass(frozen=True)
class Through:
    """A line through the points of a series, with what is said of it."""

    slope: float
    intercept: float
    look: int | None = None
    words: str = ""
    dashed: bool = False


class ScatterChart(MarksChart):
    """Points and lines."""

    def __init__(self, name: str = "cooks as points", height: int = 260) -> None:
        super().__init__(name, height)
        self.points: tuple[Spot, ...] = ()
        self.lines: tuple[Through, ...] = ()
        self._names = ("", "")
        self._spans: tuple[Span, Span] | None = None

    def show_points(
        self,
        points: Sequence[Spot],
        along: str,
        up: str,
        *,
        spans: tuple[Span, Span] | None = None,
    ) -> None:
        """Show points; `along` and `up` name the axes with their units.

        `spans` are what the axes cover, where several charts share them.
        """
        self.points, self.lines = tuple(points), ()
        self._names, self._spans = (along, up), spans
        self.begin()

    def show_lines(self, lines: Sequence[Through]) -> None:
        """Show lines through the points."""
        self.lines = tuple(lines)
        self.told()

    def sentence(self) -> str:
        """Return how many cooks there are, and what the lines say."""
        if not self.points:
            return "No cook has what is asked for."
        along, up = self._names
        said = "; ".join(line.words for line in self.lines if line.words)
        return f"{up} by {along}: {len(self.points)} cooks{'; ' + said if said else ''}."

    def table(self) -> list[list[str]]:
        """Return a row a cook, from the least along."""
        rows = [[self._names[0], self._names[1], "group"]]
        points = sorted(self.points, key=lambda point: (point.x, point.y))
        return rows + [[f"{p.x:.4g}", f"{p.y:.4g}", p.series] for p in points]

    def paint_marks(self, painter: QPainter) -> None:
        """Paint it."""
        self.spots = []
        if not self.points:
            self.say(painter, "No cook has what is asked for. Take a filter away.")
            return
        theme = look().theme
        area = QRectF(48, 12, self.width() - 64, self.height() - 60)
        across, upward = self._spans or (
            padded([p.x for p in self.points], 0.04),
            padded([p.y for p in self.points], 0.08),
        )

        def x(value: float) -> float:
            return area.left() + (value - across[0]) / (across[1] - across[0]) * area.width()

        def y(value: float) -> float:
            return area.bottom() - (value - upward[0]) / (upward[1] - upward[0]) * area.height()

        horizontal_grid(painter, area, ticks(*upward, 5), y)
        painter.setFont(font(tokens.SMALL, tabular=True))
        painter.setPen(QColor(theme.quiet))
        for value in ticks(*across, 6):
            room = QRectF(x(value) - 40, area.bottom() + 8, 80, 18)
            painter.drawText(room, Qt.AlignmentFlag.AlignHCenter, tick_text(value))
        painter.setFont(bold(tokens.SMALL))
        painter.setPen(QColor(theme.ink))
        room = QRectF(area.left(), area.bottom() + 28, area.width(), 18)
        painter.drawText(room, Qt.AlignmentFlag.AlignHCenter, self._names[0])
        self.spots = [QPointF(x(p.x), y(p.y)) for p in self.points]
        painter.save()
        painter.setClipRect(area.adjusted(-8, -8, 8, 8))
        self._points(painter)
        for line in self.lines:
            own = [p.x for p in self.points if line.look is None or p.look == line.look]
            self._line(painter, line, (min(own), max(own)) if own else across, x, y)
        painter.restore()

    def _points(self, painter: QPainter) -> None:
        theme = look().theme
        if len(self.points) <= MANY:
            for point, spot in zip(self.points, self.spots, strict=True):
                paint_mark(painter, spot.x(), spot.y(), point.look, 9 if point.look is None else 6)
            return
        series: dict[int | None, list[QPointF]] = {}
        for point, spot in zip(self.points, self.spots, strict=True):
            series.setdefault(point.look, []).append(spot)
        for arm, spots in series.items():
            painter.setPen(QPen(QColor(theme.arm(arm)), 3))
            painter.drawPoints(QPolygonF(spots))

    @staticmethod
    def _line(
        painter: QPainter,
        line: Through,
        across: Span,
        x: Callable[[float], float],
        y: Callable[[float], float],
    ) -> None:
        theme = look().theme
        shade = QColor(theme.ember if line.look is None else theme.arm(line.look))
        pen = QPen(shade, theme.line)
        if line.dashed:
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        ends = [QPointF(x(v), y(line.intercept + line.slope * v)) for v in across]
        painter.drawLine(ends[0], ends[1])
