"""A long line at any zoom: where the least and the most of each block lie, block over block."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

LONGEST_GAP = 900.0
"""A line is not drawn through a longer gap, s."""

LEAST_BLOCKS = 16
"""No level is made of fewer blocks."""


class Pyramid:
    """One line, prepared so that any view of it has about two points a pixel.

    Level n knows, for each block of 2ⁿ readings, which reading is the least and which the most,
    so that what is drawn are readings at their own times, and none that sticks out is lost.

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
        self._levels: list[tuple[NDArray[np.int32], NDArray[np.int32]]] = []
        least = most = np.arange(self.values.size, dtype=np.int32)
        while least.size > LEAST_BLOCKS:
            least, most = self._fold(least, -1.0), self._fold(most, 1.0)
            self._levels.append((least, most))
        step = np.diff(self.times)
        rising = step[step > 0]
        self.spacing = float(np.median(rising)) if rising.size else 1.0
        """The usual time between two readings, s."""
        self._gaps = np.flatnonzero(step > max(LONGEST_GAP, 3 * self.spacing)) + 1
        known = np.flatnonzero(np.isfinite(self.values))
        self.last = float(self.values[known[-1]]) if known.size else None
        """The last value that is known."""
        self.bounds = (
            (float(np.nanmin(self.values)), float(np.nanmax(self.values))) if known.size else None
        )
        """The least and the most."""

    def _fold(self, kept: NDArray[np.int32], sign: float) -> NDArray[np.int32]:
        """Return, of each two kept readings, the one further out."""
        even = kept.size // 2 * 2
        first, second = kept[0:even:2], kept[1:even:2]
        one, other = sign * self.values[first], sign * self.values[second]
        further = np.where((other > one) | np.isnan(one), second, first)
        return np.append(further, kept[-1]) if even < kept.size else further

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
