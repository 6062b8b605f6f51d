"""A long line at any zoom: where the least and the most of each block lie, block over block."""

from copy import copy

import numpy as np
from numpy.typing import NDArray

from pitjournal.domain.extremes import levels_of, unpacked

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

LONGEST_GAP = 900.0
"""A line is not drawn through a longer gap, s."""


class Pyramid:
    """One line, prepared so that any view of it has about two points a pixel.

    What is drawn are readings at their own times, and none that sticks out is lost: for each
    block of readings it is known which is the least and which the most (see `extremes`).

    Parameters
    ----------
    times
        s since 1970, rising, shape (n,).
    values
        Shape (n,); NaN where there is none.
    levels
        Where the least and the most lie, if that is known (see `extremes.packed`).
    """

    def __init__(self, times: Array, values: Array, levels: bytes = b"") -> None:
        self.times = np.ascontiguousarray(times, dtype=np.float64)
        self.values = np.ascontiguousarray(values, dtype=np.float64)
        count = self.values.size
        self._levels = unpacked(count, levels) if levels else levels_of(self.values)
        step = np.diff(self.times)
        rising = step[step > 0]
        self.spacing = float(np.median(rising)) if rising.size else 1.0
        """The usual time between two readings, s."""
        self._gaps = np.flatnonzero(step > max(LONGEST_GAP, 3 * self.spacing)) + 1
        known = np.flatnonzero(np.isfinite(self.values))
        self.last = float(self.values[known[-1]]) if known.size else None
        """The last value that is known."""
        self.bounds = (
            (float(self.values[known].min()), float(self.values[known].max()))
            if known.size
            else None
        )
        """The least and the most."""

    def moved(self, by: float) -> "Pyramid":
        """Return the same line at other times, later by so many seconds."""
        found = copy(self)
        found.times = self.times + by
        return found

    def level(self, scale: float) -> int:
        """Return the level whose blocks are about a pixel wide at `scale` px a second."""
        readings = 1 / max(scale * self.spacing, 1e-12)
        return min(round(float(np.log2(max(readings, 1.0)))), len(self._levels))

    def indices(self, start: float, end: float, level: int) -> Indices:
        """Return which readings draw the span, with one block more on either side."""
        first = int(np.searchsorted(self.times, start))
        last = int(np.searchsorted(self.times, end, side="right"))
        if level == 0:
            return np.arange(max(first - 1, 0), min(last + 1, self.times.size), dtype=np.int64)
        least, most = self._levels[level - 1]
        blocks = slice(max((first >> level) - 1, 0), (last >> level) + 2)
        pair = np.stack((least[blocks], most[blocks]))
        pair.sort(axis=0)
        return pair.T.reshape(-1).astype(np.int64)

    def points(self, indices: Indices) -> tuple[Array, Array]:
        """Return times and values of readings, broken by NaN where a long gap lies between."""
        times, values = self.times[indices], self.values[indices]
        if not self._gaps.size or indices.size < 2:
            return times, values
        breaks = np.flatnonzero(np.diff(np.searchsorted(self._gaps, indices, side="right"))) + 1
        return np.insert(times, breaks, times[breaks - 1]), np.insert(values, breaks, np.nan)

    def values_at(self, times: Array) -> Array:
        """Return the values between the readings about each time; NaN across a gap and outside."""
        if not self.times.size:
            return np.full(np.shape(times), np.nan)
        values = np.interp(times, self.times, self.values, left=np.nan, right=np.nan)
        if self._gaps.size:
            after = np.searchsorted(self.times, times)
            met = self.times[np.minimum(after, self.times.size - 1)] == times
            values[np.isin(after, self._gaps) & ~met] = np.nan
        return values

    def value_at(self, time: float) -> float | None:
        """Return the value between the two readings about a time; none across a gap."""
        value = float(self.values_at(np.array([time]))[0])
        return value if np.isfinite(value) else None
