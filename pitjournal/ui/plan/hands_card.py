"""Who helps that day: the names, and whose each step is."""

from collections.abc import Callable

from pitjournal.analysis.plan.hands import dealt, hands_of, steps_for
from pitjournal.domain.day.schedule import is_open
from pitjournal.domain.event import Event
from pitjournal.domain.several_names import people_in
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.plan import GiveSteps, NameHands
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import TextField
from pitjournal.ui.look.parts.words import Elided, row, words
from pitjournal.ui.plan.hand_card import work_words
from pitjournal.ui.plan.schedule_model import step_words
from pitjournal.units import UnitSystem

NOBODY = "nobody"
EMPTY = "One pair of hands does it all. Name who helps, and each step gets a hand of its own."


class HandsCard(Card):
    """The names of all who help, what each has to do, and the hand of the chosen step."""

    def __init__(self, desk: Desk, whole: Callable[[], WholeCook | None]) -> None:
        self._desk, self._whole = desk, whole
        self._step_id = ""
        self.deal = button("Deal the steps out", self.deal_out, "link")
        super().__init__("Hands", side=self.deal)
        self.names = TextField("Who helps, with commas between", self._name, hint="Ana, Ben, Cy")
        self.body.addWidget(self.names)
        self.load = words("", "quiet")
        self.body.addWidget(self.load)
        self.of = Elided("", "strong")
        self.hand = Choice("whose step it is")
        self.hand.chosen.connect(self._give)
        self.cards = button("Cards for the hands", self.show_cards)
        self.body.addWidget(self.of)
        self.body.addWidget(self.hand)
        self.body.addLayout(row(self.cards, None))
        self.body.setSpacing(tokens.S)

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's hands."""
        self.names.set_value(", ".join(whole.cook.hands) or None)
        hands = hands_of(whole)
        self.load.setText("\n".join(_load(whole, hand) for hand in hands) or EMPTY)
        self.deal.setVisible(bool(dealt(whole)))
        self.cards.setVisible(bool(hands))
        self.show_step(self._step_id)

    def show_step(self, step_id: str) -> None:
        """Offer the hands for a step that was chosen in the day."""
        whole = self._whole()
        self._step_id = step_id
        steps = whole.events if whole is not None else ()
        step = next((e for e in steps if e.id == step_id and is_open(e)), None)
        hands = hands_of(whole) if whole is not None else ()
        for widget in (self.of, self.hand):
            widget.setVisible(bool(hands))
        if not hands or whole is None:
            return
        if step is None:
            self.of.show_text("Choose a step of the day to give it to a hand.")
            self.hand.hide()
            return
        self.of.show_text(step_words(whole, step, self._desk.system))
        offers: list[tuple[object, str, int | None]] = [(NOBODY, "whoever is free", -1)]
        self.hand.offer((*offers, *((name, name, -1) for name in hands)))
        self.hand.choose(step.by or NOBODY)

    # what its taps do

    def _name(self, value: object, _typed: str) -> str:
        whole = self._whole()
        if whole is None:
            return ""
        names = people_in(str(value or ""))
        label = f"Hands: {', '.join(names)}" if names else "One pair of hands"
        return self._desk.bridge.attempt(NameHands(whole.cook.id, names, label), self)

    def deal_out(self) -> None:
        """Give every step that has no hand to one of them."""
        whole = self._whole()
        found = dealt(whole) if whole is not None else {}
        if found:
            self._desk.bridge.do(GiveSteps(found), self)

    def show_cards(self) -> None:
        """Open the cards of all who help."""
        from pitjournal.ui.plan.hands_panel import HandsPanel  # noqa: PLC0415 - print, seldom

        whole = self._whole()
        if whole is not None and hands_of(whole):
            HandsPanel(self._desk, self.window(), whole).open_panel()

    def _give(self, value: object) -> None:
        whole = self._whole()
        step = next((e for e in whole.events if e.id == self._step_id), None) if whole else None
        if whole is None or step is None:
            return
        hand = "" if value == NOBODY else str(value)
        label = f"{step_words(whole, step, UnitSystem.US)}: {hand or 'whoever is free'}"
        self._desk.bridge.do(GiveSteps({step.id: hand}, label), self)


def _load(whole: WholeCook, hand: str) -> str:
    """Return what a hand has to do: "Ana: 9 steps, 1 h 20 min of work"."""
    steps: tuple[Event, ...] = steps_for(whole, hand)
    if not steps:
        return f"{hand}: nothing yet"
    return f"{hand}: {work_words(whole, hand)}"
