"""What the probes say now."""

from dataclasses import dataclass
from datetime import UTC, datetime

from pitjournal.analysis.bench.alarms import SILENT_AFTER
from pitjournal.analysis.derived import Readings, samples_of
from pitjournal.domain.trace import Trace
from pitjournal.domain.whole_cook import WholeCook

PIT = "pit"


@dataclass(frozen=True)
class Live:
    """A reading of now, °C, and when it was taken."""

    value: float
    at: datetime


def live_of(whole: WholeCook, readings: Readings, now: datetime) -> dict[str, Live]:
    """Return what the probes say by the id of their piece, and the pit's as "pit".

    A probe that has said nothing for five minutes is not there.
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
    return Live(float(samples.values[place]), at) if near else None
