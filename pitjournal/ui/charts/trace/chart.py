"""The chart of a cook: pit and meat over the day, what happened, and when it was wrapped."""

import time
from collections.abc import Callable, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QFocusEvent, QFontMetricsF, QKeyEvent, QPainter, QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.ui.charts.canvas import BESIDE, room_for
from pitjournal.ui.charts.export import bare_svg, png_bytes
from pitjournal.ui.charts.trace import annotations, fans, line_ends, words
from pitjournal.ui.charts.trace.interaction import DayBox, Over, bare_plot
from pitjournal.ui.charts.trace.layer import TraceLayer
from pitjournal.ui.charts.trace.lines import (
    ChartSpan,
    EventMark,
    Level,
    Line,
    Probed,
    View,
    extent_of,
    room_of,
    view_of,
)
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.scroll import has_more
from pitjournal.ui.look.theme import bold_letters, look, px, sized

__all__ = ["ChartSpan", "EventMark", "Level", "Line", "Probed", "TraceChart"]

LEFT, TOP, BOTTOM = 46, 10, 28
"""Room around the plot for numbers and times, px."""

NO_FILE = "No probe file yet. Read one to see the chart."
ROOM_TO_SAY = 60
"""Below this height the chart of a day without readings holds only its events, px."""
ROOM_FOR_LABELS = (52, 190)
"""The least and the most room at the right for labels, px."""


class TraceChart(QWidget):
    """Overlaid traces with labels at their ends.

    Drag pans, drag with Shift zooms to a stretch, the wheel and + − zoom, ← → pan, 0 or a double
    click shows all.

    Signals
    -------
    looked()
        Another stretch of time is seen, or it lies elsewhere.
    """

    looked = Signal()

    def __init__(self, unit: str = "°F") -> None:
        super().__init__()
        self.unit = unit
        self.events: tuple[EventMark, ...] = ()
        self.spans: tuple[ChartSpan, ...] = ()
        self.names_spans = True
        """Whether a span says its word: not where a ribbon over the chart says it."""
        self.zone: str | None = "UTC"
        self.levels: tuple[Level, ...] = ()
        self.band: tuple[float, float] | None = None
        self.probed: tuple[Probed, ...] = ()
        self.day: tuple[float, float] | None = None
        self.now: Callable[[], float] = time.time
        self.runs = False
        self.fan: fans.TraceFan | None = None
        self._layer = TraceLayer()
        self._pictures = annotations.MarkPictures()
        self._view: View | None = None
        self._cross: float | None = None
        self._brushed: tuple[float, float] | None = None
        self._mover: Callable[[float], None] | None = None
        self._moved_by = 0.0
        self._lanes = 0.0
        self._lane_room = annotations.LaneRoom()
        self.setAccessibleName("chart of the cook")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        sized(self, least_width=240, least_height=150)
        self._layout = QVBoxLayout(self)
        self.box = DayBox(self.wheel_zooms, self.brush, self.shift_lines)
        self.plot = bare_plot(self.box)
        self._layout.addWidget(self.plot)
        self._over = Over(self, self.paint)
        self.box.sigRangeChanged.connect(lambda *_: self._over.update())
        self.box.sigRangeChanged.connect(lambda *_: self.looked.emit())
        self.plot.scene().sigMouseMoved.connect(self._moved)
        self.plot.scene().sigMouseClicked.connect(self._clicked)
        self._soon = QTimer(self, interval=0, singleShot=True)
        self._soon.timeout.connect(self._fit)
        self._settling = QTimer(self, interval=120, singleShot=True)
        self._settling.timeout.connect(self._layer.rest)
        self._settling.timeout.connect(self._over.update)
        look().changed.connect(self._restyle)
        self._fit()

    # what it shows

    @property
    def lines(self) -> tuple[Line, ...]:
        """The lines shown."""
        return self._layer.lines

    def show_lines(
        self,
        lines: Sequence[Line],
        events: Sequence[EventMark] = (),
        spans: Sequence[ChartSpan] = (),
        *,
        zone: str | None = "UTC",
        levels: Sequence[Level] = (),
        band: tuple[float, float] | None = None,
        probed: Sequence[Probed] = (),
        day: tuple[float, float] | None = None,
    ) -> None:
        """Show lines, events and spans; the view stays where it was if the day is the same.

        Parameters
        ----------
        lines
            Values in the unit shown; times in s since 1970, rising.
        zone
            The cook's zone, in which the axis tells the time; None where times count from a
            moment that the lines are lined up at.
        levels, band
            Levels across the chart, and the band the pit should keep to, in the unit shown.
        probed
            Temperatures taken by hand.
        day
            What is seen at first, s since 1970; what lies outside can be panned to.
        """
        before = self._day()
        self.events, self.spans = tuple(events), tuple(spans)
        self.zone, self.levels, self.band = zone, tuple(levels), band
        self.probed, self.day = tuple(probed), day
        self._layer.show_lines(lines)
        self.setAccessibleDescription(self.sentence())
        if self._day() != before:
            self.show_all()
        else:
            self._fit()

    def _extent(self) -> tuple[float, float] | None:
        return extent_of(
            self.lines, [e.time for e in self.events] + [one.time for one in self.probed]
        )

    def _day(self) -> tuple[float, float] | None:
        """Return what is seen at first: the day as it was given, else all there is."""
        return self._extent() and (self.day or self._extent())

    def show_all(self) -> None:
        """Show the whole day."""
        extent, day = self._extent(), self._day()
        if extent is None or day is None:
            self._over.update()
            return
        self.box.setLimits(
            xMin=min(extent[0], day[0]) - 3600,
            xMax=max(extent[1], day[1]) + 3600,
            minXRange=120,
            maxXRange=10 * 86400,
        )
        self.box.setRange(xRange=day, yRange=self._values(), padding=0)
        self._fit()

    def _values(self) -> tuple[float, float]:
        """Return the values at the foot and the top; event words lie below the lowest reading."""
        known = [self._layer.pyramids[line.key].bounds for line in self.lines]
        ends = [value for bounds in known if bounds for value in bounds]
        ends += [level.value for level in self.levels] + list(self.band or ())
        ends += [one.value for one in self.probed]
        ends += [step.value for step in self.fan.steps] if self.fan is not None else []
        self._lanes = self._lanes_height()
        return room_of(ends, min(self._lanes / max(self.plot.height() - TOP, 60), 0.5))

    def _lanes_height(self) -> float:
        day = self._day()
        if not self.events or day is None:
            return 0.0
        return self._lane_room.height(QRectF(self.plot.geometry()), day, self.events)

    # where things are

    def _fit(self) -> None:
        """Give labels the room they need, and the plot what is left."""
        least, most = map(px, ROOM_FOR_LABELS)
        room = float(least)
        if self.lines:
            metrics = QFontMetricsF(bold_letters(tokens.SMALL, tabular=True))
            texts = [
                line_ends.end_text(line, self._layer.pyramids[line.key].last or 0.0)
                for line in self.lines
            ]
            room = max(metrics.horizontalAdvance(text) for text in texts) + px(22)
        right = int(min(max(room, least), most, max(self.width() * 0.34, least)))
        ends = [annotations.number(end) for end in self._values()] if self._extent() else []
        left = round(room_for(ends, LEFT - BESIDE) * look().sizes.scale)
        self._layout.setContentsMargins(left, TOP, right, px(BOTTOM))
        self._layout.activate()
        if self._extent() is not None:
            self.box.setYRange(*self._values(), padding=0)
        self._over.setGeometry(self.rect())
        self._over.raise_()
        self._over.update()
        self.looked.emit()

    def span(self) -> tuple[float, float, float, float] | None:
        """Return the times at the left and the right edge, and where those lie, px.

        None where there is no day by the clock.
        """
        if self.zone is None or self._extent() is None:
            return None
        view = self.view()
        return view.start, view.end, view.area.left(), view.area.right()

    def view(self) -> View:
        """Return the view that is shown."""
        times, values = self.box.viewRange()
        area = QRectF(self.plot.geometry())
        self._view = view_of(
            area, tuple(times), tuple(values), self.devicePixelRatioF(), self._view
        )
        return self._view

    # painting

    def paint(self, painter: QPainter, *, vector: bool = False) -> None:
        """Paint the chart; lines as lines rather than as a picture where `vector`."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._extent() is None:
            annotations.say(painter, QRectF(self.rect()).adjusted(12, 0, -12, 0), NO_FILE)
            return
        view = self.view()
        annotations.paint_spans(painter, view, self.spans, self.now(), named=self.names_spans)
        foot = view.area.bottom() - self._lanes
        if (
            self.lines or self.levels or self.probed
        ):  # events alone have no temperature to be read off
            annotations.paint_values(painter, view, foot, self.band)
        elif foot - view.area.top() > ROOM_TO_SAY:
            room = QRectF(view.area.left(), view.area.top(), view.area.width(), foot - TOP)
            annotations.say(painter, room, NO_FILE)
        annotations.paint_times(painter, view, self.zone)
        if self.runs and self.zone is not None:
            annotations.paint_now(painter, view, self.now())
        painter.save()
        painter.translate(view.x(self._moved_by) - view.x(0.0), 0)
        self._layer.paint(painter, view, vector=vector)
        if self._layer.behind:
            self._settling.start()
        painter.restore()
        annotations.paint_levels(painter, view, self.levels)
        fans.paint_fan(painter, view, self.fan)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        annotations.paint_events(painter, view, self.events)
        for x, y, arm in annotations.mark_spots(view, self.lines, self._layer.pyramids):
            self._pictures.paint(painter, x, y, arm, view.ratio)
        annotations.paint_probed(painter, view, self.probed)
        ends = line_ends.ends_of(view, self.lines, self._layer.pyramids)
        line_ends.paint_ends(painter, view, ends, self.width() - view.area.right() - 12)
        self._paint_interaction(painter, view)

    def _paint_interaction(self, painter: QPainter, view: View) -> None:
        if self._brushed is not None:
            annotations.paint_brush(painter, view, self._brushed)
        if self._cross is not None:
            rows: list[tuple[Line | None, str]] = [
                (None, annotations.clock(self._cross, self.zone))
            ]
            rows += [
                (line, f"{line.label} {annotations.number(value)}°")
                for line, value in self._read(self._cross)
            ]
            line_ends.paint_readout(painter, view, view.x(self._cross), rows)
        if self.hasFocus():
            annotations.paint_focus(painter, QRectF(self.rect()))

    def _restyle(self) -> None:
        self._layer.forget()
        self._pictures.forget()
        self._lane_room.forget()
        self._soon.start()

    def look_again(self) -> None:
        """Paint it again: a minute has gone by."""
        self._over.update()

    # reading and telling

    def _read(self, time: float) -> list[tuple[Line, float]]:
        known = [(line, self._layer.pyramids[line.key].value_at(time)) for line in self.lines]
        return [(line, value) for line, value in known if value is not None]

    def values_at(self, time: float) -> list[tuple[str, float]]:
        """Return each line's label and value at a time, where it has one."""
        return [(line.label, value) for line, value in self._read(time)]

    def sentence(self) -> str:
        """Return what the chart shows, in words."""
        extent = self._extent()
        if extent is None:
            return "No probe file yet."
        said = words.sentence(self._layer, self.probed, extent, self.zone, self.unit)
        return said + fans.sentence(self.fan, self.zone, self.unit)

    def table(self) -> list[list[str]]:
        """Return the values at each quarter of the span, a row a line; then what was probed."""
        extent = self._extent()
        if extent is None:
            return []
        rows = words.table(self._layer, self.probed, extent, self.zone, self.unit)
        return rows + fans.rows(self.fan, self.zone, self.unit)

    # hands

    def wheel_zooms(self) -> bool:
        """Tell whether the wheel is the chart's: not in a page that scrolls, until it has focus."""
        above = self.parentWidget()
        while above is not None and not has_more(above):
            above = above.parentWidget()
        return above is None or self.hasFocus()

    def brush(self, start: float, end: float, *, done: bool) -> None:
        """Mark a stretch, and zoom to it once `done`."""
        self._brushed = None if done else (start, end)
        if done and end > start:
            self.box.setXRange(start, end, padding=0)
        self._over.update()

    def move_by_drag(self, mover: Callable[[float], None]) -> None:
        """Let a drag with Ctrl move the lines against the events; tell by how many s."""
        self._mover = mover

    def shift_lines(self, seconds: float, *, done: bool) -> bool:
        """Show the lines moved by some seconds, and tell once `done`; False if they stay."""
        if self._mover is None:
            return False
        self._moved_by = 0.0 if done else seconds
        self._over.update()
        if done and seconds:
            self._mover(seconds)
        return True

    def _moved(self, place: QPointF) -> None:
        inside = self.box.sceneBoundingRect().contains(place)
        self._cross = self.view().time_at(place.x() * self.view().ratio) if inside else None
        self._over.update()

    def _clicked(self, event: object) -> None:
        assert hasattr(event, "double")
        if event.double():
            self.show_all()

    def leaveEvent(self, event: object) -> None:
        """Take the crosshair away."""
        self._cross = None
        self._over.update()
        super().leaveEvent(event)  # type: ignore[arg-type]

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Zoom and pan by keys."""
        if event.key() == Qt.Key.Key_0:
            self.show_all()
        elif not self.box.step_by_key(Qt.Key(event.key())):
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show where the keys go."""
        super().focusInEvent(event)
        self._over.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show that the keys go elsewhere."""
        super().focusOutEvent(event)
        self._over.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit it anew."""
        super().resizeEvent(event)
        self._soon.start()

    # taking it along

    def as_png(self) -> bytes:
        """Return the chart as a picture."""
        self._fit()
        self._layer.rest()
        return png_bytes(self.grab())

    def as_svg(self) -> bytes:
        """Return the chart as lines that stay sharp at any size."""
        self._fit()
        return bare_svg(self, self.sentence(), lambda p: self.paint(p, vector=True))
