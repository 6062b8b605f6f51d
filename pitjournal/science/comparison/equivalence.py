"""Whether a difference is too small to matter: two one-sided tests.

Schuirmann (1987), Journal of Pharmacokinetics and Biopharmaceutics 15, 657–680.
"""

from pitjournal.science.comparison.paired import Estimate


def too_small_p(found: Estimate, margin: float) -> float | None:
    """Return the p value of "the true difference is `margin` or more, either way".

    The larger of the two one-sided p values: below a level exactly where the interval of one
    minus twice that level lies between −margin and margin.

    Parameters
    ----------
    found
        The difference with its standard error.
    margin
        The least difference that matters, above 0, in its unit.

    Returns
    -------
    float or None
        None where the difference has no standard error, or nothing is said to matter.
    """
    return one_sided_p(found.estimate, found.se, found.df, margin)


def one_sided_p(
    estimate: float | None, se: float | None, df: float | None, margin: float | None
) -> float | None:
    """Return the same from bare numbers; any may be None."""
    if estimate is None or not se or not df or margin is None or not margin > 0:
        return None
    from scipy import stats

    nearest = margin - abs(estimate)
    return float(stats.t.sf(nearest / se, df))


def two_sided_reach(
    estimate: float | None, se: float | None, df: float | None, level: float
) -> tuple[float, float] | None:
    """Return the interval that both one-sided tests at this level leave: of 1 − 2 × level.

    None where the difference has no standard error, or the level is none.
    """
    if estimate is None or not se or not df or not 0 < level < 0.5:
        return None
    from scipy import stats

    half = float(stats.t.isf(level, df)) * se
    return estimate - half, estimate + half
