"""What stands about the lines of a chart of traces: numbers, times, words, marks, labels."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from math import ceil, floor, isfinite, log2
from operator import attrgetter

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPixmap

from pitjournal.domain.times.moments import elapsed_words, show_time, time_zone
from pitjournal.science.scale import multiples, round_step
from pitjournal.ui.charts.spread import spread
from pitjournal.ui.charts.trace.lines import (
    ChartSpan,
    EventMark,
    Level,
    Line,
    Probed,
    View,
    view_of,
)
from pitjournal.ui.charts.trace.min_max_pyramid import Pyramid
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import colour, letters, look, px
from pitjournal.units.figures import figure

LANE = 17
"""Height of a lane of event words, px."""

LANES, FEW_LANES = 3, 2
BESIDE_IT = 8
"""Between two words in a lane, px."""

LOW = 180
"""A plot that is lower has fewer lanes, px."""

TICK = 7
LABEL = 17
"""Height of a label, px."""

BETWEEN_TIMES = 84
BETWEEN_MARKS = 100
MARK = 5
STEM = 16
"""What is probed by hand stands on a stem that reaches so far up and down, px."""

CROWD = 12
"""More probings than so many are painted smaller."""

STEPS = (1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880, 7200)
"""Minutes between two times on the axis."""

VALUE_STEPS = (1, 2, 5, 10, 20, 25, 40, 50, 100, 200, 500)
MIDDLE = Qt.AlignmentFlag.AlignHCenter
RIGHTWARD = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


def number(value: float) -> str:
    """Return a value in whole degrees, with a true minus."""
    return figure(value)


def clock(time: float, zone: str | None) -> str:
    """Return a time (s since 1970) as a clock in a zone shows it.

    Without a zone it is s from a moment, shown as +h:mm.
    """
    if zone is None:
        return elapsed_words(time)
    return show_time(datetime.fromtimestamp(time, UTC), zone)


def say(painter: QPainter, room: QRectF, text: str) -> None:
    """Say something in the middle of a room."""
    painter.setPen(QColor(look().theme.quiet))
    painter.setFont(letters())
    painter.drawText(room, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, text)


def paint_brush(painter: QPainter, view: View, stretch: tuple[float, float]) -> None:
    """Tint the stretch that is being brushed."""
    left, right = (view.x(time) for time in stretch)
    band = QRectF(left, view.area.top(), right - left, view.area.height())
    painter.fillRect(band.intersected(view.area), colour(look().theme.ember, 0.18))


def paint_focus(painter: QPainter, whole: QRectF) -> None:
    """Paint where the keys go."""
    painter.setPen(QPen(QColor(look().theme.ember), 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(whole.adjusted(1, 1, -1, -1), 8, 8)


def paint_now(painter: QPainter, view: View, now: float) -> None:
    """Paint the present as a line through the chart, where it is in sight."""
    theme, area = look().theme, view.area
    x = view.x(now)
    if area.left() <= x <= area.right():
        painter.setPen(QPen(QColor(theme.ink), theme.line))
        painter.drawLine(QPointF(x, area.top() - 8), QPointF(x, area.bottom()))


def paint_spans(
    painter: QPainter, view: View, spans: Sequence[ChartSpan], now: float, *, named: bool = True
) -> None:
    """Tint stretches, each with its word where the word has room; open ones reach to now."""
    theme, area = look().theme, view.area
    painter.setFont(letters(tokens.SMALL))
    free = area.left()
    for span in sorted(spans, key=lambda s: s.start):
        end = max(now, span.start) if span.open else span.end
        left, right = max(view.x(span.start), area.left()), min(view.x(end), area.right())
        if right <= left:
            continue
        band = QRectF(left, area.top(), right - left, area.height())
        painter.fillRect(band, colour(theme.look, 0.10))
        room = right - max(left, free) - 10
        text = painter.fontMetrics().elidedText(span.text, Qt.TextElideMode.ElideRight, int(room))
        if named and room > 24:
            painter.setPen(QColor(theme.quiet))
            painter.drawText(QPointF(max(left, free) + 6, area.top() + px(15)), text)
            free = max(left, free) + 12 + painter.fontMetrics().horizontalAdvance(text)


def paint_values(
    painter: QPainter, view: View, foot: float, band: tuple[float, float] | None
) -> None:
    """Paint the horizontal lines with their numbers, and the band about the pit."""
    theme, area = look().theme, view.area
    if band is not None:
        top, bottom = view.y(max(band)), view.y(min(band))
        painter.fillRect(
            QRectF(area.left(), top, area.width(), bottom - top), colour(theme.quiet, 0.10)
        )
    painter.setFont(letters(tokens.SMALL, tabular=True))
    span = view.high - view.low
    most = max(area.height() / px(46), 2)
    step = next((float(s) for s in VALUE_STEPS if span / s <= most), round_step(span, int(most)))
    for value in multiples(view.low, view.high, step):
        y = view.y(value)
        if not area.top() <= y <= foot:
            continue
        painter.setPen(QPen(QColor(theme.grid), 1))
        painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(QRectF(0, y - px(10), area.left() - 8, px(20)), RIGHTWARD, number(value))


def paint_levels(painter: QPainter, view: View, levels: Sequence[Level]) -> None:
    """Paint the set point and the levels of safety rules, each with its words at the left.

    The words lie over every line, those of the other levels too.
    """
    theme, area = look().theme, view.area
    painter.setFont(letters(tokens.SMALL))
    metrics = painter.fontMetrics()
    seen = [level for level in levels if area.top() <= view.y(level.value) <= area.bottom()]
    seen.sort(key=lambda level: -level.value)
    wanted = [view.y(level.value) for level in seen]
    places = spread(wanted, px(LABEL), area.top() + px(LABEL) / 2, area.bottom() - px(LABEL) / 2)
    inks = [QColor(theme.ember if level.sort == "set" else theme.right) for level in seen]
    for level, y, ink in zip(seen, wanted, inks, strict=True):
        style = Qt.PenStyle.DotLine if level.sort == "set" else Qt.PenStyle.DashDotLine
        painter.setPen(QPen(ink, 1.4, style))
        painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
    for level, middle, ink in zip(seen, places, inks, strict=True):
        room = QRectF(
            area.left() + 2,
            middle - px(LABEL) / 2,
            metrics.horizontalAdvance(level.text) + 8,
            px(LABEL),
        )
        painter.fillRect(room, QColor(theme.card))
        painter.setPen(ink)
        painter.drawText(room, Qt.AlignmentFlag.AlignCenter, level.text)


def paint_times(painter: QPainter, view: View, zone: str | None) -> None:
    """Paint clock times along the foot, on round times of the cook's zone (or of no zone)."""
    theme, area = look().theme, view.area
    painter.setPen(QPen(QColor(theme.hairline), 1))
    painter.drawLine(area.bottomLeft(), area.bottomRight())
    start, end = view.start, view.end
    most = max(area.width() / px(BETWEEN_TIMES), 1)
    step = next((s for s in STEPS if (end - start) / 60 / s <= most), STEPS[-1]) * 60
    shift = 0.0
    if zone is not None:
        offset = datetime.fromtimestamp(start, UTC).astimezone(time_zone(zone)).utcoffset()
        shift = offset.total_seconds() if offset else 0.0
    painter.setFont(letters(tokens.SMALL, tabular=True))
    painter.setPen(QColor(theme.quiet))
    time = ceil((start + shift) / step) * step - shift
    while time <= end:
        room = QRectF(view.x(time) - px(40), area.bottom() + 5, px(80), px(20))
        painter.drawText(room, MIDDLE, clock(time, zone))
        time += step


def earlier(view: View, events: Sequence[EventMark]) -> str:
    """Return in words what lies folded away before the left edge; "" where nothing does."""
    count = sum(view.x(event.time) < view.area.left() - 1 for event in events)
    return f"← {count} earlier" if count else ""


def lanes_of(view: View, events: Sequence[EventMark]) -> list[tuple[EventMark, float, int | None]]:
    """Return each event in view with the left of its word and its lane, if one has room."""
    metrics, area = QFontMetricsF(letters(tokens.SMALL)), view.area
    lanes = LANES if area.height() > px(LOW) else FEW_LANES
    ends = [float("-inf")] * lanes
    if folded := earlier(view, events):
        ends[0] = area.left() + metrics.horizontalAdvance(folded)
    found: list[tuple[EventMark, float, int | None]] = []
    widths: dict[str, float] = {}
    first, last, wide = area.left(), area.right(), area.width()
    free = min(ends) + BESIDE_IT
    for event in sorted(events, key=attrgetter("time")):
        x = view.x(event.time)
        if not first - 1 <= x <= last + 1:
            continue
        width = widths.get(event.text)
        if width is None:
            width = widths[event.text] = metrics.horizontalAdvance(event.text)
        left = min(max(x - width / 2, first), last - width)
        lane = None
        if left > free and width <= wide:  # of a long log most have no room in any lane
            lane = next(n for n in range(lanes) if left > ends[n] + BESIDE_IT)
            ends[lane] = left + width
            free = min(ends) + BESIDE_IT
        found.append((event, left, lane))
    return found


class LaneRoom:
    """How high events' words stand over the foot; worked out once for the same events."""

    def __init__(self) -> None:
        self._of: tuple[QRectF, tuple[float, float], Sequence[EventMark]] | None = None
        self._height = 0.0

    def forget(self) -> None:
        """Work it out anew: words may be wider now."""
        self._of = None

    def height(self, area: QRectF, day: tuple[float, float], events: Sequence[EventMark]) -> float:
        """Return the height of the lanes of a day with their ticks, px."""
        if self._of is None or self._of[2] is not events or self._of[:2] != (area, day):
            found = lanes_of(view_of(area, day, (0.0, 1.0)), events)
            lanes = [lane for _, _, lane in found if lane is not None]
            self._of = area, day, events
            self._height = px(LANE) * (max(lanes, default=0) + 1) + px(TICK) + tokens.XS
        return self._height


def paint_events(painter: QPainter, view: View, events: Sequence[EventMark]) -> None:
    """Paint what happened as ticks with words in lanes; what was planned is dotted."""
    theme, foot = look().theme, view.area.bottom()
    painter.setFont(letters(tokens.SMALL))
    if folded := earlier(view, events):
        painter.setPen(QColor(theme.quiet))
        painter.drawText(QPointF(view.area.left(), foot - px(TICK) - 4), folded)
    for event, left, lane in lanes_of(view, events):
        x = view.x(event.time)
        style = Qt.PenStyle.DotLine if event.planned else Qt.PenStyle.SolidLine
        painter.setPen(QPen(QColor(theme.quiet if event.planned else theme.ink), 2, style))
        painter.drawLine(QPointF(x, foot - px(TICK)), QPointF(x, foot))
        if lane is not None:
            painter.setPen(QColor(theme.quiet))
            painter.drawText(QPointF(left, foot - px(TICK) - 4 - px(LANE) * lane), event.text)


def paint_probed(painter: QPainter, view: View, probed: Sequence[Probed]) -> None:
    """Paint temperatures taken by hand: an arm's mark on a stem with a foot, off every line."""
    theme, area = look().theme, view.area
    scale = look().sizes.scale
    size, stem = (6.5, STEM) if len(probed) <= CROWD else (4.5, STEM // 2)
    size, stem = size * scale, px(stem)
    for one in probed:
        x, y = view.x(one.time), view.y(one.value)
        if not (area.left() <= x <= area.right() and area.top() <= y <= area.bottom()):
            continue
        painter.setPen(QPen(QColor(theme.arm(one.arm)), 1.4))
        painter.drawLine(QPointF(x, y - stem), QPointF(x, y + stem))
        painter.drawLine(QPointF(x - 4, y + stem), QPointF(x + 4, y + stem))
        paint_mark(painter, x, y, one.arm, size)


class MarkPictures:
    """Arms' marks painted once, since a pan paints them many times."""

    def __init__(self) -> None:
        self._known: dict[tuple[int | None, float], QPixmap] = {}

    def forget(self) -> None:
        """Paint anew next time."""
        self._known.clear()

    def paint(self, painter: QPainter, x: float, y: float, arm: int | None, ratio: float) -> None:
        """Paint a mark about (x, y)."""
        half = px(MARK) + 3
        if (arm, ratio) not in self._known:
            picture = QPixmap(round(2 * half * ratio), round(2 * half * ratio))
            picture.setDevicePixelRatio(ratio)
            picture.fill(Qt.GlobalColor.transparent)
            over = QPainter(picture)
            paint_mark(over, half, half, arm, px(MARK))
            over.end()
            self._known[arm, ratio] = picture
        painter.drawPixmap(QPointF(x - half, y - half), self._known[arm, ratio])


def mark_spots(
    view: View, lines: Sequence[Line], pyramids: Mapping[str, Pyramid]
) -> list[tuple[float, float, int]]:
    """Return where marks stand on arms' lines: x, y, arm. They move with the line."""
    arms = [line for line in lines if line.sort == "meat" and line.arm is not None]
    step = 60 * 2 ** ceil(log2(max(BETWEEN_MARKS * view.ratio / view.scale / 60, 2**-6)))
    found: list[tuple[float, float, int]] = []
    for place, line in enumerate(arms):
        assert line.arm is not None
        shift = (place + 0.5) / len(arms)
        stops = np.arange(floor(view.start / step), ceil(view.end / step) + 1)
        times = (stops + shift) * step
        times = times[(times >= view.start) & (times <= view.end)]
        values = pyramids[line.key].values_at(times)
        found += [
            (view.x(time), view.y(value), line.arm)
            for time, value in zip(times.tolist(), values.tolist(), strict=True)
            if isfinite(value)
        ]
    return found
