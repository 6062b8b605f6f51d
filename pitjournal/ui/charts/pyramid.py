"""A long line at any zoom: the least and the most of each block, block over block."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

BLOCK = 8
"""Readings, or blocks of the level below, in a block."""

LONGEST_GAP = 900.0
"""A line is not drawn through a longer gap, s."""


class Pyramid:
    """Times and values of one line, prepared so that any view of it has few points.

    Parameters
    ----------
    times
        s since 1970, rising, shape (n,).
    values
        Shape (n,); NaN where there is none.
    """

    def __init__(self, times: Array, values: Array) -> None:
        self.times = np.ascontiguousarray(times, dtype=np.float64)
        self.values = np.ascontiguousarray(values, dtype=np.float64)
        self._levels: list[tuple[Array, Array, Array]] = []
        at, low, high = self.times, self.values, self.values
        while low.size > 4 * BLOCK:
            at, low, high = _fold(at, low, high)
            self._levels.append((at, low, high))

    def view(self, start: float, end: float, pixels: int) -> tuple[Array, Array]:
        """Return times and values that draw the span from `start` to `end` on `pixels` px.

        No reading that sticks out is lost: a block is drawn from its least to its most.
        """
        first = max(int(np.searchsorted(self.times, start)) - 1, 0)
        last = min(int(np.searchsorted(self.times, end, side="right")) + 1, self.times.size)
        level, factor = -1, 1
        while level + 1 < len(self._levels) and (last - first) / factor > 2 * max(pixels, 1):
            level, factor = level + 1, factor * BLOCK
        if level < 0:
            return with_gaps(self.times[first:last], self.values[first:last])
        at, low, high = self._levels[level]
        begin, stop = first // factor, min(last // factor + 1, at.size)
        times = np.repeat(at[begin:stop], 2)
        values = np.empty(times.size)
        values[0::2], values[1::2] = low[begin:stop], high[begin:stop]
        return with_gaps(times, values)


def _fold(at: Array, low: Array, high: Array) -> tuple[Array, Array, Array]:
    whole = (low.size // BLOCK) * BLOCK
    starts = np.arange(0, low.size, BLOCK)
    assert whole <= low.size
    return (
        at[starts],
        np.fmin.reduceat(low, starts),
        np.fmax.reduceat(high, starts),
    )


def with_gaps(times: Array, values: Array) -> tuple[Array, Array]:
    """Return the line with a break wherever nothing was read for over a quarter of an hour."""
    if times.size < 2:
        return times, values
    step = np.diff(times)
    usual = float(np.median(step[step > 0])) if (step > 0).any() else 0.0
    gaps = np.flatnonzero(step > max(LONGEST_GAP, 3 * usual)) + 1
    if not gaps.size:
        return times, values
    return np.insert(times, gaps, times[gaps - 1]), np.insert(values, gaps, np.nan)
