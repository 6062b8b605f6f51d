"""How long the meat has been on: one answer for every place that says it."""

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from pitjournal.domain.event import Event, EventKind


def time_on(events: Iterable[Event], pieces: Sequence[str], now: datetime) -> timedelta | None:
    """Return how long the meat has been on, in whole minutes; None before it goes on.

    It runs from the first piece that went on until now, or once every piece that went on is
    off, until the last came off.

    Parameters
    ----------
    events
        All of a cook, or at least what went on and off.
    pieces
        The ids of its pieces.
    now
        The present moment, aware.
    """
    found = [event for event in events if event.happened_at is not None]
    ons = [event for event in found if event.kind == EventKind.ON]
    offs = [event for event in found if event.kind == EventKind.OFF]
    began = min((e.happened_at for e in ons if e.happened_at is not None), default=None)
    if began is None:
        return None
    there = [piece for piece in pieces if any(event.concerns(piece) for event in ons)]
    all_off = bool(offs) and all(any(e.concerns(piece) for e in offs) for piece in there)
    ended = max((e.happened_at for e in offs if e.happened_at is not None), default=now)
    seconds = ((ended if all_off else now) - began).total_seconds()
    return timedelta(minutes=max(0, int(seconds // 60)))
