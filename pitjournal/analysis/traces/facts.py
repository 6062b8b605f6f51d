"""What a trace says, each fact with what it was read from: the values of the catalogue.

`analysis.derived` keeps the values; the pages show them beside the channel, the readings they
come from and the longest silence that was bridged.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from pitjournal.analysis.traces.doubt import AS_PIT, UNSTEADY
from pitjournal.analysis.traces.doubted import sifted
from pitjournal.analysis.traces.features import (
    LONGEST_GAP,
    RISE_OVER,
    carry_over,
    longest_gap,
    ordered,
    reached,
    rise_before,
    stall,
)
from pitjournal.analysis.traces.heat_dose import cook_value, lethality, time_in_danger
from pitjournal.analysis.traces.pit import matched, pit_over
from pitjournal.analysis.traces.probe_out import in_meat
from pitjournal.analysis.traces.readings import Readings
from pitjournal.domain.event import EventKind
from pitjournal.domain.samples import Samples
from pitjournal.domain.times.moments import hours_words
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.whole_cook import WholeCook

LEVELS = (60, 71, 90)
"""°C whose times from on are kept: 140, 160 and 194 °F."""

PIT_KEYS = ("pit_mean", "pit_spread", "pit_outside", "lid_seen", "lid_matched")
MEAT_KEYS = (
    *(f"to_{level}" for level in LEVELS),
    "stall_start",
    "stall_length",
    "stall_level",
    "stall_ended",
    "rise_rate",
    "carry_over",
    "time_4_60",
    "lethality",
    "cook_value",
)

DOSES = frozenset({"lethality", "cook_value"})
"""What is said of the coldest point, and of nothing else."""

LEAPS = "most of what its probe read leaps as no meat does"
_MOST = 0.5

IN_THE_AIR = frozenset({UNSTEADY, AS_PIT})


@dataclass(frozen=True)
class Used:
    """The readings that a fact comes from: a span (s since 1970), a count, a longest gap (s)."""

    start: float
    end: float
    readings: int
    longest_gap: float


@dataclass(frozen=True)
class TraceFact:
    """One value of the catalogue as a trace says it.

    Attributes
    ----------
    key
        Of the catalogue.
    value
        In the storage unit; None is unknown, or not there to be seen.
    used
        What it was read from; None where there was nothing to read.
    low, high
        What a sparse log allows, where that was worked out.
    why
        Why there is no value, in a cook's words.
    open
        Whether it is more than `value`: its end was not seen.
    """

    key: str
    value: float | None
    used: Used | None = None
    low: float | None = None
    high: float | None = None
    why: str = ""
    open: bool = False


def facts_of_trace(
    whole: WholeCook, trace: Trace, samples: Samples, readings: Readings
) -> tuple[TraceFact, ...]:
    """Return what a trace of a cook says; nothing for one outside pit and meat.

    Parameters
    ----------
    whole, trace
        The cook, and one of its traces.
    samples
        The trace's readings.
    readings
        Gives those of the cook's other traces: the pit tells air from meat.
    """
    piece = next((piece for piece in whole.pieces if piece.id == trace.piece_id), None)
    on = whole.moment_of(EventKind.ON, piece)
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    if trace.sits is Sits.PIT and on is not None and off is not None:
        return pit_facts(samples, on, off, whole.cook.set_point, whole.lid_moments)
    if trace.sits is Sits.MEAT and piece is not None and on is not None:
        found = sifted(whole, readings, piece, samples, off)
        leaps = found.sure_times.size < _MOST * found.times.size
        return meat_facts(samples, on, off, LEAPS if leaps else found.why)
    return ()


def pit_facts(
    samples: Samples,
    start: float,
    end: float,
    set_point: float | None,
    openings: Sequence[float] = (),
) -> tuple[TraceFact, ...]:
    """Return what a pit's trace says of the time the meat was on.

    Parameters
    ----------
    samples
        Of the pit.
    start, end
        First on and last off, s since 1970.
    set_point
        °C.
    openings
        When the lid was opened by what was logged, s since 1970.
    """
    used = _used(samples, start, end)
    found = pit_over(samples, start, end, set_point)
    if found is None:
        why = _why(used)
        return tuple(TraceFact(key, None, used, why=why) for key in PIT_KEYS)
    met = float(matched(found.dips, openings))
    values = (found.mean, found.spread, found.outside, float(len(found.dips)), met)
    no_band = "" if set_point is not None else "no set point is recorded"
    return tuple(
        TraceFact(key, value, used, why="" if value is not None else no_band)
        for key, value in zip(PIT_KEYS, values, strict=True)
    )


def meat_facts(
    samples: Samples, on: float, off: float | None, why: str = ""
) -> tuple[TraceFact, ...]:
    """Return what a meat's trace says from going on (and, where it is logged, coming off).

    What its probe read elsewhere is left out: one hot reading would be hours of cooking.

    Parameters
    ----------
    samples
        Of the piece.
    on, off
        s since 1970.
    why
        Why the channel may not be the middle of the piece; empty where it may. Then nothing is
        said of what heat did to the meat, and nothing at all of a probe in the air.
    """
    if why in IN_THE_AIR:
        return tuple(TraceFact(key, None, why=why) for key in MEAT_KEYS)
    samples = in_meat(samples, on, off)
    facts = [_to(samples, level, on, off) for level in LEVELS]
    if off is None:
        unknown = "when it came off is not logged"
        facts += [TraceFact(key, None, why=unknown) for key in MEAT_KEYS[len(LEVELS) :]]
        return tuple(facts)
    used = _used(samples, on, off)
    told = (*facts, *_stall(samples, on, off, used), *_heat(samples, on, off, used))
    return tuple(
        TraceFact(fact.key, None, fact.used, why=why) if why and fact.key in DOSES else fact
        for fact in told
    )


def _to(samples: Samples, level: int, on: float, off: float | None) -> TraceFact:
    value = reached(samples, float(level), on)
    end = float(samples.times.max()) if off is None and samples.times.size else off
    used = _used(samples, on, on + value if value is not None else max(end or on, on + 1.0))
    why = "" if value is not None else _why(used, "it was not seen to get there")
    return TraceFact(f"to_{level}", value, used, why=why)


def _stall(samples: Samples, on: float, off: float, used: Used | None) -> list[TraceFact]:
    held = stall(samples, on, off)
    keys = ("stall_start", "stall_length", "stall_level", "stall_ended")
    if held is None:
        why = _why(used, "none is to be seen")
        return [TraceFact(key, None, used, why=why) for key in keys]
    values = (held.start - on, held.length, held.level, float(held.ended))
    return [
        TraceFact(key, value, used, open=key == "stall_length" and not held.ended)
        for key, value in zip(keys, values, strict=True)
    ]


def _heat(samples: Samples, on: float, off: float, used: Used | None) -> list[TraceFact]:
    last = _used(samples, off - RISE_OVER, off)
    after = float(samples.times.max()) if samples.times.size else off
    rest = _used(samples, off, min(after, off + 3600.0)) if after > off else None
    dose = lethality(samples, on, off)
    ended = "the trace ends as it comes off"
    found = [
        ("rise_rate", rise_before(samples, off), last, ""),
        ("carry_over", carry_over(samples, off), rest, ended),
        ("time_4_60", time_in_danger(samples, on, off), used, ""),
        ("lethality", None if dose is None else dose.value, used, ""),
        ("cook_value", cook_value(samples, on, off), used, ""),
    ]
    return [
        TraceFact(
            key,
            value,
            read,
            low=dose.least if dose and key == "lethality" else None,
            high=dose.most if dose and key == "lethality" else None,
            why="" if value is not None else _why(read, other),
        )
        for key, value, read, other in found
    ]


def _used(samples: Samples, start: float, end: float) -> Used | None:
    times, _ = ordered(samples)
    if end <= start:
        return None
    inside = int(((times >= start) & (times <= end)).sum())
    return Used(start, end, inside, longest_gap(times, start, end)) if inside else None


def _why(used: Used | None, otherwise: str = "") -> str:
    if used is None:
        return otherwise or "it has no readings there"
    if used.longest_gap > LONGEST_GAP:
        return f"it is silent for {hours_words(used.longest_gap)}"
    return otherwise or "its readings are too few"
