"""Hands for a day: who does which step, and where there are fewer hands than work.

A step has a hand once somebody's name stands on it; until then anyone free does it. Steps of one
cut wait for each other, as they always do; those of different cuts at one time need a hand each.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta

from pitjournal.analysis.plan.durations import MINUTE, work_of
from pitjournal.domain.day.schedule import chain_of, chains, cuts_of, is_open
from pitjournal.domain.event import Event
from pitjournal.domain.whole_cook import WholeCook


@dataclass(frozen=True)
class Trouble:
    """Two steps that do not go together: too little time between, or too few hands.

    Attributes
    ----------
    lacks
        s by which they overlap, or that are too few between them.
    hands
        Whether hands are what is lacking.
    by
        Whose hands, where both steps are theirs.
    also
        What else is done at that time, where there are several hands.
    """

    first: Event
    second: Event
    lacks: float
    hands: bool = False
    by: str = ""
    also: tuple[Event, ...] = ()


@dataclass(frozen=True)
class _Busy:
    start: float
    end: float
    chain: str
    step: Event


def hands_of(whole: WholeCook) -> tuple[str, ...]:
    """Return the names of all who help: those of the cook, and those on steps."""
    named = (step.by for step in whole.events if is_open(step) and step.by)
    return tuple(dict.fromkeys((*whole.cook.hands, *named)))


def clashes(whole: WholeCook, planned: Mapping[str, Sequence[Event]]) -> Iterator[Trouble]:
    """Yield where the work of different cuts overlaps and there are too few hands for it.

    Parameters
    ----------
    whole
        The cook; one without named hands has one pair.
    planned
        The open steps of each chain, in time order.
    """
    hands = max(len(hands_of(whole)), 1)
    going: list[_Busy] = []
    for one in _busy(planned):
        going = [b for b in going if b.end - one.start > MINUTE]
        others = [b for b in going if b.chain != one.chain]
        mine = [b for b in others if one.step.by and b.step.by == one.step.by]
        for other in mine:
            yield Trouble(other.step, one.step, other.end - one.start, hands=True, by=one.step.by)
        apart = {b.chain: b for b in others}
        if not mine and len(apart) >= hands:
            if hands == 1:
                for other in others:
                    yield Trouble(other.step, one.step, other.end - one.start, hands=True)
            else:
                first, *rest = apart.values()
                also = tuple(b.step for b in rest)
                yield Trouble(first.step, one.step, first.end - one.start, hands=True, also=also)
        going.append(one)


def _busy(planned: Mapping[str, Sequence[Event]]) -> list[_Busy]:
    found = []
    for chain, steps in planned.items():
        for step in steps:
            work = work_of(step)
            if work is not None and step.planned_at is not None:
                start = step.planned_at.timestamp()
                found.append(_Busy(start, start + work, chain, step))
    return sorted(found, key=lambda busy: (busy.start, busy.end, busy.step.id))


def dealt(whole: WholeCook) -> dict[str, str]:
    """Return the hand for each open step that has none, by the step's id.

    A hand stays with a cut while it can: whoever trimmed the chicken boxes it. Where that one is
    busy the next step goes to whoever is free and has least to do; where nobody is free, to whoever
    is free first, and the clash is told. Without named hands nothing is dealt.
    """
    hands = hands_of(whole)
    if not hands:
        return {}
    cuts = cuts_of(whole.pieces)
    free = dict.fromkeys(hands, float("-inf"))
    load = dict.fromkeys(hands, 0.0)
    keeps: dict[str, str] = {}
    found: dict[str, str] = {}
    steps = [step for chain in chains(whole.events, cuts).values() for step in chain]
    for step in sorted(steps, key=lambda s: (s.planned_at or s.entered_at, s.id)):
        if not is_open(step) or step.planned_at is None:
            continue
        chain, start, work = chain_of(step, cuts), step.planned_at.timestamp(), work_of(step) or 0.0
        hand = step.by or _whose(chain, start, keeps, free, load)
        if not step.by:
            found[step.id] = hand
        keeps[chain] = hand
        free[hand] = max(free[hand], start) + work
        load[hand] += work
    return found


def _whose(
    chain: str,
    start: float,
    keeps: Mapping[str, str],
    free: Mapping[str, float],
    load: Mapping[str, float],
) -> str:
    """Return who does a step: its cut's own hand, else the least busy who is free."""
    own = keeps.get(chain)
    if own is not None and free[own] - start <= MINUTE:
        return own
    there = [hand for hand in free if free[hand] - start <= MINUTE]
    if not there:
        return min(free, key=lambda hand: free[hand])
    kept = list(keeps.values())
    return min(there, key=lambda hand: (kept.count(hand), load[hand]))


def steps_for(whole: WholeCook, hand: str) -> tuple[Event, ...]:
    """Return the planned steps that are a hand's, in time order."""
    mine = [step for step in whole.events if step.planned_at is not None and step.by == hand]
    return tuple(sorted(mine, key=lambda step: (step.planned_at or step.entered_at, step.id)))


def busy_for(whole: WholeCook, hand: str) -> timedelta:
    """Return how long the open steps of a hand take it."""
    work = [work_of(step) or 0.0 for step in steps_for(whole, hand) if is_open(step)]
    return timedelta(seconds=sum(work))
