"""Leeway of one piece: between which readings it became right, and stopped being so.

The readings are doneness checks: a place on an axis (minutes, or °C) and a feel from 1 to 7,
of which 1–2 is under, 3–5 right and 6–7 over. What comes out are bounds, not estimates.
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import Array

MOST_UNDER = 2
MOST_RIGHT = 5


class SeenEnd(StrEnum):
    """How much of an end of the window was seen; the terms are those of censored data."""

    BETWEEN = "between two checks"
    BEFORE_FIRST = "before the first check"
    NOT_YET = "not seen to happen"
    UNKNOWN = "not recorded"


@dataclass(frozen=True)
class Window:
    """Bounds of the stretch over which one piece was right, on the axis of its checks.

    Where checks contradict each other (right, under, right), the bounds are the widest that
    the checks allow and `consistent` is false.

    Attributes
    ----------
    last_under, first_right, last_right, first_over
        Places of the checks that bound entry and exit; None where there was no such check.
    entry_low, entry_high
        The piece became right in (low, high]; None where unbounded.
    exit_low, exit_high
        It stopped being right in (low, high]; `exit_high` is None when that was not seen.
    entry, exit
        How much was seen of each end.
    at_least, at_most
        Bounds of the leeway; None where unknown.
    consistent
        Whether the checks ran under, right, over without turning back.
    checks
        How many checks it rests on.
    """

    last_under: float | None
    first_right: float | None
    last_right: float | None
    first_over: float | None
    entry_low: float | None
    entry_high: float | None
    exit_low: float | None
    exit_high: float | None
    entry: SeenEnd
    exit: SeenEnd
    at_least: float | None
    at_most: float | None
    consistent: bool
    checks: int

    @property
    def passed_unseen(self) -> bool:
        """Whether the piece went from under to over between two checks."""
        return self.first_right is None and self.at_most is not None


def _ordered(axis: ArrayLike, feels: ArrayLike) -> tuple[Array, Array]:
    places = np.asarray(axis, dtype=np.float64).ravel()
    scores = np.asarray(feels, dtype=np.float64).ravel()
    if places.size != scores.size:
        raise ValueError(f"{places.size} places cannot go with {scores.size} feels")
    whole = np.isfinite(places) & np.isfinite(scores)
    places, scores = places[whole], scores[whole]
    order = np.argsort(places, kind="stable")
    return places[order], scores[order]


def _last(places: Array) -> float | None:
    return float(places[-1]) if places.size else None


def _first(places: Array) -> float | None:
    return float(places[0]) if places.size else None


def _before(places: Array, limit: float | None) -> Array:
    return places if limit is None else places[places < limit]


def _after(places: Array, limit: float | None) -> Array:
    return places if limit is None else places[places > limit]


def _gap(low: float | None, high: float | None) -> float | None:
    return None if low is None or high is None else max(0.0, high - low)


def _seen(low: float | None, high: float | None) -> SeenEnd:
    if high is None:
        return SeenEnd.UNKNOWN if low is None else SeenEnd.NOT_YET
    return SeenEnd.BEFORE_FIRST if low is None else SeenEnd.BETWEEN


def window(axis: ArrayLike, feels: ArrayLike) -> Window:
    """Return the bounds that checks along an axis give.

    Parameters
    ----------
    axis
        Place of each check, in any unit; checks are put in order of it. Shape (n,).
    feels
        1 to 7; what is not a number is left out. Shape (n,).
    """
    places, scores = _ordered(axis, feels)
    return _bounds(places, scores) if places.size else _unchecked()


@cache
def _unchecked() -> Window:
    """Return the bounds of a piece that was never felt, as most in an old journal were not."""
    nothing = np.empty(0)
    return _bounds(nothing, nothing)


def _bounds(places: Array, scores: Array) -> Window:
    under = places[scores <= MOST_UNDER]
    right = places[(scores > MOST_UNDER) & (scores <= MOST_RIGHT)]
    over = places[scores > MOST_RIGHT]
    entered = np.sort(np.concatenate([right, over]))
    not_yet_over = np.sort(np.concatenate([under, right]))
    last_under = _last(_before(under, _first(entered)))
    first_over = _first(_after(over, _last(not_yet_over)))
    first_right = _first(_after(right, _last(under)))
    last_right = _last(_before(right, _first(over)))
    entry_high = _first(_after(entered, _last(under)))
    exit_low = _last(_before(not_yet_over, _first(over)))
    at_least = _gap(entry_high, exit_low)
    if at_least is None and right.size:
        at_least = 0.0  # it was right once, and nothing more is sure
    turns = np.sign(scores - (MOST_UNDER + 0.5)) + np.sign(scores - (MOST_RIGHT + 0.5))
    level = bool(np.any(np.diff(places)[np.diff(turns) != 0] == 0))
    return Window(
        last_under,
        first_right,
        last_right,
        first_over,
        entry_low=last_under,
        entry_high=entry_high,
        exit_low=exit_low,
        exit_high=first_over,
        entry=_seen(last_under, entry_high),
        exit=_seen(exit_low, first_over),
        at_least=at_least,
        at_most=_gap(last_under, first_over),
        consistent=bool(np.all(np.diff(turns) >= 0)) and not level,
        checks=int(places.size),
    )


def time_window(times: ArrayLike, feels: ArrayLike, off: float | None = None) -> Window:
    """Return the bounds in time at the pit; checks after the piece came off do not count.

    Parameters
    ----------
    times
        Of the checks, any unit, shape (n,).
    feels
        1 to 7, shape (n,).
    off
        When the piece came off; None if it has not, or it is unknown.
    """
    at = np.asarray(times, dtype=np.float64).ravel()
    scores = np.asarray(feels, dtype=np.float64).ravel()
    kept = np.isfinite(at) if off is None else at <= off
    return window(at[kept], scores[kept])


def temperature_window(
    times: ArrayLike, temperatures: ArrayLike, feels: ArrayLike, off: float | None = None
) -> Window:
    """Return the bounds over internal temperature at the pit, °C.

    Parameters
    ----------
    times
        Of the checks, any unit, shape (n,).
    temperatures
        Internal temperature at each check, °C, shape (n,); checks without one are left out.
    feels
        1 to 7, shape (n,).
    off
        As for `time_window`.
    """
    at = np.asarray(times, dtype=np.float64).ravel()
    kept = np.isfinite(at) if off is None else at <= off
    degrees = np.asarray(temperatures, dtype=np.float64).ravel()
    return window(degrees[kept], np.asarray(feels, dtype=np.float64).ravel()[kept])


def hold_window(times: ArrayLike, feels: ArrayLike, off: float) -> Window:
    """Return the bounds in time since coming off: how long the piece stays right in the box.

    The last check at or before coming off stands at 0; if it was right, the hold began right.

    Parameters
    ----------
    times, feels
        As for `time_window`.
    off
        When the piece came off.
    """
    at, scores = _ordered(times, feels)
    before = at <= off
    start = scores[before][-1:]
    since = np.concatenate([np.zeros(start.size), at[~before] - off])
    bounds = window(since, np.concatenate([start, scores[~before]]))
    if bounds.first_right != 0.0:
        return bounds
    return replace(bounds, entry_low=0.0, entry=SeenEnd.BETWEEN, at_most=bounds.first_over)


def leeway_interval(bounds: Window) -> tuple[float, float] | None:
    """Return the leeway as an interval for censored models: (low, high], high may be inf.

    None when the piece was not seen to enter the window at all.
    """
    if bounds.entry_high is None or bounds.exit_low is None:
        return None
    high = float("inf") if bounds.at_most is None else bounds.at_most
    return (max(0.0, bounds.exit_low - bounds.entry_high), high)
