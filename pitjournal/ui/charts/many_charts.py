"""Several small charts of one kind side by side, each with a heading."""

from collections.abc import Sequence

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from pitjournal.ui.charts.marks_chart import MarksChart
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.words import clear, words

LEAST_WIDTH = 300
"""A small chart is at least so wide, px."""


class ManyCharts(QWidget):
    """Charts under headings, as many in a line as there is room for; one alone has no heading."""

    def __init__(self) -> None:
        super().__init__()
        self.charts: tuple[MarksChart, ...] = ()
        self._heads: tuple[str, ...] = ()
        self._columns = 0
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(tokens.S)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)

    def show_charts(self, charts: Sequence[tuple[str, MarksChart]]) -> None:
        """Show charts in order; the ones before go."""
        clear(self._grid)
        self._heads = tuple(head for head, _ in charts)
        self.charts = tuple(chart for _, chart in charts)
        self._columns = 0
        self._lay()

    def _lay(self) -> None:
        count = len(self.charts)
        columns = max(1, min(count, self.width() // LEAST_WIDTH, 4))
        if not count or columns == self._columns:
            return
        for place in range(self._grid.columnCount()):
            self._grid.setColumnStretch(place, 0)
        before, self._columns = self._columns, columns
        if before:
            for chart in self.charts:
                self._grid.removeWidget(chart)
        while (item := self._grid.takeAt(0)) is not None:
            heading = item.widget()
            if heading is not None and heading not in self.charts:
                heading.deleteLater()
        for place, (head, chart) in enumerate(zip(self._heads, self.charts, strict=True)):
            line, spot = divmod(place, columns)
            if count > 1:
                self._grid.addWidget(words(head, "strong", wrap=False), 2 * line, spot)
            self._grid.addWidget(chart, 2 * line + 1, spot)
            self._grid.setColumnStretch(spot, 1)

    def sizeHint(self) -> QSize:
        """Return what the charts need."""
        return self._grid.sizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay them for the width there is."""
        super().resizeEvent(event)
        self._lay()
