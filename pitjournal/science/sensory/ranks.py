"""Ranked samples: whether tasters put them in one order, and which order it is."""

from dataclasses import dataclass
from itertools import permutations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pitjournal.science.arrays import Array

MOST_STATES = 2_000_000
"""Exact enumeration stops where one more taster would pass this many rank sums."""


@dataclass(frozen=True)
class Ranking:
    """Friedman's test of a table of tasters × samples.

    Attributes
    ----------
    rank_sums
        One for each sample, middle ranks for ties.
    statistic, p
        Chi-square corrected for ties, and its p value.
    exact_p
        From every way of ranking within tasters; None when the table is too large.
    f, f_p
        Conover's F form, which holds its level better than the chi-square.
    least_difference
        Rank sums further apart than this differ at 5 % (Conover); None when F is infinite.
    w
        Kendall's agreement, 0 to 1.
    tasters, samples
        Size of the table.
    """

    rank_sums: tuple[float, ...]
    statistic: float
    p: float
    exact_p: float | None
    f: float | None
    f_p: float | None
    least_difference: float | None
    w: float
    tasters: int
    samples: int


def _doubled_ranks(table: ArrayLike) -> NDArray[np.int64] | None:
    """Return twice the middle ranks of the rows without gaps; None if there is no table."""
    from scipy import stats

    values = np.asarray(table, dtype=np.float64)
    if values.ndim != 2:
        return None
    values = values[np.all(np.isfinite(values), axis=1)]
    if values.shape[0] < 2 or values.shape[1] < 2:
        return None
    return np.rint(2 * stats.rankdata(values, axis=1)).astype(np.int64)


def _exact_tail(doubled: NDArray[np.int64]) -> float | None:
    """Return the chance of rank sums at least as uneven, over all orders within rows.

    The rank sums are kept sorted: samples are alike under no effect.
    """
    sums = np.zeros((1, doubled.shape[1]), dtype=np.int64)
    chances: Array = np.ones(1)
    if doubled.shape[1] > 6:
        return None
    for row in doubled:
        orders = np.unique(np.array(list(permutations(row)), dtype=np.int64), axis=0)
        if sums.shape[0] * orders.shape[0] > MOST_STATES:
            return None
        reached = np.sort((sums[:, None, :] + orders[None, :, :]).reshape(-1, sums.shape[1]))
        sums, places = np.unique(reached, axis=0, return_inverse=True)
        share = np.repeat(chances / orders.shape[0], orders.shape[0])
        chances = np.asarray(np.bincount(places.ravel(), weights=share), dtype=np.float64)
    target = int(np.sum(np.sum(doubled, axis=0) ** 2))
    return min(1.0, float(np.sum(chances[np.sum(sums**2, axis=1) >= target])))


def friedman(table: ArrayLike, *, exact: bool = True) -> Ranking | None:
    """Return Friedman's test with ties corrected (Conover 1999, section 5.8).

    Parameters
    ----------
    table
        Scores or ranks, tasters × samples, shape (b, k); rows with a gap are left out.
    exact
        Whether to enumerate small tables.

    Returns
    -------
    Ranking or None
        None with fewer than two whole rows or two samples, or when every row is level.
    """
    from scipy import stats

    doubled = _doubled_ranks(table)
    if doubled is None:
        return None
    b, k = doubled.shape
    ranks = doubled / 2
    sums = np.sum(ranks, axis=0)
    squares, centre = float(np.sum(ranks**2)), b * k * (k + 1) ** 2 / 4
    if squares <= centre:
        return None
    statistic = (k - 1) * float(np.sum((sums - b * (k + 1) / 2) ** 2)) / (squares - centre)
    room = b * (k - 1) - statistic
    df = (b - 1) * (k - 1)
    f = (b - 1) * statistic / room if room > 1e-9 else None
    error = 2 * (b * squares - float(np.sum(sums**2))) / df
    return Ranking(
        tuple(float(value) for value in sums),
        statistic,
        float(stats.chi2.sf(statistic, k - 1)),
        _exact_tail(doubled) if exact else None,
        f,
        float(stats.f.sf(f, k - 1, df)) if f is not None else None,
        float(stats.t.ppf(0.975, df) * np.sqrt(max(error, 0.0))) if f is not None else None,
        statistic / (b * (k - 1)),
        b,
        k,
    )


@dataclass(frozen=True)
class IncompleteRanking:
    """Durbin's test of samples ranked in balanced incomplete blocks.

    Attributes
    ----------
    rank_sums
        One for each sample, in order of its code.
    statistic, p
        Chi-square form.
    f, f_p
        F form, the better one; None when it is infinite.
    """

    rank_sums: tuple[float, ...]
    statistic: float
    p: float
    f: float | None
    f_p: float | None


def _incidence(samples: NDArray[np.int64], tasters: NDArray[np.int64]) -> Array:
    grid = np.zeros((int(np.max(samples)) + 1, int(np.max(tasters)) + 1))
    np.add.at(grid, (samples, tasters), 1)
    return grid


def _balanced(grid: Array) -> bool:
    """Whether samples and tasters occur equally often, and so do pairs of samples."""
    together = grid @ grid.T
    apart = together[~np.eye(grid.shape[0], dtype=np.bool_)]
    sizes, times = np.sum(grid, axis=0), np.sum(grid, axis=1)
    return all(bool(np.all(part == part.flat[0])) for part in (sizes, times, apart, grid[grid > 0]))


def durbin(
    values: ArrayLike, sample_codes: ArrayLike, taster_codes: ArrayLike
) -> IncompleteRanking | None:
    """Return Durbin's test, each taster having met the same number of the samples.

    Parameters
    ----------
    values
        Scores or ranks, shape (n,).
    sample_codes, taster_codes
        Whole numbers naming sample and taster of each, shape (n,).

    Returns
    -------
    IncompleteRanking or None
        None when the blocks are not balanced, or every taster scored level.
    """
    from scipy import stats

    scores = np.asarray(values, dtype=np.float64).ravel()
    whole = np.isfinite(scores)
    scores = scores[whole]
    _, samples = np.unique(np.asarray(sample_codes).ravel()[whole], return_inverse=True)
    _, tasters = np.unique(np.asarray(taster_codes).ravel()[whole], return_inverse=True)
    if not scores.size or samples.max() < 1 or tasters.max() < 1:
        return None
    grid = _incidence(samples.astype(np.int64), tasters.astype(np.int64))
    if not _balanced(grid):
        return None
    t, b = grid.shape
    k, r = int(np.sum(grid[:, 0])), int(np.sum(grid[0]))
    ranks = np.empty(scores.size)
    for taster in range(b):
        own = tasters == taster
        ranks[own] = stats.rankdata(scores[own])
    sums = np.bincount(samples, weights=ranks)
    room = float(np.sum(ranks**2)) - b * k * (k + 1) ** 2 / 4
    if room <= 1e-9:
        return None
    statistic = (t - 1) * float(np.sum((sums - r * (k + 1) / 2) ** 2)) / room
    df = b * k - b - t + 1
    left = b * (k - 1) - statistic
    f = statistic / (t - 1) / (left / df) if left > 1e-9 and df > 0 else None
    return IncompleteRanking(
        tuple(float(value) for value in sums),
        statistic,
        float(stats.chi2.sf(statistic, t - 1)),
        f,
        float(stats.f.sf(f, t - 1, df)) if f is not None else None,
    )


@dataclass(frozen=True)
class Trend:
    """Page's test that samples rise in the order of their columns: L and one-sided p."""

    statistic: float
    p: float
    exact: bool


def page(table: ArrayLike, *, exact: bool | None = None) -> Trend | None:
    """Return Page's trend test.

    Parameters
    ----------
    table
        Scores or ranks, tasters × samples in the order that is supposed, shape (b, k); rows
        with a gap are left out.
    exact
        Exact p value (which takes no account of ties) or the normal one; by size if None.

    Returns
    -------
    Trend or None
        None with fewer than two whole rows or three samples.
    """
    from scipy import stats

    doubled = _doubled_ranks(table)
    if doubled is None or doubled.shape[1] < 3:
        return None
    b, k = doubled.shape
    chosen = exact if exact is not None else k <= 8 and b <= 12
    result = stats.page_trend_test(
        doubled / 2, ranked=True, method="exact" if chosen else "asymptotic"
    )
    return Trend(float(result.statistic), float(result.pvalue), chosen)
