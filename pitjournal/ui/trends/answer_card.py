"""The answer: its picture, its legend, and its table."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal

from pitjournal.analysis.trends.answer import Answer
from pitjournal.analysis.trends.picture import pictures_of
from pitjournal.analysis.trends.question import Picture
from pitjournal.science.robust import RobustLine
from pitjournal.ui.charts.many_charts import ManyCharts
from pitjournal.ui.charts.scatter_chart import ScatterChart, Through
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Chip, Choice, Flow
from pitjournal.ui.look.parts.sort_table import Cell, Heading, SortTable
from pitjournal.ui.look.parts.words import clear, column, row, words
from pitjournal.ui.trends.answer_words import line_words
from pitjournal.ui.trends.drawing import ALL, MOST_SERIES, CooksOfMark, Drawer, Drawing, in_minutes
from pitjournal.units import Dimension, difference_of, show, show_interval, unit_label
from pitjournal.units.first_letter import capital

MOST_ROWS = 250
"""So many groups are listed; a table for other programs has them all."""

_KINDS = {
    Picture.GROUPS: "mean and 95 % interval over cooks",
    Picture.TIME: "mean and 95 % interval over cooks",
    Picture.SCATTER: "each mark a cook",
    Picture.HEAT: "mean over cooks",
    Picture.SPREAD: "how many cooks lie where",
}
TWICE = "each mark a piece; dotted where both scores are the same"
SAME = Through(1.0, 0.0, mark=True)
"""Where both scores of a piece are the same."""


class AnswerCard(Card):
    """A picture whose every mark is cooks.

    Signals
    -------
    picked(object)
        The `CooksOfMark` of a mark or a row that was tapped.
    brushed(object)
        The tuple of `CooksOfMark` that was brushed.
    drawn_as(object)
        Another `Picture` is wanted.
    """

    picked = Signal(object)
    brushed = Signal(object)
    drawn_as = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__("")
        self._desk = desk
        self.drawing: Drawing | None = None
        self.title = words("", "heading")
        self.pictures = Choice("picture")
        self.pictures.chosen.connect(self.drawn_as.emit)
        self.legend = Flow()
        self.charts = ManyCharts()
        self.table = SortTable("groups of cooks", hidden=("spread", "median"))
        self.table.chosen.connect(self._row)
        self.rest = words("", "quiet")
        self._rows: list[CooksOfMark] = []
        self.body.addLayout(column(self.title, row(self.pictures), self.legend))
        self.body.addWidget(self.charts, 1)

    def show_answer(self, found: Answer) -> None:
        """Show an answer."""
        system, catalogue = self._desk.system, self._desk.catalogue
        drawing = Drawer(found, catalogue, system, self._desk.journal.trends.arm_looks()).draw()
        self.drawing = drawing
        unit = unit_label(found.measure.dimension, system)
        if in_minutes(found.measure) and drawing.picture is not Picture.HEAT:
            unit = ""
        label = capital(found.measure.label)
        held = " and ".join(catalogue[key].label for key in found.question.held)
        held = f" · {held} held" if held else ""
        count = len(found.groups)
        more = f" · {drawing.drawn} of {count} groups drawn" if drawing.drawn < count else ""
        kind = TWICE if drawing.twice else _KINDS[drawing.picture]
        self.title.setText(f"{label}{', ' + unit if unit else ''} · {kind}{held}{more}")
        fitting = pictures_of(found.question, catalogue, len(found.groups))
        self.pictures.offer((picture, str(picture), -1) for picture in fitting)
        self.pictures.choose(drawing.picture)
        self.pictures.setVisible(len(fitting) > 1)
        clear(self.legend)
        if drawing.picture is not Picture.HEAT:
            for name, look in list(drawing.series.items())[:MOST_SERIES]:
                if name:
                    self.legend.addWidget(Chip(name, mark=look))
        if drawing.twice:
            self.show_lines(found, {})
        self.charts.show_charts(drawing.panels)
        for (_, chart), behind in zip(drawing.panels, drawing.behind, strict=True):
            chart.chosen.connect(self._picker(behind))
            chart.brushed.connect(self._brusher(behind))
        self._show_table(found)

    def show_lines(self, found: Answer, lines: dict[tuple[str, str], RobustLine]) -> str:
        """Show lines through the points; return what they say."""
        if self.drawing is None or self.drawing.picture is not Picture.SCATTER:
            return ""
        along = self._desk.catalogue[self.drawing.along]
        said = []
        for head, chart in self.drawing.panels:
            through = []
            for (series, panel), line in lines.items():
                if panel != head:
                    continue
                text = line_words(line, series or panel, found.measure, along, self._desk.system)
                said.append(text)
                look = self.drawing.series.get(series)
                unsure = line.low <= 0 <= line.high
                through.append(Through(line.slope, line.intercept, look, text, unsure))
            assert isinstance(chart, ScatterChart)
            chart.show_lines([*through, SAME] if self.drawing.twice else through)
        return "; ".join(said[:4]) + "." if said else ""

    def _picker(self, behind: Sequence[CooksOfMark]) -> Callable[[int], None]:
        def pick(place: int) -> None:
            self.picked.emit(behind[place])

        return pick

    def _brusher(self, behind: Sequence[CooksOfMark]) -> Callable[[object], None]:
        def brush(places: object) -> None:
            assert isinstance(places, tuple)
            self.brushed.emit(tuple(behind[place] for place in places))

        return brush

    def _row(self, place: int) -> None:
        if place < len(self._rows):
            self.picked.emit(self._rows[place])

    def _show_table(self, found: Answer) -> None:
        what, system = found.measure, self._desk.system
        rows = []
        self._rows = []
        for group in found.groups[:MOST_ROWS]:
            low, high = group.low, group.high
            bounds = show_interval(low, high, what.dimension, system, with_unit=False)
            spread = show(group.sd, difference_of(what.dimension), system, with_unit=False)
            mean, median = (
                Cell(show(value, what.dimension, system, with_unit=False), value)
                for value in (group.mean, group.median)
            )
            name = ", ".join(group.key)
            self._rows.append(CooksOfMark(name or ALL, group.cook_ids, group.key))
            rows.append(
                (
                    Cell(name or ALL, name),
                    mean,
                    Cell(bounds, group.low),
                    Cell("–" if group.sd is None else spread, group.sd),
                    median,
                    Cell(str(group.cooks), float(group.cooks)),
                    Cell(str(group.pieces), float(group.pieces)),
                )
            )
        rest = len(found.groups) - len(rows)
        self.rest.setText(f"{rest} more groups are in the export." if rest else "")
        self.rest.setVisible(bool(rest))
        unit = "" if what.dimension is Dimension.SCORE else unit_label(what.dimension, system)
        heads = (
            f"mean, {unit}" if unit else "mean",
            "95 % interval",
            "spread",
            "median",
            "cooks",
            "pieces",
        )
        self.table.show_rows((Heading("group"), *(Heading(h, number=True) for h in heads)), rows)
