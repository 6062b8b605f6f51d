"""How cooks are spread: so many in each step of a number; its cuts can be moved."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen

from pitjournal.science.scale import is_known, same
from pitjournal.ui.charts.axis import Axis
from pitjournal.ui.charts.canvas import (
    horizontal_grid,
    paint_foot,
    room_for,
    tick_texts,
    ticks,
)
from pitjournal.ui.charts.marks_chart import MarksChart
from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import bold, colour, font, look
from pitjournal.units.figures import trimmed

SHADE = 5
"""The bars are of no arm: brown, as of the series."""

GRAB = 14
"""A press within so many px of a cut takes hold of it."""


@dataclass(frozen=True)
class SpreadStep:
    """A step of the number, in the unit shown, and how many cooks lie in it."""

    low: float
    high: float
    cooks: int


class SpreadChart(MarksChart):
    """Bars of cooks, with the middle one marked, and cuts to move where there are any.

    Signals
    -------
    cuts_moved(object)
        The cook moved a cut: all of them, in the unit shown, in order.
    """

    cuts_moved = Signal(object)

    def __init__(self, name: str = "how cooks are spread", height: int = 200) -> None:
        super().__init__(name, height)
        self.steps: tuple[SpreadStep, ...] = ()
        self.cuts: list[float] = []
        self._name = ""
        self._middle: float | None = None
        self._few = self._minutes = False
        self._most = 0
        self._held = -1
        self._area = QRectF()

    def show_steps(
        self,
        steps: Sequence[SpreadStep],
        name: str,
        *,
        middle: float | None = None,
        few: bool = False,
        most: int = 0,
        minutes: bool = False,
    ) -> None:
        """Show steps in order.

        Parameters
        ----------
        name
            What lies along, with its unit.
        middle
            The median, in the unit shown.
        few
            It rests on too few cooks and is grey.
        most
            The height of the axis in cooks, where several charts share it.
        minutes
            What lies along are minutes.
        """
        self.steps, self._name, self._middle = tuple(steps), name, middle
        self._few, self._most, self._minutes = few, most, minutes
        self.begin()

    def show_cuts(self, cuts: Sequence[float]) -> None:
        """Show where groups are cut."""
        self.cuts = sorted(cuts)
        self._held = min(self._held, len(self.cuts) - 1)
        self.update()

    def sentence(self) -> str:
        """Return where most cooks lie."""
        if not self.steps:
            return "No cook has what is asked for."
        most = max(self.steps, key=lambda step: step.cooks)
        count = sum(step.cooks for step in self.steps)
        middle = "" if self._middle is None else f", the middle one at {trimmed(self._middle, 3)}"
        return (
            f"{self._name}: {count} cooks from {trimmed(self.steps[0].low)} to "
            f"{trimmed(self.steps[-1].high)}, most between {trimmed(most.low)} and {trimmed(most.high)}{middle}"
        )

    def table(self) -> list[list[str]]:
        """Return a row a step."""
        rows = [[f"{self._name}, from", "to", "cooks"]]
        rows += [[trimmed(s.low), trimmed(s.high), str(s.cooks)] for s in self.steps]
        return rows

    def paint_marks(self, painter: QPainter) -> None:
        """Paint it."""
        self.spots = []
        if not self.steps:
            self.say(painter, "No cook has what is asked for. Take a filter away.")
            return
        theme = look().theme
        most = max(self._most, *(step.cooks for step in self.steps), 1)
        whole = [tick for tick in ticks(0, most, 4) if tick == int(tick)]
        left = room_for(tick_texts(whole))
        self._area = area = QRectF(left, 14, self.wide - left - 16, self.high - 66)
        y = Axis(0.0, most, area.bottom(), area.top()).at
        horizontal_grid(painter, area, whole, y)
        spots = []
        shade = theme.quiet if self._few else theme.arm(tokens.series(SHADE))
        for step in self.steps:
            left, right = self._x(step.low), self._x(step.high)
            bar = QRectF(left + 1, y(step.cooks), right - left - 2, area.bottom() - y(step.cooks))
            painter.setPen(QPen(QColor(shade), 1))
            painter.setBrush(colour(shade, 0.75))
            if step.cooks:
                painter.drawRect(bar)
            spots.append(QPointF(bar.center().x(), min(bar.top(), area.bottom() - 4)))
            self._count(painter, bar, step.cooks)
        self.spots = spots
        self._foot(painter, area)
        self._cuts(painter, area)

    @staticmethod
    def _count(painter: QPainter, bar: QRectF, cooks: int) -> None:
        """Write how many cooks a bar has, where that is not as wide as to touch the next one."""
        painter.setFont(font(tokens.SMALL))
        width = painter.fontMetrics().horizontalAdvance(str(cooks))
        if cooks and width <= bar.width():
            painter.setPen(QColor(look().theme.quiet))
            above = QRectF(bar.left() - 2, bar.top() - 17, bar.width() + 4, 16)
            painter.drawText(above, Qt.AlignmentFlag.AlignHCenter, str(cooks))

    def _foot(self, painter: QPainter, area: QRectF) -> None:
        theme = look().theme
        places = ticks(self.steps[0].low, self.steps[-1].high, 6, minutes=self._minutes)
        texts = tick_texts(places, minutes=self._minutes)
        marks = list(zip(map(self._x, places), texts, strict=True))
        paint_foot(painter, area.bottom() + 8, self.wide, marks)
        painter.setFont(bold(tokens.SMALL))
        painter.setPen(QColor(theme.ink))
        room = QRectF(area.left(), area.bottom() + 30, area.width(), 18)
        painter.drawText(room, Qt.AlignmentFlag.AlignHCenter, self._name)
        if self._middle is not None:
            x = self._x(self._middle)
            painter.setPen(QPen(QColor(theme.ink), theme.line))
            painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))

    def _cuts(self, painter: QPainter, area: QRectF) -> None:
        theme = look().theme
        for place, cut in enumerate(self.cuts):
            x = self._x(cut)
            held = place == self._held
            painter.setPen(QPen(QColor(theme.ember), theme.line + (1.5 if held else 0)))
            painter.drawLine(QPointF(x, area.top() - 4), QPointF(x, area.bottom()))
            painter.setBrush(QColor(theme.ember if held else theme.card))
            painter.drawEllipse(QPointF(x, area.bottom()), 7, 7)

    def _x(self, value: float) -> float:
        low, high = self.steps[0].low, self.steps[-1].high
        if not (is_known(low) and is_known(high)) or high < low or same(low, high):
            return self._area.center().x()
        return Axis(low, high, self._area.left(), self._area.right()).at(value)

    def _value(self, x: float) -> float:
        low, high = self.steps[0].low, self.steps[-1].high
        share = (x - self._area.left()) / max(self._area.width(), 1)
        return low + min(max(share, 0.0), 1.0) * (high - low)

    def brushed_range(self, places: Sequence[int]) -> tuple[float, float]:
        """Return the least and the most value of some steps, in the unit shown."""
        return self.steps[min(places)].low, self.steps[max(places)].high

    def paint_chosen(self, painter: QPainter, place: int) -> None:
        """Paint the edge of a chosen step."""
        step = self.steps[place]
        left, right = self._x(step.low), self._x(step.high)
        painter.drawRect(QRectF(left, self._area.top(), right - left, self._area.height()))

    def at(self, place: QPointF) -> int:
        """Return the step under a finger, or −1."""
        inside = (
            n for n, s in enumerate(self.steps) if self._x(s.low) <= place.x() < self._x(s.high)
        )
        return next(inside, -1)

    # cuts

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a cut, or begin to brush."""
        near = [(abs(self._x(cut) - self.place(event).x()), n) for n, cut in enumerate(self.cuts)]
        if near and min(near)[0] <= GRAB:
            self._held = min(near)[1]
            self._pressed = None
            self.update()
            return
        self._held = -1
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the cut."""
        if self._held < 0 or not event.buttons():
            super().mouseMoveEvent(event)
            return
        self._move(lambda _: self._value(self.place(event).x()), tell=False)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of the cut."""
        if self._held < 0:
            super().mouseReleaseEvent(event)
            return
        self.cuts_moved.emit(tuple(self.cuts))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """With cuts, S takes the next one and the arrows move it."""
        key = Qt.Key(event.key())
        if self.cuts and key == Qt.Key.Key_S:
            self._held = (self._held + 1) % len(self.cuts)
            self.update()
        elif self._held >= 0 and key in {Qt.Key.Key_Left, Qt.Key.Key_Right}:
            wide = self.steps[-1].high - self.steps[0].low
            by = wide / 100 * (1 if key == Qt.Key.Key_Right else -1)
            self._move(lambda cut: cut + by, tell=True)
        else:
            super().keyPressEvent(event)

    def _move(self, to: Callable[[float], float], *, tell: bool) -> None:
        cut = to(self.cuts[self._held])
        cut = min(max(cut, self.steps[0].low), self.steps[-1].high)
        rest = [c for n, c in enumerate(self.cuts) if n != self._held]
        self.cuts = sorted([*rest, cut])
        self._held = self.cuts.index(cut)
        self.update()
        if tell:
            self.cuts_moved.emit(tuple(self.cuts))
