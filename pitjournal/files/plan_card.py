"""A cook's day on paper: its steps to tick, where each piece goes, and the lists."""

from collections.abc import Sequence
from dataclasses import dataclass

from pitjournal.files.templates import template_environment


@dataclass(frozen=True)
class CardStep:
    """A step: day (empty where it is that of the line above), clock, words, whom, arms' looks."""

    day: str
    clock: str
    words: str
    who: str
    looks: tuple[int, ...] = ()
    strong: bool = False


@dataclass(frozen=True)
class CardSlot:
    """A piece in its slot."""

    label: str
    block: str
    look: int | None


@dataclass(frozen=True)
class PlanCard:
    """What is printed."""

    title: str
    under_title: str
    question: str
    arms: Sequence[tuple[int, str, str]]
    steps: Sequence[CardStep]
    shelves: Sequence[tuple[str, Sequence[CardSlot]]]
    lists: Sequence[tuple[str, Sequence[str]]]
    cautions: Sequence[str]

    @property
    def looks(self) -> set[int]:
        """The marks that are on it."""
        found = {look for look, _, _ in self.arms}
        found |= {look for step in self.steps for look in step.looks}
        slots = (slot for _, row in self.shelves for slot in row)
        return found | {slot.look for slot in slots if slot.look is not None}


def card_to_print(card: PlanCard) -> str:
    """Return the HTML that the print engine lays out."""
    return template_environment().get_template("plan_card.html").render(card=card)
