"""Groups of cooks: a mean with its interval each, and how many cooks it rests on."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen

from pitjournal.ui.charts.canvas import Canvas, elided, horizontal_grid, tick_text, ticks
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, font, look


@dataclass(frozen=True)
class GroupMark:
    """One group in the unit shown: its place along the foot, its mark, and its numbers."""

    place: str
    series: str
    look: int
    mean: float
    low: float | None
    high: float | None
    cooks: int
    few: bool


class GroupsChart(Canvas):
    """Means with intervals, by one or two variables.

    Signals
    -------
    chosen(int)
        A mark was tapped: its number among those shown.
    """

    chosen = Signal(int)

    def __init__(self) -> None:
        super().__init__("groups of cooks", 260)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._marks: tuple[GroupMark, ...] = ()
        self._unit = ""
        self._spots: list[QPointF] = []
        self._at = -1

    def show_groups(self, marks: Sequence[GroupMark], unit: str) -> None:
        """Show groups in their order."""
        self._marks, self._unit, self._at = tuple(marks), unit, -1
        self.told()

    def sentence(self) -> str:
        """Return each group's mean in words."""
        parts = [
            f"{m.place}{' ' + m.series if m.series else ''}: {m.mean:.3g} {self._unit}, {m.cooks} cooks"
            for m in self._marks[:20]
        ]
        return "; ".join(parts) or "No cook has what is asked for."

    def table(self) -> list[list[str]]:
        """Return a row a group."""
        rows = [["group", "", f"mean, {self._unit}", "low", "high", "cooks"]]
        for mark in self._marks:
            bounds = [
                "none" if v is None else tick_text(round(v, 3)) for v in (mark.low, mark.high)
            ]
            rows.append([mark.place, mark.series, f"{mark.mean:.3g}", *bounds, str(mark.cooks)])
        return rows

    def _span(self) -> tuple[float, float]:
        """Return the values the chart covers; a very wide interval runs out of it."""
        means = [mark.mean for mark in self._marks]
        sound = [m for m in self._marks if not m.few]
        ends = [v for m in sound for v in (m.low, m.high) if v is not None]
        low, high = min([*means, *ends]), max([*means, *ends])
        pad = max(high - low, abs(high) * 0.05, 1e-9) * 0.15
        return low - pad, high + pad

    def draw(self, painter: QPainter) -> None:
        """Paint it."""
        if not self._marks:
            self.say(painter, "No cook has what is asked for. Take a filter away.")
            return
        theme = look().theme
        area = QRectF(48, 12, self.width() - 60, self.height() - 66)
        low, high = self._span()

        def y(value: float) -> float:
            return area.bottom() - (value - low) / (high - low) * area.height()

        horizontal_grid(painter, area, ticks(low, high, 5), y)
        places = list(dict.fromkeys(mark.place for mark in self._marks))
        width = area.width() / len(places)
        self._spots = []
        painter.save()
        painter.setClipRect(area.adjusted(-8, -12, 8, 30))
        for mark in self._marks:
            here = [m for m in self._marks if m.place == mark.place]
            spot = here.index(mark)
            step = min(66.0, width * 0.8 / len(here))
            x = area.left() + (places.index(mark.place) + 0.5) * width
            x += (spot - (len(here) - 1) / 2) * step
            self._spots.append(QPointF(x, y(mark.mean)))
            self._mark(painter, mark, x, y, area, step)
        painter.restore()
        if 0 <= self._at < len(self._spots):
            painter.setPen(QPen(QColor(theme.ember), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(self._spots[self._at], 15, 15)
        painter.setFont(bold(tokens.SMALL))
        painter.setPen(QColor(theme.ink))
        every = max(1, round(46 / max(width, 1)))
        for place, name in enumerate(places):
            if place % every:
                continue
            room = QRectF(area.left() + place * width, area.bottom() + 26, width * every, 18)
            middle = Qt.AlignmentFlag.AlignHCenter
            painter.drawText(room, middle, elided(painter, name, room.width() - 4))

    def _mark(  # noqa: PLR0917 - where and how one mark stands
        self, painter: QPainter, mark: GroupMark, x: float, y: object, area: QRectF, step: float
    ) -> None:
        assert callable(y)
        theme = look().theme
        shade = QColor(theme.quiet if mark.few else theme.arm(mark.look))
        painter.setOpacity(0.55 if mark.few else 1.0)
        if mark.low is not None and mark.high is not None:
            painter.setPen(QPen(shade, theme.line + 0.4))
            top, bottom = max(y(mark.high), area.top()), min(y(mark.low), area.bottom())
            painter.drawLine(QPointF(x, top), QPointF(x, bottom))
        paint_mark(painter, x, y(mark.mean), mark.look, 8)
        painter.setOpacity(1.0)
        text = "1 cook" if mark.cooks == 1 else f"{mark.cooks} cooks"
        if step < 40:
            text = str(mark.cooks)
        foot = y(mark.mean) + 12
        if mark.low is not None:
            foot = min(y(mark.low), area.bottom()) + 2
        painter.setFont(font(12))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(QRectF(x - 40, foot, 80, 18), Qt.AlignmentFlag.AlignHCenter, text)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the mark under the finger."""
        near = [
            (abs(spot.x() - event.position().x()) + abs(spot.y() - event.position().y()), place)
            for place, spot in enumerate(self._spots)
        ]
        if near and min(near)[0] < 40:
            self._at = min(near)[1]
            self.update()
            self.chosen.emit(self._at)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk over the marks with the arrows; Enter chooses."""
        key = Qt.Key(event.key())
        if key in {Qt.Key.Key_Left, Qt.Key.Key_Right} and self._marks:
            by = 1 if key == Qt.Key.Key_Right else -1
            self._at = min(max(self._at + by, 0), len(self._marks) - 1)
            self.update()
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and self._at >= 0:
            self.chosen.emit(self._at)
        else:
            super().keyPressEvent(event)
