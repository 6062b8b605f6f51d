"""A log from paper: a line for each thing, "time – what – which", on the cook's own day.

A time without a date is of the cook's day; where the clock of a line stands before that of the
line above by much, midnight lies between them. What is not certain is kept with its doubt, and
what cannot be read is named by its line. Words are common practice, no source.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from pitjournal.domain.event import WRAPS, EventKind
from pitjournal.domain.plausible import INSIDE
from pitjournal.domain.shelf import plain_name
from pitjournal.domain.times.moments import hours_words, time_zone
from pitjournal.domain.times.typed_times import parse_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.units import Dimension, UnitSystem, parse

BACK_AT_MOST = timedelta(hours=6)
"""A clock that stands back by less is a line out of order; by more it is of the next day."""

LONG = timedelta(hours=10)
"""A line so long after the one above it is looked at again."""

_CLOCK = (
    r"(?:\d{1,2}[:.h]\d\d(?::\d\d)?\s*(?:[ap]\.?m\.?)?|\d{1,2}\s*[ap]\.?m\.?|\d{4}|noon|midnight)"
)
_LINE = re.compile(
    rf"^\s*(?P<time>(?:[^\d\s]{{2,9}}\.?\s+|\d{{1,2}}[./]?\s?[^\d\s]{{3,9}}\.?\s+"
    rf"|\d{{4}}-\d\d-\d\d[T\s]\s*)?{_CLOCK})(?=[\s,;:–—-]|$)(?P<rest>.*)$",
    re.IGNORECASE,
)
_APART = re.compile(r"\s+[-–—]+\s+|[\t;|]+|,\s+|^\s*[-–—:,]\s*")
_HEAT = re.compile(r"(?<![\w.])(\d{2,3}(?:[.,]\d)?)\s*(°?\s*[FC])?(?![\w.:])", re.IGNORECASE)
_FEEL = re.compile(r"\bfeel\s*:?\s*([1-7])\b", re.IGNORECASE)
_PROBED = re.compile(r"\b(?:probe[ds]?|temps?|internal|it)\b", re.IGNORECASE)

_EVERYONE = re.compile(
    r"\s+(?:and|for)?\s*(?:all|everything|everyone)(?:\s+\w+)?\s*$", re.IGNORECASE
)

_WORDS: Mapping[str, EventKind] = {
    word: kind
    for kind, words in {
        EventKind.LIT: "lit light lighted fire started",
        EventKind.ON: "on",
        EventKind.UNWRAP: "unwrap unwrapped",
        EventKind.WRAP: "wrap wrapped foiled",
        EventKind.LID: "lid opened",
        EventKind.FLIP: "flip flipped turned",
        EventKind.ROTATE: "rotate rotated",
        EventKind.SPRITZ: "spritz spritzed spray sprayed mop mopped",
        EventKind.GLAZE: "glaze glazed sauce sauced",
        EventKind.OFF: "off pulled",
        EventKind.HELD: "held hold box-hold",
        EventKind.SLICED: "slice sliced",
        EventKind.BOXED: "box boxed",
    }.items()
    for word in words.split()
}


@dataclass(frozen=True)
class PaperLine:
    """A line that was read.

    Attributes
    ----------
    number
        Which line it is, from 1.
    at
        Aware, UTC.
    kind
        An event's kind; a cook's own words where they are none; empty for a check of doneness.
    pieces
        By id; none for the whole cook.
    internal, feel
        Of a check of doneness, °C and 1 to 7.
    doubts
        Why it should be looked at, in words.
    """

    number: int
    text: str
    at: datetime
    kind: str = ""
    pieces: tuple[str, ...] = ()
    details: Mapping[str, str] | None = None
    internal: float | None = None
    feel: int | None = None
    typed: str = ""
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Unread:
    """A line that could not be read, and why."""

    number: int
    text: str
    why: str


@dataclass(frozen=True)
class PaperLog:
    """What a list says, in the order of time, and what of it could not be read."""

    lines: tuple[PaperLine, ...] = ()
    unread: tuple[Unread, ...] = ()

    @property
    def doubtful(self) -> int:
        """How many lines should be looked at."""
        return sum(bool(line.doubts) for line in self.lines)


def read_paper(text: str, whole: WholeCook, now: datetime, system: UnitSystem) -> PaperLog:
    """Return what a list of lines says of a cook.

    Parameters
    ----------
    text
        As typed: each line a time, what happened, and to which pieces.
    whole
        The cook: its day and zone, its pieces, arms and meats by name.
    now
        The present moment, aware: nothing on paper is of later.
    system
        Whose degrees a bare number is in.
    """
    read: list[PaperLine] = []
    unread: list[Unread] = []
    before: datetime | None = None
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.strip():
            continue
        try:
            found = _line(number, line, whole, before, system)
        except JournalError as error:
            unread.append(Unread(number, line.strip(), str(error)))
            continue
        doubts = list(found.doubts)
        if before is not None and found.at < before:
            doubts.append("stands before the line above: sorted")
        elif before is not None and found.at - before > LONG:
            doubts.append(
                f"{hours_words((found.at - before).total_seconds())} after the line above"
            )
        if found.at > now:
            doubts.append("has not happened yet")
        read.append(replace(found, doubts=tuple(doubts)))
        before = max(found.at, before or found.at)
    return PaperLog(tuple(sorted(read, key=lambda one: (one.at, one.number))), tuple(unread))


def _line(
    number: int, line: str, whole: WholeCook, before: datetime | None, system: UnitSystem
) -> PaperLine:
    found = _LINE.match(line)
    if found is None:
        raise JournalError("No time stands at its beginning.", "Such as: 10:40 wrap in foil, A1 A2")
    at = _moment(found["time"], before, whole)
    rest = " ".join(part for part in _APART.split(found["rest"].strip()) if part).strip()
    if not rest:
        raise JournalError("It says no more than a time.", "Add what happened.")
    pieces, said = _which(rest, whole)
    made = PaperLine(number, line.strip(), at, pieces=pieces)
    check = _check(made, said, whole, system)
    return check or _event(made, said)


def _moment(words: str, before: datetime | None, whole: WholeCook) -> datetime:
    """Return the moment of a line: on the cook's day, and after the line above."""
    zone = whole.cook.zone
    near = before or whole.cook.starts_at
    at = parse_moment(words, near, zone)
    if not re.match(rf"^\s*{_CLOCK}\s*$", words, re.IGNORECASE):
        return at  # a day is named
    if before is None:
        return _same_day(at, whole.cook.starts_at, time_zone(zone))
    while at < before - BACK_AT_MOST:
        at = _next_day(at, zone)
    while at - before > timedelta(days=1) - BACK_AT_MOST:
        at = _next_day(at, zone, -1)
    return at


def _same_day(at: datetime, day: datetime, zone: ZoneInfo) -> datetime:
    """Return a clock's moment on the day of another moment, unless that is nearly half a day off."""
    own = day.astimezone(zone).date()
    moved = at.astimezone(zone).replace(year=own.year, month=own.month, day=own.day)
    return moved.astimezone(UTC) if abs(moved - day) < timedelta(hours=18) else at


def _next_day(at: datetime, zone: str, days: int = 1) -> datetime:
    """Return the same clock on another day, whatever the clocks do that night."""
    there = at.astimezone(time_zone(zone))
    return (there + timedelta(days=days)).astimezone(UTC)


def _which(rest: str, whole: WholeCook) -> tuple[tuple[str, ...], str]:
    """Return the pieces that words name, and the words without them.

    Raises
    ------
    JournalError
        If they name a piece that there is not: it is not to be taken for all.
    """
    named = list(_names(whole))
    found: list[str] = []
    said = f" {rest} "
    for name, pieces in sorted(named, key=lambda one: -len(one[0])):
        pattern = re.compile(rf"(?<![\w]){re.escape(name)}(?![\w])", re.IGNORECASE)
        if pattern.search(said):
            said = pattern.sub(" ", said)
            found += [piece for piece in pieces if piece not in found]
    said = _EVERYONE.sub("", said)
    said = " ".join(said.split())
    looks_like_label = re.search(r"\b[A-Z]\d{1,2}\b", said)
    if looks_like_label:
        labels = ", ".join(piece.label for piece in whole.pieces)
        raise JournalError(f"No piece is called {looks_like_label[0]}.", f"Pieces here: {labels}.")
    order = [piece.id for piece in whole.pieces if piece.id in found]
    return (() if len(order) == len(whole.pieces) else tuple(order)), said


def _names(whole: WholeCook) -> Iterable[tuple[str, Sequence[str]]]:
    for piece in whole.pieces:
        yield piece.label, (piece.id,)
    for arm in whole.arms:
        yield arm.name, [piece.id for piece in whole.pieces_of(arm)]
    for meat, of_it in whole.meats.items():
        yield meat, [piece.id for piece in of_it]


def _check(made: PaperLine, said: str, whole: WholeCook, system: UnitSystem) -> PaperLine | None:
    """Return a line as a check of doneness, where it says a temperature or a feel of pieces."""
    heat, feel = _HEAT.search(said), _FEEL.search(said)
    told = _PROBED.search(said) or not _kind(said)
    if not told or (heat is None and feel is None):
        return None
    pieces = made.pieces or tuple(piece.id for piece in whole.pieces)
    if not made.pieces and len(pieces) > 1:
        raise JournalError("It does not say which piece was probed.", "Such as: 11:00 A1 165 F")
    internal = None
    if heat is not None:
        internal = parse(heat[0].strip(), Dimension.TEMPERATURE, system)
        if why := INSIDE.why_not(internal):
            raise JournalError(why)
    return replace(
        made,
        pieces=pieces,
        internal=internal,
        feel=int(feel[1]) if feel else None,
        typed=heat[0].strip() if heat else "",
    )


def _kind(said: str) -> EventKind | None:
    words = re.findall(r"[\w-]+", said.casefold())
    return next((_WORDS[word] for word in words if word in _WORDS), None)


def _event(made: PaperLine, said: str) -> PaperLine:
    kind = _kind(said)
    if kind is None:
        if not said:
            raise JournalError("It says no more than a time and a piece.", "Add what happened.")
        return replace(made, kind=said, doubts=(*made.doubts, "kept in your own words"))
    details = {}
    if kind is EventKind.WRAP:
        wrap = next((wrap for wrap in WRAPS if wrap in plain_name(said)), "")
        details = {"wrap": wrap} if wrap else {}
    pieces = () if kind in {EventKind.LIT, EventKind.LID} else made.pieces
    return replace(made, kind=str(kind), pieces=pieces, details=details)
