"""What the probes say now."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from pitjournal.analysis.bench.alarms import SILENT_AFTER
from pitjournal.analysis.traces.readings import Readings, samples_of
from pitjournal.domain.event import DonenessCheck
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Trace
from pitjournal.domain.whole_cook import WholeCook

PIT = "pit"

TEN_MINUTES = 600.0
LOOK_BACK, LEAST_SPAN, BY_HAND = 1200.0, 300.0, 7200.0
"""A slope is that of the last twenty minutes, of at least five; by hand of two hours, s."""

LEAST_READINGS = 3


@dataclass(frozen=True)
class Live:
    """A reading of now, °C, when it was taken, and how it rises; `rise` is K in ten minutes.

    `rise` is None while too few readings of the last minutes are there.
    """

    value: float
    at: datetime
    rise: float | None = None


def live_of(whole: WholeCook, readings: Readings, now: datetime) -> dict[str, Live]:
    """Return what the probes say by the id of their piece, and the pit's as "pit".

    A probe that has said nothing for five minutes is not there.

    Parameters
    ----------
    whole
        The cook, with all its records.
    readings
        Gives a trace's samples: °C over s since 1970.
    now
        The time, aware.
    """
    wanted = [(piece.id, whole.meat_trace(piece)) for piece in whole.pieces]
    found = {}
    for name, trace in [*wanted, (PIT, whole.pit_trace)]:
        live = _last(trace, readings, now)
        if live is not None:
            found[name] = live
    return found


def _last(trace: Trace | None, readings: Readings, now: datetime) -> Live | None:
    if trace is None or (now - trace.ends_at).total_seconds() > SILENT_AFTER + abs(trace.shift):
        return None
    samples = samples_of(trace, readings)
    if samples is None or not samples.times.size:
        return None
    place = int(samples.times.argmax())
    at = datetime.fromtimestamp(float(samples.times[place]), UTC)
    near = abs((now - at).total_seconds()) <= SILENT_AFTER
    return Live(float(samples.values[place]), at, _rise(samples)) if near else None


def _rise(samples: Samples) -> float | None:
    """Return how fast a trace rises at its end, K in ten minutes, by least squares."""
    times, values = samples.times, samples.values
    last = times.max()
    near = times >= last - LOOK_BACK
    when, what = times[near] - last, values[near]
    known = what == what  # noqa: PLR0124 - what is no number is not itself
    when, what = when[known], what[known]
    if when.size < LEAST_READINGS or float(when.max() - when.min()) < LEAST_SPAN:
        return None
    away = when - when.mean()
    return float(TEN_MINUTES * (away * (what - what.mean())).sum() / (away * away).sum())


def rise_by_hand(checks: Sequence[DonenessCheck], now: datetime) -> float | None:
    """Return how fast a piece rises by what was probed by hand last, K in ten minutes.

    None where there are no two readings of the last two hours, at least five minutes apart.
    """
    known = [(c.at, c.internal) for c in checks if c.internal is not None]
    recent = [one for one in known if (now - one[0]).total_seconds() <= BY_HAND]
    if not recent:
        return None
    at, value = recent[-1]
    for before, was in reversed(recent[:-1]):
        apart = (at - before).total_seconds()
        if apart >= LEAST_SPAN:
            return TEN_MINUTES * (value - was) / apart
    return None
