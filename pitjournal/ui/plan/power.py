"""What a cook can show, as a curve and in words, before the meat is bought."""

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.plan.planner import Planner, PlannerAsked, asked_of, planner_words
from pitjournal.analysis.trade_words import many
from pitjournal.domain.catalogue import Variable
from pitjournal.domain.cook import Cook
from pitjournal.domain.plausible import SPREAD
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Changes
from pitjournal.journal.commands.records import Change
from pitjournal.journal.queries.planning import planner
from pitjournal.ui.charts.power_chart import PowerChart
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.look.parts.words import clear, row, words
from pitjournal.units import difference_of

Whole = Callable[[], WholeCook | None]


class PowerView(QWidget):
    """The curve and its words; it asks the past cooks off this thread."""

    def __init__(self, desk: Desk, known: Callable[[Planner], object] | None = None) -> None:
        super().__init__()
        self._desk, self._known = desk, known
        self._asked: object = None
        self._skip = ""
        desk.bridge.changed.connect(self._hear)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(tokens.S)
        self.chart = PowerChart()
        self.chart.hide()
        self.words = words()
        layout.addWidget(self.chart)
        layout.addWidget(self.words)

    def ask(self, asked: PlannerAsked, skip: str = "") -> None:
        """Show what a comparison can show, once it is worked out."""
        key = asked, skip, self._desk.system
        if self._asked == key:
            return
        self._asked, self._skip = key, skip

        def done(found: Planner) -> None:
            if self._asked == key:
                self.show_planner(found)

        journal = self._desk.journal
        self._desk.bridge.run(
            "What this cook can show",
            lambda _: planner(journal, asked, skip),
            done,
            asker=self,
            quiet=True,
        )

    def _hear(self, changes: Changes) -> None:
        """Ask again next time where another cook has changed, and so the past."""
        if changes.cooks - {self._skip}:
            self._asked = None

    def show_planner(self, found: Planner) -> None:
        """Show it."""
        asked = found.asked
        several = asked.arms > 1
        here = None if found.chance is None else (asked.per_arm, found.chance)
        unit = many(asked.noun) if asked.paired else "pieces of each arm"
        self.chart.show_curve(found.curve if several else (), here, unit)
        self.chart.setVisible(several)
        self.words.setText(planner_words(found, self._outcome(asked), self._desk.system))
        if self._known is not None:
            self._known(found)

    def _outcome(self, asked: PlannerAsked) -> Variable | None:
        return self._desk.catalogue.get(asked.outcome or "")


class PowerCard(Card):
    """What this cook can show, with the difference worth knowing and a guess of the spread."""

    def __init__(self, desk: Desk, whole: Whole) -> None:
        super().__init__("What this cook can show")
        self._desk, self._whole = desk, whole
        self._dimension: object = ()
        self.view = PowerView(desk, self._learnt)
        self.body.addWidget(self.view)
        self.asked = Card("What is worth knowing")
        self.fields = row(space=tokens.M)
        self.asked.body.addLayout(self.fields)
        self.worth: QuantityField | None = None
        self.guess: QuantityField | None = None
        self.body.addStretch(1)

    def show_cook(self, whole: WholeCook) -> None:
        """Show what a cook can show; out of sight for a cook for itself, which lacks nothing."""
        self.setVisible(len(whole.arms) > 1)
        outcome = self._desk.catalogue.get(whole.cook.outcome or "")
        self._make_fields(outcome if len(whole.arms) > 1 else None)
        if self.worth is not None and self.guess is not None:
            self.worth.set_value(whole.cook.worth_knowing)
            self.guess.set_value(whole.cook.spread_guess)
        if len(whole.arms) > 1:
            self.view.ask(asked_of(whole), whole.cook.id)

    def _make_fields(self, outcome: Variable | None) -> None:
        """Make the two fields anew where the outcome has another unit."""
        wanted = None if outcome is None else (outcome.dimension, self._desk.system)
        if wanted == self._dimension:
            return
        self._dimension = wanted
        self.asked.setVisible(outcome is not None)
        clear(self.fields)
        self.worth = self.guess = None
        if outcome is None:
            return
        dimension, system = difference_of(outcome.dimension), self._desk.system
        self.worth = QuantityField(
            "A difference worth knowing",
            dimension,
            system,
            self._keeper("worth_knowing"),
            within=SPREAD[dimension],
        )
        self.guess = QuantityField(
            "Spread, as a guess",
            dimension,
            system,
            self._keeper("spread_guess"),
            within=SPREAD[dimension],
        )
        self.fields.addWidget(self.worth)
        self.fields.addWidget(self.guess)

    def _learnt(self, found: Planner) -> None:
        """Ask for a guess only where one's own cooks say nothing."""
        if self.guess is not None:
            self.guess.setVisible(found.spread is None or not found.spread.own)

    def _keeper(self, field: str) -> Callable[[object, str], str]:
        def keep(value: object, typed: str) -> str:
            whole = self._whole()
            if whole is None:
                return ""
            if isinstance(value, float) and value <= 0:
                return "It must be more than nothing."
            label = "Change what is worth knowing" if field == "worth_knowing" else "Guess a spread"
            told = {field: typed} if isinstance(value, float) else {}
            change = Change(Cook, whole.cook.id, {field: value}, label, told)
            return self._desk.bridge.attempt(change, self)

        return keep
