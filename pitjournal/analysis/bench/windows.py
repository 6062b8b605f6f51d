"""Turn-in windows ring by themselves: the window opens, five minutes are left, it closes.

Nobody sets these alarms. They are made from the categories a cook is for, so they follow the
times of the contest, and end when the box is turned in. What was answered is kept as any alarm's.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from uuid import NAMESPACE_OID, uuid5

from pitjournal.domain.alarm import Alarm, AlarmKind
from pitjournal.domain.contest import TurnIn
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.day.turn_in import BEFORE_CLOSING, handed_in, pieces_for
from pitjournal.domain.times.moments import show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.first_letter import capital

NEVER_TOLD = timedelta(hours=3)
"""A window that closed so long ago is over, whatever was tapped."""

OPENS, NEARLY, CLOSES = "opens", "five minutes", "closes"


def window_alarm_id(category_id: str, moment: str) -> str:
    """Return the id of an alarm of a window: the same each time it is made."""
    return str(uuid5(NAMESPACE_OID, f"{category_id}:{moment}"))


def category_of_alarm(whole: WholeCook, alarm_id: str) -> TurnIn | None:
    """Return the category whose window an alarm is of; None for any other alarm."""
    return next(
        (
            turn_in
            for turn_in in whole.turn_ins
            if alarm_id in {window_alarm_id(turn_in.category.id, m) for m in _MOMENTS}
        ),
        None,
    )


def with_windows(whole: WholeCook, now: datetime) -> tuple[Alarm, ...]:
    """Return a cook's alarms with those of its windows, as they were answered.

    Parameters
    ----------
    whole
        The cook, with all its records.
    now
        The time, aware.
    """
    kept = {alarm.id: alarm for alarm in whole.alarms}
    of_windows = {
        window_alarm_id(turn_in.category.id, moment)
        for turn_in in whole.turn_ins
        for moment in _MOMENTS
    }
    own = tuple(alarm for alarm in whole.alarms if alarm.id not in of_windows)
    if whole.cook.status is CookStatus.DONE:
        return own
    return (*own, *(_answered(one, kept) for one in _of_windows(whole, now)))


def _answered(made: Alarm, kept: Mapping[str, Alarm]) -> Alarm:
    old = kept.get(made.id)
    if old is None:
        return made
    return replace(made, heard=old.heard, done=old.done, later=old.later)


def _of_windows(whole: WholeCook, now: datetime) -> Iterator[Alarm]:
    for turn_in in whole.turn_ins:
        closes = turn_in.category.closes or turn_in.category.opens
        if closes is None or now > closes + NEVER_TOLD:
            continue
        if handed_in(whole, turn_in.category.id) is not None:
            continue
        made = list(_moments(whole, turn_in))
        due = [alarm for alarm in made if alarm.at is not None and alarm.at <= now]
        # A later call takes the place of an earlier one: nobody hears three at once.
        yield from (alarm for alarm in made if alarm not in due[:-1])


def _moments(whole: WholeCook, turn_in: TurnIn) -> Iterator[Alarm]:
    category, zone = turn_in.category, turn_in.contest.zone
    opens, closes = category.opens, category.closes
    until = f" until {show_time(closes, zone)}" if closes else ""
    if opens is not None:
        yield _alarm(whole, turn_in, OPENS, opens, f"window open{until}")
    if closes is not None:
        nearly = closes - BEFORE_CLOSING
        if opens is None or nearly > opens:
            said = f"five minutes, closes {show_time(closes, zone)}"
            yield _alarm(whole, turn_in, NEARLY, nearly, said)
        said = f"window closes now, {show_time(closes, zone)}"
        yield _alarm(whole, turn_in, CLOSES, closes, said)


def _alarm(whole: WholeCook, turn_in: TurnIn, moment: str, at: datetime, said: str) -> Alarm:
    return Alarm(
        id=window_alarm_id(turn_in.category.id, moment),
        cook_id=whole.cook.id,
        kind=AlarmKind.AT,
        words=f"{capital(turn_in.category.name)}: {said}",
        source=_what(whole, turn_in),
        set_at=at,
        at=at,
        does=str(StepKind.TURN_IN),
    )


MOST_LABELS = 4


def _what(whole: WholeCook, turn_in: TurnIn) -> str:
    """Return which pieces, and for which contest: "C1 C2, Spring contest"."""
    labels = [piece.label for piece in pieces_for(whole, turn_in.category.id) if piece.label]
    shown = labels[:MOST_LABELS] + (["…"] if len(labels) > MOST_LABELS else [])
    parts = (" ".join(shown), turn_in.contest.name)
    return ", ".join(part for part in parts if part)


_MOMENTS = (OPENS, NEARLY, CLOSES)
