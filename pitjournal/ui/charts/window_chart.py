"""How long each piece stayed right: what was seen is solid, what lies between checks hatched."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPolygonF

from pitjournal.ui.charts.canvas import Canvas, elided, ticks
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import font, look

ROW = 20
LEFT = 84


@dataclass(frozen=True)
class WindowRow:
    """One piece, minutes since the first check; None where there was no such check."""

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
        super().__init__("how long each piece stayed right", 150)
        self._rows: tuple[WindowRow, ...] = ()

    def show_rows(self, rows: Sequence[WindowRow]) -> None:
        """Show pieces in their order."""
        self._rows = tuple(rows)
        self.setMinimumHeight(max(150, ROW * len(rows) + 40))
        self.told()

    def sentence(self) -> str:
        """Return each piece's bounds in words."""
        parts = []
        for row in self._rows:
            if row.first_right is None or row.last_right is None:
                continue
            end = ", taken off while right" if row.off_right else ""
            parts.append(
                f"{row.label} right for at least {row.last_right - row.first_right:.0f} min{end}"
            )
        return "; ".join(parts) or "No piece was felt right yet."

    def table(self) -> list[list[str]]:
        """Return a row a piece."""
        rows = [
            ["piece", "last under", "first right", "last right", "first over", "taken off right"]
        ]
        for row in self._rows:
            marks = (row.last_under, row.first_right, row.last_right, row.first_over)
            cells = ["" if v is None else f"{v:.0f} min" for v in marks]
            rows.append([row.label, *cells, "yes" if row.off_right else "no"])
        return rows

    def draw(self, painter: QPainter) -> None:
        """Paint it."""
        seen = [
            v
            for row in self._rows
            for v in (row.last_under, row.first_right, row.last_right, row.first_over)
            if v is not None
        ]
        if not seen:
            self.say(painter, "No doneness check yet. Probe and feel each piece on the bench.")
            return
        theme = look().theme
        low, high = min(seen), max(*seen, min(seen) + 15)
        area = QRectF(LEFT, 4, self.width() - LEFT - 150, self.height() - 30)

        def x(value: float) -> float:
            return area.left() + (value - low) / (high - low) * area.width()

        row_height = min(area.height() / len(self._rows), 26.0)
        for place, row in enumerate(self._rows):
            self._row(painter, row, area.top() + (place + 0.5) * row_height, x)
        painter.setFont(font(tokens.SMALL, tabular=True))
        painter.setPen(QColor(theme.quiet))
        foot = area.top() + row_height * len(self._rows) + 6
        for value in ticks(low, high, max(int(area.width() // 90), 2)):
            room = QRectF(x(value) - 40, foot, 80, 18)
            painter.drawText(room, Qt.AlignmentFlag.AlignHCenter, f"{value:.0f} min")

    def _row(self, painter: QPainter, row: WindowRow, y: float, x: object) -> None:
        assert callable(x)
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
            painter.setPen(QColor(theme.quiet))
            painter.drawText(QRectF(tip + 16, y - 10, 150, 20), left, "taken off while right")
