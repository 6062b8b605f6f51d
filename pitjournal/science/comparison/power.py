"""How many pieces it would take: power of Student's t test, both tails counted."""

import math
from functools import lru_cache


def _power(effect: float, df: float, scale: float, alpha: float) -> float:
    """Return the power of a two-sided t test whose noncentrality is effect × scale."""
    from scipy import stats

    edge = float(stats.t.ppf(1 - alpha / 2, df))
    shift = effect * scale
    upper = float(stats.nct.sf(edge, df, shift))
    lower = float(stats.nct.sf(edge, df, -shift))  # the wrong tail, mirrored to keep digits
    if not math.isfinite(lower):
        lower = 0.0
    return min(1.0, upper + lower)


def paired_power(effect: float, n_pairs: float, alpha: float = 0.05) -> float | None:
    """Return the power of a paired t test.

    Parameters
    ----------
    effect
        True mean difference ÷ standard deviation of the differences.
    n_pairs
        Pairs; may be a fraction.
    alpha
        Two-sided level.

    Returns
    -------
    float or None
        None with no more than one pair.
    """
    if not n_pairs > 1:
        return None
    return _power(abs(effect), n_pairs - 1, math.sqrt(n_pairs), alpha)


def two_sample_power(effect: float, n_per_arm: float, alpha: float = 0.05) -> float | None:
    """Return the power of a two-sample t test with as many in each arm.

    Parameters
    ----------
    effect
        True difference ÷ common standard deviation.
    n_per_arm
        Values in each arm; may be a fraction.
    alpha
        Two-sided level.
    """
    if not n_per_arm > 1:
        return None
    return _power(abs(effect), 2 * n_per_arm - 2, math.sqrt(n_per_arm / 2), alpha)


def paired_effect(n_pairs: int, power: float = 0.8, alpha: float = 0.05) -> float | None:
    """Return the effect, in standard deviations of the differences, that n pairs would show.

    None with fewer than two pairs.
    """
    if n_pairs < 2:
        return None
    from scipy import optimize

    def short(effect: float) -> float:
        return _power(effect, n_pairs - 1, math.sqrt(n_pairs), alpha) - power

    top = 1.0
    while short(top) < 0:
        top *= 2
    return float(optimize.brentq(short, 0.0, top, xtol=1e-10))


def pairs_needed_exactly(effect: float, power: float = 0.8, alpha: float = 0.05) -> float | None:
    """Return the fractional number of pairs that just reaches the power; None for no effect."""
    if not abs(effect) > 0:
        return None
    from scipy import optimize

    def short(n: float) -> float:
        reached = paired_power(effect, n, alpha)
        assert reached is not None
        return reached - power

    low, high = 1.0 + 1e-3, 2.0
    while short(high) < 0:
        high *= 2
    return low if short(low) >= 0 else float(optimize.brentq(short, low, high, xtol=1e-9))


def pairs_needed(effect: float, power: float = 0.8, alpha: float = 0.05) -> int | None:
    """Return how many pairs a paired t test needs, at least two; None for no effect.

    Parameters
    ----------
    effect
        True mean difference ÷ standard deviation of the differences.
    power, alpha
        Chance of showing it, and two-sided level.
    """
    exact = pairs_needed_exactly(effect, power, alpha)
    return None if exact is None else max(2, math.ceil(exact - 1e-9))


def pieces_needed(effect: float, power: float = 0.8, alpha: float = 0.05) -> int | None:
    """Return how many pieces *an arm* a two-sample t test needs; None for no effect.

    Parameters
    ----------
    effect
        True difference ÷ common standard deviation.
    power, alpha
        Chance of showing it, and two-sided level.
    """
    if not abs(effect) > 0:
        return None
    low, high = 1, 2
    while (two_sample_power(effect, high, alpha) or 0.0) < power:
        low, high = high, 2 * high
    while high - low > 1:
        middle = (low + high) // 2
        reached = (two_sample_power(effect, middle, alpha) or 0.0) >= power
        low, high = (low, middle) if reached else (middle, high)
    return high


@lru_cache(maxsize=512)
def noncentrality_shown(df: float, power: float = 0.8, alpha: float = 0.05) -> float | None:
    """Return the true difference, in standard errors, that a t test shows with this chance.

    Parameters
    ----------
    df
        Degrees of freedom of the standard error; None comes back below 1.
    power, alpha
        Chance of showing it, and two-sided level.
    """
    if not df >= 1:
        return None
    from scipy import optimize

    def short(shift: float) -> float:
        return _power(shift, df, 1.0, alpha) - power

    top = 4.0
    while short(top) < 0:
        top *= 2
    return float(optimize.brentq(short, 0.0, top, xtol=1e-9))


_SHARES = 48
"""A spread that is known from few pieces stands in the sums as so many equally likely ones."""


def assurance(
    difference: float, spread: float, df: float, n_pairs: int, alpha: float = 0.05
) -> float | None:
    """Return the chance that n pairs show a difference, not knowing the spread for sure.

    The power of a paired t test, averaged over what the spread may truly be by the pieces it was
    found from: its square is spread² × df ÷ χ² (O'Hagan, Stevens & Campbell 2005, Pharm. Stat. 4,
    187–201; the difference that matters stays as it was said).

    Parameters
    ----------
    difference
        The true difference asked for.
    spread, df
        The standard deviation of the differences of pairs, with its degrees of freedom.
    n_pairs
        At least two; None comes back below.
    alpha
        Two-sided level.
    """
    if n_pairs < 2 or not spread > 0 or not df > 0:
        return None
    import numpy as np
    from scipy import stats

    even = (np.arange(_SHARES) + 0.5) / _SHARES
    true = spread * np.sqrt(df / stats.chi2.ppf(even, df))
    shift = abs(difference) / true * math.sqrt(n_pairs)
    edge = float(stats.t.isf(alpha / 2, n_pairs - 1))
    power = stats.nct.sf(edge, n_pairs - 1, shift) + stats.nct.sf(edge, n_pairs - 1, -shift)
    return float(np.mean(np.where(np.isfinite(power), power, 1.0)))


def pairs_assured(  # noqa: PLR0917 - what the number of pairs depends on
    difference: float,
    spread: float,
    df: float,
    chance: float = 0.8,
    most: int = 200,
    alpha: float = 0.05,
) -> int | None:
    """Return how many pairs show a difference with this chance, the spread not known for sure.

    Parameters
    ----------
    difference, spread, df
        As for `assurance`.
    chance
        Of showing it.
    most
        None comes back where it takes more.
    alpha
        Two-sided level.
    """
    if not abs(difference) > 0:
        return None

    def enough(n: int) -> bool:
        return (assurance(difference, spread, df, n, alpha) or 0.0) >= chance

    if not enough(most):
        return None
    low, high = 1, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high
