"""Intervals from the pieces themselves: the bootstrap, made wide enough for few of them."""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pitjournal.science.arrays import Array


def drawn_within(groups: ArrayLike, draws: int, seed: int) -> Array:
    """Return how often each piece comes up when every group is drawn anew from its own.

    Parameters
    ----------
    groups
        Group (cook) of each piece, shape (n,).
    draws
        How many times.
    seed
        Of the lot, so that the same data give the same interval.

    Returns
    -------
    Array
        Shape (draws, n); each row adds up to n, and within a group to its size.
    """
    codes = np.asarray(groups).ravel()
    once = np.ones((draws, np.unique(codes).size), dtype=np.int64)
    return _drawn(codes, once, np.random.default_rng(seed))


def drawn_with_groups(groups: ArrayLike, draws: int, seed: int) -> Array:
    """Return how often each piece comes up when groups are drawn anew, and each from its own.

    What differs between groups is in such draws too; the pieces of one group are no replicates.
    A group that comes up twice is drawn from twice (Davison & Hinkley 1997, Bootstrap Methods and their Application, section 3.8; from memory).

    Parameters
    ----------
    groups
        Group (cook) of each piece, shape (n,).
    draws
        How many times.
    seed
        Of the lot.

    Returns
    -------
    Array
        Shape (draws, n). With one group it is `drawn_within`.
    """
    codes = np.asarray(groups).ravel()
    groups_there = np.unique(codes).size
    if groups_there < 2:
        return drawn_within(codes, draws, seed)
    lot = np.random.default_rng(seed)
    picked = lot.integers(groups_there, size=(draws, groups_there))
    times = np.stack([np.bincount(one, minlength=groups_there) for one in picked])
    return _drawn(codes, times, lot)


def _drawn(codes: Array, times: NDArray[np.int64], lot: np.random.Generator) -> Array:
    """Return how often each piece comes up, its group drawn anew so many times in each draw.

    `times` is of shape (draws, groups), the groups in rising order.
    """
    counts: Array = np.zeros((times.shape[0], codes.size))
    for group, often in zip(np.unique(codes), times.T, strict=True):
        own = np.flatnonzero(codes == group)
        picked = lot.integers(own.size, size=(often.size, int(often.max()) * own.size))
        for draw, drawn in enumerate(often * own.size):
            counts[draw, own] = np.bincount(picked[draw, :drawn], minlength=own.size)
    return counts


def expanded_percentiles(
    values: ArrayLike, n: int, confidence: float = 0.95
) -> tuple[float, float]:
    """Return a percentile interval with its tails moved out for so few pieces.

    Plain percentiles of a bootstrap are too narrow by √((n − 1) ÷ n) and take the normal for
    Student's t; the expanded ones put both right (Hesterberg 2015, The American Statistician
    69, 371–386, section 5.3).

    Parameters
    ----------
    values
        The estimate of each draw, shape (draws,); may be infinite, not not-a-number.
    n
        Pieces that the estimate rests on, at least two.
    confidence
        0 to 1.
    """
    from scipy import stats

    reach = float(stats.t.ppf(0.5 + confidence / 2, n - 1)) * math.sqrt(n / (n - 1))
    tail = float(stats.norm.cdf(-reach))
    rising = np.sort(np.asarray(values, dtype=np.float64).ravel())
    last = rising.size - 1
    return float(rising[math.floor(tail * last)]), float(rising[math.ceil((1 - tail) * last)])
