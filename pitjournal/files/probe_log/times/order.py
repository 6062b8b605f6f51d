"""Rows whose time does not fit the rows around it.

A damaged digit gives a time that can be read and is wrong. Rows are a chain: from one to the
next the clock goes on by the file's usual step. The chain that is kept is the cheapest one:
leaving a row out costs 1, and a link costs by what it asks us to believe. A gap, or a clock
that was set back, is believed once; a single row that jumps away and comes back would need
two such links, and is left out instead.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

LEFT_OUT = 1.0
GAP = 1.5
"""A link over a gap, or backwards."""
OFF_STEP = 1.3
"""A link forward by no multiple of the step: believed once, where the clock was set a little."""
MISSED = 0.3
"""A link over a few rows that were not written."""
SAME = 1.2
"""Two different rows at one time, where that is rare."""
AT_EDGE = 1.01
"""Added to a link of the first or the last row: nothing on its other side speaks for it."""

_REACH = 4
"""Rows between two kept ones, plus one."""
_FEW = 4
"""Fewer rows have no pace."""
_SHORT = 200
"""Links of a log that is short."""
_EXACT = 2e-4
"""Times so near each other are the same, s."""
_ON_STEP = 0.7
"""The share of links on the step that makes a clock of an even step."""
_FEW_LINKS = 8
"""Of so few the median may be none of the clock's."""
_NO_ORDER = 0.4
"""Where so many links are odd the rows are in no order; then none says anything of another."""
_COMMON = 0.03
"""A spacing that this share of the links has is one of the file's own."""
_OFTEN = 4.0
"""And so many links; that damage makes one and the same three times has been seen."""


@dataclass(frozen=True)
class Pace:
    """How a file's clock goes on.

    Attributes
    ----------
    step
        The median spacing, s.
    slack
        How far a spacing may be from the step, s; NaN where there is no fixed step.
    longest
        Beyond this a spacing is a gap, s.
    common
        Other spacings that are usual in the file, s.
    period
        86,400 for times of day, which begin anew, else infinite.
    """

    step: float
    slack: float
    longest: float
    common: Floats
    period: float = np.inf

    def between(self, first: Floats, then: Floats) -> Floats:
        """Return the seconds from one time to another, by the shorter way round the clock."""
        passed = then - first
        if np.isfinite(self.period):
            passed = (passed + self.period / 2) % self.period - self.period / 2
        return passed

    def cost(self, passed: Floats, rows: Floats, same: NDArray[np.bool_]) -> Floats:
        """Return what links cost, by the seconds passed, the rows passed and equal readings."""
        if np.isnan(self.slack):
            return np.where((passed >= 0) & (passed <= self.longest * rows), 0.0, GAP)
        steps = np.round(passed / self.step)
        on_step = np.abs(passed - steps * self.step) <= self.slack
        cost = np.where(on_step, MISSED, OFF_STEP)
        cost = np.where((passed < 0) | (passed > self.longest), GAP, cost)
        cost = np.where((passed == 0) & ~same, SAME, cost)
        usual = np.isclose(passed[:, None], self.common[None, :], rtol=0.0, atol=_EXACT).any(axis=1)
        fits = (steps == rows) & on_step
        fits |= (rows == 1) & (usual | ((passed == 0) & same))
        return np.where(fits, 0.0, cost)


def pace_of(times: Floats, period: float = np.inf) -> Pace | None:
    """Return how a file's clock goes on, or None where it stands still."""
    bare = Pace(1.0, np.nan, np.inf, np.empty(0), period)
    passed = bare.between(times[:-1], times[1:])
    onward = passed[passed > 0]
    if onward.size < 2:
        return None
    step = _usual(onward)
    near = onward[onward <= 4.0 * step]
    off = np.abs(near - np.maximum(1.0, np.round(near / step)) * step)
    # Of a few rows, some damaged ones are many: where most are on the step to the digit, all are.
    exact = off.size < _SHORT and float((off <= _EXACT).mean()) >= _ON_STEP
    slack = _EXACT if exact else max(_EXACT, 2.0 * float(np.quantile(off, 0.85)))
    often = float(np.quantile(onward, 0.8)) if onward.size >= _FEW_LINKS else step
    longest = 4.0 * max(step, often)
    spacings, counts = np.unique(np.round(passed[passed >= 0], 4), return_counts=True)
    common = spacings[counts >= max(_OFTEN, _COMMON * passed.size)]
    if slack > step / 3:
        return Pace(step, np.nan, longest, common, period)
    if common.size:
        longest = max(longest, 1.5 * float(common.max()))
    return Pace(step, slack, longest, common, period)


def _usual(onward: Floats) -> float:
    """Return the median spacing; of a few the one that comes most often, if one comes again."""
    if onward.size < _FEW_LINKS:
        spacings, counts = np.unique(np.round(onward, 3), return_counts=True)
        if counts.max() > 1:
            return float(spacings[np.argmax(counts)])
    return float(np.median(onward))


def out_of_order(
    times: Floats, values: Floats, slots: Floats, period: float = np.inf
) -> NDArray[np.bool_]:
    """Return which rows' times do not fit.

    Parameters
    ----------
    times
        Seconds in the file's order, shape (n,).
    values
        Readings, shape (n, channels); equal ones at one time are a row written twice.
    slots
        The rows' places in the file, with those that could not be read counted, shape (n,).
    period
        86,400 where times are those of a day without a date.
    """
    out = np.zeros(times.size, dtype=np.bool_)
    steps = np.diff(times)
    if steps.size and steps[0] > 0 and np.all(steps == steps[0]):
        return out
    if times.size < _FEW:
        # Too few to tell which one is damaged, if they do not go on.
        return out | (bool((steps <= 0).any()) and not np.isfinite(period))
    pace = pace_of(times, period)
    if pace is None:
        return out
    passed = pace.between(times[:-1], times[1:])
    same = np.zeros(passed.size, dtype=np.bool_)
    still = np.flatnonzero(passed == 0)
    same[still] = _equal(values[still], values[still + 1])
    cost = pace.cost(passed, np.diff(slots), same)
    odd = np.flatnonzero(cost > 0)
    if odd.size > _NO_ORDER * times.size and times.size > _REACH**3:
        return out
    for low, high in _clusters(odd, times.size):
        if cost[low:high].sum() > LEFT_OUT or low == 0 or high == times.size - 1:
            here = slice(low, high + 1)
            edges = (low == 0, high == times.size - 1)
            out[here] = _left_out(times[here], values[here], slots[here], pace, edges)
    _beside_jumps(out, times, values, slots, pace)
    _bare_ends(out, times, values, slots, pace)
    return out


def _kept_links(
    out: NDArray[np.bool_], times: Floats, values: Floats, slots: Floats, pace: Pace
) -> tuple[NDArray[np.intp], Floats]:
    """Return the rows that are kept, and what the links between them cost."""
    kept = np.flatnonzero(~out)
    passed = pace.between(times[kept[:-1]], times[kept[1:]])
    same = np.zeros(passed.size, dtype=np.bool_)
    still = np.flatnonzero(passed == 0)
    same[still] = _equal(values[kept[still]], values[kept[still + 1]])
    return kept, pace.cost(passed, np.diff(slots[kept]), same)


def _bare_ends(
    out: NDArray[np.bool_], times: Floats, values: Floats, slots: Floats, pace: Pace
) -> None:
    """Leave out a row that is first or last only because the one beyond it was left out.

    Damage seldom comes alone: unless it follows its neighbour by a step nothing speaks for it.
    """
    kept, cost = _kept_links(out, times, values, slots, pace)
    if cost.size and kept[0] > 0 and cost[0] > 0:
        out[kept[0]] = True
    if cost.size and kept[-1] < out.size - 1 and cost[-1] > 0:
        out[kept[-1]] = True


def _beside_jumps(
    out: NDArray[np.bool_], times: Floats, values: Floats, slots: Floats, pace: Pace
) -> None:
    """Leave out a row that stands beside a jump and does not follow the row on its other side.

    Where rows were cut out a row may be joined of two; it speaks for itself no more than one at
    the file's edge.
    """
    kept, cost = _kept_links(out, times, values, slots, pace)
    jumps = np.flatnonzero(cost == GAP)
    for jump in jumps.tolist():
        if jump > 0 and 0 < cost[jump - 1] < GAP:
            out[kept[jump]] = True
        if jump + 1 < cost.size and 0 < cost[jump + 1] < GAP:
            out[kept[jump + 1]] = True


def _equal(some: Floats, others: Floats) -> NDArray[np.bool_]:
    equal = (some == others) | (np.isnan(some) & np.isnan(others))
    return np.asarray(equal.all(axis=1), dtype=np.bool_)


def _clusters(odd: NDArray[np.intp], count: int) -> list[tuple[int, int]]:
    """Return spans of rows around odd links, from a row that is sound to one that is."""
    if not odd.size:
        return []
    splits = np.flatnonzero(np.diff(odd) > 2 * _REACH) + 1
    return [
        (max(0, int(group[0]) - _REACH), min(count - 1, int(group[-1]) + 1 + _REACH))
        for group in np.split(odd, splits)
    ]


def _left_out(
    times: Floats, values: Floats, slots: Floats, pace: Pace, edges: tuple[bool, bool]
) -> NDArray[np.bool_]:
    """Return which rows of a span the cheapest chain leaves out.

    `edges` say whether the span has the file's first and last row.
    """
    size = times.size
    best = np.full(size, np.inf)
    came = np.full(size, -1)
    best[0] = 0.0
    if edges[0]:
        best = np.arange(size, dtype=np.float64) * LEFT_OUT
    for here in range(1, size):
        back = np.arange(max(0, here - _REACH), here)[::-1]
        passed = pace.between(times[back], times[here])
        same = _equal(values[back], values[here][None, :])
        cost = pace.cost(passed, slots[here] - slots[back], same)
        edge = (edges[0] & (back == 0)) | (edges[1] and here == size - 1)
        total = best[back] + cost + AT_EDGE * (edge & (cost > 0)) + LEFT_OUT * (here - back - 1)
        place = int(np.argmin(total))
        if total[place] < best[here]:
            best[here], came[here] = total[place], int(back[place])
    end = size - 1
    if edges[1]:
        end = int(np.argmin(best + LEFT_OUT * np.arange(size)[::-1]))
    out = np.ones(size, dtype=np.bool_)
    while end >= 0:
        out[end] = False
        end = int(came[end])
    return out
