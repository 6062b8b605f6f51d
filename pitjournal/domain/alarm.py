"""Alarms of a cook: when one is due, and what it is then.

An alarm keeps which due moment was heard, done or put off, not when that was tapped: a
logger's clock that runs ahead or behind cannot make it ring twice, or never. To hear an
alarm is not to do what it is for.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from typing import ClassVar

from pitjournal.domain.plausible import impossible
from pitjournal.domain.record import Measured

RING_EVERY = 5.0
"""An alarm that nobody has heard sounds again after this many seconds."""

PUT_OFF = timedelta(minutes=10)

PROBE_EARLY = 10.0 / 1.8
"""Start probing this much, K, before the piece may be right: 10 °F (common practice, no source)."""

AFTER_PROBE, AFTER_FUEL = "probe", "fuel"
"""What an alarm may follow that is no event of the log: a probe by hand, a load of fuel."""


class AlarmKind(StrEnum):
    """What makes an alarm due."""

    AT = "at a time"
    AFTER = "after an event"
    REACHES = "reaches"
    LEAVES = "leaves"
    BEFORE_OFF = "before it comes off"


class Watched(StrEnum):
    """Whose temperature an alarm looks at."""

    PIT = "pit"
    PIECE = "piece"
    PROBE = "probe"


@dataclass(frozen=True, kw_only=True)
class Alarm(Measured):
    """Something to be told of.

    AT is due at `at`. AFTER is due `after` s after the last event of `after_kind` (or the
    last probe, or load of fuel), and so again after each one. REACHES is due when a temperature first is `high` °C or more, LEAVES
    each time it goes below `low` or above `high`; with both it waits until the temperature
    has once been between them. BEFORE_OFF is due `after` s before a piece most likely comes off;
    it follows the forecast as that moves, and once it was heard it is never due again.

    `does` is the event or the tap that does what it is for; `source` is where a limit stands.
    `heard`, `done` are the last due moments that were heard and done; until `later` it is
    silent.
    """

    KIND: ClassVar[str] = "alarm"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook", "piece_id": "piece"}
    LOOSE: ClassVar[Mapping[str, str]] = {"trace_id": "trace"}

    cook_id: str
    kind: AlarmKind
    words: str
    set_at: datetime
    at: datetime | None = None
    after: float | None = None
    after_kind: str = ""
    watched: Watched = Watched.PIT
    piece_id: str | None = None
    trace_id: str | None = None
    low: float | None = None
    high: float | None = None
    does: str = ""
    source: str = ""
    heard: datetime | None = None
    done: datetime | None = None
    later: datetime | None = None

    @property
    def on_temperature(self) -> bool:
        """Whether a temperature makes it due."""
        return self.kind in {AlarmKind.REACHES, AlarmKind.LEAVES}


class AlarmState(StrEnum):
    """Where an alarm is."""

    WAITING = "waiting"
    RINGING = "ringing"
    LATER = "put off"
    HEARD = "heard, not done"
    DONE = "done"
    UNKNOWN = "unknown"


def state_at(alarm: Alarm, due: datetime | None, now: datetime) -> AlarmState:
    """Return where an alarm that is due at a moment (None: not yet known) is now."""
    if alarm.kind is AlarmKind.BEFORE_OFF:
        due = alarm.heard or due
    if due is None or now < due:
        return AlarmState.WAITING
    if alarm.done is not None and alarm.done >= due:
        return AlarmState.DONE
    if alarm.heard is not None and alarm.heard >= due:
        return AlarmState.HEARD
    if alarm.later is not None and now < alarm.later:
        return AlarmState.LATER
    return AlarmState.RINGING


_QUANTITIES = ("after", "low", "high")


def impossible_alarm(alarm: Alarm) -> str:
    """Return why an alarm could never be due, or an empty text."""
    if timeless := _timeless(alarm):
        return timeless
    if alarm.kind is AlarmKind.REACHES and alarm.high is None:
        return "Say which temperature."
    if alarm.kind is AlarmKind.LEAVES:
        if alarm.low is None and alarm.high is None:
            return "Say below or above which temperature."
        if alarm.low is not None and alarm.high is not None and alarm.low >= alarm.high:
            return "The lower limit must be below the upper one."
    tried = (impossible(alarm.KIND, name, getattr(alarm, name)) for name in _QUANTITIES)
    return next(filter(None, tried), "")


def _timeless(alarm: Alarm) -> str:
    """Return why an alarm by the clock, an event or a forecast could never be due."""
    if alarm.kind is AlarmKind.AT and alarm.at is None:
        return "Say at what time."
    if alarm.kind is AlarmKind.AFTER and (not alarm.after_kind or not alarm.after):
        return "Say how long after what."
    if alarm.kind is AlarmKind.BEFORE_OFF and (alarm.piece_id is None or not alarm.after):
        return "Say how long before which piece comes off."
    return ""
