"""A day planned in steps: what follows what, and what moves when one step is moved.

A step is an event with a planned time. Steps that name pieces of one cut are a chain; steps
that name none are for the whole cook. Within a chain the gaps are kept, but for the rest after
*off*, which gives and takes: it never gets shorter than it must. A locked step, or one that has
happened, stays where it is, and nothing beyond it moves.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from enum import StrEnum
from itertools import pairwise

from pitjournal.domain.cuts import same_cut
from pitjournal.domain.event import CUT_UP, Event, EventKind
from pitjournal.domain.piece import Piece


class StepKind(StrEnum):
    """Steps of a plan that are no taps of the bench; a cook's own are any other text."""

    THAW = "thaw"
    TRIM = "trim and weigh"
    INJECT = "inject"
    BRINE = "brine"
    DRY_BRINE = "dry-brine"
    NEEDLE = "needle"
    BLADE = "blade-tenderise"
    MARINATE = "marinate"
    RUB = "rub"
    SWAP = "swap slots"
    PROBE = "start probing"
    BOX_PHOTO = "photo of the box"
    WALK = "walk"
    SERVE = "serve"
    TURN_IN = "turn in"
    TASTE = "taste"


ENDS = frozenset({StepKind.SERVE, StepKind.TURN_IN, StepKind.TASTE})
"""What a chain is worked back from."""

RESTS = frozenset({EventKind.OFF, EventKind.HELD})
"""After these a piece may wait: here goes the slack."""

NIGHT_BEFORE = frozenset(
    {
        StepKind.THAW,
        StepKind.TRIM,
        StepKind.INJECT,
        StepKind.BRINE,
        StepKind.DRY_BRINE,
        StepKind.NEEDLE,
        StepKind.BLADE,
        StepKind.MARINATE,
    }
)
"""Done before the day of the cook, or at least before the fire."""

WORKED_OUT = (
    NIGHT_BEFORE
    | ENDS
    | frozenset(
        {
            StepKind.RUB,
            StepKind.SWAP,
            StepKind.PROBE,
            EventKind.LIT,
            EventKind.ON,
            EventKind.WRAP,
            EventKind.OFF,
            StepKind.BOX_PHOTO,
            StepKind.WALK,
            *CUT_UP,
        }
    )
)
"""Kinds of steps that are worked out; one of another kind a cook made by hand."""

MADE, BY_HAND = "made", "by hand"
"""What the details of a step made by hand say, until it happens."""

WHOLE_COOK = ""
"""The chain of steps that name no piece."""

Cuts = Mapping[str, str]
"""A piece's cut by its id, as `cuts_of` gives it."""


def cuts_of(pieces: Iterable[Piece]) -> dict[str, str]:
    """Return each piece's cut by its id; spellings that mean one cut are the first of them."""
    found: dict[str, str] = {}
    for piece in pieces:
        spelt = dict.fromkeys(found.values())
        found[piece.id] = next((cut for cut in spelt if same_cut(cut, piece.cut)), piece.cut)
    return found


def is_step(event: Event) -> bool:
    """Whether an event was planned."""
    return event.planned_at is not None


def is_open(event: Event) -> bool:
    """Whether an event is planned and has not happened."""
    return event.planned_at is not None and event.happened_at is None


def by_hand(step: Event) -> bool:
    """Whether a cook put a step into the day by hand."""
    return step.details.get(MADE) == BY_HAND or step.kind not in WORKED_OUT


def chain_of(event: Event, cuts: Cuts) -> str:
    """Return the chain of a step: the cut of its pieces, or that of the whole cook."""
    return next((cuts[piece] for piece in event.pieces if piece in cuts), WHOLE_COOK)


def chains(events: Iterable[Event], cuts: Cuts) -> dict[str, list[Event]]:
    """Return the planned steps of each chain in time order."""
    found: dict[str, list[Event]] = {}
    for event in sorted((e for e in events if is_step(e)), key=_order):
        found.setdefault(chain_of(event, cuts), []).append(event)
    return found


def _order(event: Event) -> tuple[datetime, str]:
    assert event.planned_at is not None
    return event.planned_at, event.id


def end_of(chain: Iterable[Event]) -> Event | None:
    """Return what a chain is worked back from."""
    return next((step for step in chain if step.kind in ENDS), None)


_MILESTONES: Mapping[str, int] = {
    EventKind.ON: 1,
    EventKind.OFF: 3,
    EventKind.SLICED: 4,
    EventKind.PULLED: 4,
    EventKind.BOXED: 5,
    StepKind.BOX_PHOTO: 6,
    StepKind.WALK: 7,
    **dict.fromkeys(ENDS, 8),
}
"""What, once it has happened, leaves the steps before it behind."""

_BEFORE_THE_FIRE = frozenset({*NIGHT_BEFORE, StepKind.RUB, EventKind.LIT})
_ON_THE_FIRE = 2


def due(events: Iterable[Event]) -> list[Event]:
    """Return the steps that are still to be done, in time order.

    Meat that is on needs no trimming any more, and meat that is off no wrap: such steps were
    passed over, and nobody is told that they are overdue.
    """
    every = list(events)
    reached = [(_MILESTONES[e.kind], e) for e in every if e.happened_at and e.kind in _MILESTONES]
    steps = [
        step
        for step in every
        if is_open(step)
        and not any(rank > _rank(step) and for_all(done, step) for rank, done in reached)
    ]
    return sorted(steps, key=_order)


def _rank(step: Event) -> int:
    if step.kind in _BEFORE_THE_FIRE:
        return 0
    return _MILESTONES.get(step.kind, _ON_THE_FIRE)


def for_all(done: Event, step: Event) -> bool:
    """Whether an event was for every piece of a step; one of the whole cook has no pieces.

    The fire is needed no more once any meat is on, but the rest of the cook's own steps wait
    for an event that is for all.
    """
    if step.pieces:
        return all(done.concerns(piece) for piece in step.pieces)
    return step.kind == EventKind.LIT or not done.pieces


def moved(events: Iterable[Event], cuts: Cuts, step_id: str, to: datetime) -> dict[str, datetime]:
    """Return the new time of each step that moves when one is moved, itself included.

    Parameters
    ----------
    events
        All events of the cook.
    cuts
        Each piece's cut.
    step_id
        The step that is moved; it moves even when it is locked.
    to
        Its new time, aware.
    """
    found = chains(events, cuts)
    name = next(n for n, chain in found.items() if any(step.id == step_id for step in chain))
    step = next(step for step in found[name] if step.id == step_id)
    assert step.planned_at is not None
    if name == WHOLE_COOK:
        return _whole_cook(found, step, to)
    new = _chain(found[name], step, to)
    shift = _first_on(found, new) - _first_on(found, {})
    for other in found.get(WHOLE_COOK, ()):
        if shift and _loose(other) and other.planned_at is not None:
            new[other.id] = other.planned_at + shift
    return new


def _loose(step: Event) -> bool:
    return is_open(step) and not step.locked


def _whole_cook(found: Mapping[str, list[Event]], step: Event, to: datetime) -> dict[str, datetime]:
    """Move a step of the whole cook: the meat goes on so much later or earlier too."""
    assert step.planned_at is not None
    shift = to - step.planned_at
    new = {s.id: s.planned_at + shift for s in found[WHOLE_COOK] if _loose(s) and s.planned_at}
    new[step.id] = to
    for name, chain in found.items():
        on = next((s for s in chain if s.kind == EventKind.ON and _loose(s)), None)
        if name != WHOLE_COOK and on is not None and on.planned_at is not None:
            new.update(_chain(chain, on, on.planned_at + shift))
    return new


def _first_on(found: Mapping[str, list[Event]], new: Mapping[str, datetime]) -> timedelta:
    """Return when the first meat goes on, as time since an arbitrary moment."""
    ons = [
        new.get(step.id, step.planned_at)
        for chain in found.values()
        for step in chain
        if step.kind == EventKind.ON and step.planned_at is not None
    ]
    known = [on.timestamp() for on in ons if on is not None]
    return timedelta(seconds=min(known, default=0.0))


def _chain(chain: list[Event], step: Event, to: datetime) -> dict[str, datetime]:
    place = chain.index(step)
    new = {step.id: to}
    _push_later_steps(chain, place, new)
    _pull_earlier_steps(chain, place, new, through_rest=step.kind in ENDS)
    return new


def _push_later_steps(chain: list[Event], place: int, new: dict[str, datetime]) -> None:
    for before, after in pairwise(chain[place:]):
        assert before.planned_at is not None
        assert after.planned_at is not None
        if not _loose(after):
            return
        there = new[before.id]
        if before.kind in RESTS:
            least = there + timedelta(seconds=before.takes or 0.0)
            if after.planned_at >= least:
                return
            new[after.id] = least
        else:
            new[after.id] = there + (after.planned_at - before.planned_at)


def _pull_earlier_steps(
    chain: list[Event], place: int, new: dict[str, datetime], *, through_rest: bool
) -> None:
    back = chain[: place + 1][::-1]
    for after, before in pairwise(back):
        assert before.planned_at is not None
        assert after.planned_at is not None
        if not _loose(before):
            return
        there = new[after.id]
        if before.kind in RESTS and not through_rest:
            least = there - timedelta(seconds=before.takes or 0.0)
            if before.planned_at <= least:
                return
            new[before.id] = least
        else:
            new[before.id] = there - (after.planned_at - before.planned_at)
