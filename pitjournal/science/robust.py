"""Slopes that one odd cook cannot turn."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import finite_pairs


@dataclass(frozen=True)
class RobustLine:
    """A line through the middle of the pairwise slopes.

    Attributes
    ----------
    slope, low, high
        Median of the slopes between any two points, with Sen's normal interval.
    intercept
        Median of y − slope × x.
    tau, p
        Kendall's tau-b and its two-sided p value.
    n
        Points.
    """

    slope: float
    low: float
    high: float
    intercept: float
    tau: float
    p: float
    n: int


def theil_sen(x: ArrayLike, y: ArrayLike, confidence: float = 0.95) -> RobustLine | None:
    """Return Theil and Sen's line.

    Parameters
    ----------
    x, y
        Shape (n,); pairs with a gap are left out, and pairs of equal x have no slope.
    confidence
        Of the interval of the slope, 0 to 1.

    Returns
    -------
    RobustLine or None
        None with fewer than three points, when x or y does not vary, or when so many of both
        are the same that Sen's variance, which takes ties off, is none.
    """
    from scipy import stats

    along, up = finite_pairs(x, y)
    if along.size < 3 or np.ptp(along) == 0 or np.ptp(up) == 0:
        return None
    with np.errstate(invalid="ignore"):
        line = stats.theilslopes(up, along, alpha=confidence)
    if not (np.isfinite(line.low_slope) and np.isfinite(line.high_slope)):
        return None
    tau = stats.kendalltau(along, up)
    return RobustLine(
        float(line.slope),
        float(line.low_slope),
        float(line.high_slope),
        float(np.median(up - float(line.slope) * along)),
        float(tau.statistic),
        float(tau.pvalue),
        int(along.size),
    )
