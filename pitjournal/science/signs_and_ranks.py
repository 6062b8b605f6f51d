"""Tests of paired differences that need no bell curve: signs, signed ranks, swapped labels."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import ROUNDING, Array, finite_pairs, largest
from pitjournal.science.paired import Estimate

MOST_PAIRS = 40
"""Beyond this many pairs complete enumeration of the signs is not attempted."""


@dataclass(frozen=True)
class SignedRank:
    """Wilcoxon's signed ranks.

    Attributes
    ----------
    statistic
        Sum of the ranks of the positive differences.
    p
        Exact two-sided p value, ties and all; None when every difference is zero.
    greater
        Exact one-sided p value for other > control.
    n
        Pairs left after dropping zero differences.
    """

    statistic: float
    p: float | None
    greater: float | None
    n: int


@dataclass(frozen=True)
class RankEstimate(Estimate):
    """An estimate whose interval reaches only certain confidences.

    Attributes
    ----------
    achieved
        The confidence that the interval has; None where there is none.
    """

    achieved: float | None


def _differences(control: ArrayLike, other: ArrayLike) -> Array:
    """Return other − control with rounding dust swept to exact zeros and ties."""
    one, two = finite_pairs(control, other)
    unit = 64 * ROUNDING * largest(one, two)
    differences = two - one
    return np.round(differences / unit) * unit if unit > 0 else differences


def _subset_sums(weights: list[int]) -> Array:
    """Return the chance of each sum when every weight is taken or left by a fair coin."""
    chances = np.zeros(sum(weights) + 1)
    chances[0] = 1.0
    for weight in weights:
        shifted = np.zeros_like(chances)
        shifted[weight:] = chances[: chances.size - weight]
        chances = (chances + shifted) / 2
    return chances


def wilcoxon(control: ArrayLike, other: ArrayLike) -> SignedRank:
    """Return Wilcoxon's signed-rank test of other − control, exact for any number of ties.

    Zero differences are dropped before ranking (Wilcoxon's way); ties get middle ranks.

    Parameters
    ----------
    control, other
        Shape (n,), pair by pair.
    """
    from scipy import stats

    differences = _differences(control, other)
    differences = differences[differences != 0]
    if not differences.size:
        return SignedRank(0.0, None, None, 0)
    doubled = np.rint(2 * stats.rankdata(np.abs(differences))).astype(np.int64)
    observed = int(np.sum(doubled[differences > 0]))
    chances = _subset_sums([int(rank) for rank in doubled])
    above = float(np.sum(chances[observed:]))
    below = float(np.sum(chances[: observed + 1]))
    return SignedRank(
        observed / 2, min(1.0, 2 * min(above, below)), min(1.0, above), int(differences.size)
    )


def sign_test_p(control: ArrayLike, other: ArrayLike) -> float | None:
    """Return the exact two-sided p value of the sign test; None when all pairs are level."""
    from scipy import stats

    differences = _differences(control, other)
    n = int(np.count_nonzero(differences))
    if n == 0:
        return None
    return float(stats.binomtest(int(np.sum(differences > 0)), n).pvalue)


def sign_flip_p(control: ArrayLike, other: ArrayLike) -> float | None:
    """Return the exact two-sided randomisation p value of the mean difference.

    Of all ways in which labels could have been swapped within pairs, the share that gives
    a mean at least as far from zero. Ties are counted fully.

    Parameters
    ----------
    control, other
        Shape (n,), pair by pair.

    Returns
    -------
    float or None
        None without pairs, or with more than 40 of them.
    """
    one, two = finite_pairs(control, other)
    differences = two - one
    n = differences.size
    if n == 0 or n > MOST_PAIRS:
        return None
    slack = 8 * n * ROUNDING * largest(one, two)
    target = abs(float(np.sum(differences))) - slack
    if target <= 0:
        return 1.0
    halves = [np.zeros(1), np.zeros(1)]
    for position, difference in enumerate(differences):
        half = halves[position % 2]
        halves[position % 2] = np.concatenate([half + difference, half - difference])
    ordered = np.sort(halves[1])
    reaching = ordered.size - np.searchsorted(ordered, target - halves[0], side="left")
    one_side = float(np.sum(reaching)) / 2.0**n
    return min(1.0, 2 * one_side)  # flipping every sign mirrors the sums


def hodges_lehmann(control: ArrayLike, other: ArrayLike, confidence: float = 0.95) -> RankEstimate:
    """Return the median of the averages of two differences, with its exact interval.

    The interval runs from the k-th smallest to the k-th largest average; its confidence
    is the smallest attainable at or above the one asked for, and is returned with it.
    With too few pairs to reach it there are no bounds.

    Parameters
    ----------
    control, other
        Shape (n,), pair by pair.
    confidence
        At least this, 0 to 1.
    """
    one, two = finite_pairs(control, other)
    differences = two - one
    n = differences.size
    method = "Hodges–Lehmann"
    if n == 0:
        return RankEstimate(np.nan, None, None, None, None, None, 0, method, None)
    upper = np.triu_indices(n)
    averages = np.sort((differences[upper[0]] + differences[upper[1]]) / 2)
    estimate = float(np.median(averages))
    tails = np.cumsum(_subset_sums(list(range(1, n + 1))))
    rank = int(np.searchsorted(tails, (1 - confidence) / 2, side="right"))
    p = wilcoxon(control, other).p
    if rank == 0:
        return RankEstimate(estimate, None, None, None, None, p, n, method, None)
    low, high = float(averages[rank - 1]), float(averages[-rank])
    achieved = 1 - 2 * float(tails[rank - 1])
    return RankEstimate(estimate, low, high, None, None, p, n, method, achieved)
