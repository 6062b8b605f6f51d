"""Commands on the saved questions of Trends."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pitjournal.domain.shelf import SavedQuestion
from pitjournal.errors import JournalError
from pitjournal.store.transaction import Transaction


def in_order(questions: list[SavedQuestion]) -> list[SavedQuestion]:
    """Return saved questions as the cook put them."""
    return sorted(questions, key=lambda one: (one.position, one.id))


@dataclass(frozen=True)
class SaveQuestion:
    """Keep a question by name, after the others; a name that is there gets the new question."""

    name: str
    question: Mapping[str, Any]
    label: str = "Save a question"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Keep it."""
        name = self.name.strip()
        if not name:
            raise JournalError("The question has no name yet.", "Give it one.")
        kept = transaction.find(SavedQuestion)
        same = [one for one in kept if one.name.casefold() == name.casefold()]
        if same:
            transaction.change(SavedQuestion, same[0].id, {"question": dict(self.question)})
            return
        last = max((one.position for one in kept), default=-1)
        transaction.add(SavedQuestion(name=name, question=dict(self.question), position=last + 1))


@dataclass(frozen=True)
class MoveQuestion:
    """Put a saved question one place up (−1) or down (1)."""

    question_id: str
    by: int
    label: str = "Move a question"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Move it."""
        order = in_order(transaction.find(SavedQuestion))
        place = next((n for n, one in enumerate(order) if one.id == self.question_id), None)
        if place is None:
            raise JournalError("That question is no longer there.", "Undo brings it back.")
        there = min(max(place + self.by, 0), len(order) - 1)
        order.insert(there, order.pop(place))
        for position, one in enumerate(order):
            if one.position != position:
                transaction.change(SavedQuestion, one.id, {"position": position})
