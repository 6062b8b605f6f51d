"""What a meat's trace says: the times it took, its stall, its last rise, its carry-over.

Times are in s, temperatures in °C. A gap of over a quarter of an hour makes what spans it
unknown; a shorter one is bridged by a straight line.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pitjournal.domain.samples import Samples
from pitjournal.science.arrays import runs_of

Array = NDArray[np.float64]

LONGEST_GAP = 900.0
"""A gap over a quarter of an hour, s, makes what spans it unknown."""

_GRID = 60.0
_SMOOTH = 15
"""Minutes of the running median that takes out lid dips and noise."""

STALL_RATE = 3.0 / 3600.0
"""A meat that rises slower than this, K/s, for long enough is stalled."""

STALL_LOW, STALL_HIGH = 55.0, 85.0
"""Where a stall may lie, °C; the trade sees it at 145 to 170 °F (common practice, no source)."""

STALL_OVER = 1200.0
"""The rise of a stall is measured over this many seconds."""

SHORTEST_STALL = 1500.0
RISE_OVER = 1800.0
CARRY_OVER_WITHIN = 3600.0
"""The peak after coming off is looked for this long, s."""

SHORTEST_REST = 600.0
"""A trace that ends sooner after coming off cannot say where the peak lay, s."""


@dataclass(frozen=True)
class Stall:
    """When a stall began (s since 1970), how long it held (s), and its mean level (°C).

    One that had not `ended` when the meat came off held at least so long.
    """

    start: float
    length: float
    level: float
    ended: bool = True


@dataclass(frozen=True, eq=False)
class Stretch:
    """The readings of a trace over a span, joined by straight lines, with both its ends.

    Attributes
    ----------
    times, values
        s since 1970 and °C, float64, shape (n,).
    readings
        How many of them are readings of the logger; the ends may lie between two.
    longest_gap
        The longest silence that is bridged, s.
    """

    times: Array
    values: Array
    readings: int
    longest_gap: float


def ordered(samples: Samples) -> tuple[Array, Array]:
    """Return times and values in time order, one reading a moment."""
    if (np.diff(samples.times) > 0).all():
        return samples.times, samples.values.astype(np.float64)
    times, first = np.unique(samples.times, return_index=True)
    return times, samples.values[first].astype(np.float64)


def known(samples: Samples) -> tuple[Array, Array]:
    """Return times and values in time order, without what the logger had no number for."""
    times, values = ordered(samples)
    there = np.isfinite(values)
    return times[there], values[there]


def within(samples: Samples, start: float, end: float) -> Stretch | None:
    """Return the readings of a span; None where a gap of over 15 min spans it or an end.

    Parameters
    ----------
    samples
        Readings: °C over s since 1970, shape (n,) each.
    start, end
        s since 1970.
    """
    times, values = ordered(samples)
    if end <= start or times.size < 2 or times[0] > start + LONGEST_GAP:
        return None
    if times[-1] < end - LONGEST_GAP:
        return None
    inside = (times > start) & (times < end)
    found = np.concatenate(([start], times[inside], [end]))
    gap = longest_gap(times, start, end)
    if gap > LONGEST_GAP:
        return None
    return Stretch(found, np.interp(found, times, values), int(inside.sum()), gap)


def longest_gap(times: Array, start: float, end: float) -> float:
    """Return the longest silence in a span, s, from its start to its end.

    Parameters
    ----------
    times
        s since 1970, rising, shape (n,).
    start, end
        s since 1970.
    """
    inside = times[(times > start) & (times < end)]
    return float(np.diff(np.concatenate(([start], inside, [end]))).max())


def reached(samples: Samples, level: float, start: float) -> float | None:
    """Return the seconds from `start` to the last rise through a level, °C.

    Between two readings the time lies on the straight line through them. None where the level
    is not reached, or a gap over 15 min hides when.

    Parameters
    ----------
    samples
        Readings: °C over s since 1970, shape (n,) each.
    level
        °C.
    start
        s since 1970.
    """
    times, values = ordered(samples)
    after = times >= start - LONGEST_GAP
    times, values = times[after], values[after]
    above = values >= level
    if times.size < 2 or not above.any() or above[0] or times[0] > start + LONGEST_GAP:
        return None
    smooth = running_median(values, 5) >= level
    first = int(np.argmax(smooth)) if smooth.any() else int(np.argmax(above))
    rises = np.flatnonzero(above[1:] & ~above[:-1]) + 1
    place = int(rises[np.argmin(np.abs(rises - first))])
    if np.diff(times[: place + 1]).max() > LONGEST_GAP:
        return None
    low, high = values[place - 1], values[place]
    share = (level - low) / (high - low)
    return float(times[place - 1] + share * (times[place] - times[place - 1]) - start)


def rise_before(samples: Samples, off: float) -> float | None:
    """Return the slope over the last half hour before `off`, K/s, by least squares."""
    span = within(samples, off - RISE_OVER, off)
    if span is None or span.readings < 1:
        return None
    return float(np.polyfit(span.times - span.times[0], span.values, 1)[0])


def running_median(values: Array, width: int) -> Array:
    """Return the median of `width` readings about each one, shape (n,); the ends repeat."""
    half = width // 2
    padded = np.pad(values, half, mode="edge")
    return np.asarray(
        np.median(np.lib.stride_tricks.sliding_window_view(padded, 2 * half + 1), axis=1)
    )


def stall(samples: Samples, start: float, end: float) -> Stall | None:
    """Return the stall between `start` and `end`, or None where there is none to be seen.

    The rule: on a grid of a minute, smoothed by a running median of a quarter of an hour, the
    stall is the longest stretch between 55 and 85 °C in which the meat gains less than 3 K in
    an hour over every 20 min that lie in it; at least 25 min, or it is no stall.

    Parameters
    ----------
    samples
        Readings: °C over s since 1970, shape (n,) each.
    start, end
        s since 1970.
    """
    span = within(samples, start, end)
    if span is None or end - start < 3 * STALL_OVER:
        return None
    grid = np.arange(start, end, _GRID)
    values = running_median(np.interp(grid, span.times, span.values), _SMOOTH)
    half = int(STALL_OVER / 2 / _GRID)
    rate = np.full(grid.size, np.inf)
    rate[half:-half] = (values[2 * half :] - values[: -2 * half]) / STALL_OVER
    slow = (rate < STALL_RATE) & (values > STALL_LOW) & (values < STALL_HIGH)
    edges = runs_of(slow)
    if not edges.size:
        return None
    first, last = edges[np.argmax(edges[:, 1] - edges[:, 0])]
    first, last = first - half, min(last + half, grid.size)  # the 20 min round its ends lie in it
    length = float((last - first) * _GRID)
    if length < SHORTEST_STALL:
        return None
    level = float(values[first:last].mean())
    return Stall(float(grid[first]), length, level, bool(last < grid.size))


def carry_over(samples: Samples, off: float) -> float | None:
    """Return how far the meat rose after coming off, K; 0 where it only fell.

    The peak of the hour after `off`. None where the trace ends within ten minutes of it, or a
    gap over 15 min lies before the peak.
    """
    times, _ = ordered(samples)
    if not times.size or times[-1] < off + SHORTEST_REST:
        return None
    span = within(samples, off, min(float(times[-1]), off + CARRY_OVER_WITHIN))
    if span is None:
        return None
    return float(span.values.max() - span.values[0])


def averaged(times: Array, values: Array, step: float) -> tuple[Array, Array]:
    """Return a trace averaged over steps, joined where it is silent, both shape (m,).

    Parameters
    ----------
    times, values
        s rising and °C, shape (n,).
    step
        s.
    """
    places = np.floor((times - times[0]) / step)
    first = np.flatnonzero(np.diff(places, prepend=-1.0))
    count = np.diff(np.append(first, times.size))
    centres = np.add.reduceat(times, first) / count
    means = np.add.reduceat(values, first) / count
    grid = np.arange(centres[0], centres[-1] + 0.5 * step, step)
    return grid, np.interp(grid, centres, means)
