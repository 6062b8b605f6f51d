"""Each arm's difference from the control with its interval."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from pitjournal.science.scale import span_about
from pitjournal.ui.charts.axis import Axis
from pitjournal.ui.charts.canvas import (
    Canvas,
    elided,
    paint_foot,
    tick_text,
    tick_texts,
    ticks,
)
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, font, look

Scale = Callable[[float], float]

ROOMY, NAMES = 560, 220.0
"""From which width on names have so much room."""


@dataclass(frozen=True)
class DifferenceRow:
    """An arm against the control, in the unit shown; no bounds where no interval exists.

    `joined` marks what several rows above come to: a line sets it apart.
    """

    name: str
    look: int
    words: str
    text: str
    estimate: float
    low: float | None
    high: float | None
    joined: bool = False


class DifferenceChart(Canvas):
    """Differences beside a dotted line of no difference."""

    def __init__(self) -> None:
        super().__init__("difference from the control", 170)
        self._rows: tuple[DifferenceRow, ...] = ()
        self._caption = ""

    def show_rows(self, rows: Sequence[DifferenceRow], caption: str) -> None:
        """Show rows; the caption names the variable and what it is held against."""
        self._rows, self._caption = tuple(rows), caption
        self.show_anew()

    def sentence(self) -> str:
        """Return each difference in words."""
        return (
            "; ".join(f"{r.name} {r.text}, {r.words}" for r in self._rows) or "No difference yet."
        )

    def table(self) -> list[list[str]]:
        """Return a row an arm."""
        rows = [["arm", "difference", "low", "high"]]
        for row in self._rows:
            bounds = ["none" if v is None else tick_text(round(v, 3)) for v in (row.low, row.high)]
            rows.append([row.name, row.text, *bounds])
        return rows

    def draw(self, painter: QPainter) -> None:
        """Paint it."""
        if not self._rows:
            self.say(painter, "There is no difference to show yet.")
            return
        theme = look().theme
        names = min(150.0, self.wide * 0.36) if self.wide < ROOMY else NAMES
        area = QRectF(names + 12, 26, self.wide - names - 34, self.high - 76)
        ends = [0.0]
        for row in self._rows:
            ends += [v for v in (row.estimate, row.low, row.high) if v is not None]
        low, high = span_about(ends, 0.1)
        x = Axis(low, high, area.left(), area.right()).at
        painter.setPen(QPen(QColor(theme.ink), 1.4, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(x(0), area.top() - 6), QPointF(x(0), area.bottom() + 6))
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(self._room(painter, x(0), 0, "no difference"), 0, "no difference")
        height = area.height() / len(self._rows)
        for place, row in enumerate(self._rows):
            middle = area.top() + (place + 0.5) * height
            if row.joined:
                painter.setPen(QPen(QColor(theme.hairline), 1))
                top = middle - height / 2 - 5
                painter.drawLine(QPointF(0, top), QPointF(self.wide, top))
            self._row(painter, row, middle, names, x)
        self._axis(painter, area, low, high, x)

    def _room(self, painter: QPainter, middle: float, top: float, text: str) -> QRectF:
        width = painter.fontMetrics().horizontalAdvance(text) + 2
        left = min(max(middle - width / 2, 0.0), self.wide - width)
        return QRectF(left, top, width, 20)

    def _row(self, painter: QPainter, row: DifferenceRow, y: float, names: float, x: Scale) -> None:
        theme = look().theme
        painter.setPen(QColor(theme.ink))
        painter.setFont(bold())
        left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(QRectF(0, y - 20, names, 20), left, elided(painter, row.name, names))
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(QRectF(0, y, names, 18), left, elided(painter, row.words, names))
        shade = QColor(theme.arm(row.look))
        if row.low is not None and row.high is not None:
            painter.setPen(QPen(shade, theme.line + 0.4))
            painter.drawLine(QPointF(x(row.low), y), QPointF(x(row.high), y))
        paint_mark(painter, x(row.estimate), y, row.look, 8)
        painter.setFont(bold(tokens.SMALL, tabular=True))
        painter.setPen(QColor(theme.ink))
        room = self._room(painter, x(row.estimate), y - 28, row.text)
        painter.drawText(beside_zero(room, x(0), row.estimate, self.wide), 0, row.text)

    def _axis(self, painter: QPainter, area: QRectF, low: float, high: float, x: Scale) -> None:
        theme = look().theme
        places = ticks(low, high, max(int(area.width() // 55), 3))
        texts = tick_texts(places, signed=True)
        marks = list(zip(map(x, places), texts, strict=True))
        paint_foot(painter, area.bottom() + 10, self.wide, marks)
        painter.setPen(QColor(theme.quiet))
        painter.setFont(font(tokens.SMALL))
        caption = elided(painter, self._caption, self.wide)
        painter.drawText(
            QRectF(0, area.bottom() + 30, self.wide - 4, 20),
            Qt.AlignmentFlag.AlignRight,
            caption,
        )


def beside_zero(room: QRectF, zero: float, estimate: float, width: float) -> QRectF:
    """Return the room of a value, moved to its own side where the line of zero would cross it."""
    if not room.left() - 4 < zero < room.right() + 4:
        return room
    left = zero - 6 - room.width() if estimate < 0 else zero + 6
    if left < 0:
        left = zero + 6
    elif left + room.width() > width:
        left = zero - 6 - room.width()
    return QRectF(left, room.top(), room.width(), room.height())
