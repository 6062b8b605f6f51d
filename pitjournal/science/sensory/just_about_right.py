"""Just-about-right scales: what being off to one side costs in liking."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import Array
from pitjournal.science.comparison.paired import Estimate, welch_difference

WORTH_SAYING = 0.2
"""A side named by fewer than a fifth is usually not reported (common practice, no source)."""


@dataclass(frozen=True)
class Side:
    """One side of a just-about-right scale.

    Attributes
    ----------
    share
        Of all answers, 0 to 1.
    mean
        Mean liking; None when nobody named it.
    drop
        Mean liking where just right − mean here; None likewise.
    penalty
        share × drop: what this side costs the whole panel.
    difference
        Just right − this side with Welch's interval; None when nobody named it.
    reported
        Whether a fifth or more named it.
    """

    share: float
    mean: float | None
    drop: float | None
    penalty: float | None
    difference: Estimate | None
    reported: bool


@dataclass(frozen=True)
class Penalty:
    """The penalty analysis: both sides, the middle, and the whole.

    Attributes
    ----------
    too_little, too_much
        The two sides.
    share_right, mean_right
        Of the middle.
    mean
        Of all.
    penalty
        Mean where just right − mean of all others; None when all, or none, were just right.
    n
        Answers.
    """

    too_little: Side
    too_much: Side
    share_right: float
    mean_right: float | None
    mean: float
    penalty: float | None
    n: int


def _mean(values: Array) -> float | None:
    return float(np.mean(values)) if values.size else None


def _side(liking: Array, own: Array, right: Array) -> Side:
    share = own.size / liking.size
    mean, ideal = _mean(own), _mean(right)
    known = mean is not None and ideal is not None
    drop = ideal - mean if mean is not None and ideal is not None else None
    return Side(
        share,
        mean,
        drop,
        share * drop if drop is not None else None,
        welch_difference(own, right) if known else None,
        share >= WORTH_SAYING,
    )


def penalty(sides: ArrayLike, liking: ArrayLike) -> Penalty | None:
    """Return what being off on one attribute costs in liking.

    Parameters
    ----------
    sides
        Below 0 too little, 0 just right, above 0 too much, shape (n,).
    liking
        Overall liking, any scale, shape (n,); pairs with a gap are left out.

    Returns
    -------
    Penalty or None
        None without answers.
    """
    where, liked = (np.asarray(v, dtype=np.float64).ravel() for v in (sides, liking))
    whole = np.isfinite(where) & np.isfinite(liked)
    where, liked = where[whole], liked[whole]
    if not liked.size:
        return None
    right, off = liked[where == 0], liked[where != 0]
    return Penalty(
        _side(liked, liked[where < 0], right),
        _side(liked, liked[where > 0], right),
        right.size / liked.size,
        _mean(right),
        float(np.mean(liked)),
        float(np.mean(right) - np.mean(off)) if right.size and off.size else None,
        int(liked.size),
    )
