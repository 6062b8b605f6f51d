"""Which readings of a meat's trace can be the meat: what leaps as no meat can is damage."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.traces.features import LONGEST_GAP, Array

NO_MEAT_ABOVE = 100.5
"""Water boils in the meat at this or less, °C."""

FEW = 3.0
"""A rise of so many K from one reading to the next says nothing (common practice, no source)."""

FASTEST = 4.0 / 60.0
"""Thin meat over a hot fire rises 4 K a minute (common practice, no source), K/s."""

OWN_PACE = 3.0
"""Meat rises at most so many times as fast as it usually does (common practice, no source)."""

SAME = 5.0
"""A probe put back reads at most so many K below where it was."""

RAW = 35.0
"""A probe that goes into meat colder than this, °C, begins anew there."""

MOST_RISEN = 20.0
"""A rise of more over a silence was not seen, K (common practice, no source)."""

_TOGETHER = 30.0
_PACE_OVER = 300.0


def coldest_of(times: Array, values: Array) -> tuple[Array, Array]:
    """Return the coldest of the readings of each half minute, at the time of its first.

    Parameters
    ----------
    times, values
        s rising and °C, shape (n,).
    """
    if times.size < 2:
        return times, values
    places = np.floor((times - times[0]) / _TOGETHER)
    first = np.flatnonzero(np.diff(places, prepend=-1.0))
    return times[first], np.minimum.reduceat(values, first)


def believable(times: Array, values: Array) -> tuple[Array, Array]:
    """Return the readings that can be the meat a probe was in last, s and °C.

    The rule: of each half minute the coldest counts, and nothing above boiling. The trace is cut
    where it leaps: up by more than 3 K and three times its own usual pace, 4 K a minute at
    most, or down as fast. What leaps up is not the meat, until it is back where it was. What
    drops and stays there is: the probe was somewhere else before.

    Parameters
    ----------
    times, values
        s rising and °C, shape (n,).
    """
    meat = values <= NO_MEAT_ABOVE
    times, values = coldest_of(times[meat], values[meat])
    if times.size < 2:
        return times, values
    pace = min(OWN_PACE * _usual_pace(times, values), FASTEST)
    gaps, rises = np.diff(times), np.diff(values)
    leaps = (rises > _may_rise(gaps, pace)) | (-rises > _may_rise(gaps, FASTEST))
    edges = [0, *(np.flatnonzero(leaps) + 1).tolist(), times.size]
    kept = _kept(times, values, edges, pace)
    return times[kept], values[kept]


def _may_rise(gaps: Array, pace: float) -> Array:
    return FEW + np.minimum(pace * gaps, MOST_RISEN)


def _usual_pace(times: Array, values: Array) -> float:
    """Return how fast a trace rises where it rises, K/s, over some minutes at a time."""
    later = np.searchsorted(times, times + _PACE_OVER)
    there = later < times.size
    if not there.any():
        return FASTEST
    at, to = np.flatnonzero(there), later[there]
    paces = (values[to] - values[at]) / (times[to] - times[at])
    rising = paces[paces > 0]
    return float(np.quantile(rising, 0.75)) if rising.size else 0.0


def _kept(times: Array, values: Array, edges: Sequence[int], pace: float) -> NDArray[np.bool_]:
    """Return which readings are the meat, or colder than it."""
    kept = np.zeros(times.size, dtype=np.bool_)
    kept[: edges[1]] = True
    last = edges[1] - 1  # the last reading that is the meat
    for place in range(1, len(edges) - 1):
        a, b = edges[place], edges[place + 1]
        change = float(values[a] - values[last])
        gap = float(times[a] - times[last])
        back = last < a - 1 and gap <= LONGEST_GAP
        if back and -SAME <= change <= float(_may_rise(np.asarray(gap), pace)):
            kept[a:b], last = True, b - 1
        elif change < 0 and _comes_back(times, values, edges[place + 1 : -1], last, pace):
            kept[a:b] = True  # a hold is broken by it
        elif change < 0 or values[a] < RAW:
            kept[:a], kept[a:b], last = False, True, b - 1
    return kept


def _comes_back(times: Array, values: Array, starts: Sequence[int], last: int, pace: float) -> bool:
    """Whether a later stretch begins where the meat was before."""
    for a in starts:
        gap = float(times[a] - times[last])
        change = float(values[a] - values[last])
        if gap > LONGEST_GAP:
            return False
        if -SAME <= change <= float(_may_rise(np.asarray(gap), pace)):
            return True
    return False
