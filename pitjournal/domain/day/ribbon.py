"""A cook's day as a ribbon: the night before, lit, on, wrapped, off, rest, turn-in.

Each piece has a course: stretches in which it was on, wrapped or at rest, one after the other.
What happened is solid, what is planned is hollow and follows what happened. Pieces lie in lanes,
a category of a contest each, an arm each, or a cut each where nothing is compared; `slices_of` says where lanes differ.
Times are s since 1970.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from itertools import pairwise

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.day.course import MOST_OF_A_DAY, TURNS, Course, Ends, course_of
from pitjournal.domain.day.schedule import ENDS, NIGHT_BEFORE, StepKind, cuts_of, due
from pitjournal.domain.day.turn_in import turned_in
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook

MINUTE = 60.0
PREPARED = NIGHT_BEFORE | {StepKind.RUB}
"""What is done to the meat before it goes on."""

GAP = 3 * 3600.0
"""So long nothing happens, and the ribbon is broken there, s."""

MOST_SECTIONS = 4

WORK = 1800.0
"""What is done to the meat has so much room where nobody said how long it takes, s."""


@dataclass(frozen=True)
class Lane:
    """The pieces that are shown as one: their arm's look and name, or their cut."""

    name: str
    look: int | None
    pieces: tuple[str, ...]
    courses: tuple[Course, ...]


@dataclass(frozen=True)
class Mark:
    """Something at a moment, for some pieces.

    Attributes
    ----------
    kind, word
        What, and what a cook reads.
    at
        When it happened, else when it is planned.
    wanted
        When it was planned; None where it was not.
    planned
        Whether it has not happened yet.
    until
        When it is done, where that is known; else `at`.
    pieces, who
        For which pieces, and in words; both empty for all.
    steps
        The open steps that are moved when the mark is.
    locked
        Whether a cook locked it.
    """

    kind: str
    word: str
    at: float
    wanted: float | None
    planned: bool
    until: float
    pieces: tuple[str, ...] = ()
    who: str = ""
    steps: tuple[str, ...] = ()
    locked: bool = False

    @property
    def prepared(self) -> bool:
        """Whether it is done to the meat before the fire."""
        return self.kind in PREPARED


@dataclass(frozen=True)
class Fan:
    """When the meat comes off, as far as it is known: most likely, and the chances about it.

    Between `early` and `late` lie `share` of the chances; between `surely_early` and
    `surely_late` nine in ten, where that is known apart.
    """

    early: float
    likely: float
    late: float
    share: float
    surely_early: float | None = None
    surely_late: float | None = None


@dataclass(frozen=True)
class Ribbon:
    """A cook's day.

    Attributes
    ----------
    lanes
        At least one, unless there is no piece.
    marks
        What happened or is planned, in time order.
    now
        The present, while the cook is on its way; None before it is lit and once it is done.
    turn_in
        When it is served or turned in, the last of them; None where that is open.
    fan
        When it comes off; filled in by whoever knows.
    """

    lanes: tuple[Lane, ...]
    marks: tuple[Mark, ...]
    now: float | None = None
    turn_in: float | None = None
    fan: Fan | None = None

    def __bool__(self) -> bool:
        return bool(self.marks) or any(course for lane in self.lanes for course in lane.courses)

    def with_fan(self, fan: Fan | None) -> "Ribbon":
        """Return it with when the meat comes off."""
        return replace(self, fan=fan)


def ribbon_of(
    whole: WholeCook, now: datetime, moves: Mapping[str, datetime] | None = None
) -> Ribbon:
    """Return a cook's ribbon.

    Parameters
    ----------
    whole
        The cook.
    now
        The present, aware.
    moves
        Other times of planned steps by their ids, to show what a move would make.
    """
    events = _moved(whole.events, moves or {})
    live = whole.cook.status is not CookStatus.DONE
    happened = [e for e in events if e.happened_at is not None]
    last = max((e.happened_at.timestamp() for e in happened if e.happened_at), default=None)
    present = now.timestamp()
    if last is not None and present - last > MOST_OF_A_DAY:
        live = False  # left running, on another day
    served = whole.cook.serve_at.timestamp() if whole.cook.serve_at else None
    still = [e for e in due(events) if live or e.kind in ENDS]
    ends = Ends(present if live else None, last, served)
    shown = [*happened, *still]
    turns = [e for e in shown if e.kind in TURNS]
    courses = {piece.id: course_of(turns, piece.id, ends) for piece in whole.pieces}
    marks = _marks(whole, shown)
    begun = any(e.kind in {EventKind.LIT, EventKind.ON} for e in happened)
    turn_ins = [mark.at for mark in marks if mark.kind in ENDS]
    turn_in = max(turn_ins, default=None)
    if turn_in is None and served is not None and _same_day(served, marks):
        turn_in = served
    here = present if live and begun else None
    return Ribbon(_lanes(whole, courses), marks, here, turn_in)


def _moved(events: Iterable[Event], moves: Mapping[str, datetime]) -> list[Event]:
    return [replace(e, planned_at=moves[e.id]) if e.id in moves else e for e in events]


def _same_day(at: float, marks: Sequence[Mark]) -> bool:
    fire = [m.at for m in marks if not m.prepared]
    return bool(fire) and fire[0] < at < fire[0] + MOST_OF_A_DAY


def _lanes(whole: WholeCook, courses: Mapping[str, Course]) -> tuple[Lane, ...]:
    """Put the pieces into lanes: by category, by cut where there are several, by arm, or in one."""
    own = turned_in(whole)
    cuts = {
        piece: own[piece].category.name if piece in own else cut
        for piece, cut in cuts_of(whole.pieces).items()
    }
    several = len(set(cuts.values())) > 1
    arms = {arm.id: arm for arm in whole.ordered_arms} if len(whole.arms) > 1 else {}
    found: dict[tuple[str, str], list[Piece]] = {}
    places = {arm: place for place, arm in enumerate(arms)}
    order = sorted(whole.pieces, key=lambda p: places.get(p.arm_id or "", len(places)))
    for piece in order:
        arm = piece.arm_id if piece.arm_id in arms else ""
        key = (cuts[piece.id] if several else "", arm or "")
        found.setdefault(key, []).append(piece)
    lanes = []
    for (cut, arm_id), pieces in found.items():
        name = ", ".join(part for part in (cut, arms[arm_id].name if arm_id else "") if part)
        look = whole.arm_index(arm_id) if arm_id else None
        ids = tuple(piece.id for piece in pieces)
        lanes.append(Lane(name, look, ids, tuple(courses[one] for one in ids)))
    return tuple(lanes)


def _marks(whole: WholeCook, events: Sequence[Event]) -> tuple[Mark, ...]:
    """Return the events as marks; the same thing in one minute is one mark."""
    found: dict[tuple[str, int, bool], list[Event]] = {}
    for event in events:
        at = event.happened_at or event.planned_at
        if at is None:
            continue
        planned = event.happened_at is None
        key = (event_word(event), int(at.timestamp() // MINUTE), planned)
        found.setdefault(key, []).append(event)
    marks = [
        _happened(word, group[0])
        if len(group) == 1 and group[0].happened_at is not None and not group[0].pieces
        else _mark(whole, word, group)
        for (word, _, _), group in found.items()
    ]
    return tuple(sorted(marks, key=lambda mark: (mark.at, mark.word, mark.planned)))


def _happened(word: str, event: Event) -> Mark:
    """Return the mark of one thing that happened to all: most of a long log is such."""
    assert event.happened_at is not None
    at = event.happened_at.timestamp()
    wanted = None if event.planned_at is None else event.planned_at.timestamp()
    until = at + (event.takes or 0.0) if event.kind in PREPARED else at
    return Mark(event.kind, word, at, wanted, False, until, locked=event.locked)


def _mark(whole: WholeCook, word: str, events: Sequence[Event]) -> Mark:
    first = events[0]
    if len(events) > 1:
        first = min(events, key=lambda e: (e.happened_at or e.planned_at or e.entered_at, e.id))
    planned = first.happened_at is None
    moment = first.happened_at or first.planned_at or first.entered_at
    at = moment.timestamp()
    pieces = _named(whole, events)
    takes = max((e.takes or 0.0 for e in events), default=0.0)
    prepared = first.kind in PREPARED
    return Mark(
        first.kind,
        word,
        at,
        first.planned_at.timestamp() if first.planned_at else None,
        planned,
        at + takes if prepared else at,
        pieces,
        who_of(whole, pieces) if pieces else "",
        tuple(e.id for e in events) if planned else (),
        any(e.locked for e in events),
    )


def _named(whole: WholeCook, events: Sequence[Event]) -> tuple[str, ...]:
    """Return the pieces that events are for; none where that is all of them."""
    if any(not event.pieces for event in events):
        return ()
    named = {piece for event in events for piece in event.pieces}
    found = tuple(piece.id for piece in whole.pieces if piece.id in named)
    return () if len(found) == len(whole.pieces) else found


def event_word(event: Event) -> str:
    """Return an event as the ribbon says it: "wrap in foil", "turn in"."""
    wrap = event.details.get("wrap") if event.kind == EventKind.WRAP else None
    return f"{event.kind} in {wrap}" if wrap else str(event.kind)


def who_of(whole: WholeCook, pieces: Sequence[str]) -> str:
    """Return whom some pieces are: arms, cuts or labels; "" for all."""
    chosen = set(pieces)
    if not chosen or len(chosen) == len(whole.pieces):
        return ""
    arms = [arm for arm in whole.ordered_arms if {p.id for p in whole.pieces_of(arm)} <= chosen]
    if {p.id for arm in arms for p in whole.pieces_of(arm)} == chosen:
        return " and ".join(arm.name for arm in arms)
    cuts = cuts_of(whole.pieces)
    for cut in dict.fromkeys(cuts.values()):
        if chosen == {one for one, its in cuts.items() if its == cut}:
            return cut
    names = [piece.label for piece in whole.pieces if piece.id in chosen]
    return ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")


# where lanes differ


class Style(StrEnum):
    """How a part of a slice is shown."""

    SOLID = "solid"
    HOLLOW = "hollow"


@dataclass(frozen=True)
class Share:
    """So many pieces of a lane that are the same: on, wrapped, at rest."""

    part: str
    word: str
    style: Style
    count: int


@dataclass(frozen=True)
class Slice:
    """A stretch of the ribbon within which nothing changes: what the pieces of each lane are."""

    start: float
    end: float
    lanes: tuple[tuple[Share, ...], ...]
    sizes: tuple[int, ...]

    @property
    def same(self) -> bool:
        """Whether all lanes are the same, so that they are shown as one."""
        first = [(s.part, s.word, s.style, s.count / self.sizes[0]) for s in self.lanes[0]]
        return all(
            [(s.part, s.word, s.style, s.count / size) for s in lane] == first
            for lane, size in zip(self.lanes, self.sizes, strict=True)
        )


def slices_of(ribbon: Ribbon) -> tuple[Slice, ...]:
    """Return the ribbon in slices, in time order; neighbours differ. Gaps hold no slice."""
    lanes = [lane for lane in ribbon.lanes if lane.pieces]
    edges = sorted(
        {
            _minute(edge)
            for lane in lanes
            for course in lane.courses
            for stretch in course
            for edge in (stretch.start, stretch.end)
        }
    )
    sizes = tuple(len(lane.pieces) for lane in lanes)
    found: list[Slice] = []
    for start, end in pairwise(edges):
        shares = tuple(_shares(lane, (start + end) / 2) for lane in lanes)
        if not any(shares):
            continue
        last = found[-1] if found else None
        if last is not None and last.end == start and last.lanes == shares:
            found[-1] = replace(last, end=end)
        else:
            found.append(Slice(start, end, shares, sizes))
    return tuple(found)


def _minute(at: float) -> float:
    return MINUTE * round(at / MINUTE)


def _shares(lane: Lane, at: float) -> tuple[Share, ...]:
    counts: dict[tuple[str, str, Style], int] = {}
    for course in lane.courses:
        for stretch in course:
            if _minute(stretch.start) < at < _minute(stretch.end):
                style = Style.HOLLOW if stretch.planned else Style.SOLID
                key = (str(stretch.part), stretch.word, style)
                counts[key] = counts.get(key, 0) + 1
                break
    return tuple(Share(*key, count) for key, count in counts.items())


def _until(mark: Mark) -> float:
    """Return until when a mark takes room: what is done to the meat has a word of its own."""
    least = mark.at + WORK if mark.prepared else mark.at
    return max(mark.until, least)


def sections_of(ribbon: Ribbon) -> tuple[tuple[float, float], ...]:
    """Return the stretches of time in which something is, with the long gaps between left out."""
    spans = [(mark.at, _until(mark)) for mark in ribbon.marks]
    spans += [(s.start, s.end) for lane in ribbon.lanes for c in lane.courses for s in c]
    if ribbon.turn_in is not None:
        spans.append((ribbon.turn_in, ribbon.turn_in))
    if ribbon.now is not None:
        spans.append((ribbon.now, ribbon.now))
    joined: list[tuple[float, float]] = []
    for start, end in sorted(spans):
        if joined and start - joined[-1][1] <= GAP:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    while len(joined) > MOST_SECTIONS:
        joined[:2] = [(joined[0][0], joined[1][1])]
    return tuple(joined)
