"""What heat a meat's trace holds: lethality, cook value, time in a band, cooling.

Each is a fact of the log: the probe may not have sat at the coldest point.
"""

from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.traces.features import LONGEST_GAP, Array, ordered, within
from pitjournal.domain.samples import Samples

REFERENCE, Z = 70.0, 10.0 / 1.8
"""Lethality counts minutes at 70 °C with z 10 °F (5.556 K)."""

COOK_REFERENCE, COOK_Z = 100.0, 33.0
"""The cook value's 100 °C and 33 K (Mansfield 1962, from memory)."""

COLD, WARM = 4.0, 60.0
"""Between 40 and 140 °F things grow, as the trade says it."""


@dataclass(frozen=True)
class Dose:
    """A lethality, s at the reference: by straight lines, and what a sparse log allows."""

    value: float
    least: float
    most: float


def lethality(samples: Samples, start: float, end: float) -> Dose | None:
    """Return the lethality of a span at 70 °C, z 10 °F; None where a gap hides it.

    Parameters
    ----------
    samples
        Readings: °C over s since 1970, shape (n,) each.
    start, end
        s since 1970.
    """
    from pitjournal.science.heat.lethality import lethality_bounds, process_lethality

    span = within(samples, start, end)
    if span is None:
        return None
    value = process_lethality(span.times, span.values, REFERENCE, Z)
    least, most = lethality_bounds(
        span.times, span.values, REFERENCE, Z, longest_gap=LONGEST_GAP + 1.0
    )
    assert most is not None  # no gap is longer: `within` saw to it
    return Dose(value, least, most)


def cook_value(samples: Samples, start: float, end: float) -> float | None:
    """Return the cook value of a span, s at 100 °C with z 33 K; None where a gap hides it.

    Parameters
    ----------
    samples
        Readings: °C over s since 1970, shape (n,) each.
    start, end
        s since 1970.
    """
    from pitjournal.science.heat.lethality import process_lethality

    span = within(samples, start, end)
    if span is None:
        return None
    return process_lethality(span.times, span.values, COOK_REFERENCE, COOK_Z)


def time_between(times: Array, values: Array, low: float, high: float) -> float:
    """Return the time that straight lines between readings lie between two levels, s.

    Parameters
    ----------
    times, values
        s rising and °C, shape (n,).
    low, high
        °C.
    """
    step = np.diff(times)
    bottom, top = np.minimum(values[1:], values[:-1]), np.maximum(values[1:], values[:-1])
    inside = np.clip(top, low, high) - np.clip(bottom, low, high)
    level = top - bottom
    flat = (bottom >= low) & (top <= high)
    share = np.where(level > 0, inside / np.where(level > 0, level, 1.0), flat)
    return float(np.sum(step * share))


def time_in_danger(samples: Samples, start: float, end: float) -> float | None:
    """Return the time between 4 and 60 °C in a span, s; None where a gap hides it.

    Parameters
    ----------
    samples
        Readings: °C over s since 1970, shape (n,) each.
    start, end
        s since 1970.
    """
    span = within(samples, start, end)
    return None if span is None else time_between(span.times, span.values, COLD, WARM)


@dataclass(frozen=True)
class Cooling:
    """How long a meat took from one level down to two others.

    Attributes
    ----------
    first, second
        s; None where the trace ends before.
    lasted
        How long it was watched, s.
    known
        Whether no gap over 15 min lies in it.
    """

    first: float | None
    second: float | None
    lasted: float
    known: bool


def cooling(samples: Samples, off: float, top: float, middle: float, low: float) -> Cooling | None:
    """Return how a meat cooled after coming off; None where it is not seen to cool below `top`.

    Parameters
    ----------
    samples
        Of one meat probe.
    off
        When it came off, s since 1970.
    top, middle, low
        °C: the clock starts at the last fall through `top`, and is read at the first fall
        through each of the others.
    """
    times, values = ordered(samples)
    after = times >= off - LONGEST_GAP
    times, values = times[after], values[after]
    if times.size < 2 or values.max() < top or values[-1] >= top:
        return None
    begin = _falls(times, values, top)[-1]
    later = times > begin
    times = np.concatenate(([begin], times[later]))
    values = np.concatenate(([top], values[later]))
    known = bool(np.diff(times).max() <= LONGEST_GAP)
    found = [_first_fall(times, values, level) for level in (middle, low)]
    return Cooling(found[0], found[1], float(times[-1] - begin), known)


def _falls(times: Array, values: Array, level: float) -> Array:
    places = np.flatnonzero((values[:-1] >= level) & (values[1:] < level))
    share = (values[places] - level) / (values[places] - values[places + 1])
    return np.asarray(times[places] + share * (times[places + 1] - times[places]))


def _first_fall(times: Array, values: Array, level: float) -> float | None:
    found = _falls(times, values, level)
    return float(found[0] - times[0]) if found.size else None
