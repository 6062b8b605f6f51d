"""Paint long lines so that a pan moves the picture and paints only what has come into view."""

from collections.abc import Sequence
from dataclasses import replace
from time import perf_counter

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap

from pitjournal.ui.charts.trace.lines import Array, Line, View
from pitjournal.ui.charts.trace.min_max_pyramid import Indices, Pyramid
from pitjournal.ui.look.theme import look

MARGIN = 6
"""Lines are painted a little beyond a strip, so that no seam shows, px."""

AHEAD = 96
"""The picture is wider than what is seen, so that not every move paints, px on either side."""

OUTSIDE = 1000.0
"""What is no temperature of this world is painted so many heights of the chart away."""

HURRY = 0.09
"""A frame that follows another within so many s belongs to one movement of the hand."""

SLOW = 0.008
"""A picture that takes longer is not painted anew for each frame of a movement, s."""

ENOUGH = 0.8
"""The picture of another view must cover so much of this one."""

RUN = 40
"""Points painted at once; one long path costs far more than many short ones."""

DASHES = {"pit": (4.0, 3.0), "air": (1.0, 3.0), "other": (1.0, 2.0)}
"""Dash and gap, in widths of the line."""


class TraceLayer:
    """Lines with their pyramids, and the picture of them that was painted last."""

    def __init__(self) -> None:
        self.lines: tuple[Line, ...] = ()
        self.pyramids: dict[str, Pyramid] = {}
        self._made_of: dict[str, tuple[Array, Array]] = {}
        self._picture = QPixmap()
        self._view: View | None = None
        self._phases: dict[str, tuple[int, float]] = {}
        self._cost, self._painted = 0.0, float("-inf")
        self.behind = False
        """Whether what was painted last is a picture of another view, stretched."""

    def show_lines(self, lines: Sequence[Line]) -> None:
        """Take lines; one whose arrays are the same objects as before keeps its pyramid."""
        pyramids, made_of = {}, {}
        for line in lines:
            known = self._made_of.get(line.key)
            same = known and known[0] is line.times and known[1] is line.values
            made = line.pyramid or (self.pyramids[line.key] if same else None)
            pyramids[line.key] = made or Pyramid(line.times, line.values)
            made_of[line.key] = line.times, line.values
        self.lines, self.pyramids, self._made_of = tuple(lines), pyramids, made_of
        self.forget()

    def forget(self) -> None:
        """Paint anew next time."""
        self._view = None

    def rest(self) -> None:
        """Paint as it is next time, whatever it takes: nothing moves any more."""
        self._painted = float("-inf")

    def paint(self, painter: QPainter, view: View, *, vector: bool = False) -> None:
        """Paint the lines of a view; as lines rather than a picture where `vector`."""
        if vector:
            painter.save()
            painter.setClipRect(view.area)
            painter.translate(view.area.topLeft())
            painter.scale(1 / view.ratio, 1 / view.ratio)
            self._stroke_all(painter, view, None, 0, view.size[0])
            painter.restore()
            return
        aside = round(AHEAD * view.ratio)
        held = self._view
        self.behind = held is not None and self._hurried(held, view)
        if self.behind and held is not None:
            self._stretch(painter, held, view)
            return
        if held is None or not _beside(held, view) or abs(view.first - aside - held.first) > aside:
            area = view.area.adjusted(-AHEAD, 0, AHEAD, 0)
            held = replace(view, area=area, first=view.first - aside)
            started = perf_counter()
            self._bring(held)
            self._painted = perf_counter()
            self._cost = self._painted - started
        seen = QRectF(view.first - held.first, 0, *view.size)
        painter.drawPixmap(view.area, self._picture, seen)

    def _hurried(self, held: View, view: View) -> bool:
        """Whether a picture of the view would come too late for the hand that changes it.

        While a chart is zoomed or resized, a frame follows the next; where one takes long to
        paint, the picture there is, stretched, is painted until the hand rests.
        """
        soon = perf_counter() - self._painted < HURRY
        if _beside(held, view) or not soon or self._cost < SLOW:
            return False
        start, end = max(held.start, view.start), min(held.end, view.end)
        hurried = end - start > ENOUGH * (view.end - view.start)
        if hurried:
            self._painted = perf_counter()
        return hurried

    def _stretch(self, painter: QPainter, held: View, view: View) -> None:
        """Paint the picture of another view where its times and values stand in this one."""
        place = QRectF(
            QPointF(view.x(held.start), view.y(held.high)),
            QPointF(view.x(held.end), view.y(held.low)),
        )
        painter.save()
        painter.setClipRect(view.area)
        painter.drawPixmap(place, self._picture, QRectF(self._picture.rect()))
        painter.restore()

    def _bring(self, view: View) -> None:
        """Bring the picture to a view; what it shows already only moves."""
        width, height = view.size
        before = self._view
        moved = view.first - before.first if before is not None else width
        if (
            before is None
            or not _beside(before, view)
            or view.size != before.size
            or abs(moved) >= width
        ):
            self._picture = QPixmap(max(width, 1), max(height, 1))
            self._picture.fill(Qt.GlobalColor.transparent)
            self._phases = {}
            before, left, right = None, 0, width
        elif moved == 0:
            return
        else:
            self._picture.scroll(-moved, 0, self._picture.rect())
            left, right = (width - moved, width) if moved > 0 else (0, -moved)
        painter = QPainter(self._picture)
        strip = QRectF(left, 0, right - left, height)
        painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_Source)
        painter.fillRect(strip, Qt.GlobalColor.transparent)
        painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_SourceOver)
        painter.setClipRect(strip)
        self._stroke_all(painter, view, before, left, right)
        painter.end()
        self._view = view

    def _stroke_all(
        self, painter: QPainter, view: View, before: View | None, left: int, right: int
    ) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        # What steps back is painted first, and the control last.
        order = sorted(self.lines, key=lambda line: (line.sort == "meat", line.arm == 0))
        for line in order:
            self._stroke(painter, line, view, before, left, right)

    def _stroke(  # noqa: PLR0917 - one line of one strip of one view
        self,
        painter: QPainter,
        line: Line,
        view: View,
        before: View | None,
        left: int,
        right: int,
    ) -> None:
        pyramid = self.pyramids[line.key]
        level = pyramid.level(view.scale)
        shown = pyramid.indices(view.time_at(left - MARGIN), view.time_at(right + MARGIN), level)
        if not shown.size:
            return
        pen = self._pen(line, view.ratio)
        times, values = pyramid.points(shown)
        x, y = _spots(view, times, values)
        painter.setPen(pen)
        if x.size == 1:
            painter.drawPoint(QPointF(float(x[0]), float(y[0])))
            return
        if line.sort not in DASHES:
            for begin in range(0, x.size - 1, RUN):
                run = slice(begin, begin + RUN + 2)
                painter.drawPath(pg.arrayToQPath(x[run], y[run], connect="finite"))
            return
        way = self._phase(line.key, shown, view, before, level) + _way(x, y)
        for begin in range(0, x.size - 1, RUN):
            pen.setDashOffset(float(way[begin]) / pen.widthF())
            painter.setPen(pen)
            run = slice(begin, begin + RUN + 1)
            painter.drawPath(pg.arrayToQPath(x[run], y[run], connect="finite"))

    def _phase(
        self, key: str, shown: Indices, view: View, before: View | None, level: int
    ) -> float:
        """Return how far along its dashes a line is where a strip begins, device px.

        The dashes go on from those of the picture, also where it moved.
        """
        pyramid = self.pyramids[key]
        whole = pyramid.indices(
            min(view.start, before.start if before else view.start),
            max(view.end, before.end if before else view.end),
            level,
        )
        places = np.union1d(whole, shown)
        way = _way(*_spots(view, pyramid.times[places], pyramid.values[places]))
        known, phase = self._phases.get(key, (int(places[0]), 0.0))
        phase -= way[np.searchsorted(places, known)]
        middle = int(np.searchsorted(pyramid.times[places], (view.start + view.end) / 2))
        stay = min(middle, places.size - 1)
        self._phases[key] = int(places[stay]), float(phase + way[stay])
        return float(phase + way[np.searchsorted(places, shown[0])])

    @staticmethod
    def _pen(line: Line, ratio: float) -> QPen:
        theme = look().theme
        meat = line.sort == "meat"
        pen = QPen(QColor(theme.arm(line.arm) if meat else theme.quiet))
        pen.setWidthF(theme.line * (1.0 if meat else 0.55) * ratio)
        pen.setJoinStyle(Qt.PenJoinStyle.BevelJoin)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        dashes = DASHES.get(line.sort)
        if dashes:
            pen.setDashPattern(list(dashes))
        return pen


def _beside(one: View, other: View) -> bool:
    """Tell whether two views differ by nothing but how much of the day they show."""
    return (one.low, one.high, one.ratio, one.anchor, one.scale, one.size[1]) == (
        other.low,
        other.high,
        other.ratio,
        other.anchor,
        other.scale,
        other.size[1],
    )


def _spots(view: View, times: Array, values: Array) -> tuple[Array, Array]:
    """Return where readings stand in the picture, device px."""
    x = (times - view.anchor) * view.scale - view.first
    span = view.high - view.low
    below = np.clip(view.high - values, -OUTSIDE * span, OUTSIDE * span)
    return x, below * (view.size[1] / span)


def _way(x: Array, y: Array) -> Array:
    """Return the way along a line to each of its points; what is not drawn has no length."""
    return np.append(0.0, np.nancumsum(np.hypot(np.diff(x), np.diff(y))))
