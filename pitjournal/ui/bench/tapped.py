"""From a tap to the event that it logs."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from pitjournal.domain.day.other_day import day_shift, planned_for
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.day.turn_in import turn_in_of
from pitjournal.domain.event import OF_THE_WHOLE_COOK, Event, EventKind
from pitjournal.domain.times.moments import show_day, show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.ui.bench.model import Due, Life, PieceNow
from pitjournal.ui.bench.panels import When
from pitjournal.ui.bench.taps import PANELS
from pitjournal.ui.contest_words import missed_words
from pitjournal.ui.event_words import event_words, named_pieces


def last_wrap(whole: WholeCook) -> str:
    """Return what was wrapped in last, foil at first."""
    last = whole.last(EventKind.WRAP)
    return last.details.get("wrap", "foil") if last else "foil"


def targets(
    whole: WholeCook, chosen: tuple[str, ...], kind: str, pieces: Sequence[PieceNow]
) -> tuple[str, ...]:
    """Return the pieces a tap is for: with all chosen, "off" takes those still on.

    The fire and the lid are the whole cook's, whichever pieces are chosen.
    """
    if kind in OF_THE_WHOLE_COOK:
        return ()
    if chosen or kind not in {EventKind.ON, EventKind.OFF}:
        return chosen
    wanted = {Life.WAITING} if kind == EventKind.ON else {Life.ON, Life.RIGHT, Life.OVER}
    there = tuple(p.piece.id for p in pieces if p.life in wanted)
    return () if len(there) == len(whole.pieces) else there


def due_tap(whole: WholeCook, due: Due, chosen: tuple[str, ...], pieces: Sequence[PieceNow]) -> str:
    """Return which tap does what is next; none where it would do it to other pieces as well."""
    if not due.pieces or due.tap in PANELS:
        return due.tap
    meant = targets(whole, chosen, due.tap, pieces) or tuple(one.id for one in whole.pieces)
    return due.tap if set(meant) <= set(due.pieces) else ""


def logged(
    whole: WholeCook, kind: str, pieces: tuple[str, ...], when: When, now: datetime
) -> LogEvent:
    """Return the command that logs an event, named as the cook says it."""
    event = Event(
        cook_id=whole.cook.id,
        kind=kind,
        happened_at=when.at,
        entered_at=now,
        pieces=pieces,
        uncertainty=when.uncertainty,
        details=when.details,
    )
    at = show_moment(when.at, whole.cook.zone, now)
    said = f"{event_words(event)}, {named_pieces(whole, event.pieces)}, {at}"
    turn_in = turn_in_of(whole, event) if kind == StepKind.TURN_IN else None
    missed = "" if turn_in is None else missed_words(turn_in.category, when.at)
    said += f", {missed}" if missed else ""
    shift = day_shift(whole.cook, planned_for(whole.events, event))
    if shift is not None:
        day = show_day(whole.cook.starts_at + shift, whole.cook.zone)
        said = f"Cook moved to {day}: {said}"
    return LogEvent(event, said)


def last_tapped(whole: WholeCook) -> Event | None:
    """Return the event that was entered last, which can be repeated."""
    happened = [event for event in whole.events if event.happened_at is not None]
    return max(happened, key=lambda event: (event.entered_at, event.id), default=None)


BOUNCE = timedelta(seconds=2)
"""So soon after On a second tap is no Off."""


def just_on(whole: WholeCook, now: datetime) -> bool:
    """Whether the meat went on this moment: a finger or a key that bounced."""
    on = whole.last(EventKind.ON)
    return (
        on is not None
        and on.happened_at is not None
        and timedelta(0) <= now - on.happened_at < BOUNCE
    )


def all_off(whole: WholeCook, chosen: Sequence[str]) -> bool:
    """Whether all of the chosen pieces came off, and none went on again; all where none is."""
    meant = [piece for piece in whole.pieces if not chosen or piece.id in chosen]
    moments = (
        (
            whole.moment_of(EventKind.ON, one, last=True),
            whole.moment_of(EventKind.OFF, one, last=True),
        )
        for one in meant
    )
    return bool(meant) and all(off is not None and off >= (on or off) for on, off in moments)


def all_on(whole: WholeCook, chosen: Sequence[str]) -> bool:
    """Whether all of the chosen pieces went on; all of them where none is chosen."""
    meant = [piece for piece in whole.pieces if not chosen or piece.id in chosen]
    return bool(meant) and all(whole.first(EventKind.ON, piece) is not None for piece in meant)
