"""Cooks as points, a number along and the measure up, with a line that no odd cook can turn."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from pitjournal.science.scale import LARGEST, span_about
from pitjournal.ui.charts.axis import Axis
from pitjournal.ui.charts.canvas import (
    MINUTES,
    horizontal_grid,
    paint_foot,
    room_for,
    tick_texts,
    ticks,
)
from pitjournal.ui.charts.marks_chart import NEAR, MarksChart
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, look
from pitjournal.units.figures import trimmed

Span = tuple[float, float]
Array = NDArray[np.float64]

MANY = 600
"""More points than so many are painted as dots."""


@dataclass(frozen=True, eq=False)
class Cloud:
    """Cooks: their number along, their measure up, in the units shown, shape (n,).

    `series` has the place of each one's name in `names`, and of its look in `looks`; without,
    the place is the look.
    """

    x: Array
    y: Array
    series: NDArray[np.int64]
    names: tuple[str, ...] = ("",)
    looks: tuple[int, ...] = ()

    @property
    def size(self) -> int:
        """How many there are."""
        return int(self.x.size)

    def look(self, place: int) -> int:
        """Return the look of the series at a place."""
        return self.looks[place] if place < len(self.looks) else place

    def of_look(self, look: int | None) -> Array:
        """Return the numbers along of the series with a look; all of them for None."""
        if look is None:
            return self.x
        places = [n for n in range(len(self.names)) if self.look(n) == look]
        return self.x[np.isin(self.series, places)]


@dataclass(frozen=True)
class Through:
    """A line through the points of a series, with what is said of it.

    A `mark` is no line through points, but one they are held against, from end to end.
    """

    slope: float
    intercept: float
    look: int | None = None
    words: str = ""
    dashed: bool = False
    mark: bool = False


class Places(Sequence[QPointF]):
    """Where many marks stand, as points when they are asked for."""

    def __init__(self, x: Array, y: Array) -> None:
        self.x, self.y = x, y

    def __len__(self) -> int:
        return int(self.x.size)

    def __getitem__(self, place: int) -> QPointF:  # type: ignore[override]
        if not -len(self) <= place < len(self):
            raise IndexError(place)
        return QPointF(float(self.x[place]), float(self.y[place]))

    def __iter__(self) -> Iterator[QPointF]:
        return map(QPointF, self.x.tolist(), self.y.tolist())


class ScatterChart(MarksChart):
    """Points and lines."""

    def __init__(self, name: str = "cooks as points", height: int = 260) -> None:
        super().__init__(name, height)
        self.cloud = Cloud(np.empty(0), np.empty(0), np.empty(0, dtype=np.int64))
        self.lines: tuple[Through, ...] = ()
        self._names = ("", "")
        self._what = "cooks"
        self._spans: tuple[Span, Span] | None = None
        self._minutes = (False, False)
        self._square = False

    def show_points(
        self,
        cloud: Cloud,
        along: str,
        up: str,
        *,
        spans: tuple[Span, Span] | None = None,
        what: str = "cooks",
        square: bool = False,
        minutes: tuple[bool, bool] = (False, False),
    ) -> None:
        """Show points; `along` and `up` name the axes with their units, `minutes` says which are.

        `spans` are what the axes cover, where several charts share them; `what` says what the
        points are. In a `square` one both axes cover the same, over the same length.
        """
        self.cloud, self.lines = cloud, ()
        self._names, self._spans, self._what = (along, up), spans, what
        self._minutes, self._square = minutes, square
        self.begin()

    def show_lines(self, lines: Sequence[Through]) -> None:
        """Show lines through the points."""
        self.lines = tuple(lines)
        self.show_anew()

    def sentence(self) -> str:
        """Return how many cooks there are, and what the lines say."""
        if not self.cloud.size:
            return "No cook has what is asked for."
        along, up = self._names
        said = "; ".join(line.words for line in self.lines if line.words)
        return f"{up} by {along}: {self.cloud.size} {self._what}{'; ' + said if said else ''}."

    def table(self) -> list[list[str]]:
        """Return a row a cook, from the least along."""
        cloud = self.cloud
        heads = [
            f"{name}, {MINUTES}" if minutes and not name.endswith(MINUTES) else name
            for name, minutes in zip(self._names, self._minutes, strict=True)
        ]
        rows = [[*heads, "group"]]
        order = np.lexsort((cloud.y, cloud.x)).tolist()
        return rows + [
            [
                trimmed(cloud.x[n], 4),
                trimmed(cloud.y[n], 4),
                cloud.names[int(cloud.series[n])],
            ]
            for n in order
        ]

    def paint_marks(self, painter: QPainter) -> None:
        """Paint it."""
        self.spots = []
        cloud = self.cloud
        if not cloud.size:
            self.say(painter, "No cook has what is asked for. Take a filter away.")
            return
        theme = look().theme
        across, upward = self._spans or spans_of(cloud)
        if self._square:
            across = upward = min(across[0], upward[0]), max(across[1], upward[1])
        along, up = self._minutes
        levels = ticks(*upward, 5, minutes=up)
        left = room_for(tick_texts(levels, minutes=up))
        area = QRectF(left, 12, self.wide - left - 16, self.high - 60)
        if self._square:
            side = min(area.width(), area.height())
            area.setSize(QSizeF(side, side))
        x, y = Axis(*across, area.left(), area.right()), Axis(*upward, area.bottom(), area.top())
        horizontal_grid(painter, area, levels, y.at, minutes=up)
        places = ticks(*across, 6, minutes=along)
        texts = tick_texts(places, minutes=along)
        marks = list(zip(map(x.at, places), texts, strict=True))
        paint_foot(painter, area.bottom() + 8, self.wide, marks)
        painter.setFont(bold(tokens.SMALL))
        painter.setPen(QColor(theme.ink))
        room = QRectF(area.left(), area.bottom() + 28, area.width(), 18)
        painter.drawText(room, Qt.AlignmentFlag.AlignHCenter, self._names[0])
        self.spots = spots = Places(x.all_at(cloud.x), y.all_at(cloud.y))
        painter.save()
        painter.setClipRect(area.adjusted(-8, -8, 8, 8))
        self._points(painter, spots)
        for line in self.lines:
            own = cloud.of_look(line.look)
            own = own[np.isfinite(own)]
            ends = (float(own.min()), float(own.max())) if own.size else across
            if line.mark:
                ends = across
            self._line(painter, line, ends, x, y)
        painter.restore()

    def _points(self, painter: QPainter, spots: Places) -> None:
        theme, series = look().theme, self.cloud.series
        if len(spots) <= MANY:
            for spot, arm in zip(spots, series.tolist(), strict=True):
                paint_mark(painter, spot.x(), spot.y(), self.cloud.look(arm), 6)
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
        for arm in range(len(self.cloud.names)):
            own = series == arm
            painter.setPen(QPen(QColor(theme.arm(self.cloud.look(arm))), 3))
            painter.drawPoints(pg.functions.arrayToQPolygonF(spots.x[own], spots.y[own]))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    @staticmethod
    def _line(
        painter: QPainter,
        line: Through,
        across: Span,
        x: Axis,
        y: Axis,
    ) -> None:
        theme = look().theme
        shade = QColor(theme.ember if line.look is None else theme.arm(line.look))
        pen = QPen(shade, theme.line)
        if line.mark:
            pen = QPen(QColor(theme.quiet), 1, Qt.PenStyle.DotLine)
        elif line.dashed:
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        ends = [QPointF(x.at(v), y.at(line.intercept + line.slope * v)) for v in across]
        painter.drawLine(ends[0], ends[1])

    def inside(self, band: QRectF) -> tuple[int, ...]:
        """Return the points within the width of a brush."""
        if not isinstance(self.spots, Places):
            return ()
        x = self.spots.x
        return tuple(np.flatnonzero((band.left() <= x) & (x <= band.right())).tolist())

    def at(self, place: QPointF) -> int:
        """Return the point under a finger, or −1."""
        if not isinstance(self.spots, Places) or not len(self.spots):
            return -1
        away = np.abs(self.spots.x - place.x()) + np.abs(self.spots.y - place.y())
        nearest = int(away.argmin())
        return nearest if away[nearest] < NEAR else -1


def spans_of(cloud: Cloud) -> tuple[Span, Span]:
    """Return what the axes of some points cover."""
    return _span(cloud.x, 0.04), _span(cloud.y, 0.08)


def _span(values: Array, share: float) -> Span:
    known = values[np.abs(values) <= LARGEST]  # leaves out what is no number, too
    return span_about([float(known.min()), float(known.max())] if known.size else [], share)
