"""What cannot quite be in a cook's log: kept as it is, flagged, and mended with one tap.

Nothing is ever refused at the bench. What is flagged here is what a slip of the finger does:
a piece that was turned before it went on, came off twice, was never put on; a time that is
still to come; a step that was planned for a time already past.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from enum import StrEnum

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import CUT_UP, UNDER_THE_LID, DonenessCheck, Event, EventKind
from pitjournal.domain.times.moments import show_ago, show_moment, time_zone
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.figures import figure

AHEAD = timedelta(minutes=2)
"""Clocks may differ by so much before a time is in the future."""

NEEDS_ON = (UNDER_THE_LID - {EventKind.LID}) | {
    EventKind.OFF,
    EventKind.HELD,
    *CUT_UP,
}
"""What is only done to meat that has been on."""

NEEDS_FIRE = frozenset({EventKind.FLIP, EventKind.ROTATE, EventKind.SPRITZ})
"""What is only done while the meat is on."""


LONGEST = timedelta(hours=24)
"""What is on for longer is asked about: a day was mistaken. Common practice, no source."""


class Mend(StrEnum):
    """What one tap does about it."""

    REMOVE = "remove"
    MOVE = "move"
    NARROW = "narrow"
    LOG_ON = "log on"
    HAPPENED = "happened"


@dataclass(frozen=True)
class Oddity:
    """A line on one record of the log.

    Attributes
    ----------
    record
        The event or the probe that is odd.
    words
        What is odd, as a cook says it.
    mend, button
        What one tap does, and what it is called.
    at
        The time it is moved to, or the meat went on.
    pieces
        The pieces it is narrowed to, or that went on.
    """

    record: Event | DonenessCheck
    words: str
    mend: Mend
    button: str
    at: datetime | None = None
    pieces: tuple[str, ...] = ()


def oddities(whole: WholeCook, now: datetime) -> tuple[Oddity, ...]:
    """Return what is odd, at most one line a record, in time order."""
    walk = _Walk(whole, now)
    found = [odd for event in whole.events if (odd := walk.look(event)) is not None]
    for check in whole.checks:
        if check.at > now + AHEAD:
            said = _ahead(check.at, now)
            found.append(Oddity(check, said, Mend.MOVE, "Make it now", now))
    return tuple(found)


def _ahead(at: datetime, now: datetime) -> str:
    return f"Still to come: {show_ago((now - at).total_seconds())}."


@dataclass
class _Walk:
    """The log read in time order, with where each piece is by then."""

    whole: WholeCook
    now: datetime
    on: dict[str, datetime] = field(default_factory=dict)
    off: dict[str, datetime] = field(default_factory=dict)
    wrapped: set[str] = field(default_factory=set)
    first_on: dict[str, datetime] = field(default_factory=dict)
    ever_off: set[str] = field(default_factory=set)
    all: tuple[str, ...] = ()
    all_on: datetime | None = None

    def __post_init__(self) -> None:
        self.all = tuple(piece.id for piece in self.whole.pieces)
        for event in self.whole.happened(EventKind.ON):
            for piece in self._pieces(event):
                if event.happened_at is not None:
                    self.first_on.setdefault(piece, event.happened_at)
        for event in self.whole.happened(EventKind.OFF):
            self.ever_off |= set(self._pieces(event))
        if self.all and set(self.all) <= self.first_on.keys():
            self.all_on = max(self.first_on.values())

    def _pieces(self, event: Event) -> tuple[str, ...]:
        return event.pieces or self.all

    def look(self, event: Event) -> Oddity | None:
        """Return what is odd about the next event, and go on past it."""
        at = event.happened_at
        if at is None:
            return self._planned(event)
        odd = None
        if at > self.now + AHEAD:
            said = _ahead(at, self.now)
            back = min(event.entered_at, self.now)
            odd = Oddity(event, said, Mend.MOVE, f"Make it {self._clock(back)}", back)
        else:
            odd = next(self._odd(event, at), None)
        self._go_on(event, at)
        return odd

    def _planned(self, event: Event) -> Oddity | None:
        planned = event.planned_at
        if planned is None or planned >= event.entered_at - AHEAD:
            return None
        said = f"Planned for {self._clock(planned)}, which was past already."
        return Oddity(event, said, Mend.HAPPENED, "It happened then", planned)

    def _is_plain(self, event: Event, at: datetime) -> bool:
        """Whether it is done to all while all were on: most of a long log is."""
        plain = event.kind in NEEDS_FIRE and not event.pieces and not self.off
        return plain and self.all_on is not None and at >= self.all_on

    def _odd(self, event: Event, at: datetime) -> Iterator[Oddity]:
        if self._is_plain(event, at):
            return
        pieces = self._pieces(event)
        if event.kind == EventKind.ON:
            yield from self._again(event, self.on, self.off, "on")
            yield from self._still_on(event, at, pieces)
        if event.kind not in NEEDS_ON:
            return
        if event.kind == EventKind.OFF:
            yield from self._long_on(event, at, pieces)
        yield from self._never_on(event, at, pieces)
        yield from self._before_on(event, at, pieces)
        if event.kind == EventKind.OFF:
            yield from self._again(event, self.off, self.on, "off")
        elif event.kind in NEEDS_FIRE:
            yield from self._after_off(event)
        elif event.kind == EventKind.UNWRAP:
            bare = [p for p in pieces if p not in self.wrapped]
            yield from self._without(event, bare, "not wrapped")

    def _again(
        self, event: Event, same: dict[str, datetime], other: dict[str, datetime], word: str
    ) -> Iterator[Oddity]:
        """Flag what was on (off) already and has not been off (on) since."""
        twice = [
            p for p in self._pieces(event) if p in same and (p not in other or other[p] < same[p])
        ]
        if twice:
            when = self._clock(min(same[p] for p in twice))
            yield from self._without(event, twice, f"{word} already at {when}")

    def _after_off(self, event: Event) -> Iterator[Oddity]:
        gone = [
            p for p in event.pieces if p in self.off and self.off[p] >= self.on.get(p, self.off[p])
        ]
        if not event.pieces and self.whole.pieces:
            gone = list(self.all) if all(p in self.off for p in self.all) else []
        if gone:
            when = self._clock(max(self.off[p] for p in gone))
            yield from self._without(event, gone, f"off already at {when}")

    def _long_on(self, event: Event, at: datetime, pieces: Sequence[str]) -> Iterator[Oddity]:
        """Ask about meat that comes off more than a day after it went on."""
        on = max((self.on[p] for p in pieces if p in self.on), default=at)
        if at - on > LONGEST:
            yield self._asked(event, at - on, self._days_from(at, -1))

    def _still_on(self, event: Event, at: datetime, pieces: Sequence[str]) -> Iterator[Oddity]:
        """Ask about meat that went on more than a day ago and is not off, while it may be."""
        running = self.whole.cook.status is CookStatus.RUNNING
        if running and self.now - at > LONGEST and any(p not in self.ever_off for p in pieces):
            yield self._asked(event, self.now - at, self._days_from(at, 1))

    def _asked(self, event: Event, long: timedelta, to: datetime) -> Oddity:
        words = f"On for {figure(long.total_seconds() / 3600)} h: is the day right?"
        return Oddity(event, words, Mend.MOVE, f"Make it {self._clock(to)}", to)

    def _days_from(self, at: datetime, days: int) -> datetime:
        """Return the same time by the cook's clock on another day."""
        local = at.astimezone(time_zone(self.whole.cook.zone))
        return (local + timedelta(days=days)).astimezone(UTC)

    def _never_on(self, event: Event, at: datetime, pieces: Sequence[str]) -> Iterator[Oddity]:
        never = [p for p in pieces if p not in self.first_on]
        if not never or (not event.pieces and self.first_on):
            return  # "all" means those that are on
        if len(never) < len(pieces):
            yield from self._without(event, never, "never put on")
            return
        button = f"Log on at {self._clock(at)}"
        yield Oddity(
            event, f"{self._names(never)}: never put on.", Mend.LOG_ON, button, at, event.pieces
        )

    def _before_on(self, event: Event, at: datetime, pieces: Sequence[str]) -> Iterator[Oddity]:
        on = [self.first_on[p] for p in pieces if p in self.first_on]
        early = [moment for moment in on if at < moment]
        if not early or (not event.pieces and len(early) < len(on)):
            return
        start = max(early)
        to = max(event.entered_at, start)
        words = f"Before the meat went on at {self._clock(start)}."
        yield Oddity(event, words, Mend.MOVE, f"Make it {self._clock(to)}", to)

    def _without(self, event: Event, pieces: Sequence[str], why: str) -> Iterator[Oddity]:
        """Flag an event for pieces it cannot be for: leave these out, or all of it."""
        if not pieces:
            return
        words = f"{self._names(pieces)}: {why}."
        left = tuple(p for p in self._pieces(event) if p not in set(pieces))
        if left:
            button = f"Leave {self._names(pieces)} out"
            yield Oddity(event, words, Mend.NARROW, button, pieces=left)
        else:
            yield Oddity(event, words, Mend.REMOVE, "Take it away")

    def _go_on(self, event: Event, at: datetime) -> None:
        pieces = self._pieces(event)
        if event.kind == EventKind.ON:
            self.on.update(dict.fromkeys(pieces, at))
        elif event.kind == EventKind.OFF:
            self.off.update(dict.fromkeys(pieces, at))
        elif event.kind == EventKind.WRAP:
            self.wrapped |= set(pieces)

    def _names(self, pieces: Sequence[str]) -> str:
        if len(pieces) == len(self.whole.pieces) > 1:
            return "All pieces"
        labels = [piece.label for piece in self.whole.pieces if piece.id in set(pieces)]
        more = f" and {len(labels) - 4} more" if len(labels) > 4 else ""
        return ", ".join(labels[:4]) + more

    def _clock(self, moment: datetime) -> str:
        return show_moment(moment, self.whole.cook.zone, self.now)
