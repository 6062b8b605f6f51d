"""Commands of a contest: rules and windows of a category, the judges' cards, what is carried in."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from pitjournal.domain.contest import Carried, Category, JudgeCard
from pitjournal.domain.cook import Cook
from pitjournal.domain.day.schedule import StepKind, is_open
from pitjournal.domain.day.turn_in import category_of, due_at
from pitjournal.domain.event import Event
from pitjournal.domain.piece import Piece
from pitjournal.domain.scheme import Scheme
from pitjournal.errors import JournalError
from pitjournal.journal.commands.plan import MoveStep
from pitjournal.store.transaction import Transaction


@dataclass(frozen=True)
class JudgeBy:
    """Judge a category by a scheme; it keeps the rules as they are now.

    Cards that were entered stay where the scheme scores the same things, as another version of it
    does, and are added up anew.
    """

    category_id: str
    scheme: Scheme
    merge_key: str = ""

    @property
    def label(self) -> str:
        """By which."""
        return f"Judge by {self.scheme.title}"

    def run(self, transaction: Transaction) -> None:
        """Take its rules."""
        rules = self.scheme.reads
        if not rules.scored or rules.most is None:
            raise JournalError(
                f"{self.scheme.title} has no total.", "Take a scheme with weights and judges."
            )
        for card in transaction.find(JudgeCard, category_id=self.category_id):
            if any(
                (criterion := rules.criterion(name)) is None or criterion.refusal(value, 1)
                for name, value in card.scores.items()
            ):
                raise JournalError(
                    f"The cards entered here are not of {self.scheme.title}.",
                    "Clear them first, or take another version of their scheme.",
                )
        fields = {
            "scheme": self.scheme.name,
            "scheme_id": self.scheme.id,
            "version": self.scheme.version,
            "rules": rules.as_map(),
        }
        transaction.change(Category, self.category_id, fields)


@dataclass(frozen=True)
class SetWindow:
    """Set times of a category's window; a box that is planned for it moves along."""

    category_id: str
    times: Mapping[str, datetime | None]
    label: str = "Set the turn-in window"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Keep the times, and turn the box in at the new ideal."""
        before = transaction.get(Category, self.category_id)
        after = transaction.change(Category, self.category_id, dict(self.times))
        at = due_at(after)
        if at is None or at == due_at(before) or after.cook_id is None:
            return
        categories = transaction.find(Category, cook_id=after.cook_id)
        cuts = {piece.id: piece.cut for piece in transaction.find(Piece, cook_id=after.cook_id)}
        for step in transaction.find(Event, cook_id=after.cook_id, kind=str(StepKind.TURN_IN)):
            named = [cuts[piece] for piece in step.pieces or tuple(cuts) if piece in cuts]
            meant = {one.id for cut in named if (one := category_of(cut, categories)) is not None}
            if is_open(step) and meant == {after.id}:
                MoveStep(step.id, at).run(transaction)


@dataclass(frozen=True)
class CarryInto:
    """Note that what a practice cook found is done in a category; again, in other words."""

    category_id: str
    cook_id: str
    what: str
    label: str = "Carry it into a contest"

    @property
    def merge_key(self) -> str:
        """Typing what was carried is one step to undo."""
        return f"carried:{self.category_id}:{self.cook_id}"

    def run(self, transaction: Transaction) -> None:
        """Keep it, once for a category and a cook."""
        transaction.get(Category, self.category_id)
        transaction.get(Cook, self.cook_id)
        found = transaction.find(Carried, category_id=self.category_id, cook_id=self.cook_id)
        if found:
            transaction.put(found[0], replace(found[0], what=self.what))
        else:
            transaction.add(
                Carried(category_id=self.category_id, cook_id=self.cook_id, what=self.what)
            )


@dataclass(frozen=True)
class EnterScore:
    """Enter, change or (with no value) clear what the judge in a seat gave on one criterion."""

    category_id: str
    seat: int
    criterion: str
    value: float | None
    label: str = "Enter a score"

    @property
    def merge_key(self) -> str:
        """Typing one score is one step."""
        return f"{self.category_id}:{self.seat}:{self.criterion}"

    def run(self, transaction: Transaction) -> None:
        """Keep it."""
        category = transaction.get(Category, self.category_id)
        put_scores(transaction, category, self.seat, {self.criterion: self.value})


@dataclass(frozen=True)
class EnterCards:
    """Enter all cards of a category as they are read out, the first seat first."""

    category_id: str
    cards: tuple[Mapping[str, float], ...]
    label: str = "Enter the cards"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Keep them."""
        category = transaction.get(Category, self.category_id)
        for seat, card in enumerate(self.cards, start=1):
            put_scores(transaction, category, seat, card)


def put_scores(
    transaction: Transaction, category: Category, seat: int, given: Mapping[str, float | None]
) -> None:
    """Write scores onto the card of a seat, which goes when nothing is left on it.

    Raises
    ------
    JournalError
        If there is no such seat or criterion, or a score that is not on its scale.
    """
    rules = category.asked
    if not rules.criteria:
        raise JournalError(f"{category.name} has no rules yet.", "Choose what it is judged by.")
    if not 1 <= seat <= (rules.judges or seat):
        raise JournalError(f"There are {rules.judges} judges, and no seat {seat}.")
    cards = transaction.find(JudgeCard, category_id=category.id, seat=seat)
    scores = dict(cards[0].scores) if cards else {}
    for name, value in given.items():
        criterion = rules.criterion(name)
        if criterion is None:
            raise JournalError(f"{category.title} does not score {name}.")
        if value is None:
            scores.pop(name, None)
        elif why := criterion.refusal(value, 1):
            raise JournalError(f"Judge {seat}, {name}: {why}.")
        else:
            scores[name] = float(value)
    if not cards and scores:
        transaction.add(
            JudgeCard(
                contest_id=category.contest_id, category_id=category.id, seat=seat, scores=scores
            )
        )
    elif cards and not scores:
        transaction.remove(JudgeCard, cards[0].id)
    elif cards and scores != cards[0].scores:
        transaction.put(cards[0], replace(cards[0], scores=scores))
