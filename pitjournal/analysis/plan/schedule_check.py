"""Read a planned day: the chance of being in time, the slack, and what does not fit."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from pitjournal.analysis.plan.durations import BOX_STEPS, MINUTE, Span
from pitjournal.analysis.plan.hands import Trouble, clashes
from pitjournal.analysis.plan.schedule import Spans, began
from pitjournal.domain.day.schedule import chains, cuts_of, end_of, is_open
from pitjournal.domain.event import CUT_UP, Event, EventKind
from pitjournal.domain.shelf import SLOTS, count_of
from pitjournal.domain.whole_cook import WholeCook


@dataclass(frozen=True)
class InTime:
    """The chance that a cut is in time, and where that comes from."""

    cut: str
    chance: float
    span: Span


def in_time(whole: WholeCook, spans: Spans, now: datetime | None = None) -> tuple[InTime, ...]:
    """Return for each cut the chance of being in time by the plan, the least first.

    Meat that is not on yet goes on as planned, or where `now` is said not before that, and not
    before a fire that is not lit has had its time.

    In time is: off early enough that the least rest, slicing and boxing still fit before the
    end. How long it will be on is not known; its chances come from one's own cooks, or from the
    trade's range read as holding nine cooks in ten.

    Parameters
    ----------
    whole
        The cook with its plan.
    spans
        How long everything takes.
    now
        The time, aware; None asks the plan alone.
    """
    cuts = cuts_of(whole.pieces)
    planned = chains(whole.events, cuts)
    found = []
    for group in spans.groups:
        chain = planned.get(group.cut, [])
        on = next((s for s in chain if s.kind == EventKind.ON), None)
        end = end_of(chain)
        planned_on = on.planned_at if on is not None else None
        start = began(whole, group) or _from_now_on(planned_on, whole, spans, now)
        if group.time_on is None or start is None or end is None or end.planned_at is None:
            continue
        after = sum(s.takes or 0.0 for s in chain if s.kind in _AFTER)
        room = (end.planned_at - start).total_seconds() - after
        found.append(InTime(group.cut, group.time_on.chance(room), group.time_on))
    return tuple(sorted(found, key=lambda one: one.chance))


def _from_now_on(
    planned: datetime | None, whole: WholeCook, spans: Spans, now: datetime | None
) -> datetime | None:
    """Return when meat can go on that was planned for a time."""
    if planned is None or now is None:
        return planned
    lit = any(e.kind == EventKind.LIT and e.happened_at is not None for e in whole.events)
    heats = 0.0 if lit else spans.preheat.usual
    return max(planned, now + timedelta(seconds=heats))


_AFTER = frozenset({EventKind.OFF, EventKind.HELD, *CUT_UP, *BOX_STEPS})


def all_in_time(each: Iterable[InTime]) -> float:
    """Return the least chance that all cuts are in time, whatever they share (Bonferroni)."""
    return max(0.0, 1.0 - sum(1.0 - one.chance for one in each))


def slack(chain: Iterable[Event]) -> float | None:
    """Return how much longer than it must a cut waits between off and slicing, s."""
    steps = list(chain)
    for before, after in pairwise(steps):
        if before.kind == EventKind.OFF and before.planned_at and after.planned_at:
            gap = (after.planned_at - before.planned_at).total_seconds()
            return gap - (before.takes or 0.0)
    return None


def troubles(whole: WholeCook) -> tuple[Trouble, ...]:
    """Return what in a plan does not fit."""
    cuts = cuts_of(whole.pieces)
    planned = {
        name: [step for step in chain if is_open(step)]
        for name, chain in chains(whole.events, cuts).items()
    }
    found = []
    for chain in planned.values():
        for before, after in pairwise(chain):
            assert before.planned_at is not None
            assert after.planned_at is not None
            gap = (after.planned_at - before.planned_at).total_seconds()
            lacks = (before.takes or 0.0) - gap
            if lacks > 5 * MINUTE:
                found.append(Trouble(before, after, lacks))
    return (*found, *clashes(whole, planned))


@dataclass(frozen=True)
class Crowd:
    """More pieces on at once than the cooker has slots for: from when, how many, and how many."""

    at: datetime
    pieces: int
    slots: int


def crowded(whole: WholeCook) -> Crowd | None:
    """Return the first time by the plan at which the cooker has too few slots; None: never.

    A piece takes one slot from going on until it comes off; without a planned *off* it stays.
    """
    slots = slots_of(whole)
    if slots is None:
        return None
    turns: list[tuple[datetime, int]] = []
    for step in whole.events:
        at = step.happened_at or step.planned_at
        if at is not None and step.kind in {EventKind.ON, EventKind.OFF}:
            count = len(step.pieces) or len(whole.pieces)
            turns.append((at, count if step.kind == EventKind.ON else -count))
    there = 0
    for at, count in sorted(turns, key=lambda turn: (turn[0], turn[1])):
        there += count
        if there > slots:
            return Crowd(at, there, slots)
    return None


def slots_of(whole: WholeCook) -> int | None:
    """Return how many slots the cooker has; None where that is not said."""
    return count_of(whole.cooker, SLOTS)
