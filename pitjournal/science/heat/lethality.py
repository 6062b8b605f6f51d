"""Process lethality of a temperature log, and holding times read from a published table.

What is computed is a fact about the log, not a judgement of the meat: a reading is where the
probe was, and a table has conditions (humidity, come-up time) that a log does not hold.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pitjournal.science.arrays import Array, runs_of

KEPT_DIGITS = 1e-3
"""Two temperatures nearer than this, K, are the same: logs are kept in 32 bits."""


def _log(times: ArrayLike, temperatures: ArrayLike) -> tuple[Array, Array]:
    """Return the readings that are numbers, in order of time."""
    at = np.asarray(times, dtype=np.float64).ravel()
    degrees = np.asarray(temperatures, dtype=np.float64).ravel()
    if at.size != degrees.size:
        raise ValueError(f"{at.size} times cannot go with {degrees.size} temperatures")
    whole = np.isfinite(at) & np.isfinite(degrees)
    order = np.argsort(at[whole], kind="stable")
    return at[whole][order], degrees[whole][order]


def _rates(degrees: Array, reference: float, z: float) -> Array:
    """Return 10 ** ((T − reference) / z); infinite rather than an error far above it."""
    with np.errstate(over="ignore"):
        return np.power(10.0, (degrees - reference) / z)


def _segments(at: Array, degrees: Array, reference: float, z: float) -> Array:
    """Return the exact integral of the rate over each straight piece between readings."""
    from scipy import special

    upper = np.maximum(degrees[:-1], degrees[1:])  # from the top down nothing overflows
    factor = special.exprel(-np.log(10.0) * np.abs(np.diff(degrees)) / z)
    return np.asarray(np.diff(at) * _rates(upper, reference, z) * factor, dtype=np.float64)


def process_lethality(
    times: ArrayLike, temperatures: ArrayLike, reference: float, z: float
) -> float:
    """Return F = ∫ 10^((T − reference) / z) dt over straight lines between the readings.

    Each segment is integrated exactly; rates are not joined by trapezoids, which read high
    on any climb.

    Parameters
    ----------
    times
        Any unit, shape (n,); readings are put in order.
    temperatures
        °C at the coldest point, shape (n,); what is not a number is left out.
    reference
        °C.
    z
        K for a factor of ten; a difference: 10 °F is 5.556 K.

    Returns
    -------
    float
        Equivalent time at the reference temperature, in the unit of `times`; 0 with fewer
        than two readings.
    """
    at, degrees = _log(times, temperatures)
    return float(np.sum(_segments(at, degrees, reference, z))) if at.size > 1 else 0.0


def accumulated_lethality(
    times: ArrayLike, temperatures: ArrayLike, reference: float, z: float
) -> tuple[Array, Array]:
    """Return the times and the lethality reached at each of them, both of shape (n,).

    Parameters
    ----------
    times, temperatures, reference, z
        As for `process_lethality`.
    """
    at, degrees = _log(times, temperatures)
    if not at.size:
        return at, degrees
    return at, np.concatenate([[0.0], np.cumsum(_segments(at, degrees, reference, z))])


def lethality_bounds(
    times: ArrayLike,
    temperatures: ArrayLike,
    reference: float,
    z: float,
    *,
    longest_gap: float | None = None,
) -> tuple[float, float | None]:
    """Return the least and the most lethality that a sparse log allows.

    Between two readings the temperature is taken to lie between them, and no more is assumed.

    Parameters
    ----------
    times, temperatures, reference, z
        As for `process_lethality`.
    longest_gap
        In the unit of `times`; a longer silence adds nothing to the least, and leaves the
        most unknown. None takes every gap.

    Returns
    -------
    tuple
        Least and most, in the unit of `times`; the most is None where unknown.
    """
    at, degrees = _log(times, temperatures)
    if at.size < 2:
        return 0.0, None
    gaps = np.diff(at)
    rates = _rates(degrees, reference, z)
    heard = np.ones(gaps.size, dtype=np.bool_) if longest_gap is None else gaps <= longest_gap
    least = float(np.sum((gaps * np.minimum(rates[:-1], rates[1:]))[heard]))
    if not np.all(heard):
        return least, None
    return least, float(np.sum(gaps * np.maximum(rates[:-1], rates[1:])))


def row_below(temperature: float, rows: ArrayLike) -> int | None:
    """Return the place of the highest table row at or below a temperature; None below all.

    The only reading that stays inside a published table: nothing is interpolated.

    Parameters
    ----------
    temperature
        °C.
    rows
        Temperatures of the table, °C, rising, shape (m,).
    """
    place = int(np.searchsorted(np.asarray(rows, dtype=np.float64), temperature + KEPT_DIGITS)) - 1
    return place if place >= 0 else None


def hold_required(temperature: float, rows: ArrayLike, seconds: ArrayLike) -> float | None:
    """Return the holding time of the next lower row, s; None below the table.

    Parameters
    ----------
    temperature
        °C.
    rows, seconds
        The table, °C rising and s, shape (m,).
    """
    place = row_below(temperature, rows)
    return None if place is None else float(np.asarray(seconds, dtype=np.float64)[place])


def longest_hold(
    times: ArrayLike,
    temperatures: ArrayLike,
    level: float,
    *,
    longest_gap: float | None = None,
    enough: "Enough | None" = None,
) -> float | None:
    """Return the longest unbroken time at or above a temperature, in the unit of `times`.

    Only stretches between two readings that are both at or above the level count, so the
    climb to it and the fall from it add nothing.

    Parameters
    ----------
    times, temperatures
        As for `process_lethality`.
    level
        °C.
    longest_gap
        A longer silence breaks the hold. None takes every gap.
    enough
        Which stretches count at all. None takes every one.

    Returns
    -------
    float or None
        0 for a single reading at the level, or where no stretch counts; None when no reading
        reached it.
    """
    at, degrees = _log(times, temperatures)
    above = degrees >= level - KEPT_DIGITS
    if not np.any(above):
        return None
    edges = _stretches(at, degrees, level, longest_gap, enough)
    return float(np.max(at[edges[:, 1]] - at[edges[:, 0]], initial=0.0))


def first_stretch(
    times: ArrayLike,
    temperatures: ArrayLike,
    level: float,
    *,
    longest_gap: float | None = None,
    enough: "Enough | None" = None,
) -> int | None:
    """Return the place in time order of the reading that begins the first stretch at a level.

    Parameters
    ----------
    times, temperatures, level, longest_gap, enough
        As for `longest_hold`.
    """
    edges = _stretches(*_log(times, temperatures), level, longest_gap, enough)
    return int(edges[0, 0]) if edges.size else None


def _stretches(
    at: Array, degrees: Array, level: float, longest_gap: float | None, enough: "Enough | None"
) -> NDArray[np.int64]:
    """Return the first and the last place of each stretch at or above a level, shape (k, 2)."""
    above = degrees >= level - KEPT_DIGITS
    joined = above[:-1] & above[1:]
    if longest_gap is not None:
        joined &= np.diff(at) <= longest_gap
    edges = runs_of(joined)
    if enough is None:
        return edges
    return edges[enough.of(edges[:, 1] - edges[:, 0] + 1, at[edges[:, 1]] - at[edges[:, 0]])]


@dataclass(frozen=True)
class Enough:
    """How much must be read for a stretch to count: isolated readings show no hold.

    Attributes
    ----------
    readings, over
        At least so many, over at least so much time.
    sparse
        Two readings so much time apart are enough too.
    """

    readings: int
    over: float
    sparse: float

    def of(self, readings: NDArray[np.int64], lasted: Array) -> NDArray[np.bool_]:
        """Return which stretches count, of their numbers of readings and their times."""
        many = (readings >= self.readings) & (lasted >= self.over)
        return np.asarray(many | (lasted >= self.sparse), dtype=np.bool_)


@dataclass(frozen=True)
class TableReading:
    """A log read against a table of temperatures and holding times.

    Attributes
    ----------
    reached
        Whether some row was met; None without a reading.
    row
        Place of the row that was met, or that came nearest; None when no row's temperature
        was reached.
    held
        Longest hold at that row, s; None with it.
    """

    reached: bool | None
    row: int | None
    held: float | None


def read_table(
    times: ArrayLike,
    temperatures: ArrayLike,
    rows: ArrayLike,
    seconds: ArrayLike,
    *,
    longest_gap: float | None = None,
    enough: Enough | None = None,
) -> TableReading:
    """Return whether a log held any row's temperature for that row's time.

    Parameters
    ----------
    times
        s, shape (n,).
    temperatures
        °C at the coldest point, shape (n,).
    rows, seconds
        The table, °C rising and s, shape (m,). A row that asks no time asks for a stretch that
        is `enough`.
    longest_gap
        s; a longer silence breaks a hold.
    enough
        Which stretches count, s. None takes every one, a single reading too.
    """
    at, degrees = _log(times, temperatures)
    if not at.size:
        return TableReading(None, None, None)
    levels = np.asarray(rows, dtype=np.float64)
    least = 0.0 if enough is None else enough.over
    needed = np.maximum(np.asarray(seconds, dtype=np.float64), least)
    top = row_below(float(np.max(degrees)), levels)
    if top is None:
        return TableReading(False, None, None)

    def held_at(place: int) -> float:
        level = float(levels[place])
        held = longest_hold(at, degrees, level, longest_gap=longest_gap, enough=enough)
        return held or 0.0

    nearest, best = top, -1.0
    for place in range(top, -1, -1):
        held = held_at(place)
        if held >= needed[place]:
            return TableReading(True, place, held)
        if held / needed[place] > best:
            nearest, best = place, held / float(needed[place])
    return TableReading(False, nearest, held_at(nearest))
