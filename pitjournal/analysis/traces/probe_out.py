"""Find when a meat's probe was not in the meat, by leaps that no meat can make."""

import itertools
from collections.abc import Sequence

import numpy as np

from pitjournal.analysis.traces.believable import NO_MEAT_ABOVE
from pitjournal.analysis.traces.features import Array, ordered
from pitjournal.domain.samples import Samples

_GRID = 30.0
LEAP = 4.0
FASTEST = 0.1
"""Meat changes by less than `LEAP` K and `FASTEST` K/s: a leap beyond is the probe's.

Common practice, no source; 0.1 K/s is 6 K a minute, and thin meat over a hot fire makes 4.
"""

SAME = 10.0
"""A probe put back reads within so many K of where it was, and what the meat rose since."""

ROSE, MOST_RISEN = 0.01, 60.0
"""Meat rises by up to 0.01 K/s meanwhile (6 K in 10 min; common practice, no source)."""

A_RISE = 30.0
MOST_PIECES = 400

Span = tuple[float, float]


def out_of_meat(
    samples: Samples, start: float | None = None, end: float | None = None
) -> tuple[Span, ...]:
    """Return the spans, s since 1970, in which a meat's probe was somewhere else, ends included.

    The rule: the trace is cut wherever it leaps; of all the ways to join pieces whose ends meet,
    the one that lasts longest while the meat was on, and rises as meat does, is the meat. What
    lies above boiling never is.

    Parameters
    ----------
    samples
        Of one meat probe.
    start, end
        When the piece went on and came off, s since 1970, where that is known.
    """
    times, values = ordered(samples)
    if times.size < 4:
        return ()
    step = max(_GRID, float(np.median(np.diff(times))))
    grid = np.arange(times[0], times[-1] + step, step)
    level = np.interp(grid, times, values)
    leaps = np.flatnonzero(np.abs(np.diff(level)) > LEAP + FASTEST * step) + 1
    edges = np.unique(np.concatenate(([0], leaps, [grid.size])))
    if not leaps.size or edges.size > MOST_PIECES:
        return ()
    pieces = [(int(a), int(b)) for a, b in itertools.pairwise(edges) if b > a]
    kept = _meat(pieces, grid, level, start, end)
    return _others(pieces, kept, grid, times)


def in_meat(samples: Samples, start: float, end: float | None) -> Samples:
    """Return a meat's readings without what its probe read elsewhere: spikes, air, above boiling.

    Parameters
    ----------
    samples
        Of one meat probe.
    start, end
        When the piece went on and came off, s since 1970; no end where that is not known.
    """
    meat = samples.values <= NO_MEAT_ABOVE
    for first, last in out_of_meat(samples, start, end):
        meat &= (samples.times < first) | (samples.times > last)
    return samples if meat.all() else Samples(samples.times[meat], samples.values[meat])


def _meat(
    pieces: Sequence[tuple[int, int]],
    grid: Array,
    level: Array,
    start: float | None,
    end: float | None,
) -> set[int]:
    """Return the places of the pieces that are the meat."""
    weights = [_time_in(grid, piece, start, end) for piece in pieces]
    could = [float(np.median(level[a:b])) <= NO_MEAT_ABOVE for a, b in pieces]
    best: list[tuple[float, int | None]] = []
    lasted: list[float] = []
    for place, (a, _) in enumerate(pieces):
        before = [
            (lasted[other], other)
            for other in range(place)
            if could[other] and could[place] and _joins(grid, level, pieces[other][1] - 1, a)
        ]
        most = max(before, default=(0.0, None))
        best.append(most)
        lasted.append(most[0] + weights[place] if could[place] else 0.0)
    chosen: set[int] = set()
    most_like = 0.0
    for place in range(len(pieces)):
        chain = _chain(best, place)
        values = np.concatenate([level[slice(*pieces[n])] for n in chain])
        like = lasted[place] * min(1.0, 0.1 + float(np.ptp(values)) / A_RISE)
        if could[place] and like > most_like:
            most_like, chosen = like, set(chain)
    return chosen


def _time_in(grid: Array, piece: tuple[int, int], start: float | None, end: float | None) -> float:
    first, last = float(grid[piece[0]]), float(grid[piece[1] - 1])
    low = first if start is None else max(first, start)
    high = last if end is None else min(last, end)
    return max(high - low, 0.0) + 1e-3 * (last - first)


def _joins(grid: Array, level: Array, last: int, first: int) -> bool:
    risen = min(ROSE * float(grid[first] - grid[last]), MOST_RISEN)
    return -SAME <= float(level[first] - level[last]) <= SAME + risen


def _chain(best: Sequence[tuple[float, int | None]], place: int) -> list[int]:
    chain = [place]
    while (before := best[chain[-1]][1]) is not None:
        chain.append(before)
    return chain


def _others(
    pieces: Sequence[tuple[int, int]], kept: set[int], grid: Array, times: Array
) -> tuple[Span, ...]:
    """Return the pieces that are not kept, from their first reading to their last.

    A leap lies between two places of the grid: what was read there belongs to neither.
    """
    found: list[Span] = []
    for place, (a, b) in enumerate(pieces):
        if place in kept:
            continue
        before = np.searchsorted(times, grid[a - 1], side="right") if a else 0
        after = np.searchsorted(times, grid[b]) if b < grid.size else times.size
        if after <= before:
            continue
        first, last = float(times[before]), float(times[after - 1])
        if found and place - 1 not in kept:
            found[-1] = found[-1][0], last
        else:
            found.append((first, last))
    return tuple(found)
