"""Commands of the plan: keep a day worked out, move a step, serve at another time."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from pitjournal.domain.cook import Cook
from pitjournal.domain.day.schedule import ENDS, MADE, WHOLE_COOK, cuts_of, is_open, moved
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import Setting
from pitjournal.errors import JournalError
from pitjournal.store.transaction import Transaction


@dataclass(frozen=True)
class KeepSchedule:
    """Put steps in the place of those that were planned and have not happened."""

    cook_id: str
    steps: tuple[Event, ...]
    label: str = "Work the day out"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Replace them; the cook starts when its first meat goes on."""
        kept = {step.id: step for step in self.steps}
        for old in transaction.find(Event, cook_id=self.cook_id):
            if old.id in kept:
                transaction.put(old, kept.pop(old.id))
            elif is_open(old):
                transaction.remove(Event, old.id)
        transaction.add(*kept.values())
        _start_with_the_meat(transaction, self.cook_id)


@dataclass(frozen=True)
class JoinDay:
    """Put steps into a day that was worked out before them; others make room.

    `moves` is the new time of a step by its id, `takes` how long it takes then, s.
    """

    cook_id: str
    adds: tuple[Event, ...]
    moves: Mapping[str, datetime]
    takes: Mapping[str, float]
    label: str = "Put it into the day"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Put them in; a step that happened meanwhile stays as it is."""
        transaction.add(*self.adds)
        for old in transaction.find(Event, cook_id=self.cook_id):
            if is_open(old) and old.id in {*self.moves, *self.takes}:
                at = self.moves.get(old.id, old.planned_at)
                takes = self.takes.get(old.id, old.takes)
                transaction.put(old, replace(old, planned_at=at, takes=takes))


@dataclass(frozen=True)
class MoveStep:
    """Move a planned step; what must keep its distance from it moves too."""

    step_id: str
    to: datetime
    label: str = "Move a step"

    @property
    def merge_key(self) -> str:
        """Nudging one step is one step to undo."""
        return f"move:{self.step_id}"

    def run(self, transaction: Transaction) -> None:
        """Move it; one that has happened stays."""
        step = transaction.get(Event, self.step_id)
        if not is_open(step):
            message = "That step is done."
            raise JournalError(message, "Correct its time in the log of the bench.")
        events = transaction.find(Event, cook_id=step.cook_id)
        cuts = _cuts(transaction, step.cook_id)
        _put(transaction, events, moved(events, cuts, step.id, self.to))
        _start_with_the_meat(transaction, step.cook_id)


@dataclass(frozen=True)
class StartAt:
    """Say when the first meat goes on; a plan that is there moves with it."""

    cook_id: str
    at: datetime
    label: str = "Change when the meat goes on"

    @property
    def merge_key(self) -> str:
        """Typing one time is one step to undo."""
        return f"start:{self.cook_id}"

    def run(self, transaction: Transaction) -> None:
        """Keep it, and move the first step of that kind."""
        events = transaction.find(Event, cook_id=self.cook_id)
        ons = [e for e in events if e.kind == EventKind.ON and is_open(e)]
        if not ons:
            transaction.change(Cook, self.cook_id, {"starts_at": self.at})
            return
        first = min(ons, key=lambda on: on.planned_at or self.at)
        MoveStep(first.id, self.at).run(transaction)


@dataclass(frozen=True)
class ServeAt:
    """Say when it is served or turned in; a plan that is there moves with it."""

    cook_id: str
    at: datetime | None
    label: str = "Change the serving time"

    @property
    def merge_key(self) -> str:
        """Typing one time is one step to undo."""
        return f"serve:{self.cook_id}"

    def run(self, transaction: Transaction) -> None:
        """Keep it, and move what is worked back from it."""
        cook = transaction.get(Cook, self.cook_id)
        transaction.put(cook, replace(cook, serve_at=self.at))
        events = transaction.find(Event, cook_id=self.cook_id)
        ends = [e for e in events if e.kind in ENDS and is_open(e)]
        if self.at is None or not ends:
            return
        cuts = _cuts(transaction, self.cook_id)
        served = max(end.planned_at for end in ends if end.planned_at is not None)
        shift = self.at - (cook.serve_at or served)
        for end in ends:
            assert end.planned_at is not None
            now = transaction.find(Event, cook_id=self.cook_id)
            _put(transaction, now, moved(now, cuts, end.id, end.planned_at + shift))
        _start_with_the_meat(transaction, self.cook_id)


@dataclass(frozen=True)
class GiveSteps:
    """Give steps to hands, by the steps' ids; an empty name gives one back to everyone."""

    hands: Mapping[str, str]
    label: str = "Deal the steps out"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Write whose they are; a step that is gone is passed over."""
        for step_id, hand in self.hands.items():
            for step in transaction.find(Event, id=step_id):
                transaction.put(step, replace(step, by=hand))


@dataclass(frozen=True)
class NameHands:
    """Say who helps that day; steps of one who does not any more are everyone's again."""

    cook_id: str
    hands: tuple[str, ...]
    label: str = "Who helps"

    @property
    def merge_key(self) -> str:
        """Typing the names is one step to undo."""
        return f"hands:{self.cook_id}"

    def run(self, transaction: Transaction) -> None:
        """Keep the names."""
        transaction.change(Cook, self.cook_id, {"hands": self.hands})
        for step in transaction.find(Event, cook_id=self.cook_id):
            if is_open(step) and step.by and step.by not in self.hands:
                transaction.put(step, replace(step, by=""))


@dataclass(frozen=True)
class KeepChoice:
    """Keep a choice that holds for the whole journal, by its name; an empty one is forgotten."""

    name: str
    value: str
    label: str

    @property
    def merge_key(self) -> str:
        """Typing one choice is one step to undo."""
        return f"choice:{self.name}"

    def run(self, transaction: Transaction) -> None:
        """Keep, change or forget it."""
        found = transaction.find(Setting, id=self.name)
        if found and not self.value:
            transaction.remove(Setting, self.name)
        elif found:
            transaction.change(Setting, self.name, {"value": self.value})
        elif self.value:
            transaction.add(Setting(id=self.name, value=self.value))


def as_planned(transaction: Transaction, event: Event) -> Event:
    """Take an event that happened for the planned step it is; return it with the step's time.

    Of several steps of its kind it is the first for each piece. That step is gone then, or is left
    for those of its pieces that the event is not for. An event that was not planned comes back as
    it is.
    """
    found = transaction.find(Event, cook_id=event.cook_id, kind=event.kind, happened_at=None)
    steps = sorted((s for s in found if is_open(s)), key=lambda s: s.planned_at or s.entered_at)
    taken: list[Event] = []
    done: set[str] = set()
    for step in steps:
        mine = {piece for piece in step.pieces or (WHOLE_COOK,) if event.concerns(piece)} - done
        if not mine:
            continue
        taken.append(step)
        done |= mine
        left = tuple(piece for piece in step.pieces if piece not in mine)
        if left:
            transaction.put(step, replace(step, pieces=left))
        else:
            transaction.remove(Event, step.id)
    if event.planned_at is not None or not taken:
        return event
    planned = {key: value for key, value in taken[0].details.items() if key != MADE}
    first = taken[0]
    return replace(
        event,
        planned_at=first.planned_at,
        takes=first.takes,
        details={**planned, **event.details},
        by=event.by or first.by,
    )


def _cuts(transaction: Transaction, cook_id: str) -> Mapping[str, str]:
    pieces = transaction.find(Piece, cook_id=cook_id)
    return cuts_of(sorted(pieces, key=lambda piece: (piece.position, piece.id)))


def _put(transaction: Transaction, events: list[Event], times: Mapping[str, datetime]) -> None:
    for event in events:
        if event.id in times and event.planned_at != times[event.id]:
            transaction.put(event, replace(event, planned_at=times[event.id]))


def _start_with_the_meat(transaction: Transaction, cook_id: str) -> None:
    ons = [
        event.planned_at
        for event in transaction.find(Event, cook_id=cook_id)
        if event.kind == EventKind.ON and event.planned_at is not None
    ]
    cook = transaction.get(Cook, cook_id)
    if ons and min(ons) != cook.starts_at:
        transaction.put(cook, replace(cook, starts_at=min(ons)))
