"""A piece's course through its day: over the fire, wrapped, at rest, until it is served."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from pitjournal.domain.day.schedule import ENDS
from pitjournal.domain.event import CUT_UP, Event, EventKind

MOST_OF_A_DAY = 36 * 3600.0
"""What comes so long after the fire was lit is of another day, s."""


class Part(StrEnum):
    """What a piece is doing; the value is the word for it."""

    LIT = "lit"
    ON = "on"
    WRAPPED = "wrapped"
    REST = "rest"
    HELD = "held"
    SLACK = "slack"
    SLICE = "slice"
    PULL = "pull"
    BOX = "box"


CARVING = frozenset({Part.SLICE, Part.PULL, Part.BOX})
"""What is done to meat between its rest and its end."""

_CARVES: Mapping[str, Part] = {EventKind.PULLED: Part.PULL, EventKind.BOXED: Part.BOX}


@dataclass(frozen=True)
class Stretch:
    """A part of a course, s since 1970; an `open` one still goes on, `word` says how it is wrapped."""

    part: Part
    start: float
    end: float
    planned: bool = False
    open: bool = False
    word: str = ""


Course = tuple[Stretch, ...]


@dataclass(frozen=True)
class Ends:
    """What a course ends by, s since 1970.

    `now` is the present while the cook is on its way, else None; `last` is when anything
    happened last, `served` when it is served.
    """

    now: float | None
    last: float | None
    served: float | None

    @property
    def solid(self) -> float | None:
        """Until when things have happened; None while nothing has."""
        if self.last is None:
            return None
        return self.last if self.now is None else max(self.now, self.last)


_FIRE = frozenset({Part.ON, Part.WRAPPED})
_ORDER: tuple[str, ...] = (
    EventKind.LIT,
    EventKind.ON,
    EventKind.WRAP,
    EventKind.UNWRAP,
    EventKind.OFF,
    EventKind.HELD,
    *CUT_UP,
    *sorted(ENDS),
)
"""What turns one part of a course into the next; of things at one moment the first is taken first."""

TURNS = frozenset(_ORDER)
"""What turns a course; all else happens while it goes on."""


@dataclass(frozen=True)
class _Turn:
    at: float
    kind: str
    planned: bool
    word: str = ""
    takes: float | None = None


def course_of(events: Iterable[Event], piece_id: str, ends: Ends) -> Course:
    """Return the course of a piece.

    Parameters
    ----------
    events
        Those that happened and those still planned, in any order; others are passed over.
    piece_id
        The piece.
    ends
        What it ends by.

    Returns
    -------
    Course
        Stretches in time order that do not overlap, none empty. The solid ones come first and
        end by `ends.solid`.
    """
    turns = _turns([e for e in events if e.concerns(piece_id)], ends.solid)
    found: list[Stretch] = []
    part: Part | None = None
    begun: _Turn | None = None
    for turn in turns:
        then = _next(part, turn.kind)
        if then is part and not (part is Part.WRAPPED and begun and turn.word != begun.word):
            continue
        if part is not None and begun is not None:
            found += _stretches(part, begun, turn.at, ends)
        part, begun = then, turn
    if part is not None and begun is not None:
        last = _last(part, begun, ends)
        found += _stretches(part, begun, last, ends, goes_on=ends.now is not None)
    return tuple(found)


def _turns(events: Sequence[Event], solid: float | None) -> list[_Turn]:
    """Return what turns a course, what happened first; what is planned can only come after."""
    done, planned = [], []
    for event in events:
        if event.kind not in _ORDER:
            continue
        word = event.details.get("wrap", "") if event.kind == EventKind.WRAP else ""
        if event.happened_at is not None:
            at = event.happened_at.timestamp()
            done.append(_Turn(at, event.kind, planned=False, word=word, takes=event.takes))
        elif event.planned_at is not None:
            at = max(event.planned_at.timestamp(), solid if solid is not None else 0.0)
            planned.append(_Turn(at, event.kind, planned=True, word=word, takes=event.takes))

    def order(turn: _Turn) -> tuple[float, int]:
        return turn.at, _ORDER.index(turn.kind)

    return [*_last_off(sorted(done, key=order)), *sorted(planned, key=order)]


def _last_off(turns: Sequence[_Turn]) -> list[_Turn]:
    """Leave out an *off* that another follows before the meat goes on again: a slip."""
    found: list[_Turn] = []
    off_follows = False
    for turn in reversed(turns):
        if turn.kind == EventKind.OFF:
            if off_follows:
                continue
            off_follows = True
        elif turn.kind == EventKind.ON:
            off_follows = False
        found.append(turn)
    return found[::-1]


def _next(part: Part | None, kind: str) -> Part | None:  # noqa: PLR0911 - a table of turns
    """Return what a piece is doing after something; where that says nothing, as before."""
    if kind == EventKind.LIT:
        return part or Part.LIT
    if kind == EventKind.ON:
        return part if part in _FIRE else Part.ON
    if kind == EventKind.WRAP:
        return Part.WRAPPED if part in {None, Part.LIT, *_FIRE} else part
    if kind == EventKind.UNWRAP:
        return Part.ON if part is Part.WRAPPED else part
    if kind == EventKind.OFF:
        return Part.REST if part in {None, Part.LIT, *_FIRE} else part
    if kind == EventKind.HELD:
        return Part.HELD
    if kind in ENDS:
        return None
    return _CARVES.get(kind, Part.SLICE)


def _last(part: Part, begun: _Turn, ends: Ends) -> float:
    """Return when the last part of a course ends, as far as that is known."""
    solid = ends.solid
    if part in {Part.REST, Part.HELD, *CARVING}:
        served = ends.served
        if served is not None and begun.at < served < begun.at + MOST_OF_A_DAY:
            return max(served, solid or served)
        if begun.planned:
            return begun.at + (begun.takes or 0.0)
    return begun.at if begun.planned or solid is None else max(solid, begun.at)


def _stretches(
    part: Part, begun: _Turn, end: float, ends: Ends, *, goes_on: bool = False
) -> list[Stretch]:
    """Return a part of a course: what happened of it, then what is planned of it."""
    solid = ends.solid
    word = begun.word if part is Part.WRAPPED else ""
    cut = begun.at if begun.planned or solid is None else min(max(solid, begun.at), end)
    found = []
    if cut > begun.at:
        open_ = ends.now is not None and cut == solid and (end > cut or goes_on)
        found.append(Stretch(part, begun.at, cut, open=open_, word=word))
    if end > cut:
        found += _planned(part, begun, cut, end, word)
    return found


def _planned(part: Part, begun: _Turn, start: float, end: float, word: str) -> list[Stretch]:
    """Return what is planned of a part; a rest that may be longer than it must is slack then."""
    rested = begun.at + (begun.takes or 0.0)
    if part is not Part.REST or begun.takes is None or rested >= end:
        return [Stretch(part, start, end, planned=True, word=word)]
    found = [Stretch(Part.SLACK, max(start, rested), end, planned=True)]
    if rested > start:
        found.insert(0, Stretch(part, start, rested, planned=True))
    return found
