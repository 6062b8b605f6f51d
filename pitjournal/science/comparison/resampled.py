"""Intervals from the pieces themselves: the bootstrap, made wide enough for few of them."""

import math

import numpy as np
from numpy.typing import ArrayLike

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
    lot = np.random.default_rng(seed)
    counts: Array = np.zeros((draws, codes.size))
    for group in np.unique(codes):
        own = np.flatnonzero(codes == group)
        picked = lot.integers(own.size, size=(draws, own.size))
        for draw in range(draws):
            counts[draw, own] = np.bincount(picked[draw], minlength=own.size)
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
