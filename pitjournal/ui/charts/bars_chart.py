"""Shares as bars, the largest first: what goes with a measure's spread."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from pitjournal.science.scale import is_known
from pitjournal.ui.charts.canvas import elided
from pitjournal.ui.charts.marks_chart import BoxesChart
from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import bold, colour, font, look, sized
from pitjournal.units.figures import percent

LINE = 34


@dataclass(frozen=True)
class Bar:
    """A bar: its name, its two parts of 1, and what is said at its end."""

    name: str
    first: float
    second: float
    text: str


def shares_of(bar: Bar) -> tuple[float, float]:
    """Return a bar's two parts, together no more than the whole; what is no number is nothing."""
    first, second = (v if is_known(v) else 0.0 for v in (bar.first, bar.second))
    first = min(max(first, 0.0), 1.0)
    return first, min(max(second, 0.0), 1.0 - first)


class BarsChart(BoxesChart):
    """Bars of two parts: between cooks, and inside cooks."""

    def __init__(self, name: str = "shares of the spread") -> None:
        super().__init__(name, 80)
        self.bars: tuple[Bar, ...] = ()

    def show_bars(self, bars: Sequence[Bar]) -> None:
        """Show bars in order."""
        self.bars = tuple(bars)
        sized(self, height=max(LINE * len(bars) + 8, 60))
        self.begin()

    def sentence(self) -> str:
        """Return the bars in words."""
        return "; ".join(f"{bar.name} {bar.text}" for bar in self.bars) or "Nothing to show."

    def table(self) -> list[list[str]]:
        """Return a row a bar."""
        rows = [["variable", "between cooks", "inside cooks", ""]]
        rows += [[b.name, percent(b.first), percent(b.second), b.text] for b in self.bars]
        return rows

    def paint_marks(self, painter: QPainter) -> None:
        """Paint it."""
        self.spots, self.boxes = [], []
        if not self.bars:
            self.say(painter, "Nothing goes with it more than shuffled numbers do.")
            return
        theme = look().theme
        left = min(220.0, self.wide * 0.3)
        room = max(self.wide - left - 190, 40.0)
        for place, bar in enumerate(self.bars):
            top = 4.0 + place * LINE
            self.boxes.append(QRectF(0, top, self.wide, LINE))
            painter.setFont(bold(tokens.BODY))
            painter.setPen(QColor(theme.ink))
            side = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
            painter.drawText(
                QRectF(0, top, left - 10, LINE), side, elided(painter, bar.name, left - 10)
            )
            wide = [room * share for share in shares_of(bar)]
            one = QRectF(left, top + 8, wide[0], LINE - 16)
            two = QRectF(one.right(), top + 8, wide[1], LINE - 16)
            painter.setPen(QPen(QColor(theme.ember), 1))
            painter.setBrush(QColor(theme.ember))
            painter.drawRect(one)
            painter.setBrush(colour(theme.ember, 0.3))
            painter.drawRect(two)
            painter.setFont(font(tokens.SMALL, tabular=True))
            painter.setPen(QColor(theme.quiet))
            end = QRectF(two.right() + 8, top, self.wide - two.right() - 8, LINE)
            painter.drawText(
                end, Qt.AlignmentFlag.AlignVCenter, elided(painter, bar.text, end.width())
            )
        self.spots = [QPointF(left, box.center().y()) for box in self.boxes]

    def paint_chosen(self, painter: QPainter, place: int) -> None:
        """Paint the edge of a chosen bar."""
        painter.drawRoundedRect(self.boxes[place].adjusted(2, 2, -2, -2), 6, 6)
