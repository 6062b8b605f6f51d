"""A cook's day as lanes, a cut each: on, wrapped, the hold with its slack, and the end."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen

from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.moments import DAYS, show_time, time_zone
from pitjournal.domain.schedule import WHOLE_COOK, chains, cuts_of, end_of
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.charts.canvas import Canvas, elided
from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import bold, font, look, sized

LANE, HEAD, FOOT, LEFT = 30, 4, 22, 104
HALF = 9
"""Half the height of a bar, px."""

_BEFORE = 1.5 * 3600.0
"""The night before is not drawn: a lane begins so long before the first meat goes on, s."""


@dataclass(frozen=True)
class Lane:
    """A cut's day, s since 1970; None where it is not planned."""

    name: str
    before: tuple[float, ...]
    on: float | None
    wrap: float | None
    off: float | None
    rested: float | None
    after: float | None
    end: float | None


def lanes_of(whole: WholeCook) -> tuple[Lane, ...]:
    """Return the lanes of a cook's plan."""
    found = chains(whole.events, cuts_of(whole.pieces))
    return tuple(_lane(name, chain) for name, chain in found.items() if name != WHOLE_COOK)


def _lane(name: str, chain: Sequence[Event]) -> Lane:
    def at(kind: str) -> float | None:
        step = next((s for s in chain if s.kind == kind), None)
        return None if step is None else _seconds(step)

    on, off = at(EventKind.ON), at(EventKind.OFF)
    end = end_of(chain)
    off_step = next((s for s in chain if s.kind == EventKind.OFF), None)
    rested = None if off is None or off_step is None else off + (off_step.takes or 0.0)
    before = tuple(t for s in chain if (t := _seconds(s)) is not None and on and t < on)
    last = None if end is None else _seconds(end)
    return Lane(name, before, on, at(EventKind.WRAP), off, rested, at(EventKind.SLICED), last)


def _seconds(step: Event) -> float | None:
    at = step.happened_at or step.planned_at
    return None if at is None else at.timestamp()


MOST_OF_A_COOK = 14 * 86400.0
"""No day is as long, s."""


class LanesChart(Canvas):
    """The lanes of a day."""

    def __init__(self) -> None:
        super().__init__("the day, cut by cut", LANE + HEAD + FOOT)
        self._lanes: tuple[Lane, ...] = ()
        self._fire: float | None = None
        self._zone = "UTC"

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's day."""
        self._zone = whole.cook.zone
        self._lanes = lanes_of(whole)
        lit = [e for e in whole.events if e.kind == EventKind.LIT and e.planned_at]
        self._fire = _seconds(lit[0]) if lit else None
        sized(self, height=LANE * max(len(self._lanes), 1) + HEAD + FOOT)
        drawn = (lane.on is not None and (lane.off or lane.end) for lane in self._lanes)
        self.setVisible(any(drawn))
        self.told()

    def sentence(self) -> str:
        """Return each cut's day in words."""
        parts = []
        for lane in self._lanes:
            marks = (("on", lane.on), ("wrapped", lane.wrap), ("off", lane.off), ("end", lane.end))
            said = ", ".join(f"{word} {self._clock(t)}" for word, t in marks if t is not None)
            parts.append(f"{lane.name}: {said}")
        return "; ".join(parts) or "Nothing is planned yet."

    def table(self) -> list[list[str]]:
        """Return a row a cut."""
        rows = [["cut", "on", "wrapped", "off", "slice", "end"]]
        for lane in self._lanes:
            times = (lane.on, lane.wrap, lane.off, lane.after, lane.end)
            rows.append([lane.name, *("" if t is None else self._clock(t) for t in times)])
        return rows

    def _clock(self, seconds: float) -> str:
        return show_time(_moment(seconds), self._zone)

    def draw(self, painter: QPainter) -> None:
        """Paint it."""
        marks = [
            t
            for lane in self._lanes
            for t in (lane.on, lane.off, lane.after, lane.end)
            if t is not None
        ]
        if not marks:
            self.say(painter, "Nothing is planned yet.")
            return
        low, high = min(marks), max(marks)
        low = min(low, max(self._fire, low - _BEFORE) if self._fire else low) - 600
        area = QRectF(LEFT, HEAD, self.wide - LEFT - 14, LANE * len(self._lanes))

        def x(time: float) -> float:
            return area.left() + (time - low) / max(high - low, 1.0) * area.width()

        self._hours(painter, area, x, low, high)
        for place, lane in enumerate(self._lanes):
            self._lane(painter, lane, area.top() + (place + 0.5) * LANE, x)
        if self._fire is not None and self._fire >= low:
            self._flame(painter, QPointF(x(self._fire), area.bottom()))

    def _hours(self, painter: QPainter, area: QRectF, x: object, low: float, high: float) -> None:
        assert callable(x)
        theme = look().theme
        painter.setFont(font(tokens.SMALL, tabular=True))
        every = next(
            (h for h in (1, 2, 3, 4, 6, 12) if (high - low) / 3600 / h <= area.width() / 52), 24
        )
        for moment in _whole_hours(low, high, self._zone):
            place = x(moment.timestamp())
            midnight = moment.hour == 0
            if moment.hour % every and not midnight:
                continue
            painter.setPen(QPen(QColor(theme.quiet if midnight else theme.grid), 1))
            painter.drawLine(QPointF(place, area.top()), QPointF(place, area.bottom()))
            painter.setPen(QColor(theme.quiet))
            text = DAYS[moment.weekday()][:3] if midnight else f"{moment.hour}:00"
            half = painter.fontMetrics().horizontalAdvance(text) / 2 + 1
            middle = min(place, self.wide - half)  # the last one is not cut by the edge
            room = QRectF(middle - 30, area.bottom() + 4, 60, 16)
            painter.drawText(room, Qt.AlignmentFlag.AlignHCenter, text)

    def _lane(self, painter: QPainter, lane: Lane, y: float, x: object) -> None:
        assert callable(x)
        theme = look().theme
        painter.setFont(bold(tokens.SMALL))
        painter.setPen(QColor(theme.ink))
        name = elided(painter, lane.name, LEFT - 10)
        painter.drawText(QRectF(0, y - 10, LEFT - 8, 20), Qt.AlignmentFlag.AlignVCenter, name)
        if lane.on is None:
            return
        off = lane.off if lane.off is not None else lane.after or lane.end
        if off is not None:
            wrapped = min(lane.wrap, off) if lane.wrap is not None else off
            fire = QRectF(x(lane.on), y - HALF, x(wrapped) - x(lane.on), 2 * HALF)
            painter.fillRect(fire, QColor(theme.ember))
            _word(painter, fire, "on", theme.on_ember)
            wrap = QRectF(x(wrapped), y - HALF, x(off) - x(wrapped), 2 * HALF)
            painter.fillRect(wrap, QColor(theme.ember_tint))
            painter.setPen(QPen(QColor(theme.ember), 1.4))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(wrap.adjusted(0, 0.7, 0, -0.7))
            _word(painter, wrap, "wrapped", theme.ember)
        if off is not None and lane.after is not None:
            self._hold(painter, lane, off, y, x)
        if lane.after is not None and lane.end is not None:
            painter.fillRect(
                QRectF(x(lane.after), y - 2, x(lane.end) - x(lane.after), 4), QColor(theme.ink)
            )
        if lane.end is not None:
            painter.setPen(QPen(QColor(theme.ink), theme.line))
            painter.drawLine(QPointF(x(lane.end), y - 11), QPointF(x(lane.end), y + 11))
        painter.setPen(QPen(QColor(theme.quiet), 2))
        for at in lane.before:
            if x(at) >= LEFT:
                painter.drawLine(QPointF(x(at), y - 4), QPointF(x(at), y + 4))

    @staticmethod
    def _hold(painter: QPainter, lane: Lane, off: float, y: float, x: object) -> None:
        """Paint the least rest plain, and what it may grow by hatched."""
        assert callable(x)
        assert lane.after is not None
        theme = look().theme
        rested = min(lane.rested if lane.rested is not None else off, lane.after)
        rest = QRectF(x(off), y - HALF, x(rested) - x(off), 2 * HALF)
        painter.fillRect(rest, QColor(theme.right))
        _word(painter, rest, "rest", theme.card)
        loose = QRectF(x(rested), y - HALF, x(lane.after) - x(rested), 2 * HALF)
        painter.fillRect(loose, QBrush(QColor(theme.right), Qt.BrushStyle.BDiagPattern))

    @staticmethod
    def _flame(painter: QPainter, foot: QPointF) -> None:
        """Mark where the fire is lit."""
        theme = look().theme
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.ember))
        corners = ((0, -14), (5, -5), (0, 0), (-5, -5))
        painter.drawPolygon([foot + QPointF(dx, dy) for dx, dy in corners])


def _word(painter: QPainter, room: QRectF, text: str, ink: str) -> None:
    """Say what a bar is, where it is long enough."""
    painter.setFont(font(tokens.SMALL))
    if painter.fontMetrics().horizontalAdvance(text) + 10 <= room.width():
        painter.setPen(QColor(ink))
        painter.drawText(room, Qt.AlignmentFlag.AlignCenter, text)


def _moment(seconds: float) -> datetime:
    return datetime.fromtimestamp(seconds, UTC)


def _whole_hours(low: float, high: float, zone: str) -> Iterator[datetime]:
    """Yield the full hours between two times on the cook's own clock, each once as it comes.

    Between times that are weeks apart, as by a mistyped year, there are none to mark.
    """
    if high - low > MOST_OF_A_COOK:
        return
    place = time_zone(zone)
    quarter = timedelta(minutes=15)  # zones lie whole quarters of an hour apart
    moment = _moment(900 * (low // 900 + 1))
    while moment.timestamp() <= high:
        local = moment.astimezone(place)
        if local.minute == 0:
            yield local
        moment += quarter
