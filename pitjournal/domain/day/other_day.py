"""A cook that was planned for one day and begun on another."""

from dataclasses import replace
from datetime import timedelta

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.day.schedule import is_open
from pitjournal.domain.event import Event, EventKind

STARTS = frozenset({EventKind.LIT, EventKind.ON})
"""Events after which a planned cook is running."""

SAME_DAY = timedelta(hours=12)
"""A fire lit so much before or after its time was still meant for that day."""


def day_shift(cook: Cook, event: Event) -> timedelta | None:
    """Return by how much a planned cook moves when this begins it; None if it is of its day.

    Parameters
    ----------
    event
        What happened, with the time of the planned step it was, if there was one.
    """
    if cook.status is not CookStatus.PLANNED or event.kind not in STARTS:
        return None
    if event.happened_at is None:
        return None
    shift = event.happened_at - (event.planned_at or cook.starts_at)
    return shift if abs(shift) > SAME_DAY else None


def moved_cook(cook: Cook, shift: timedelta) -> Cook:
    """Return a cook with its start and its serving moved."""
    serve = None if cook.serve_at is None else cook.serve_at + shift
    return replace(cook, starts_at=cook.starts_at + shift, serve_at=serve)


def moved_step(step: Event, shift: timedelta) -> Event:
    """Return a step with the time it was planned for moved; what happened stays."""
    return step if step.planned_at is None else replace(step, planned_at=step.planned_at + shift)


def planned_for(events: tuple[Event, ...], event: Event) -> Event:
    """Return an event with the time of the first open step that it would be."""
    steps = [s for s in events if is_open(s) and s.kind == event.kind and _meet(s, event)]
    times = [step.planned_at for step in steps if step.planned_at is not None]
    return replace(event, planned_at=min(times)) if times else event


def _meet(one: Event, other: Event) -> bool:
    return not one.pieces or not other.pieces or bool(set(one.pieces) & set(other.pieces))
