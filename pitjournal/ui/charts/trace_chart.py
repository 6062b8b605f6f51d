"""The chart of a cook: pit and meat over the day, what happened, and when it was wrapped."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.moments import show_time, time_zone
from pitjournal.ui.charts.pyramid import Pyramid
from pitjournal.ui.charts.spread import spread
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, font, look

Array = NDArray[np.float64]
Sort = Literal["pit", "meat", "air", "other"]

LEFT, RIGHT, TOP, BOTTOM = 46, 108, 10, 26
"""Room around the plot for numbers, end labels and times, px."""

LANE = 18
"""Height of a lane of event words, px."""

LANES = 3
STEPS = (1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440)
"""Minutes between two times on the axis."""


@dataclass(frozen=True)
class Line:
    """One channel: its times (s since 1970) and its values in the unit shown."""

    key: str
    label: str
    times: Array
    values: Array
    arm: int | None = None
    sort: Sort = "meat"


@dataclass(frozen=True)
class EventMark:
    """Something that happened, or was planned, at a time (s since 1970)."""

    time: float
    text: str
    planned: bool = False


@dataclass(frozen=True)
class Span:
    """A stretch with a word, such as wrapped time."""

    start: float
    end: float
    text: str


class _Over(QWidget):
    """Everything that is no line: numbers, times, words, marks, the crosshair."""

    def __init__(self, chart: "TraceChart") -> None:
        super().__init__(chart)
        self._chart = chart
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._chart.paint_over(painter)
        painter.end()


class TraceChart(QWidget):
    """Overlaid traces with labels at their ends.

    Drag pans, the wheel and + − zoom, ← → pan, 0 or a double click shows all.
    """

    def __init__(self, unit: str = "°F") -> None:
        super().__init__()
        self.unit = unit
        self.lines: tuple[Line, ...] = ()
        self.events: tuple[EventMark, ...] = ()
        self.spans: tuple[Span, ...] = ()
        self.zone = "UTC"
        self.target: float | None = None
        self._pyramids: dict[str, tuple[int, Pyramid]] = {}
        self._curves: dict[str, pg.PlotCurveItem] = {}
        self._cross: float | None = None
        self.setAccessibleName("chart of the cook")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(300, 180)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(LEFT, TOP, RIGHT, BOTTOM)
        self.plot = pg.PlotWidget(background=None)
        self.plot.setFrameShape(pg.PlotWidget.Shape.NoFrame)
        self.plot.setBackgroundBrush(Qt.BrushStyle.NoBrush)
        self.plot.setStyleSheet("background: transparent;")
        self.plot.viewport().setAutoFillBackground(False)
        self.plot.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        item = self.plot.getPlotItem()
        item.hideAxis("left")
        item.hideAxis("bottom")
        item.hideButtons()
        item.setMenuEnabled(False)
        item.setContentsMargins(0, 0, 0, 0)
        self.box = item.getViewBox()
        self.box.setDefaultPadding(0.0)
        self.box.setMouseEnabled(x=True, y=False)
        self.box.sigRangeChanged.connect(lambda *_: self._redraw())
        layout.addWidget(self.plot)
        self._over = _Over(self)
        self.plot.scene().sigMouseMoved.connect(self._moved)
        self._soon = QTimer(self, interval=0, singleShot=True)
        self._soon.timeout.connect(self._redraw)
        look().changed.connect(self._restyle)

    # what it shows

    def show_lines(
        self,
        lines: Sequence[Line],
        events: Sequence[EventMark] = (),
        spans: Sequence[Span] = (),
        *,
        zone: str = "UTC",
        target: float | None = None,
    ) -> None:
        """Show lines, events and spans; the view stays where it was if the span is the same."""
        before = self._extent()
        self.lines, self.events, self.spans = tuple(lines), tuple(events), tuple(spans)
        self.zone, self.target = zone, target
        wanted = {line.key for line in lines}
        for key in list(self._curves):
            if key not in wanted:
                self.plot.removeItem(self._curves.pop(key))
                self._pyramids.pop(key, None)
        for line in lines:
            known = self._pyramids.get(line.key)
            if known is None or known[0] != id(line.values):
                self._pyramids[line.key] = id(line.values), Pyramid(line.times, line.values)
            if line.key not in self._curves:
                curve = pg.PlotCurveItem(connect="finite", skipFiniteCheck=True, antialias=True)
                self.plot.addItem(curve)
                self._curves[line.key] = curve
        self._restyle()
        self.setAccessibleDescription(self.sentence())
        if self._extent() != before:
            self.show_all()
        else:
            self._redraw()

    def _extent(self) -> tuple[float, float] | None:
        ends = [(line.times[0], line.times[-1]) for line in self.lines if line.times.size]
        marks = [event.time for event in self.events]
        if not ends and not marks:
            return None
        low = min([start for start, _ in ends] + marks)
        high = max([end for _, end in ends] + marks)
        return float(low), float(high if high > low else low + 60)

    def show_all(self) -> None:
        """Show the whole day."""
        extent = self._extent()
        if extent is None:
            self._redraw()
            return
        low, high = self._values()
        self.box.setRange(xRange=extent, yRange=(low, high), padding=0)
        self.box.setLimits(
            xMin=extent[0] - 3600, xMax=extent[1] + 3600, minXRange=120, maxXRange=10 * 86400
        )
        self._redraw()

    def _values(self) -> tuple[float, float]:
        least, most = [], []
        for line in self.lines:
            if line.sort == "other" or not np.isfinite(line.values).any():
                continue
            least.append(float(np.nanmin(line.values)))
            most.append(float(np.nanmax(line.values)))
        low = min(least, default=0.0)
        high = max([*most, self.target or 0.0], default=1.0)
        room = max(high - low, 10.0)
        # The lanes of event words lie below the lowest reading.
        share = self._lanes_height() / max(self.plot.height(), 1)
        return low - room * (share + 0.04), high + 0.06 * room

    def _lanes_height(self) -> float:
        return LANE * LANES if self.events else 0.0

    def _restyle(self) -> None:
        theme = look().theme
        for line in self.lines:
            quiet = line.sort != "meat"
            pen = pg.mkPen(
                theme.quiet if quiet else theme.arm(line.arm),
                width=theme.line if not quiet else theme.line * 0.6,
            )
            if quiet:
                pen.setStyle(Qt.PenStyle.CustomDashLine)
                pen.setDashPattern([4, 3] if line.sort == "pit" else [1, 3])
            self._curves[line.key].setPen(pen)
        self._over.update()

    def _redraw(self) -> None:
        (start, end), _ = self.box.viewRange()
        pixels = max(self.plot.width(), 1)
        for line in self.lines:
            times, values = self._pyramids[line.key][1].view(start, end, pixels)
            self._curves[line.key].setData(times, values)
        self._over.setGeometry(self.rect())
        self._over.raise_()
        self._over.update()

    # where things are

    def _area(self) -> QRectF:
        return QRectF(self.plot.geometry())

    def _x(self, time: float) -> float:
        (start, end), _ = self.box.viewRange()
        area = self._area()
        return float(area.left() + (time - start) / (end - start) * area.width())

    def _y(self, value: float) -> float:
        _, (low, high) = self.box.viewRange()
        area = self._area()
        return float(area.bottom() - (value - low) / (high - low) * area.height())

    # painting

    def paint_over(self, painter: QPainter) -> None:
        """Paint all but the lines."""
        if self._extent() is None:
            painter.setPen(QColor(look().theme.quiet))
            painter.setFont(font())
            middle = Qt.AlignmentFlag.AlignCenter
            painter.drawText(self.rect(), middle, "No probe file yet. Read one to see the chart.")
            return
        self._paint_spans(painter)
        self._paint_numbers(painter)
        self._paint_times(painter)
        self._paint_events(painter)
        self._paint_marks(painter)
        self._paint_ends(painter)
        self._paint_cross(painter)

    def _paint_spans(self, painter: QPainter) -> None:
        area, theme = self._area(), look().theme
        painter.setFont(font(tokens.SMALL))
        for span in self.spans:
            left = max(self._x(span.start), area.left())
            right = min(self._x(span.end), area.right())
            if right <= left:
                continue
            tint = QColor(theme.look)
            tint.setAlphaF(0.09)
            painter.fillRect(QRectF(left, area.top(), right - left, area.height()), tint)
            painter.setPen(QColor(theme.quiet))
            painter.drawText(QPointF(left + 6, area.top() + 14), span.text)

    def _paint_numbers(self, painter: QPainter) -> None:
        area, theme = self._area(), look().theme
        _, (low, high) = self.box.viewRange()
        step = next((s for s in (5, 10, 20, 25, 40, 50, 100, 200) if (high - low) / s <= 7), 500)
        painter.setFont(font(tokens.SMALL, tabular=True))
        floor = area.bottom() - self._lanes_height()
        value = float(np.ceil(low / step) * step)
        while value <= high:
            y = self._y(value)
            if area.top() <= y <= floor + 2:
                painter.setPen(QPen(QColor(theme.grid), 1))
                painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
                painter.setPen(QColor(theme.quiet))
                room = QRectF(0, y - 10, LEFT - 8, 20)
                right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
                painter.drawText(room, right, f"{value:.0f}".replace("-", "−"))
            value += step
        if self.target is not None:
            painter.setPen(QPen(QColor(theme.ember), 1.2, Qt.PenStyle.DotLine))
            y = self._y(self.target)
            painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))

    def _paint_times(self, painter: QPainter) -> None:
        area, theme = self._area(), look().theme
        (start, end), _ = self.box.viewRange()
        minutes = (end - start) / 60
        most = max(area.width() / 84, 1)
        step = next((s for s in STEPS if minutes / s <= most), 1440) * 60
        zone = time_zone(self.zone)
        offset = datetime.fromtimestamp(start, UTC).astimezone(zone).utcoffset()
        shift = offset.total_seconds() if offset else 0.0
        time = float(np.ceil((start + shift) / step) * step - shift)
        painter.setFont(font(tokens.SMALL, tabular=True))
        painter.setPen(QColor(theme.quiet))
        while time <= end:
            x = self._x(time)
            text = show_time(datetime.fromtimestamp(time, UTC), self.zone)
            room = QRectF(x - 40, area.bottom() + 4, 80, 20)
            painter.drawText(room, Qt.AlignmentFlag.AlignHCenter, text)
            time += step

    def _paint_events(self, painter: QPainter) -> None:
        area, theme = self._area(), look().theme
        painter.setFont(font(12))
        metrics = painter.fontMetrics()
        ends = [-1e9] * LANES
        for event in sorted(self.events, key=lambda e: e.time):
            x = self._x(event.time)
            if not area.left() - 2 <= x <= area.right() + 2:
                continue
            painter.setPen(
                QPen(
                    QColor(theme.ink),
                    1.6,
                    Qt.PenStyle.DotLine if event.planned else Qt.PenStyle.SolidLine,
                )
            )
            painter.drawLine(QPointF(x, area.bottom() - 6), QPointF(x, area.bottom()))
            width = metrics.horizontalAdvance(event.text)
            left = min(max(x - width / 2, area.left()), area.right() - width)
            lane = next((n for n in range(LANES) if left > ends[n] + 6), None)
            if lane is None:
                continue
            ends[lane] = left + width
            painter.setPen(QColor(theme.quiet))
            painter.drawText(QPointF(left, area.bottom() - 10 - LANE * lane), event.text)

    def _paint_marks(self, painter: QPainter) -> None:
        """Put an arm's mark on its line, so that it is told apart without its colour."""
        area = self._area()
        (start, end), _ = self.box.viewRange()
        arms = [line for line in self.lines if line.sort == "meat" and line.arm is not None]
        count = max(int(area.width() // 130), 2)
        for place, line in enumerate(arms):
            if line.times.size < 2:
                continue
            shift = 0.15 + 0.7 * place / max(len(arms), 1)
            for stop in range(count):
                time = start + (stop + shift) / count * (end - start)
                if not line.times[0] <= time <= line.times[-1]:
                    continue
                at = int(np.searchsorted(line.times, time))
                value = line.values[min(at, line.values.size - 1)]
                if np.isfinite(value):
                    paint_mark(painter, self._x(time), self._y(float(value)), line.arm, 5)

    def _paint_ends(self, painter: QPainter) -> None:
        area, theme = self._area(), look().theme
        ends: list[tuple[Line, float]] = []
        for line in self.lines:
            known = np.flatnonzero(np.isfinite(line.values))
            twin = any(
                line.sort == other.sort != "meat" and line.label == other.label for other, _ in ends
            )
            if known.size and not twin:
                ends.append((line, float(line.values[known[-1]])))
        most = int(area.height() // 16)
        ends = ends[:most]
        places = spread(
            [min(max(self._y(v), area.top() + 6), area.bottom() - 4) for _, v in ends],
            16,
            area.top() + 6,
            area.bottom() - 4,
        )
        for (line, value), y in zip(ends, places, strict=True):
            meat = line.sort == "meat"
            painter.setFont(bold(tokens.SMALL) if meat else font(tokens.SMALL))
            painter.setPen(QColor(theme.arm(line.arm) if meat else theme.quiet))
            text = f"{line.label} {value:.0f}°" if meat else line.label
            room = QRectF(area.right() + 8, y - 9, RIGHT - 10, 18)
            cut = painter.fontMetrics().elidedText(
                text, Qt.TextElideMode.ElideRight, int(room.width())
            )
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, cut)

    def _paint_cross(self, painter: QPainter) -> None:
        if self._cross is None:
            return
        area, theme = self._area(), look().theme
        x = self._x(self._cross)
        painter.setPen(QPen(QColor(theme.quiet), 1))
        painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
        rows = self.values_at(self._cross)
        clock = show_time(datetime.fromtimestamp(self._cross, UTC), self.zone)
        texts = [clock, *(f"{name} {value:.0f}°" for name, value in rows[:10])]
        painter.setFont(font(tokens.SMALL, tabular=True))
        width = max(painter.fontMetrics().horizontalAdvance(text) for text in texts) + 20
        height = 17 * len(texts) + 10
        left = x + 10 if x + 10 + width < area.right() else x - 10 - width
        painter.setPen(QPen(QColor(theme.hairline), 1))
        painter.setBrush(QColor(theme.card))
        painter.drawRoundedRect(QRectF(left, area.top() + 4, width, height), 8, 8)
        painter.setPen(QColor(theme.ink))
        for place, text in enumerate(texts):
            painter.drawText(QPointF(left + 10, area.top() + 22 + 17 * place), text)

    # reading and telling

    def values_at(self, time: float) -> list[tuple[str, float]]:
        """Return each line's label and value at a time, where it has one."""
        found = []
        for line in self.lines:
            if line.times.size and line.times[0] <= time <= line.times[-1]:
                value = float(np.interp(time, line.times, line.values))
                if np.isfinite(value):
                    found.append((line.label, value))
        return found

    def sentence(self) -> str:
        """Return what the chart shows, in words."""
        extent = self._extent()
        if extent is None:
            return "No probe file yet."
        start, end = (show_time(datetime.fromtimestamp(t, UTC), self.zone) for t in extent)
        parts = [
            f"{line.label} up to {np.nanmax(line.values):.0f} {self.unit}"
            for line in self.lines
            if line.values.size and np.isfinite(line.values).any()
        ]
        return f"From {start} to {end}: " + ", ".join(parts or ["events only"]) + "."

    def table(self) -> list[list[str]]:
        """Return the values at each quarter of the span, a row a line."""
        extent = self._extent()
        if extent is None:
            return []
        times = np.linspace(*extent, 5)
        heads = [show_time(datetime.fromtimestamp(float(t), UTC), self.zone) for t in times]
        rows = [["", *heads]]
        for line in self.lines:
            cells = dict.fromkeys(range(5), "")
            for place, time in enumerate(times):
                known = dict(self.values_at(float(time)))
                if line.label in known:
                    cells[place] = f"{known[line.label]:.0f}°"
            rows.append([line.label, *cells.values()])
        return rows

    # hands

    def _moved(self, place: QPointF) -> None:
        inside = self.plot.getPlotItem().sceneBoundingRect().contains(place)
        self._cross = float(self.box.mapSceneToView(place).x()) if inside else None
        self._over.update()

    def leaveEvent(self, event: object) -> None:
        """Take the crosshair away."""
        self._cross = None
        self._over.update()
        super().leaveEvent(event)  # type: ignore[arg-type]

    def mouseDoubleClickEvent(self, event: object) -> None:
        """Show all."""
        self.show_all()
        super().mouseDoubleClickEvent(event)  # type: ignore[arg-type]

    def zoom(self, factor: float) -> None:
        """Zoom about the middle; less than 1 comes nearer."""
        self.box.scaleBy((factor, 1.0))

    def pan(self, share: float) -> None:
        """Move by a share of what is seen."""
        (start, end), _ = self.box.viewRange()
        self.box.translateBy(x=share * (end - start), y=0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Zoom and pan by keys."""
        steps = {
            Qt.Key.Key_Plus: lambda: self.zoom(0.7),
            Qt.Key.Key_Equal: lambda: self.zoom(0.7),
            Qt.Key.Key_Minus: lambda: self.zoom(1 / 0.7),
            Qt.Key.Key_Left: lambda: self.pan(-0.2),
            Qt.Key.Key_Right: lambda: self.pan(0.2),
            Qt.Key.Key_0: self.show_all,
        }
        step = steps.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
            return
        step()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit it anew."""
        super().resizeEvent(event)
        self._soon.start()

    def export_png(self, path: Path) -> None:
        """Write the chart as a picture."""
        self.grab().save(str(path), "PNG")
