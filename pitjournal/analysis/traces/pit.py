"""What the pit's trace says: its level, its spread, its lid openings, with their recoveries."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.traces.features import (
    Array,
    Stretch,
    ordered,
    running_median,
    within,
)
from pitjournal.domain.samples import Samples

BAND = 15.0 / 1.8
"""The pit's band either side of its set point: 15 °F, in K."""

DROP = 6.0
"""A pit that falls by so much, K, within `WITHIN` s has had its lid opened."""

WITHIN = 180.0
APART = 240.0
"""Two dips are at least so far apart, s."""

RECOVERED = 3.0
"""The pit is back when it lies within so many K of where it stood before the lid."""

LONGEST_RECOVERY = 1200.0
"""After so long, s, a low pit is a low pit and no recovery."""

_GRID, _HOUR = 60.0, 61

NEAR = 90.0
"""A dip and a logged opening that lie so near each other are the same, s."""


@dataclass(frozen=True)
class Pit:
    """The pit over a span, lid recoveries left out.

    Attributes
    ----------
    mean, spread
        °C, and the standard deviation in K, both weighted by time.
    outside
        s further than 15 °F from the set point; None without one.
    recovering
        s that were left out because the lid had been open.
    dips
        When the lid was opened by the look of the trace, s since 1970.
    stretch
        The readings it comes from.
    """

    mean: float
    spread: float
    outside: float | None
    recovering: float
    dips: tuple[float, ...]
    stretch: Stretch


def pit_over(samples: Samples, start: float, end: float, set_point: float | None) -> Pit | None:
    """Return the pit's level over a span; None where it is unknown.

    Parameters
    ----------
    samples
        Readings: °C over s since 1970, shape (n,) each.
    start, end
        s since 1970.
    set_point
        °C; None where it is not known.
    """
    span = within(samples, start, end)
    if span is None:
        return None
    recoveries = lid_recoveries(samples)
    times = _with_edges(span.times, recoveries)
    values = np.interp(times, span.times, span.values)
    step = np.diff(times)
    centre, middle = (times[1:] + times[:-1]) / 2, (values[1:] + values[:-1]) / 2
    away = np.zeros(step.size, dtype=bool)
    for begin, back in recoveries:
        away |= (centre > begin) & (centre < back)
    recovering = float(step[away].sum())
    if away.all():
        return None
    step, middle = step[~away], middle[~away]
    mean = float(np.average(middle, weights=step))
    spread = float(np.sqrt(np.average((middle - mean) ** 2, weights=step)))
    outside = None
    if set_point is not None:
        outside = float(step[np.abs(middle - set_point) > BAND].sum())
    dips = tuple(begin for begin, _ in recoveries if start <= begin <= end)
    return Pit(mean, spread, outside, recovering, dips, span)


def _with_edges(times: Array, spans: Sequence[tuple[float, float]]) -> Array:
    edges = np.array([edge for span in spans for edge in span])
    inside = edges[(edges > times[0]) & (edges < times[-1])] if edges.size else edges
    return np.union1d(times, inside)


def lid_dips(samples: Samples) -> Array:
    """Return when the pit began to fall sharply, s since 1970, shape (n,).

    A dip falls by 6 K within three minutes, to at least 6 K below the median of its hour.
    """
    times, values = ordered(samples)
    if times.size < 3:
        return np.empty(0)
    later = np.searchsorted(times, times + WITHIN, side="right") - 1
    lowest = _lowest(values, later)
    # What falls from an overshoot to where the pit usually stands is no lid.
    falling = np.flatnonzero((values - lowest >= DROP) & (lowest <= _usual(times, values) - DROP))
    found: list[float] = []
    for place in falling:
        if found and times[place] - found[-1] < APART:
            continue
        # Its steepest step is the lid; noise before it is not.
        steps = np.diff(values[place : later[place] + 1])
        start = place + int(np.argmin(steps)) if steps.size else place
        time = float(times[start])
        if not found or time - found[-1] >= APART:
            found.append(time)
    return np.array(found)


def _usual(times: Array, values: Array) -> Array:
    """Return where the pit usually stands about each reading: the median of an hour, shape (n,)."""
    grid = np.arange(times[0], times[-1] + _GRID, _GRID)
    return np.interp(times, grid, running_median(np.interp(grid, times, values), _HOUR))


def _lowest(values: Array, last: NDArray[np.int64]) -> Array:
    """Return the least value from each place to its last one (rising), shape (n,).

    By doubling: the least of any run is the lesser of two overlapping runs of a power of two.
    """
    width = last - np.arange(values.size) + 1
    lowest, run, table = np.empty_like(values), 1, values
    while run <= int(width.max()):
        first = np.flatnonzero((width >= run) & (width < 2 * run))
        lowest[first] = np.minimum(table[first], table[last[first] - run + 1])
        table = np.minimum(table[:-run], table[run:])
        run *= 2
    return lowest


def lid_recoveries(samples: Samples) -> list[tuple[float, float]]:
    """Return each lid opening with when the pit was back, s since 1970.

    The pit is back within 3 K of where it stood before, or at most 20 min later.
    """
    times, values = ordered(samples)
    found = []
    for dip in lid_dips(samples):
        place = int(np.searchsorted(times, dip))
        level = float(np.median(values[max(place - 5, 0) : place + 1]))
        end = dip + LONGEST_RECOVERY
        first, last = np.searchsorted(times, (dip, end), side="right")
        low = values[first:last] < level - RECOVERED
        if low.any():
            fell = int(np.argmax(low))
            back = np.flatnonzero(~low[fell:])
            end = float(times[first + fell + back[0]]) if back.size else end
        found.append((float(dip), float(end)))
    return found


def matched(dips: Sequence[float], openings: Sequence[float]) -> int:
    """Return how many of the dips meet a logged opening within 90 s, each opening once."""
    left = sorted(openings)
    count = 0
    for dip in sorted(dips):
        near = next((time for time in left if abs(time - dip) <= NEAR), None)
        if near is not None:
            left.remove(near)
            count += 1
    return count
