"""A few cooks side by side: their charts overlaid, and what differs between them."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from PySide6.QtWidgets import QVBoxLayout

from pitjournal.analysis.trends.side_by_side import Beside, beside
from pitjournal.domain.times.moments import show_date
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Changes
from pitjournal.journal.jobs import Progress
from pitjournal.ui.charts.trace.chart import EventMark, Line, TraceChart
from pitjournal.ui.cook.traces import Align, TraceReader, align_words, alignments
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Chip, Choice, Flow
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.words import clear, column, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.page import Header, Page, scrolled
from pitjournal.units import Dimension, UnitSystem, show, unit_label

MOST = 6
MOST_LINES = 12
"""With more lines, each cook has one."""


class ComparePage(Page):
    """Two to six cooks."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.cook_ids: tuple[str, ...] = ()
        self._wholes: list[WholeCook] = []
        self._readers: dict[str, TraceReader] = {}
        self._align, self._sort = Align.ON, "meat"
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        header = Header("Side by side")
        header.right.addWidget(button("Back to the cooks", lambda: desk.go("cooks"), tip="Esc"))
        outer.addWidget(header)
        self.legend = Flow()
        self.align = Choice("lined up")
        self.align.chosen.connect(self._line_up)
        self.sort = Choice("what is drawn")
        self.sort.offer((("meat", "meat", -1), ("pit", "pit", -1)))
        self.sort.choose("meat")
        self.sort.chosen.connect(self._draw_other)
        self.chart = TraceChart()
        sized(self.chart, least_height=tokens.CHART_HEIGHT)
        self.none = words("No probe file is kept of these cooks.", "quiet")
        chart_card = Card()
        self.unit = words("", "heading")
        chart_card.body.addLayout(row(self.align, self.sort, space=tokens.L))
        chart_card.body.addWidget(self.unit)
        chart_card.body.addWidget(self.chart, 1)
        chart_card.body.addWidget(self.none)
        self.differs = FactTable("what differs")
        self.same = FactTable("what is the same")
        differs_card, self.same_card = Card("What differs"), Card("The same, or known of one only")
        differs_card.body.addWidget(self.differs)
        self.same_card.body.addWidget(self.same)
        body = column(self.legend, chart_card, differs_card, self.same_card, None, space=tokens.M)
        scrolled(body, "side by side", outer)

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Back to the cooks", "Alt+Left", lambda: self.desk.go("cooks")),
            Action("Draw meat or pit", "Ctrl+M", self._other_sort),
        )

    def concerned(self, changes: Changes) -> bool:
        """Whether one of these cooks may look different."""
        return bool(changes.cooks & set(self.cook_ids)) or "shelf_item" in changes.kinds

    def meet(self, there: Destination) -> None:
        """Take over the cooks that were chosen."""
        if there.cook_ids and there.cook_ids != self.cook_ids:
            self.cook_ids = there.cook_ids
            self._stale = True

    def refresh(self) -> None:
        """Show the cooks as they are now."""
        found = self.desk.journal.wholes(list(self.cook_ids))
        self._wholes = [found[one] for one in self.cook_ids if one in found][:MOST]
        self._readers = {
            whole.cook.id: self._readers.get(whole.cook.id)
            or TraceReader(self.desk.journal.files.samples)
            for whole in self._wholes
        }
        clear(self.legend)
        for place, whole in enumerate(self._wholes):
            chip = Chip(_name(whole), mark=tokens.series(place))
            chip.clicked.connect(self._opener(whole.cook.id))
            self.legend.addWidget(chip)
        can = [set(alignments(whole)) for whole in self._wholes if whole.traces]
        common = [align for align in Align if align is not Align.CLOCK]
        common = [align for align in common if can and all(align in some for some in can)]
        if self._align not in common and common:
            self._align = common[0]
        self.align.offer((a, align_words(a, self.desk.system), -1) for a in common)
        self.align.choose(self._align)
        self._draw()
        self._tell()

    def _opener(self, cook_id: str) -> Callable[..., None]:
        def open_it(*_: object) -> None:
            self.desk.go("cook", cook_id, "findings")

        return open_it

    def _line_up(self, align: object) -> None:
        self._align = Align(str(align))
        self._draw()

    def _draw_other(self, sort: object) -> None:
        self._sort = str(sort)
        self._draw()

    def _other_sort(self) -> None:
        other = "pit" if self._sort == "meat" else "meat"
        self.sort.choose(other)
        self._draw_other(other)

    def _draw(self) -> None:
        """Read the traces in a job, then draw them."""
        wholes, system, align = list(self._wholes), self.desk.system, self._align
        readers, sort = self._readers, self._sort

        def work(_progress: Progress) -> list[Line]:
            return overlaid(wholes, readers, system, align, sort)

        def done(lines: list[Line]) -> None:
            if wholes == self._wholes and align is self._align and sort == self._sort:
                self._show_lines(lines)

        self.desk.bridge.run("Read the traces", work, done, asker=self, quiet=True)

    def _show_lines(self, lines: list[Line]) -> None:
        self.chart.unit = unit_label(Dimension.TEMPERATURE, self.desk.system)
        self.unit.setText(f"Temperature, {self.chart.unit}, by hours and minutes")
        self.unit.setVisible(bool(lines))
        moment = EventMark(0.0, align_words(self._align, self.desk.system).removeprefix("from "))
        self.chart.show_lines(lines, [moment] if lines else [], zone=None)
        self.chart.setVisible(bool(lines))
        self.none.setVisible(not lines)

    def _tell(self) -> None:
        """Show what each variable is in each cook."""
        journal, catalogue = self.desk.journal, self.desk.catalogue
        ids = [whole.cook.id for whole in self._wholes]

        def work(_progress: Progress) -> list[Beside]:
            return beside(journal.trends.frame(), catalogue, ids)

        def done(found: list[Beside]) -> None:
            if ids == [whole.cook.id for whole in self._wholes]:
                self._show_table(found)

        self.desk.bridge.run("Lay the cooks side by side", work, done, asker=self, quiet=True)

    def _show_table(self, found: list[Beside]) -> None:
        system = self.desk.system
        heads = [
            (f"{whole.cook.number}", tokens.series(place))
            for place, whole in enumerate(self._wholes)
        ]
        days = [show_date(w.cook.starts_at, w.cook.zone) for w in self._wholes]
        differs = [("date", days)]
        differs += [_cells(one, system) for one in found if one.differs]
        self.differs.show_rows(heads, differs)
        rest = [_cells(one, system) for one in found if not one.differs]
        self.same.show_rows(heads, rest)
        self.same_card.setVisible(bool(rest))


def overlaid(
    wholes: Sequence[WholeCook],
    readers: dict[str, TraceReader],
    system: UnitSystem,
    align: Align,
    sort: str,
) -> list[Line]:
    """Return the lines of several cooks, each in a colour and shape that no arm has."""
    found: list[list[Line]] = []
    for place, whole in enumerate(wholes):
        look = tokens.series(place)
        lines = readers[whole.cook.id].lines(whole, system, align)
        found.append(
            [
                replace(line, label=f"{whole.cook.number} {line.label}", arm=look, sort="meat")
                for line in lines
                if (line.sort == "meat") is (sort == "meat")
            ]
        )
    if sum(map(len, found)) > MOST_LINES:
        found = [lines[:1] for lines in found]
    return [line for lines in found for line in lines]


def _name(whole: WholeCook) -> str:
    return f"{whole.cook.number}: {whole.cook.title or 'a cook'}"


def _cells(one: Beside, system: UnitSystem) -> tuple[str, list[str]]:
    cells = []
    for value in one.values:
        if value is None:
            cells.append("–")
        elif isinstance(value, float):
            cells.append(show(value, one.variable.dimension, system))
        else:
            cells.append(value)
    return one.variable.label, cells
