"""How far tasters agree with each other and with themselves, and one panel with another."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike


@dataclass(frozen=True)
class Agreement:
    """One intraclass correlation with its interval; the interval may reach below 0."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class PanelAgreement:
    """The six forms of Shrout and Fleiss (1979), and the mean squares behind them.

    Attributes
    ----------
    each_own
        ICC(1,1): every sample met tasters of its own.
    any_tasters
        ICC(2,1): one taster of many, absolute scores.
    these_tasters
        ICC(3,1): one of these very tasters, levels set aside.
    mean_each_own, mean_any_tasters, mean_these_tasters
        ICC(1,k), (2,k), (3,k): the same of the mean over tasters.
    between, tasters, error, within
        Mean squares.
    """

    each_own: Agreement
    any_tasters: Agreement
    these_tasters: Agreement
    mean_each_own: Agreement
    mean_any_tasters: Agreement
    mean_these_tasters: Agreement
    between: float
    tasters: float
    error: float
    within: float


def _of_mean(single: Agreement, k: int) -> Agreement:
    """Return the correlation of means of k from that of one (Spearman and Brown)."""

    def step(value: float) -> float:
        return k * value / (1 + (k - 1) * value)

    return Agreement(step(single.value), step(single.low), step(single.high))


def _from_ratio(f: float, df: tuple[int, int], k: int, confidence: float) -> Agreement:
    from scipy import stats

    level = 0.5 + confidence / 2
    low = f / float(stats.f.ppf(level, *df))
    high = f * float(stats.f.ppf(level, *df[::-1]))
    value, lower, upper = ((part - 1) / (part + k - 1) for part in (f, low, high))
    return Agreement(value, lower, upper)


def _absolute(
    between: float, tasters: float, error: float, size: tuple[int, int], confidence: float
) -> Agreement:
    """Return ICC(2,1) with the interval of Shrout and Fleiss, from an approximate df."""
    from scipy import stats

    n, k = size
    value = (between - error) / (between + (k - 1) * error + k * (tasters - error) / n)
    ratio = tasters / error
    common = n * (1 + (k - 1) * value) - k * value
    df = (
        (k - 1)
        * (n - 1)
        * (k * value * ratio + common) ** 2
        / ((n - 1) * k**2 * value**2 * ratio**2 + common**2)
    )
    level = 0.5 + confidence / 2
    upper = float(stats.f.ppf(level, n - 1, df))
    lower = float(stats.f.ppf(level, df, n - 1))
    rest = k * tasters + (k * n - k - n) * error
    return Agreement(
        value,
        n * (between - upper * error) / (upper * rest + n * between),
        n * (lower * between - error) / (rest + n * lower * between),
    )


def panel_agreement(table: ArrayLike, confidence: float = 0.95) -> PanelAgreement | None:
    """Return how far a panel agrees.

    Parameters
    ----------
    table
        Scores, samples × tasters, shape (n, k); samples with a gap are left out.
    confidence
        Of the intervals, 0 to 1.

    Returns
    -------
    PanelAgreement or None
        None with fewer than two whole samples or two tasters, or no disagreement at all
        beyond the tasters' levels to measure by.
    """
    scores = np.asarray(table, dtype=np.float64)
    if scores.ndim != 2:
        return None
    scores = scores[np.all(np.isfinite(scores), axis=1)]
    n, k = scores.shape
    if n < 2 or k < 2:
        return None
    centred = scores - np.mean(scores)
    rows, columns = np.mean(centred, axis=1), np.mean(centred, axis=0)
    left = centred - rows[:, None] - columns[None, :]
    between = k * float(rows @ rows) / (n - 1)
    tasters = n * float(columns @ columns) / (k - 1)
    error = float(np.sum(left**2)) / ((n - 1) * (k - 1))
    within = float(np.sum((centred - rows[:, None]) ** 2)) / (n * (k - 1))
    if error <= 1e-12 * max(between, tasters, 1e-300):
        return None
    one = _from_ratio(between / within, (n - 1, n * (k - 1)), k, confidence)
    two = _absolute(between, tasters, error, (n, k), confidence)
    three = _from_ratio(between / error, (n - 1, (n - 1) * (k - 1)), k, confidence)
    return PanelAgreement(
        one,
        two,
        three,
        _of_mean(one, k),
        _of_mean(two, k),
        _of_mean(three, k),
        between,
        tasters,
        error,
        within,
    )


@dataclass(frozen=True)
class Repeatability:
    """How far scores of one thing by one taster scatter.

    Attributes
    ----------
    sd, low, high
        Standard deviation with its interval, in points.
    df
        How many spare scores it rests on: with pairs, the number of pairs.
    """

    sd: float
    low: float
    high: float
    df: int

    @property
    def limit(self) -> float:
        """What two scores of the same thing differ by less than, 19 times in 20."""
        return 1.96 * math.sqrt(2) * self.sd


def repeatability(
    cells: Iterable[Sequence[float]], confidence: float = 0.95
) -> Repeatability | None:
    """Return the scatter within cells, pooled: the residual of a one-way analysis of variance.

    Parameters
    ----------
    cells
        Scores of one thing by one taster, any number in each; single ones say nothing.
    confidence
        Of the interval, from the chi-square distribution.

    Returns
    -------
    Repeatability or None
        None when nothing was scored twice, or every cell is level.
    """
    from scipy import stats

    squares, df = 0.0, 0
    for cell in cells:
        scores = np.asarray(cell, dtype=np.float64)
        scores = scores[np.isfinite(scores)]
        if scores.size > 1:
            squares += float(np.sum((scores - np.mean(scores)) ** 2))
            df += int(scores.size) - 1
    if df == 0 or squares <= 0:
        return None
    level = 0.5 + confidence / 2
    low, high = (float(stats.chi2.ppf(part, df)) for part in (level, 1 - level))
    return Repeatability(
        math.sqrt(squares / df), math.sqrt(squares / low), math.sqrt(squares / high), df
    )


@dataclass(frozen=True)
class Likeness:
    """How one taster's scores go with the rest's: a correlation with its interval."""

    value: float
    low: float
    high: float
    n: int


def likeness(own: ArrayLike, rest: ArrayLike, confidence: float = 0.95) -> Likeness | None:
    """Return the correlation of two rows of scores with Fisher's interval.

    Parameters
    ----------
    own, rest
        Scores of the same samples, shape (n,); pairs with a gap are left out.
    confidence
        0 to 1.

    Returns
    -------
    Likeness or None
        None with fewer than four pairs, or where one of them is level.
    """
    from scipy import stats

    one, two = (np.asarray(v, dtype=np.float64).ravel() for v in (own, rest))
    whole = np.isfinite(one) & np.isfinite(two)
    one, two = one[whole], two[whole]
    if one.size < 4 or np.ptp(one) <= 1e-9 or np.ptp(two) <= 1e-9:
        return None
    found = stats.pearsonr(one, two)
    bounds = found.confidence_interval(confidence)
    return Likeness(float(found.statistic), float(bounds.low), float(bounds.high), int(one.size))


@dataclass(frozen=True)
class AgreementLimits:
    """How far two ways of scoring the same things lie apart, in points.

    Attributes
    ----------
    mean, low, high
        The first less the second, over groups, with Student's interval.
    sd
        Standard deviation of the difference of a single thing.
    n, groups
        Things, and groups they came in.
    """

    mean: float
    low: float
    high: float
    sd: float
    n: int
    groups: int

    @property
    def lower(self) -> float:
        """The lower limit: 19 single differences in 20 lie above it and below `upper`."""
        return self.mean - 1.96 * self.sd

    @property
    def upper(self) -> float:
        """The upper limit of agreement."""
        return self.mean + 1.96 * self.sd


def limits_of_agreement(
    differences: ArrayLike, groups: ArrayLike, confidence: float = 0.95
) -> AgreementLimits | None:
    """Return the limits of agreement of Bland and Altman, for things that come in groups.

    A group's things are alike, so each group counts once in the mean. The variance of a single
    difference is that of the groups' means, and what lies within groups less the part of it
    that is in those means already: s² + (1 − 1/h) w², h the harmonic mean of the groups' sizes
    (Bland and Altman 1999, section 5, for pairs whose true value varies; Zou 2013, for groups
    of unlike size). With one thing a group it is the limits of 1986.

    Parameters
    ----------
    differences
        One score less the other of each thing, shape (n,); what is not a number is left out.
    groups
        The group of each, shape (n,).
    confidence
        Of the interval of the mean, 0 to 1.

    Returns
    -------
    Limits or None
        None with fewer than two groups.
    """
    from scipy import stats

    every, parted = np.asarray(differences, dtype=np.float64).ravel(), np.asarray(groups).ravel()
    sound = np.isfinite(every)
    every = every[sound]
    names, own = np.unique(parted[sound], return_inverse=True)
    if names.size < 2:
        return None
    counts = np.bincount(own)
    means = np.bincount(own, weights=every) / counts
    between = float(np.var(means, ddof=1))
    spare = int(every.size - names.size)
    within = float(np.sum((every - means[own]) ** 2)) / spare if spare else 0.0
    half = float(stats.t.ppf(0.5 + confidence / 2, names.size - 1))
    half *= math.sqrt(between / names.size)
    mean = float(np.mean(means))
    sd = math.sqrt(between + (1.0 - float(np.mean(1.0 / counts))) * within)
    return AgreementLimits(mean, mean - half, mean + half, sd, int(every.size), int(names.size))
