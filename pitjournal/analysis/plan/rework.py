"""What working a day out again would change, and what was planned later and is not in the day."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from pitjournal.analysis.plan.schedule import Group, Spans, before_the_fire, began
from pitjournal.domain.day.schedule import StepKind, chain_of, cuts_of, is_open
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.whole_cook import WholeCook

SAME = 60.0
"""Times nearer than this are the same, s."""


@dataclass(frozen=True)
class StepChange:
    """A step that would be moved, put in (`before` is None) or taken away (`after` is None)."""

    step: Event
    before: datetime | None
    after: datetime | None


def changes_of(whole: WholeCook, steps: Iterable[Event]) -> tuple[StepChange, ...]:
    """Return what putting these steps in the place of the open ones would change, in time order."""
    left = [event for event in whole.events if is_open(event)]
    found = []
    for step in steps:
        if not is_open(step):
            continue
        old = _same(step, left)
        if old is None:
            found.append(StepChange(step, None, step.planned_at))
            continue
        left.remove(old)
        if _apart(old.planned_at, step.planned_at):
            found.append(StepChange(step, old.planned_at, step.planned_at))
    found += [StepChange(old, old.planned_at, None) for old in left]
    return tuple(sorted(found, key=lambda one: one.after or one.before or one.step.entered_at))


def _same(step: Event, among: Iterable[Event]) -> Event | None:
    """Return the step that another takes the place of: its own, else one alike for its pieces."""
    alike = [old for old in among if old.kind == step.kind and set(old.pieces) == set(step.pieces)]
    some = [old for old in among if old.kind == step.kind and set(old.pieces) & set(step.pieces)]
    return next((old for old in among if old.id == step.id), next(iter(alike + some), None))


def _apart(one: datetime | None, two: datetime | None) -> bool:
    return one is not None and two is not None and abs((one - two).total_seconds()) >= SAME


@dataclass(frozen=True)
class Joining:
    """What was planned after the day was worked out: steps to put in, and those that make room.

    `moves` is the new time of a step by its id, `takes` how long it takes then, s.
    """

    adds: tuple[Event, ...] = ()
    moves: Mapping[str, datetime] = field(default_factory=dict)
    takes: Mapping[str, float] = field(default_factory=dict)

    def __bool__(self) -> bool:
        """Whether anything asks to join."""
        return bool(self.adds or self.takes)


def to_join(whole: WholeCook, spans: Spans, now: datetime) -> Joining:
    """Return the rub and the treatments that ask to join a day that was worked out before them.

    Parameters
    ----------
    whole
        The cook with its plan.
    spans
        How long everything takes.
    now
        When it is asked, aware.
    """
    adds: list[Event] = []
    moves: dict[str, datetime] = {}
    takes: dict[str, float] = {}
    for group in spans.groups:
        on = _planned_on(whole, group)
        if on is None or began(whole, group) is not None:
            continue
        steps = list(before_the_fire(whole, group, on, now))
        asks = False
        for step, old in _with_old(whole, steps):
            if old is None and step.kind != StepKind.TRIM:
                adds.append(step)
                asks = True
            elif old is not None and _longer(step, old):
                takes[old.id] = step.takes or 0.0
                asks = True
        if asks:
            moves.update(_making_room(whole, steps))
    return Joining(tuple(adds), moves, takes)


def _planned_on(whole: WholeCook, group: Group) -> datetime | None:
    cuts = cuts_of(whole.pieces)
    ons = [
        event.planned_at
        for event in whole.events
        if event.kind == EventKind.ON and is_open(event) and chain_of(event, cuts) == group.cut
    ]
    return min((on for on in ons if on is not None), default=None)


def _with_old(whole: WholeCook, steps: Iterable[Event]) -> Iterator[tuple[Event, Event | None]]:
    """Yield steps with what is there for them already, planned or done."""
    for step in steps:
        found = (
            event
            for event in whole.events
            if event.kind == step.kind
            and (not event.pieces or bool(set(event.pieces) & set(step.pieces)))
        )
        yield step, next(found, None)


def _longer(step: Event, old: Event) -> bool:
    """Whether rub is left to set for another time than when the day was worked out."""
    if step.kind != StepKind.RUB or not is_open(old) or old.locked:
        return False
    return abs((step.takes or 0.0) - (old.takes or 0.0)) >= SAME


def _making_room(whole: WholeCook, steps: Iterable[Event]) -> Iterator[tuple[str, datetime]]:
    """Yield the steps before the fire that must be earlier than they are, with their new times."""
    for step, old in _with_old(whole, steps):
        if old is None or not is_open(old) or old.locked:
            continue
        assert old.planned_at is not None
        assert step.planned_at is not None
        if step.planned_at < old.planned_at or _longer(step, old):
            yield old.id, step.planned_at
