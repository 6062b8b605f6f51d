"""Shares of a count: so many of so many, with an interval."""


def proportion_interval(
    hits: int, n: int, confidence: float = 0.95, *, exact: bool = True
) -> tuple[float, float] | None:
    """Return the interval of a share.

    Parameters
    ----------
    hits, n
        So many of so many.
    confidence
        0 to 1.
    exact
        Clopper and Pearson's interval, which never covers less than it says; otherwise
        Wilson's, which is shorter and right on average.

    Returns
    -------
    tuple or None
        Bounds between 0 and 1; None of nothing.
    """
    if n <= 0:
        return None
    from scipy import stats

    interval = stats.binomtest(hits, n).proportion_ci(confidence, "exact" if exact else "wilson")
    return max(0.0, float(interval.low)), min(1.0, float(interval.high))


def upper_tail(hits: int, n: int, chance: float) -> float:
    """Return the chance of so many or more of n when each has this chance."""
    from scipy import stats

    return float(stats.binom.sf(hits - 1, n, chance))
