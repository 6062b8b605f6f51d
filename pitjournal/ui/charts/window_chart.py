"""How long each piece stayed right: what was seen is solid, what lies between checks hatched."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPolygonF

from pitjournal.science.scale import is_known, same
from pitjournal.ui.charts.axis import Axis
from pitjournal.ui.charts.canvas import Canvas, elided, paint_foot, tick_texts, ticks
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import font, look, sized
from pitjournal.units.figures import figure

ROW = 20

LEAST = 96
"""The height of a chart of one piece, px."""
LEFT = 74
TAIL = 150
"""Room for words behind a bar, where there is enough of it."""
ROOMY = 460
NOT_SEEN = "taken off while right"


@dataclass(frozen=True)
class WindowRow:
    """One piece along the axis shown; None where there was no such check.

    `off_right` says that its end was not seen.
    """

    label: str
    look: int | None
    last_under: float | None
    first_right: float | None
    last_right: float | None
    first_over: float | None
    off_right: bool


class WindowChart(Canvas):
    """A bar a piece."""

    def __init__(self) -> None:
        super().__init__("how long each piece stayed right", LEAST)
        self._rows: tuple[WindowRow, ...] = ()
        self._unit = "min"

    def show_rows(self, rows: Sequence[WindowRow], unit: str = "min") -> None:
        """Show pieces in their order, along an axis in this unit."""
        self._rows, self._unit = tuple(rows), unit
        sized(self, least_height=max(LEAST, ROW * len(rows) + 58))
        self.show_anew()

    def sentence(self) -> str:
        """Return each piece's bounds in words."""
        parts = []
        for row in self._rows:
            if row.first_right is None or row.last_right is None:
                continue
            end = f", {NOT_SEEN}" if row.off_right else ""
            size = f"{figure(row.last_right - row.first_right)} {self._unit}"
            parts.append(f"{row.label} right for at least {size}{end}")
        return "; ".join(parts) or "No piece was felt right yet."

    def table(self) -> list[list[str]]:
        """Return a row a piece."""
        rows = [
            ["piece", "last under", "first right", "last right", "first over", "taken off right"]
        ]
        for row in self._rows:
            marks = (row.last_under, row.first_right, row.last_right, row.first_over)
            cells = ["" if v is None else f"{figure(v)} {self._unit}" for v in marks]
            rows.append([row.label, *cells, "yes" if row.off_right else "no"])
        return rows

    def draw(self, painter: QPainter) -> None:
        """Paint it."""
        seen = [
            v
            for row in self._rows
            for v in (row.last_under, row.first_right, row.last_right, row.first_over)
            if v is not None and is_known(v)
        ]
        if not seen:
            self.say(painter, "No doneness check yet. Probe and feel each piece on the bench.")
            return
        low, high = min(seen), max(*seen, min(seen) + (15 if self._unit == "min" else 3))
        if same(low, high):  # so large that a quarter of an hour is lost in rounding
            high = low + abs(low)
        open_ends = any(row.off_right for row in self._rows)
        roomy = open_ends and self.wide >= ROOMY
        area = QRectF(LEFT, 4, self.wide - LEFT - (TAIL if roomy else tokens.XL), self.high - 30)

        x = Axis(low, high, area.left(), area.right()).at
        room_for_note = 18 if open_ends and not roomy else 0
        row_height = min((area.height() - room_for_note) / len(self._rows), 26.0)
        for place, row in enumerate(self._rows):
            self._row(painter, row, area.top() + (place + 0.5) * row_height, x, roomy=roomy)
        foot = area.top() + row_height * len(self._rows) + 6
        places = ticks(low, high, max(int(area.width() // 90), 2))
        texts = [f"{text} {self._unit}" for text in tick_texts(places)]
        paint_foot(painter, foot, self.wide, list(zip(map(x, places), texts, strict=True)))
        if open_ends and not roomy:
            painter.setFont(font(tokens.SMALL))
            room = QRectF(0, foot + 18, self.wide, 18)
            painter.drawText(room, Qt.AlignmentFlag.AlignRight, f"arrow: {NOT_SEEN}")

    def _row(
        self,
        painter: QPainter,
        row: WindowRow,
        y: float,
        x: Callable[[float], float],
        *,
        roomy: bool,
    ) -> None:
        theme = look().theme
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(theme.ink))
        left = Qt.AlignmentFlag.AlignVCenter
        painter.drawText(QRectF(0, y - 10, 46, 20), left, elided(painter, row.label, 46))
        paint_mark(painter, 62, y, row.look, 6)
        shade = QColor(theme.arm(row.look))
        hatch = QBrush(QColor(theme.quiet), Qt.BrushStyle.BDiagPattern)
        start = row.first_right if row.first_right is not None else row.first_over
        if row.last_under is not None and start is not None:
            painter.fillRect(
                QRectF(x(row.last_under), y - 6, x(start) - x(row.last_under), 12), hatch
            )
        if row.first_right is None or row.last_right is None:
            return
        end = row.first_over
        if end is not None:
            painter.fillRect(
                QRectF(x(row.last_right), y - 6, x(end) - x(row.last_right), 12), hatch
            )
        width = max(x(row.last_right) - x(row.first_right), 4.0)
        painter.fillRect(QRectF(x(row.first_right), y - 6, width, 12), shade)
        if row.off_right:
            tip = x(row.first_right) + width
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(shade)
            painter.drawPolygon(
                QPolygonF([QPointF(tip, y - 8), QPointF(tip + 9, y), QPointF(tip, y + 8)])
            )
            if roomy:
                painter.setPen(QColor(theme.quiet))
                painter.drawText(QRectF(tip + 16, y - 10, TAIL, 20), left, NOT_SEEN)
