"""The chance of finding a difference, by how many packs are cooked."""

from collections.abc import Sequence
from itertools import pairwise
from math import ceil

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from pitjournal.ui.charts.axis import Axis
from pitjournal.ui.charts.canvas import Canvas, paint_foot
from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import bold, font, look
from pitjournal.units.figures import figure

LEVELS = (0.0, 0.5, 0.8, 1.0)
BESIDE = 10.0
"""Between a point and what is said of it, px."""
STEPS = 12
"""How many heights are tried for a label, and into how many parts the curve is cut."""
ROOMY = 150.0
"""A lower chart has no room for the number of its top, px."""


class PowerChart(Canvas):
    """A curve, with where this cook stands and where four in five is reached."""

    def __init__(self) -> None:
        super().__init__("what this cook can show", 112)
        self._curve: tuple[tuple[int, float], ...] = ()
        self._here: tuple[int, float] | None = None
        self._unit = "packs"

    def show_curve(
        self, curve: Sequence[tuple[int, float]], here: tuple[int, float] | None, unit: str
    ) -> None:
        """Show the chance at each number, and this cook's own."""
        self._curve, self._here, self._unit = tuple(curve), here, unit
        self.show_anew()

    def sentence(self) -> str:
        """Return it in words."""
        if not self._curve:
            return "With one arm there is nothing to compare."
        parts = [] if self._here is None else [self._chance_words(*self._here)]
        parts.append(self._chance_words(*self._curve[-1]))
        return "; ".join(parts)

    def _chance_words(self, count: int, chance: float) -> str:
        return f"{count} {self._unit}: found {figure(100 * chance)} % of the time"

    def table(self) -> list[list[str]]:
        """Return a row a number."""
        rows = [[self._unit, "found"]]
        return rows + [[str(n), f"{figure(100 * chance)} %"] for n, chance in self._curve]

    def draw(self, painter: QPainter) -> None:
        """Paint it."""
        if not self._curve:
            self.say(painter, "With one arm there is nothing to compare.")
            return
        theme = look().theme
        area = QRectF(52, 10, self.wide - 66, self.high - 56)
        low, high = self._curve[0][0], self._curve[-1][0]

        x = Axis(low, max(high, low + 1), area.left(), area.right()).at
        y = Axis(0.0, 1.0, area.bottom(), area.top()).at
        painter.setFont(font(tokens.SMALL, tabular=True))
        for level in LEVELS if self.high > ROOMY else LEVELS[:-1]:
            painter.setPen(QPen(QColor(theme.grid), 1))
            painter.drawLine(QPointF(area.left(), y(level)), QPointF(area.right(), y(level)))
            painter.setPen(QColor(theme.quiet))
            room = QRectF(0, y(level) - 10, area.left() - 8, 20)
            right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(room, right, f"{figure(100 * level)} %")
        label = painter.fontMetrics().horizontalAdvance(str(high)) + BESIDE
        every = max(1, (high - low) // 8, ceil(label / (x(low + 1) - x(low))))
        counts = range(low, high + 1, every)
        paint_foot(painter, area.bottom() + 4, self.wide, [(x(n), str(n)) for n in counts])
        foot = QRectF(area.left(), area.bottom() + 22, area.width(), 20)
        painter.drawText(foot, Qt.AlignmentFlag.AlignHCenter, self._unit)
        painter.setPen(QPen(QColor(theme.ember), theme.line))
        painter.drawPolyline(QPolygonF([QPointF(x(n), y(chance)) for n, chance in self._curve]))
        if self._here is not None and low <= self._here[0] <= high:
            curve = [QPointF(x(n), y(chance)) for n, chance in self._curve]
            self._mark(painter, QPointF(x(self._here[0]), y(self._here[1])), area, curve)

    def _mark(self, painter: QPainter, at: QPointF, area: QRectF, curve: Sequence[QPointF]) -> None:
        theme = look().theme
        painter.setPen(QPen(QColor(theme.ink), 1.4, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(at.x(), area.top()), QPointF(at.x(), area.bottom()))
        painter.setPen(QPen(QColor(theme.card), 2))
        painter.setBrush(QColor(theme.ember))
        painter.drawEllipse(at, 6, 6)
        painter.setPen(QColor(theme.ink))
        painter.setFont(bold(tokens.SMALL))
        assert self._here is not None
        text = f"this cook, {figure(100 * self._here[1])} %"
        metrics = painter.fontMetrics()
        size = QSizeF(metrics.horizontalAdvance(text) + 2.0, metrics.height())
        painter.drawText(beside_curve(at, size, area, curve), Qt.AlignmentFlag.AlignCenter, text)


def beside_curve(at: QPointF, size: QSizeF, area: QRectF, curve: Sequence[QPointF]) -> QRectF:
    """Return where a label of a point stands within an area without crossing a curve.

    Beside the line through the point, right of it before left, at the top, the foot, or between;
    where the curve leaves no room at all, where least of it is crossed.
    """
    beside = (at.x() + BESIDE, at.x() - BESIDE - size.width())
    lefts = [x for x in beside if area.left() <= x <= area.right() - size.width()]
    last = max(area.bottom() - size.height() - 2.0, area.top())
    tops = [
        area.top() + (last - area.top()) * step / STEPS for step in (0, STEPS, *range(1, STEPS))
    ]
    places = [QRectF(QPointF(x, y), size) for x in lefts or [area.left()] for y in tops]
    line = [a + (b - a) * part / STEPS for a, b in pairwise(curve) for part in range(STEPS + 1)]
    free = (place for place in places if not any(map(_padded(place).contains, line)))
    found = next(free, None)
    if found is not None:
        return found
    return min(places, key=lambda place: sum(map(_padded(place).contains, line)))


def _padded(place: QRectF) -> QRectF:
    return place.adjusted(-3.0, -1.0, 3.0, 1.0)
