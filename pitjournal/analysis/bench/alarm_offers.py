"""Alarms that a cook is likely to want now, ready to be set with one tap."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from pitjournal.domain.alarm import (
    AFTER_FUEL,
    AFTER_PROBE,
    PROBE_EARLY,
    Alarm,
    AlarmKind,
    Watched,
)
from pitjournal.domain.cuts import usual_of
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.times.moments import show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.first_letter import capital

MINUTES = (5, 10, 20, 30, 45, 60)
AFTER: Sequence[tuple[EventKind, int]] = (
    (EventKind.SPRITZ, 30),
    (EventKind.SPRITZ, 45),
    (EventKind.WRAP, 60),
    (EventKind.ON, 120),
)
"""Minutes after the last of each: the usual spans (common practice, no source)."""

PROBE_AGAIN, REFUEL = 15, 60
"""Minutes from one probe, or one load of fuel, to the next (common practice, no source)."""

BEFORE_OFF = 30
"""Minutes before a piece comes off in which to make the rest ready (common practice, no source)."""

WRAP_AT = (160.0 - 32.0) / 1.8
"""The usual internal temperature at the wrap, °C (common practice, no source)."""

PIT_BAND = 15.0 / 1.8
"""A pit this far either side of its set point, K, wants a look: 15 °F, as in the findings."""

COLD, HOT = (40.0 - 32.0) / 1.8, (140.0 - 32.0) / 1.8
"""Food is out of the cold above 40 °F, and out of the warm below 140 °F, °C."""

SOURCE = "USDA FSIS press release of 30 May 2016, Danger Zone (40 to 140 °F)"


@dataclass(frozen=True)
class Offer:
    """Alarms that one tap sets, in two lines of words."""

    text: str
    below: str
    alarms: tuple[Alarm, ...]

    @property
    def label(self) -> str:
        """What the tap does, as Undo says it."""
        return f"Alarm: {self.alarms[0].words}"


def offers(
    whole: WholeCook, now: datetime, chosen: Sequence[str], system: UnitSystem
) -> Mapping[str, tuple[Offer, ...]]:
    """Return offers by what they wait for; those on a temperature are for the chosen pieces.

    Parameters
    ----------
    whole
        The cook, with all its records.
    now
        The time, aware.
    chosen
        Ids of the pieces chosen; none chosen are all.
    system
        The units of the words.
    """
    pieces = [p for p in whole.pieces if not chosen or p.id in chosen]
    found = {
        "In": tuple(_in(whole, now)),
        "After the last": tuple(_after(whole, now)),
        "As planned": tuple(_planned(whole, now)),
        "By the forecast": tuple(_before_off(whole, now, pieces)),
        "On a temperature": tuple(_levels(whole, now, pieces, system)),
    }
    return {heading: some for heading, some in found.items() if some}


def show_level(level: float, system: UnitSystem) -> str:
    """Return a temperature, °C, as a limit is said: "60 °C", not "60.0 °C"."""
    return show(level, Dimension.TEMPERATURE, system).replace(".0 ", " ")


def _in(whole: WholeCook, now: datetime) -> Iterator[Offer]:
    for minutes in MINUTES:
        at = now + timedelta(minutes=minutes)
        text = show(60.0 * minutes, Dimension.DURATION, UnitSystem.US)
        clock = show_time(at, whole.cook.zone)
        yield Offer(text, clock, (_at(whole, now, at, f"{text} are over"),))


def _at(whole: WholeCook, now: datetime, at: datetime, words: str, does: str = "") -> Alarm:
    return Alarm(
        cook_id=whole.cook.id, kind=AlarmKind.AT, words=words, set_at=now, at=at, does=does
    )


def _after(whole: WholeCook, now: datetime) -> Iterator[Offer]:
    for kind, minutes in AFTER:
        span = show(60.0 * minutes, Dimension.DURATION, UnitSystem.US)
        happened = whole.happened(kind)
        if not happened and kind is not EventKind.SPRITZ:
            continue
        again = kind is EventKind.SPRITZ
        words = f"{kind.capitalize()}: {span} after the last" if again else f"{span} after {kind}"
        alarm = Alarm(
            cook_id=whole.cook.id,
            kind=AlarmKind.AFTER,
            words=words,
            set_at=now,
            after=60.0 * minutes,
            after_kind=kind,
            does=kind if again else "",
        )
        yield Offer(f"{kind.capitalize()}", f"+ {span}", (alarm,))
    if whole.checks:
        yield _again(whole, now, AFTER_PROBE, PROBE_AGAIN, "Probe again", "feel")
    if whole.fuel_loads:
        yield _again(whole, now, AFTER_FUEL, REFUEL, "Refuel", EventKind.LIT)


def _again(  # noqa: PLR0917 - one alarm: a bundle would hide it
    whole: WholeCook, now: datetime, kind: str, minutes: int, what: str, does: str
) -> Offer:
    span = show(60.0 * minutes, Dimension.DURATION, UnitSystem.US)
    alarm = Alarm(
        cook_id=whole.cook.id,
        kind=AlarmKind.AFTER,
        words=f"{what}: {span} after the last",
        set_at=now,
        after=60.0 * minutes,
        after_kind=kind,
        does=does,
    )
    return Offer(what.split(maxsplit=1)[0], f"+ {span}", (alarm,))


def _planned(whole: WholeCook, now: datetime) -> Iterator[Offer]:
    ahead = [
        (event.planned_at, event.kind)
        for event in whole.events
        if event.happened_at is None and event.planned_at is not None and event.planned_at > now
    ]
    for at, kind in sorted(ahead)[:4]:
        what = capital(kind)
        clock = show_time(at, whole.cook.zone)
        yield Offer(what, clock, (_at(whole, now, at, f"{what} at {clock}", kind),))


def _before_off(whole: WholeCook, now: datetime, pieces: Sequence[Piece]) -> Iterator[Offer]:
    """Offer to be told before pieces that are on, and have a probe, come off."""
    probed = [
        piece
        for piece in pieces
        if whole.first(EventKind.ON, piece) is not None
        and whole.last(EventKind.OFF, piece) is None
        and whole.meat_trace(piece) is not None
    ]
    if not probed or whole.pit_trace is None:
        return
    span = show(60.0 * BEFORE_OFF, Dimension.DURATION, UnitSystem.US)
    alarms = tuple(
        Alarm(
            cook_id=whole.cook.id,
            kind=AlarmKind.BEFORE_OFF,
            words=f"{span} before it comes off",
            set_at=now,
            after=60.0 * BEFORE_OFF,
            watched=Watched.PIECE,
            piece_id=piece.id,
            does="off",
        )
        for piece in probed
    )
    yield Offer("Comes off", f"{span} before", alarms)


def _levels(
    whole: WholeCook, now: datetime, pieces: Sequence[Piece], system: UnitSystem
) -> Iterator[Offer]:
    comes_off = [(piece, usual_of(piece.cut)) for piece in pieces]
    probing = [(p, usual.off.low - PROBE_EARLY) for p, usual in comes_off if usual is not None]
    if probing:
        text = show_level(min(level for _, level in probing), system)
        alarms = tuple(
            _reaches(whole, now, p, level, "Start probing", "feel", system) for p, level in probing
        )
        yield Offer("Probe", f"at {text}", alarms)
    if pieces:
        text = show_level(WRAP_AT, system)
        alarms = tuple(_reaches(whole, now, p, WRAP_AT, "Wrap", "wrap", system) for p in pieces)
        yield Offer("Wrap", f"at {text}", alarms)
    if whole.cook.set_point is not None:
        yield _band(whole, now, whole.cook.set_point, system)
    yield from _holds(whole, now, pieces, system)


def _reaches(  # noqa: PLR0917 - one alarm: a bundle would hide it
    whole: WholeCook,
    now: datetime,
    piece: Piece,
    level: float,
    what: str,
    does: str,
    system: UnitSystem,
) -> Alarm:
    return Alarm(
        cook_id=whole.cook.id,
        kind=AlarmKind.REACHES,
        words=f"{what}: {show_level(level, system)} reached",
        set_at=now,
        watched=Watched.PIECE,
        piece_id=piece.id,
        high=level,
        does=does,
    )


def _band(whole: WholeCook, now: datetime, set_point: float, system: UnitSystem) -> Offer:
    low, high = set_point - PIT_BAND, set_point + PIT_BAND
    bare = show_level(low, system).split()[0]
    text = f"{bare}–{show_level(high, system)}"
    alarm = Alarm(
        cook_id=whole.cook.id,
        kind=AlarmKind.LEAVES,
        words=f"Pit outside {text}",
        set_at=now,
        watched=Watched.PIT,
        low=low,
        high=high,
    )
    return Offer("Pit", text, (alarm,))


def _holds(
    whole: WholeCook, now: datetime, pieces: Sequence[Piece], system: UnitSystem
) -> Iterator[Offer]:
    for what, side, level in (("Cold hold", "over", COLD), ("Hot hold", "under", HOT)):
        limit = show_level(level, system)
        alarms = tuple(
            Alarm(
                cook_id=whole.cook.id,
                kind=AlarmKind.LEAVES,
                words=f"{what} {side} {limit}",
                set_at=now,
                watched=Watched.PIECE,
                piece_id=piece.id,
                low=level if side == "under" else None,
                high=level if side == "over" else None,
                source=SOURCE,
            )
            for piece in pieces
        )
        if alarms:
            yield Offer(what, f"{side} {limit}", alarms)
