"""A cook's day as one strip: night before, lit, on, wrapped, off, rest, turn-in."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QFontMetricsF, QPainter
from PySide6.QtWidgets import QSizePolicy

from pitjournal.domain.day.ribbon import Ribbon, sections_of
from pitjournal.domain.day.ribbon_axis import RibbonAxis, Section, axis_of
from pitjournal.domain.times.moments import DAYS, show_time, time_zone
from pitjournal.files.summary.ribbon import bar_height, lay_out
from pitjournal.files.summary.ribbon_shapes import Picture, Room
from pitjournal.files.summary.ribbon_words import NOTHING, ribbon_sentence, ribbon_table
from pitjournal.ui.charts.canvas import Canvas
from pitjournal.ui.charts.ribbon.ribbon_paint import paint_ribbon
from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import bold, font, look, sized

EDGE = 4.0
"""Room at both ends, px."""

FULL_BAR, THIN_BAR = 36, 16
ABOVE = 34
"""Room over the bar for the present and for when the meat comes off, px."""

THIN_ABOVE = 8
HOUR, MOST_DAYS = 3600.0, 12
"""A day that has no more than an hour of a section is not named; so many are."""


class RibbonStrip(Canvas):
    """The ribbon, painted. `axis_from` lends it the axis of a chart it stands over."""

    def __init__(self, *, bar: int = FULL_BAR, lines: int = 2, above: int = ABOVE) -> None:
        super().__init__("the day as a ribbon", above + bar + 18 * lines)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._bar, self._lines, self._above = bar, lines, above
        self.ribbon = Ribbon((), ())
        self.zone = "UTC"
        self.axis_from: Callable[[], RibbonAxis | None] = lambda: None
        self._picture: Picture | None = None
        self._key: object = None
        look().changed.connect(self._forget)

    def show_ribbon(self, ribbon: Ribbon, zone: str) -> None:
        """Show a cook's day."""
        if (ribbon, zone) == (self.ribbon, self.zone):
            return
        self.ribbon, self.zone = ribbon, zone
        self._forget()
        lanes = bar_height(sum(bool(lane.pieces) for lane in ribbon.lanes), self._bar)
        height = self._above + lanes + 18 * self._lines + 4
        sized(self, height=height, least_height=height)
        self.show_anew()

    def sizeHint(self) -> QSize:
        """Return the height it has."""
        return QSize(400, self.minimumHeight())

    def _forget(self) -> None:
        self._picture = None
        self.update()

    def clock(self, at: float) -> str:
        """Return a moment as the cook's own clock shows it."""
        return show_time(datetime.fromtimestamp(at, UTC), self.zone)

    def _days(self) -> list[tuple[float, str]]:
        """Return where days are named: at the start of each section, and at each midnight."""
        sections = sections_of(self.ribbon)
        place = time_zone(self.zone)
        found = []
        for start, end in sections:
            first = datetime.fromtimestamp(start, UTC).astimezone(place)
            found.append((start, _named(first)))
            midnight = (first + timedelta(days=1)).replace(hour=0, minute=0, second=0)
            while midnight.timestamp() < end - HOUR and len(found) < MOST_DAYS:
                found.append((midnight.timestamp(), _named(midnight)))
                midnight += timedelta(days=1)
        return found if len(found) > 1 else []

    def axis(self) -> RibbonAxis:
        """Return where a moment stands."""
        return self.axis_from() or axis_of(self.ribbon, EDGE, self.wide - EDGE)

    def picture(self) -> Picture:
        """Return the ribbon laid out for the room there is."""
        axis = self.axis()
        key = axis, self.wide
        if self._picture is None or key != self._key:
            plain = QFontMetricsF(font(tokens.SMALL, tabular=True))
            strong = QFontMetricsF(bold(tokens.SMALL, tabular=True))

            def measure(text: str, heavy: bool) -> float:
                return (strong if heavy else plain).horizontalAdvance(text)

            part = self.axis_from() is not None
            day = axis.sections[axis.main]
            room = Room(
                axis,
                self.wide,
                float(self._above),
                float(self._bar),
                self._lines,
                measure,
                self.clock,
                self._days() if self._lines else (),
                (day.left, day.right) if part else (-1e5, 1e5),
            )
            self._picture, self._key = lay_out(self.ribbon, room), key
        return self._picture

    def sentence(self) -> str:
        """Return the day in words."""
        return ribbon_sentence(self.ribbon, self.clock)

    def table(self) -> list[list[str]]:
        """Return a row for each thing that happened or is planned."""
        return ribbon_table(self.ribbon, self.clock)

    def draw(self, painter: QPainter) -> None:
        """Paint it."""
        if not self.ribbon:
            painter.setFont(font(tokens.SMALL))
            painter.setPen(QColor(look().theme.quiet))
            painter.drawText(QRectF(0, 0, self.wide, self.high), NOTHING)
            return
        paint_ribbon(painter, self.picture())


def axis_of_chart(span: tuple[float, float, float, float] | None) -> RibbonAxis | None:
    """Return the axis of a chart: its times at both edges, and where those lie, px."""
    if span is None or span[1] <= span[0]:
        return None
    start, end, left, right = span
    scale = look().sizes.scale
    return RibbonAxis((Section(start, end, left / scale, right / scale),))


def _named(local: datetime) -> str:
    return DAYS[local.weekday()]
