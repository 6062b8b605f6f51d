"""How good the forecast would have been: asked again at half time of what was logged; for a worker."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import islice
from typing import TYPE_CHECKING

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook

if TYPE_CHECKING:
    from pitjournal.journal.journal import Journal

LAST = 10
"""So many pieces of one's last cooks are counted."""

LOOKED_AT = 30
"""In so many cooks at most: many have no probe."""

SHORTEST = 2400.0
"""A piece that took less, s, has no half time to speak of."""


@dataclass(frozen=True)
class Graded:
    """A forecast at half time, and what came of it.

    Attributes
    ----------
    piece_id, label
        Which piece.
    minutes
        How much later than it was the likeliest time lay; below 0 where it was earlier.
    inside
        Whether it was within the band of nine in ten.
    """

    piece_id: str
    label: str
    minutes: float
    inside: bool


def graded(journal: "Journal", whole: WholeCook) -> tuple[Graded, ...]:
    """Return the grade of each piece that came off and had a probe to the end."""
    return tuple(found for piece in whole.pieces if (found := _grade(journal, whole, piece)))


def lately(journal: "Journal", known: Mapping[str, tuple[Graded, ...]]) -> tuple[Graded, ...]:
    """Return the grades of the last pieces that came off, newest cook first.

    Parameters
    ----------
    journal
        The journal.
    known
        Grades by cook that were worked out already.
    """
    return tuple(islice(_newest(journal, known), LAST))


def _newest(journal: "Journal", known: Mapping[str, tuple[Graded, ...]]) -> Iterator[Graded]:
    lines = [one for one in journal.cooks.page() if one.status is CookStatus.DONE][:LOOKED_AT]
    for line in lines:
        yield from known[line.id] if line.id in known else graded(journal, journal.whole(line.id))


def _grade(journal: "Journal", whole: WholeCook, piece: Piece) -> Graded | None:
    import numpy as np

    from pitjournal.analysis.forecast.forecast import forecast
    from pitjournal.journal.queries.ahead import asked_at

    off = whole.last(EventKind.OFF, piece)
    if off is None or off.happened_at is None:
        return None
    end = off.happened_at.timestamp()
    there = asked_at(journal, _as_of(whole, piece, end), piece, end)
    if there is None or there.trace.seconds.size < 5:
        return None
    level = float(np.median(there.trace.meat[-5:]))
    reached = float(there.trace.seconds[int(np.argmax(there.trace.meat >= level))])
    if reached < SHORTEST:
        return None
    half = end - (float(there.trace.seconds[-1]) - reached / 2.0)
    asked = asked_at(journal, _as_of(whole, piece, half), piece, half)
    if asked is None or asked.trace.seconds.size < 5:
        return None
    (one,) = forecast(replace(asked, targets=(level,)))
    if one.refused or one.median is None or one.low90 is None:
        return None
    inside = one.low90 <= reached and (one.high90 is None or reached <= one.high90)
    return Graded(piece.id, piece.label, (one.median - reached) / 60.0, inside)


def _as_of(whole: WholeCook, piece: Piece, moment: float) -> WholeCook:
    """Return a cook as it was known at a moment, s since 1970, with a piece still on."""

    def known(event: Event) -> Event | None:
        gone = event.happened_at is not None and event.happened_at.timestamp() > moment
        off = event.kind == EventKind.OFF and event.concerns(piece.id)
        if not gone and not off:
            return event
        return replace(event, happened_at=None) if event.planned_at is not None else None

    events = tuple(one for event in whole.events if (one := known(event)) is not None)
    return replace(whole, events=events)
