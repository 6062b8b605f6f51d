"""A table of two choices, each cell tinted by its mean, with how many cooks it rests on."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from pitjournal.science.scale import is_known, same
from pitjournal.ui.charts.canvas import elided
from pitjournal.ui.charts.marks_chart import BoxesChart
from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import bold, colour, font, look, sized
from pitjournal.units.figures import counted

DEEPEST = 0.42
"""The opacity of the highest cell's tint: the words on it stay as dark as on the card."""

LEAST_ROW = 34
MOST_ROW = 64


@dataclass(frozen=True)
class HeatCell:
    """A cell: its row and column, its mean in the unit shown and in words, and its cooks."""

    row: str
    column: str
    mean: float
    text: str
    cooks: int
    few: bool


class HeatChart(BoxesChart):
    """A heat table."""

    def __init__(self, name: str = "heat table of cooks", height: int = 260) -> None:
        super().__init__(name, height)
        self.cells: tuple[HeatCell, ...] = ()
        self._lines: tuple[str, ...] = ()
        self._heads: tuple[str, ...] = ()
        self._span: tuple[float, float] | None = None

    def show_cells(
        self,
        cells: Sequence[HeatCell],
        rows: Sequence[str],
        columns: Sequence[str],
        *,
        span: tuple[float, float] | None = None,
    ) -> None:
        """Show cells in the order of their rows and columns.

        `span` has the palest and the deepest value, where several tables share them.
        """
        self.cells, self._lines, self._heads = tuple(cells), tuple(rows), tuple(columns)
        self._span = span
        sized(self, least_height=max(160, LEAST_ROW * len(rows) + 40))
        self.begin()

    def sentence(self) -> str:
        """Return the highest and the lowest cell in words."""
        sound = [cell for cell in self.cells if not cell.few] or list(self.cells)
        if not sound:
            return "No cook has what is asked for."
        high, low = max(sound, key=lambda c: c.mean), min(sound, key=lambda c: c.mean)
        return (
            f"highest {high.row}, {high.column}: {high.text}; "
            f"lowest {low.row}, {low.column}: {low.text}"
        )

    def table(self) -> list[list[str]]:
        """Return the table itself."""
        known = {(c.row, c.column): f"{c.text} ({c.cooks})" for c in self.cells}
        rows = [["", *self._heads]]
        rows += [[r, *(known.get((r, c), "–") for c in self._heads)] for r in self._lines]
        return rows

    def paint_marks(self, painter: QPainter) -> None:
        """Paint it."""
        self.spots, self.boxes = [], []
        if not self.cells:
            self.say(painter, "No cook has what is asked for. Take a filter away.")
            return
        theme = look().theme
        painter.setFont(bold(tokens.SMALL))
        metrics = painter.fontMetrics()
        left = min(
            max(metrics.horizontalAdvance(name) for name in self._lines) + 16, self.wide * 0.3
        )
        area = QRectF(left, 26, self.wide - left - 8, self.high - 34)
        height = min(area.height() / len(self._lines), MOST_ROW)
        width = min(area.width() / len(self._heads), 220.0)
        painter.setPen(QColor(theme.ink))
        for place, name in enumerate(self._lines):
            room = QRectF(0, area.top() + place * height, left - 8, height)
            side = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(room, side, elided(painter, name, room.width()))
        for place, name in enumerate(self._heads):
            room = QRectF(area.left() + place * width, 2, width, 22)
            painter.drawText(
                room, Qt.AlignmentFlag.AlignCenter, elided(painter, name, room.width() - 6)
            )
        low, high = self._span or self._means()
        for cell in self.cells:
            box = QRectF(
                area.left() + self._heads.index(cell.column) * width,
                area.top() + self._lines.index(cell.row) * height,
                width,
                height,
            ).adjusted(2, 2, -2, -2)
            self.boxes.append(box)
            self._cell(painter, cell, box, share_of(cell.mean, low, high))
        self.spots = [box.center() for box in self.boxes]

    def _means(self) -> tuple[float, float]:
        known = [cell for cell in self.cells if is_known(cell.mean)]
        sound = [c.mean for c in known if not c.few] or [c.mean for c in known] or [0.0]
        return min(sound), max(sound)

    @staticmethod
    def _cell(painter: QPainter, cell: HeatCell, box: QRectF, share: float) -> None:
        theme = look().theme
        tint = colour(theme.ember, DEEPEST * share)
        painter.setPen(QPen(QColor(theme.grid), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush if cell.few else tint)
        painter.drawRoundedRect(box, 6, 6)
        count = counted(cell.cooks, "cook")
        if box.width() < 96:
            count = str(cell.cooks)
        painter.setPen(QColor(theme.quiet if cell.few else theme.ink))
        painter.setFont(font(tokens.SMALL) if cell.few else bold(tokens.SMALL, tabular=True))
        two = box.height() > 40
        upper = box.adjusted(4, 0, -4, -box.height() / 2 + 2) if two else box.adjusted(4, 0, -4, 0)
        low = Qt.AlignmentFlag.AlignBottom if two else Qt.AlignmentFlag.AlignVCenter
        text = cell.text if two else f"{cell.text} · {cell.cooks}"
        painter.drawText(
            upper, Qt.AlignmentFlag.AlignHCenter | low, elided(painter, text, upper.width())
        )
        if two:
            painter.setFont(font(tokens.SMALL))
            painter.drawText(
                box.adjusted(4, box.height() / 2 + 2, -4, 0), Qt.AlignmentFlag.AlignHCenter, count
            )

    def paint_chosen(self, painter: QPainter, place: int) -> None:
        """Paint the edge of a chosen cell."""
        painter.drawRoundedRect(self.boxes[place], 6, 6)

    def inside(self, band: QRectF) -> tuple[int, ...]:
        """Return the cells a brush touches."""
        return tuple(n for n, box in enumerate(self.boxes) if box.intersects(band))


def share_of(value: float, low: float, high: float) -> float:
    """Return how deep a cell's tint is, from 0 to 1; what is no number has none."""
    if not is_known(value):
        return 0.0
    if same(low, high):
        return 0.5
    return min(max((value - low) / (high - low), 0.0), 1.0)
