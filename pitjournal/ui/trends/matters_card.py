"""What matters most: a ranking of variables, as a start for a question."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Signal

from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.inference.variable_ranking import RankedVariable, rank_variables
from pitjournal.analysis.trends.question import By, Part, Question
from pitjournal.domain.catalogue import Kind
from pitjournal.journal.jobs import Progress
from pitjournal.ui.charts.bars_chart import Bar, BarsChart
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.words import words
from pitjournal.ui.trends.answer_words import matters_words
from pitjournal.units.figures import percent

MOST = 12


class MattersCard(Card):
    """Bars of the variables that go with a measure; a tap asks for it by one of them.

    Signals
    -------
    asked(object)
        A `Question` to begin with.
    """

    asked = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__(
            "What matters most",
            side=button("Put away", self.hide, "link", about="what matters most"),
        )
        self._desk = desk
        self._question: Question | None = None
        self.found: tuple[RankedVariable, ...] = ()
        self.chart = BarsChart()
        self.chart.chosen.connect(self._ask)
        self.words = words()
        self.key = words("Dark: between cooks. Pale: inside cooks.", "quiet")
        self.body.addWidget(self.chart)
        self.body.addWidget(self.key)
        self.body.addWidget(self.words)
        self.hide()

    def look(self, question: Question) -> None:
        """Rank the variables for a question's measure and filters, in a job."""
        self._question = question
        measure = self._desk.catalogue[question.measure]
        self.heading.setText(f"What matters most for {measure.label}")
        self.words.setText("Looking at each variable…")
        self._show(())
        self.show()
        catalogue, system = self._desk.catalogue, self._desk.system
        trends = self._desk.journal.trends

        def work(progress: Progress) -> tuple[RankedVariable, ...]:
            frame: Frame = trends.frame(progress)
            return rank_variables(frame, question, catalogue, system, progress=progress.report)

        self._desk.bridge.run(
            f"Look at what matters for {measure.label}", work, self._taker(question), asker=self
        )

    def keep_for(self, question: Question) -> None:
        """Go away where a question is about something else."""
        own = self._question
        if own is not None and (own.measure, own.where) != (question.measure, question.where):
            self.hide()

    def _taker(self, question: Question) -> Callable[[tuple[RankedVariable, ...]], None]:
        def take(found: tuple[RankedVariable, ...]) -> None:
            if question == self._question:
                self.words.setText(matters_words(found, self._desk.catalogue[question.measure]))
                self._show(found)

        return take

    def _show(self, found: tuple[RankedVariable, ...]) -> None:
        self.found = tuple(matter for matter in found if matter.tells)[:MOST]
        self.chart.show_bars([_bar(matter) for matter in self.found])
        self.chart.setVisible(bool(self.found))
        self.key.setVisible(bool(self.found))

    def _ask(self, place: int) -> None:
        if self._question is None:
            return
        variable = self.found[place].variable
        by = By(variable.key, Part.MONTH if variable.kind is Kind.TIME else None)
        inside = self.found[place].inside > self.found[place].between
        self.asked.emit(replace(self._question, by=(by,), within=inside, held=(), picture=None))


def _bar(matter: RankedVariable) -> Bar:
    whole = matter.between + matter.inside
    between = matter.share * matter.between / whole if whole else 0.0
    text = f"{percent(matter.share)} of the spread · {matter.cooks} cooks"
    return Bar(matter.variable.label, between, matter.share - between, text)
