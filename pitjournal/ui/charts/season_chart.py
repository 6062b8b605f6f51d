"""How a season went: the share of the others beaten, contest after contest, a line a category."""

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from pitjournal.science.scale import is_known
from pitjournal.ui.charts.axis import Axis
from pitjournal.ui.charts.canvas import elided, horizontal_grid, paint_foot, room_for
from pitjournal.ui.charts.marks_chart import MarksChart
from pitjournal.ui.charts.spread import spread
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import font, look
from pitjournal.units.figures import percent, trimmed

PLACES = (0.0, 25.0, 50.0, 75.0, 100.0)
FOOT, ABOVE = 26, 12
MOST_BESIDE = 150.0
"""So much room at most have the names at the ends of the lines, with their marks, px."""

BEFORE = 26
"""From the end of the chart to the names, px: their marks stand there."""


class SeasonChart(MarksChart):
    """A mark a category and contest, its contest chosen by a tap."""

    def __init__(self) -> None:
        super().__init__("how the season went", 240)
        self._contests: tuple[tuple[str, str], ...] = ()
        self._lines: Mapping[str, Sequence[float | None]] = {}
        self._of: list[int] = []

    def show_season(
        self,
        contests: Sequence[tuple[str, str]],
        lines: Mapping[str, Sequence[float | None]],
    ) -> None:
        """Show shares of 1 by category, for each contest (name, day) in order of time.

        The foot has their days: names are longer than the room for them.
        """
        self._contests, self._lines = tuple(contests), dict(lines)
        self.begin()

    def contest_of(self, mark: int) -> int:
        """Return the number of the contest that a mark is of."""
        return self._of[mark]

    def sentence(self) -> str:
        """Return each category's first and last known share."""
        parts = []
        for name, shares in self._lines.items():
            known = [share for share in shares if share is not None and is_known(share)]
            if known:
                begun, ended = percent(known[0]), percent(known[-1])
                parts.append(
                    f"{name} {ended}" if len(known) == 1 else f"{name} from {begun} to {ended}"
                )
        return f"Of the others beaten: {'; '.join(parts)}." if parts else "No place is known yet."

    def table(self) -> list[list[str]]:
        """Return a row a contest, a column a category."""
        rows = [["contest", *self._lines]]
        for place, (contest, _) in enumerate(self._contests):
            shares = [line[place] if place < len(line) else None for line in self._lines.values()]
            rows.append([contest, *("" if s is None else percent(s) for s in shares)])
        return rows

    def paint_marks(self, painter: QPainter) -> None:
        """Paint it."""
        self.spots, self._of = [], []
        if not any(s is not None for line in self._lines.values() for s in line):
            self.say(painter, "Places show here once a contest's field and place are known.")
            return
        left = room_for([trimmed(place) for place in PLACES])
        metrics = QFontMetricsF(font(tokens.SMALL))
        longest = max(metrics.horizontalAdvance(name) for name in self._lines)
        beside = min(BEFORE + longest + 4, MOST_BESIDE)
        area = QRectF(left, ABOVE, self.wide - left - beside, self.high - ABOVE - FOOT)
        y = Axis(0.0, 100.0, area.bottom(), area.top()).at
        last = max(len(self._contests) - 1, 1)
        x = Axis(0.0, float(last), area.left() + 16, area.right() - 16).at
        horizontal_grid(painter, area, PLACES, y)
        ends: list[tuple[float, int, str]] = []
        for number, (name, shares) in enumerate(self._lines.items()):
            own = tokens.series(number)
            spots = self._line(painter, own, shares, lambda at: x(float(at)), y)
            if spots:
                ends.append((spots[-1].y(), own, name))
        self._names(painter, ends, area)
        marks = [(x(float(place)), day) for place, (_, day) in enumerate(self._contests)]
        paint_foot(painter, area.bottom() + 6, self.wide, marks)

    def _line(
        self,
        painter: QPainter,
        own: int,
        shares: Sequence[float | None],
        x: Callable[[int], float],
        y: Callable[[float], float],
    ) -> list[QPointF]:
        known = [
            (place, QPointF(x(place), y(100 * min(max(share, 0.0), 1.0))))
            for place, share in enumerate(shares)
            if share is not None and is_known(share) and place < len(self._contests)
        ]
        painter.setPen(QPen(QColor(look().theme.arm(own)), look().theme.line))
        for (_, one), (_, two) in pairwise(known):
            painter.drawLine(one, two)
        for place, spot in known:
            paint_mark(painter, spot.x(), spot.y(), own, 7)
            self.spots = [*self.spots, spot]
            self._of.append(place)
        return [spot for _, spot in known]

    def _names(
        self, painter: QPainter, ends: Sequence[tuple[float, int, str]], area: QRectF
    ) -> None:
        """Paint each name at the end of its line, pushed apart where lines end together."""
        painter.setFont(font(tokens.SMALL))
        high = QFontMetricsF(painter.font()).height()
        middles = spread([end for end, _, _ in ends], high, high / 2, self.high - high / 2)
        for middle, (_, own, name) in zip(middles, ends, strict=True):
            paint_mark(painter, area.right() + 14, middle, own, 6)
            painter.setPen(QColor(look().theme.ink))
            left = area.right() + BEFORE
            room = QRectF(left, middle - high, self.wide - left, 2 * high)
            painter.drawText(
                room, Qt.AlignmentFlag.AlignVCenter, elided(painter, name, room.width())
            )
