"""What the bench shows: where each piece is in its life, and what is next."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import Enum

from pitjournal.analysis.bench.live import Live, rise_by_hand
from pitjournal.analysis.plan.durations import BOX_STEPS
from pitjournal.analysis.safety.below import Below
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.day.on_time import time_on
from pitjournal.domain.day.schedule import StepKind, due
from pitjournal.domain.day.turn_in import turn_in_of
from pitjournal.domain.event import UNDER_THE_LID, Event, EventKind, Feel, feel_of
from pitjournal.domain.piece import Piece
from pitjournal.domain.times.moments import show_ago, show_moment, show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.event_words import named_pieces
from pitjournal.units import Dimension, UnitSystem, difference_of, show, to_display
from pitjournal.units.figures import figure

PROBE_AGAIN = timedelta(minutes=15)
"""Probe every quarter of an hour near the end (common practice, no source)."""


class Life(Enum):
    """Where a piece is."""

    WAITING = "waiting"
    ON = "on"
    RIGHT = "right"
    OVER = "over"
    OFF = "off"


@dataclass(frozen=True)
class PieceNow:
    """A piece as the bench shows it.

    `meat` is its cut where the cook has several, else empty. `rise` is how it rises in ten minutes, "–" where that is not known; `off` is when it comes off, `ahead` is
    how sure that is, in full and ever shorter, or why nobody can say. `below` says, in one line
    and ever shorter, that it was measured colder than the rule for its meat asks.
    """

    piece: Piece
    arm: int | None
    life: Life
    number: str
    words: str
    rise: str = "–"
    off: str = ""
    ahead: tuple[str, ...] = ()
    meat: str = ""
    below: tuple[str, ...] = ()


@dataclass(frozen=True)
class Due:
    """The next thing: what, why, and which tap does it (its name, or "" for none)."""

    heading: str
    words: str
    tap: str = ""
    pieces: tuple[str, ...] = ()


def piece_now(
    whole: WholeCook, piece: Piece, system: UnitSystem, now: datetime, live: Live | None = None
) -> PieceNow:
    """Return where a piece is in its life; `live` is what its probe says now."""
    found = _by_hand(whole, piece, system, now)
    found = replace(found, meat=piece.cut if whole.meats else "")
    if found.life in {Life.OFF, Life.WAITING}:
        return found
    if live is None:
        return replace(found, rise=rise_words(rise_by_hand(whole.checks_of(piece), now), system))
    number = show(live.value, Dimension.TEMPERATURE, system)
    rise = rise_words(live.rise, system)
    return replace(found, number=number, words=f"{found.words} · live", rise=rise)


def with_below(
    pieces: Sequence[PieceNow], found: Sequence[Below], system: UnitSystem, zone: str, now: datetime
) -> list[PieceNow]:
    """Return pieces with what is said of those that were measured colder than is asked."""
    said = {one.piece_id: one.shortly(system, zone, now) for one in found}
    return [replace(one, below=said.get(one.piece.id, ())) for one in pieces]


def below_words(pieces: Sequence[PieceNow]) -> str:
    """Return a sentence on those among some pieces that were measured colder than is asked.

    Empty where there are none: "A1: 165 °F not reached: 151 °F at 13:20. ".
    """
    cold = [one for one in pieces if one.below]
    if len(cold) == 1:
        return f"{cold[0].piece.label}: {cold[0].below[0]}. "
    by_words: dict[str, list[str]] = {}
    for one in cold:
        by_words.setdefault(one.below[-1], []).append(one.piece.label)
    return "".join(f"{', '.join(labels)}: {words}. " for words, labels in by_words.items())


def rise_words(rise: float | None, system: UnitSystem) -> str:
    """Return how a piece rises: "+2.1° in 10 min", with a true minus; "–" where not known."""
    if rise is None:
        return "–"
    shown = to_display(rise, difference_of(Dimension.TEMPERATURE), system)
    return f"{figure(shown, 1, signed=True)}° in 10 min"


_URGENT = {Life.OVER: 0, Life.RIGHT: 1}


def in_order(pieces: Sequence[PieceNow], due: Sequence[str]) -> list[PieceNow]:
    """Return the pieces with those to act on first: over, right, due; else as they lie.

    Nothing but a tap of the cook's or a thing that falls due changes the order, so that no card
    moves away under a finger.
    """

    def urgency(now: PieceNow) -> int:
        if now.life is Life.OFF:
            return 4
        return _URGENT.get(now.life, 2 if now.piece.id in due else 3)

    return sorted(pieces, key=urgency)


def _by_hand(whole: WholeCook, piece: Piece, system: UnitSystem, now: datetime) -> PieceNow:
    arm = whole.arm_index(piece.arm_id)
    zone = whole.cook.zone
    on, off = whole.first(EventKind.ON, piece), whole.last(EventKind.OFF, piece)
    checks = whole.checks_of(piece)
    last = checks[-1] if checks else None
    number = ""
    if last is not None and last.internal is not None:
        number = show(last.internal, Dimension.TEMPERATURE, system)
    if on is None and off is None:
        return PieceNow(piece, arm, Life.WAITING, number, "not on yet")
    feels = [check for check in checks if check.feel is not None]
    felt = feel_of(feels[-1].feel or 0) if feels else None
    if off is not None:
        said = f"off at {show_moment(off.happened_at, zone, now)}"
        if felt is Feel.RIGHT:
            said += ", while right"
        return PieceNow(piece, arm, Life.OFF, number, said)
    if felt is None:
        said = f"on since {show_moment(on.happened_at, zone, now)}" if on else ""
        probed = f"probed {show_moment(last.at, zone, now)}" if last else said
        return PieceNow(piece, arm, Life.ON, number, probed)
    if felt is Feel.RIGHT:
        first = next(c for c in feels if feel_of(c.feel or 0) is Feel.RIGHT)
        said = f"right since {show_moment(first.at, zone, now)}"
        return PieceNow(piece, arm, Life.RIGHT, number, said)
    life = Life.OVER if felt is Feel.OVER else Life.ON
    return PieceNow(piece, arm, life, number, f"{felt} at {show_moment(feels[-1].at, zone, now)}")


_ON_THE_WAY = frozenset(
    {StepKind.SWAP, StepKind.PROBE, *UNDER_THE_LID - {EventKind.LID, EventKind.GLAZE}}
)
"""Steps that wait once meat was felt to be right: it comes off, whatever a plan still says."""


def next_due(whole: WholeCook, now: datetime, pieces: Sequence[PieceNow]) -> Due:
    """Return the next thing to do."""
    planned = due(whole.events)
    right = any(piece.life in _URGENT for piece in pieces)
    first = _first(whole, planned, now) if planned else None
    if first is not None and not (right and first.kind in _ON_THE_WAY):
        return _planned(whole, first, now)
    if not whole.happened(EventKind.LIT) and not whole.happened(EventKind.ON):
        start = whole.cook.starts_at
        said = f"Meat on at about {show_moment(start, whole.cook.zone, now)}."
        return Due("Light the fire", said if start > now else "Then put the meat on.", "lit")
    waiting = [p for p in pieces if p.life is Life.WAITING]
    if waiting and len(waiting) == len(pieces):
        return Due("Put the meat on", "When the pit is steady and the meat is weighed.", "on")
    there = [p for p in pieces if p.life in {Life.ON, Life.RIGHT, Life.OVER}]
    if not there:
        words = f"{below_words(pieces)}Weigh the pieces, rest them, then taste."
        return Due("Everything is off", words, "weigh")
    return _probing(whole, now, there)


def _planned(whole: WholeCook, event: Event, now: datetime) -> Due:
    assert event.planned_at is not None
    ahead = (now - event.planned_at).total_seconds()
    every = not event.pieces or len(event.pieces) == len(whole.pieces)
    said = _BOX_WORDS.get(event.kind, event.kind.capitalize())
    what = said + ("" if every else f" {named_pieces(whole, event.pieces)}")
    late = _late(whole, event, now)
    if late:
        return Due(f"{what}: late", late, event.kind, event.pieces)
    if ahead > 60:
        return Due(f"{what}: overdue", f"It was due {show_ago(ahead)}.", event.kind, event.pieces)
    by = f" {event.by} does it." if event.by else ""
    at = show_moment(event.planned_at, whole.cook.zone, now)
    when = f", {at}" if " " in at else f" at {at}"  # "tomorrow 11:35", or "11:35"
    return Due(f"{what}{when}", f"Due {show_ago(ahead)}.{by}", event.kind, event.pieces)


_BOX_WORDS: Mapping[str, str] = {EventKind.BOXED: "Build the box for", StepKind.WALK: "Walk over"}
"""What is done with a box, as the next thing to do."""


def _first(whole: WholeCook, planned: Sequence[Event], now: datetime) -> Event:
    """Return what comes first: a box whose window is open goes before all else."""
    for step in planned:
        turn_in = turn_in_of(whole, step) if step.kind in _TO_THE_TABLE else None
        opens = turn_in.category.opens if turn_in is not None else None
        if opens is not None and now >= opens:
            return step
    return planned[0]


_TO_THE_TABLE = frozenset({*BOX_STEPS, StepKind.TURN_IN})


def _late(whole: WholeCook, step: Event, now: datetime) -> str:
    """Say that a box that is still here has missed its window; empty while it has not."""
    turn_in = turn_in_of(whole, step) if step.kind in _TO_THE_TABLE else None
    closes = turn_in.category.closes if turn_in is not None else None
    if closes is None or now <= closes:
        return ""
    clock = show_time(closes, whole.cook.zone)
    return f"The window closed at {clock}, {show_ago((now - closes).total_seconds())}."


def _probing(whole: WholeCook, now: datetime, there: Sequence[PieceNow]) -> Due:
    over = [p for p in there if p.life is Life.OVER]
    if over:
        names = ", ".join(p.piece.label for p in over[:6])
        ids = tuple(p.piece.id for p in over)
        return Due(f"{names}: over, take off", "It does not get better on the fire.", "off", ids)
    probed = {p.piece.id: whole.checks_of(p.piece) for p in there}
    late = [
        p for p in there if probed[p.piece.id] and now - probed[p.piece.id][-1].at > PROBE_AGAIN
    ]
    if late:
        names = ", ".join(p.piece.label for p in late[:6])
        ids = tuple(p.piece.id for p in late)
        words = "A check each quarter of an hour shows how long it stays right."
        return Due(f"Probe {names} again", words, "feel", ids)
    right = [p for p in there if p.life is Life.RIGHT]
    if right and asks_leeway(whole):
        return _leave_on(right, there)
    if right and len(right) == len(there) and len(there) > 1:
        words = "Leave one piece on past right if you want to know how long it stays right."
        words = below_words(right) or words
        return Due("All are right: take them off", words, "off")
    if right:
        names = ", ".join(p.piece.label for p in right[:6])
        ids = tuple(p.piece.id for p in right)
        words = below_words(right) or "Off when you like, or on to see how long it lasts."
        return Due(f"{names}: right", words, "off", ids)
    return Due("Nothing is due", "Tap what you do; each tap is one saved event.")


_LEEWAY_WORDS = ("leeway", "forgiv", "stay right", "stays right", "window", "how long")


def asks_leeway(whole: WholeCook) -> bool:
    """Whether the cook asks how long the meat stays right: by its outcome, or in its question."""
    said = whole.cook.question.casefold()
    return (whole.cook.outcome or "").startswith("leeway") or any(w in said for w in _LEEWAY_WORDS)


def _leave_on(right: Sequence[PieceNow], there: Sequence[PieceNow]) -> Due:
    """Return that the last piece of each arm stays on past right, and the others may come off."""
    last = {now.piece.arm_id: now for now in there}
    stay = list(last.values())
    ids = {now.piece.id for now in stay}
    off = [now for now in right if now.piece.id not in ids]
    names = ", ".join(now.piece.label for now in stay[:6])
    why = "Only a piece left on past right shows how long it stays right."
    if off:
        heading = f"{', '.join(now.piece.label for now in off[:6])}: right, take off"
        return Due(heading, f"Leave {names} on. {why}", "off", tuple(now.piece.id for now in off))
    return Due(f"Leave {names} on past right", why)


LONG_AGO = timedelta(hours=16)
"""A cook in which nothing happened for so long was that of another day."""


def span_of(whole: WholeCook, now: datetime) -> tuple[datetime, datetime] | None:
    """Return from when to when a cook of another day was; None for one of now.

    Notes of yesterday are typed in today, and "17:00" is then yesterday's.
    """
    happened = [e.happened_at for e in whole.events if e.happened_at is not None]
    happened += [check.at for check in whole.checks]
    if not happened:
        happened = [whole.cook.starts_at]
    low, high = min(happened), max(happened)
    done = whole.cook.status is CookStatus.DONE
    return (low, high) if done or now - high > LONG_AGO else None


def running_time(whole: WholeCook, now: datetime) -> str:
    """Return how long the meat has been on: "5 h 12 min on"."""
    on = time_on(whole.events, [piece.id for piece in whole.pieces], now)
    if on is None:
        lit = whole.first(EventKind.LIT)
        if lit is None or lit.happened_at is None:
            return "not lit yet"
        return f"lit {show_ago((now - lit.happened_at).total_seconds())}"
    return f"{show(on.total_seconds(), Dimension.DURATION, UnitSystem.US)} on"
