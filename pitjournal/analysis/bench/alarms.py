"""Where the alarms of a cook are now: a clock, the events and the readings in, a state out."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from pitjournal.analysis.bench.windows import with_windows
from pitjournal.analysis.traces.readings import Readings, samples_of
from pitjournal.domain.alarm import (
    AFTER_FUEL,
    AFTER_PROBE,
    Alarm,
    AlarmKind,
    AlarmState,
    Watched,
    state_at,
)
from pitjournal.domain.event import EventKind
from pitjournal.domain.trace import Trace
from pitjournal.domain.treatment import FuelStage
from pitjournal.domain.whole_cook import WholeCook

if TYPE_CHECKING:
    from pitjournal.analysis.traces.features import Array

SILENT_AFTER = 300.0
"""A probe that has said nothing for so long, s, leaves its alarm unknown."""

BACK = 1.0
"""A temperature is back within its limits only this far inside them, K: no flutter at a limit."""


EXACT = 0.01
"""Readings lie in single precision and levels are typed in °F: this near, K, is the same."""


@dataclass(frozen=True)
class AlarmNow:
    """An alarm as it is now.

    Attributes
    ----------
    due
        The moment it is or was due; None while that is open.
    reading, read_at
        The last temperature it looks at, °C, and when that was; None without one.
    over
        The temperature has come back since, so that there may be nothing left to do.
    """

    alarm: Alarm
    state: AlarmState
    due: datetime | None = None
    reading: float | None = None
    read_at: datetime | None = None
    over: bool = False

    @property
    def done(self) -> bool:
        """Whether what it is for was done, also ahead of its time."""
        said = self.alarm.done
        return said is not None and self.due is not None and said >= self.due

    @property
    def is_open(self) -> bool:
        """Whether it is due and not done."""
        return self.state in {AlarmState.RINGING, AlarmState.HEARD, AlarmState.LATER}


@dataclass(frozen=True)
class Crossing:
    """When a temperature passed a limit, s since 1970, and whether it has come back since."""

    start: float
    over: bool = False


def alarms_now(
    whole: WholeCook,
    readings: Readings,
    now: datetime,
    before_off: Mapping[str, datetime] | None = None,
) -> tuple[AlarmNow, ...]:
    """Return a cook's alarms, and those of its turn-in windows: what rings first, then by time.

    Parameters
    ----------
    whole
        The cook, with all its records.
    readings
        Gives a trace's samples: °C over s since 1970.
    now
        The time, aware.
    before_off
        When alarms that follow a forecast are due, by their ids; those it lacks are not known.
    """
    moments = before_off or {}
    found = [
        before_off_now(alarm, whole, moments.get(alarm.id), now)
        if alarm.kind is AlarmKind.BEFORE_OFF
        else alarm_now(alarm, whole, readings, now)
        for alarm in with_windows(whole, now)
    ]
    late = datetime.max.replace(tzinfo=UTC)
    ringing = AlarmState.RINGING
    return tuple(sorted(found, key=lambda a: (a.state is not ringing, a.due or late, a.alarm.id)))


def alarm_now(alarm: Alarm, whole: WholeCook, readings: Readings, now: datetime) -> AlarmNow:
    """Return where one alarm is.

    Parameters
    ----------
    alarm
        What is to be told of.
    whole
        The cook, with all its records.
    readings
        Gives a trace's samples: °C over s since 1970.
    now
        The time, aware.
    """
    if not alarm.on_temperature:
        due = clock_due(alarm, whole)
        return AlarmNow(alarm, state_at(alarm, due, now), due)
    seen = _seen(alarm, whole, readings)
    if seen is None:
        return AlarmNow(alarm, AlarmState.UNKNOWN)
    times, values = seen
    reading, read_at = float(values[-1]), datetime.fromtimestamp(float(times[-1]), UTC)
    since = alarm.set_at.timestamp()
    if alarm.kind is AlarmKind.REACHES:
        crossing = first_reached(times, values, alarm.high, since)
    else:
        crossing = last_left(times, values, alarm.low, alarm.high, since)
    due = None if crossing is None else datetime.fromtimestamp(crossing.start, UTC)
    # A logger whose clock runs ahead has seen it already: it is due, whatever its clock says.
    state = state_at(alarm, due, now if due is None else max(now, due))
    over = crossing is not None and crossing.over
    if over and state in {AlarmState.HEARD, AlarmState.DONE}:
        state = AlarmState.WAITING
    silent = (now - read_at).total_seconds() > SILENT_AFTER
    if silent and state is AlarmState.WAITING:
        state = AlarmState.UNKNOWN
    return AlarmNow(alarm, state, due, reading, read_at, over)


def before_off_now(alarm: Alarm, whole: WholeCook, due: datetime | None, now: datetime) -> AlarmNow:
    """Return where an alarm before a piece comes off is; done once the piece is off.

    Parameters
    ----------
    alarm, whole
        What is to be told of, and its cook.
    due
        When it is due by the forecast; None where there is no forecast.
    now
        The time, aware.
    """
    piece = next((p for p in whole.pieces if p.id == alarm.piece_id), None)
    if piece is not None and whole.last(EventKind.OFF, piece) is not None:
        return AlarmNow(alarm, AlarmState.DONE, alarm.heard)
    if due is None and alarm.heard is None:
        return AlarmNow(alarm, AlarmState.UNKNOWN)
    return AlarmNow(alarm, state_at(alarm, due, now), alarm.heard or due)


def clock_due(alarm: Alarm, whole: WholeCook) -> datetime | None:
    """Return when an alarm at a time, or after an event, is due; None while that is open."""
    if alarm.kind is AlarmKind.AT:
        return alarm.at
    last = max(_moments(alarm.after_kind, whole), default=None)
    if last is None or alarm.after is None:
        return None
    return last + timedelta(seconds=alarm.after)


def _moments(kind: str, whole: WholeCook) -> Iterator[datetime]:
    """Yield when something happened that an alarm may follow."""
    if kind == AFTER_PROBE:
        yield from (check.at for check in whole.checks)
    elif kind == AFTER_FUEL:
        fed = {FuelStage.IN, FuelStage.ADDED}
        yield from (load.at for load in whole.fuel_loads if load.at and load.stage in fed)
    else:
        yield from (event.happened_at for event in whole.happened(kind) if event.happened_at)


def watched_traces(alarm: Alarm, whole: WholeCook) -> tuple[Trace, ...]:
    """Return the traces an alarm looks at."""
    if alarm.watched is Watched.PROBE:
        return tuple(trace for trace in whole.traces if trace.id == alarm.trace_id)
    if alarm.watched is Watched.PIT:
        return (whole.pit_trace,) if whole.pit_trace is not None else ()
    piece = next((p for p in whole.pieces if p.id == alarm.piece_id), None)
    trace = whole.meat_trace(piece) if piece is not None else None
    return (trace,) if trace is not None else ()


def _seen(alarm: Alarm, whole: WholeCook, readings: Readings) -> "tuple[Array, Array] | None":
    """Return what an alarm looks at in time order: a trace, and a piece's probes by hand."""
    import numpy as np

    times: list[Array] = []
    values: list[Array] = []
    for trace in watched_traces(alarm, whole):
        samples = samples_of(trace, readings)
        if samples is not None and samples.times.size:
            times.append(samples.times)
            values.append(samples.values.astype(np.float64))
    by_hand = list(_by_hand(alarm, whole))
    if by_hand:
        times.append(np.array([at for at, _ in by_hand]))
        values.append(np.array([value for _, value in by_hand]))
    if not times:
        return None
    moments, readings_c = np.concatenate(times), np.concatenate(values)
    if bool((np.diff(moments) >= 0).all()):
        return moments, readings_c
    order = np.argsort(moments, kind="stable")
    return moments[order], readings_c[order]


def _by_hand(alarm: Alarm, whole: WholeCook) -> Iterator[tuple[float, float]]:
    if alarm.watched is Watched.PIECE:
        for check in whole.checks:
            if check.piece_id == alarm.piece_id and check.internal is not None:
                yield check.at.timestamp(), check.internal


def _since(times: "Array", since: float) -> int:
    """Return the place of the first reading that counts: the last one before `since`, if fresh."""
    import numpy as np

    first = int(np.searchsorted(times, since))
    return first - 1 if first and since - times[first - 1] <= SILENT_AFTER else first


def first_reached(
    times: "Array", values: "Array", level: float | None, since: float
) -> Crossing | None:
    """Return when a temperature first was a level, °C, or more.

    Parameters
    ----------
    times, values
        s since 1970, rising, and °C, shape (n,).
    level
        °C; None is no limit.
    since
        Readings before it do not count, but for the last one.
    """
    import numpy as np

    if level is None:
        return None
    start = _since(times, since)
    above = np.flatnonzero(values[start:] >= level - EXACT)
    return Crossing(max(float(times[start + above[0]]), since)) if above.size else None


def last_left(
    times: "Array", values: "Array", low: float | None, high: float | None, since: float
) -> Crossing | None:
    """Return when a temperature last went beyond its limits, °C, and whether it is back.

    With both limits it must have been between them before. It is back once it is 1 K inside
    (or in the middle of narrower limits).

    Parameters
    ----------
    times
        s since 1970, rising, shape (n,).
    values
        °C, shape (n,).
    low, high
        °C; None where there is no such limit.
    since
        s since 1970; what went before is not looked at.
    """
    import numpy as np

    start = _since(times, since)
    times, values = times[start:], values[start:]
    bottom = -np.inf if low is None else low
    top = np.inf if high is None else high
    beyond = (values < bottom - EXACT) | (values > top + EXACT)
    back = min(BACK, (top - bottom) / 2)
    inside = (values >= bottom + back) & (values <= top - back)
    if low is not None and high is not None:
        within = np.flatnonzero(~beyond)
        if not within.size:
            return None
        beyond[: within[0]] = False
    places = np.flatnonzero(beyond)
    if not places.size:
        return None
    last = places[-1]
    before = np.flatnonzero(inside[:last])
    first = places[places > before[-1]][0] if before.size else places[0]
    return Crossing(max(float(times[first]), since), bool(inside[last:].any()))


def grouped(found: Sequence[AlarmNow]) -> list[list[AlarmNow]]:
    """Return alarms that say the same together, in the order of the first of each."""
    groups: dict[tuple[str, AlarmState], list[AlarmNow]] = {}
    for one in found:
        groups.setdefault((one.alarm.words, one.state), []).append(one)
    return list(groups.values())
