"""The controls of a question: what is shown, by what, where, and what is held."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Signal

from pitjournal.analysis.trends.language.written import GONE, write_filter
from pitjournal.analysis.trends.question import MOST_BY, By, Question, Where, joined
from pitjournal.domain.catalogue import Kind
from pitjournal.journal.jobs import Progress
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Chip, Choice, Flow
from pitjournal.ui.look.parts.overlay import open_alone
from pitjournal.ui.look.parts.words import clear, words
from pitjournal.ui.trends.by_panel import BinsPanel, VariablePanel, by_panel, helps_of
from pitjournal.ui.trends.filter_panel import FilterPanel
from pitjournal.units.first_letter import capital


def chip_into(flow: Flow, text: str, run: Callable[[], object], *, cross: bool = False) -> None:
    """Add a chip that does something; with a cross it takes itself away."""
    chip = Chip(text, cross=cross)
    chip.clicked.connect(lambda *_: run())
    flow.addWidget(chip)


class Controls(Card):
    """A question as chips and boxes.

    Signals
    -------
    asked(object)
        Another `Question` was chosen.
    """

    asked = Signal(object)

    def __init__(self, desk: Desk, question: Question) -> None:
        super().__init__()
        self._desk, self.question = desk, question
        self.show_box = ChoiceBox("Show", (), self._show_measure)
        self.by_chips, self.where_chips, self.held_chips = Flow(), Flow(), Flow()
        self.held_heading = words("Held", "heading")
        self.within = Choice("within the same cook")
        self.within.offer(((True, "only inside cooks that have both", -1),))
        self.within.chosen.connect(lambda *_: self._ask(within=not self.question.within))
        self.against = Choice("against its control")
        self.against.offer(((True, "against its control", -1),))
        self.against.chosen.connect(
            lambda *_: self._ask(against_control=not self.question.against_control)
        )
        self.what = words("", "quiet")
        self.body.addWidget(self.show_box)
        self.body.addWidget(self.what)
        self.body.addWidget(words("By", "heading"))
        self.body.addLayout(self.by_chips)
        self.body.addWidget(words("Where", "heading"))
        self.body.addLayout(self.where_chips)
        self.body.addWidget(self.within)
        self.body.addWidget(self.against)
        self.body.addWidget(self.held_heading)
        self.body.addLayout(self.held_chips)

    def offer_measures(self) -> None:
        """Offer what the journal can show."""
        measures = [(v.key, v.label) for v in self._desk.catalogue.values() if v.measure]
        self.show_box.offer(sorted(measures, key=lambda one: one[1]))

    def show_question(self, question: Question) -> None:
        """Show a question."""
        self.question = question
        self.show_box.set_value(question.measure)
        self.what.setText(self._helped(question.measure))
        self.what.setVisible(bool(self.what.text()))
        clear(self.by_chips)
        for place, by in enumerate(question.by):
            self._by_chip(place, by)
        if len(question.by) < MOST_BY:
            chip_into(self.by_chips, "+ group by", self.add_by)
        clear(self.where_chips)
        for place, where in enumerate(question.where):
            label = write_filter(where, self._desk.catalogue, self._desk.system)
            chip_into(self.where_chips, label, self._less("where", place), cross=True)
        chip_into(self.where_chips, "+ filter", self.add_where)
        clear(self.held_chips)
        for place, key in enumerate(question.held):
            chip_into(self.held_chips, self._label(key), self._less("held", place), cross=True)
        if question.by:
            chip_into(self.held_chips, "+ hold a variable", self.add_held)
        self.held_heading.setVisible(bool(question.held))
        self.against.choose(*([True] if question.against_control else []))
        self.within.choose(*([True] if question.within else []))
        self.within.setVisible(bool(question.by))

    def _label(self, key: str) -> str:
        found = self._desk.catalogue.get(key)
        return GONE if found is None else found.label

    def _helped(self, key: str) -> str:
        found = self._desk.catalogue.get(key)
        return capital(f"{found.help}.") if found is not None and found.help else ""

    def _by_chip(self, place: int, by: By) -> None:
        label = str(by.part) if by.part else self._label(by.key)
        chip_into(self.by_chips, label, self._less("by", place), cross=True)
        variable = self._desk.catalogue.get(by.key)
        if variable is not None and variable.kind is Kind.NUMBER:
            chip_into(self.by_chips, f"split {label}", lambda: self.cut(place))

    def _ask(self, **changes: object) -> None:
        self.asked.emit(replace(self.question, **changes))  # type: ignore[arg-type]

    def _show_measure(self, key: object) -> str:
        self._ask(measure=str(key))
        return ""

    def _less(self, field: str, place: int) -> Callable[[], None]:
        kept = tuple(v for n, v in enumerate(getattr(self.question, field)) if n != place)
        return lambda: self._ask(**{field: kept})

    # panels

    def add_by(self) -> None:
        """Choose another variable to group by."""

        def take(by: By) -> None:
            self._ask(by=(*self.question.by, by)[-MOST_BY:])

        open_alone(by_panel(self.window(), self._desk, take))

    def cut(self, place: int) -> None:
        """Choose where a number is cut into groups."""

        def take(by: By) -> None:
            changed = tuple(by if n == place else b for n, b in enumerate(self.question.by))
            self._ask(by=changed)

        by, trends = self.question.by[place], self._desk.journal.trends

        def read(progress: Progress) -> object:
            return trends.frame(progress).numbers(by.key)

        def show(_: object = None) -> None:
            open_alone(BinsPanel(self.window(), self._desk, by, take))

        if self._desk.reads_at_once((by.key,)):
            show()
        else:
            self._desk.bridge.run("Read all the cooks", read, show, asker=self)

    def add_where(self) -> None:
        """Choose another filter."""

        def take(where: tuple[Where, ...]) -> None:
            self._ask(where=joined(self.question.where, where))

        open_alone(FilterPanel(self.window(), self._desk, take))

    def add_held(self) -> None:
        """Choose a variable to hold."""
        taken = {self.question.measure, *self.question.held, *(b.key for b in self.question.by)}
        options: list[tuple[object, str]] = sorted(
            (
                (v.key, v.label)
                for v in self._desk.catalogue.values()
                if v.key not in taken and v.kind not in {Kind.TEXT, Kind.WORDS}
            ),
            key=lambda one: one[1],
        )

        def take(key: object) -> None:
            self._ask(held=(*self.question.held, str(key)))

        open_alone(
            VariablePanel(self.window(), "Hold", options, take, helps_of(self._desk.catalogue))
        )
