"""Differences between two arms: paired, blocked or apart, with what can be said of them.

Every difference is *other minus control*, in the unit of the values. What is not a number
is left out. Where no interval exists (one pair, no spread at all), the bounds are None.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import ROUNDING, finite, finite_pairs, largest, spread


@dataclass(frozen=True)
class Estimate:
    """A number and how sure it is.

    Attributes
    ----------
    estimate
        The number; not-a-number when nothing was left to compute it from.
    low, high
        Bounds of the interval; None where none exists.
    df, se, p
        Degrees of freedom, standard error and two-sided p value; None where undefined.
    n
        How many pairs, or values where nothing is paired, it rests on.
    method
        A few words naming the method.
    """

    estimate: float
    low: float | None
    high: float | None
    df: float | None
    se: float | None
    p: float | None
    n: int
    method: str


def bare(estimate: float, n: int, method: str, *, se: float | None = None) -> Estimate:
    """Return an estimate without an interval."""
    return Estimate(float(estimate), None, None, None, se, None, n, method)


def t_estimate(
    estimate: float, se: float, df: float, n: int, method: str, *, confidence: float
) -> Estimate:
    """Return an estimate with its Student t interval; `se` of 0 gives no bounds."""
    if not se > 0 or not df > 0:
        return bare(estimate, n, method, se=se)
    from scipy import stats

    half = float(stats.t.ppf(0.5 + confidence / 2, df)) * se
    p = 2 * float(stats.t.sf(abs(estimate) / se, df))
    return Estimate(
        float(estimate), float(estimate - half), float(estimate + half), float(df), se, p, n, method
    )


def paired_difference(control: ArrayLike, other: ArrayLike, confidence: float = 0.95) -> Estimate:
    """Return the mean of other − control over pairs, with Student's paired t interval.

    Parameters
    ----------
    control, other
        Shape (n,), pair by pair.
    confidence
        Of the interval, 0 to 1.
    """
    one, two = finite_pairs(control, other)
    differences = two - one
    n = differences.size
    if n == 0:
        return bare(np.nan, 0, "paired t")
    mean = float(np.mean(differences))
    if n < 2:
        return bare(mean, n, "paired t")
    se = spread(differences, scale=largest(one, two)) / float(np.sqrt(n))
    return t_estimate(mean, se, n - 1, n, "paired t", confidence=confidence)


def welch_difference(control: ArrayLike, other: ArrayLike, confidence: float = 0.95) -> Estimate:
    """Return the difference of two means that share neither pairs nor spread (Welch's t).

    Parameters
    ----------
    control, other
        Shapes (n,) and (m,).
    confidence
        Of the interval, 0 to 1.
    """
    one, two = finite(control), finite(other)
    n = one.size + two.size
    if not one.size or not two.size:
        return bare(np.nan, n, "Welch t")
    estimate = float(np.mean(two) - np.mean(one))
    if one.size < 2 or two.size < 2:
        return bare(estimate, n, "Welch t")
    parts = [spread(values) ** 2 / values.size for values in (one, two)]
    variance = sum(parts)
    if not variance > 0:
        return bare(estimate, n, "Welch t", se=0.0)
    shares = [part / variance for part in parts]
    df = 1 / (shares[0] ** 2 / (one.size - 1) + shares[1] ** 2 / (two.size - 1))
    return t_estimate(estimate, float(np.sqrt(variance)), df, n, "Welch t", confidence=confidence)


def pooled_difference(control: ArrayLike, other: ArrayLike, confidence: float = 0.95) -> Estimate:
    """Return the difference of two means of one common spread (Student's two-sample t).

    Parameters
    ----------
    control, other
        Shapes (n,) and (m,); one of them may hold a single value.
    confidence
        Of the interval, 0 to 1.
    """
    one, two = finite(control), finite(other)
    n = one.size + two.size
    if not one.size or not two.size:
        return bare(np.nan, n, "pooled t")
    estimate = float(np.mean(two) - np.mean(one))
    df = n - 2
    if df < 1:
        return bare(estimate, n, "pooled t")
    squares = sum((v.size - 1) * spread(v) ** 2 for v in (one, two) if v.size > 1)
    se = float(np.sqrt(squares / df * (1 / one.size + 1 / two.size)))
    return t_estimate(estimate, se, df, n, "pooled t", confidence=confidence)


def blocked_difference(
    values: ArrayLike,
    arm_codes: Sequence[int] | ArrayLike,
    block_codes: Sequence[int] | ArrayLike,
    arm: int,
    control: int,
    *,
    confidence: float = 0.95,
) -> Estimate:
    """Return arm − control from arms and blocks that add up, whether blocks are whole or not.

    Least squares on one level for each arm and one for each block; the residual spread is
    pooled over all arms. With two arms and one value of each in every block it is the
    paired t. When the two arms are not joined through blocks, the estimate is not a number.

    Parameters
    ----------
    values
        Shape (n,).
    arm_codes, block_codes
        Whole numbers naming each value's arm and block, shape (n,).
    arm, control
        The codes of the two arms to compare.
    confidence
        Of the interval, 0 to 1.
    """
    weights = {arm: 1.0, control: -1.0}
    return blocked_contrast(values, arm_codes, block_codes, weights, confidence=confidence)


def blocked_contrast(
    values: ArrayLike,
    arm_codes: Sequence[int] | ArrayLike,
    block_codes: Sequence[int] | ArrayLike,
    weights: Mapping[int, float],
    *,
    confidence: float = 0.95,
) -> Estimate:
    """Return a weighted sum of arms whose weights add to 0, arms and blocks adding up.

    As `blocked_difference`, of which it is the general case: with weights ½, ½, −½ and −½ it
    is a main effect of a two-by-two.

    Parameters
    ----------
    values, arm_codes, block_codes, confidence
        As there.
    weights
        Of each arm by its code; arms that are not named have none.
    """
    method = "blocks and arms by least squares"
    y = np.asarray(values, dtype=np.float64).ravel()
    whole = np.isfinite(y)
    y = y[whole]
    arms = np.asarray(arm_codes).ravel()[whole]
    blocks = np.asarray(block_codes).ravel()[whole]
    names = list(np.unique(arms))
    if any(arm not in names for arm in weights):
        return bare(np.nan, y.size, method)
    columns = [arms == name for name in names] + [blocks == name for name in np.unique(blocks)]
    design = np.column_stack(columns).astype(np.float64)
    contrast = np.zeros(design.shape[1])
    for arm, weight in weights.items():
        contrast[names.index(arm)] += weight
    inverse = np.linalg.pinv(design)
    shares = contrast @ inverse
    if not np.allclose(shares @ design, contrast, atol=1e-9):
        return bare(np.nan, y.size, method)
    centred = y - np.mean(y)  # keeps digits; the contrast does not mind
    estimate = float(shares @ centred)
    df = y.size - int(np.linalg.matrix_rank(design))
    if df < 1:
        return bare(estimate, y.size, method)
    residual = float(np.linalg.norm(centred - design @ (inverse @ centred)) / np.sqrt(df))
    if residual <= 4 * ROUNDING * largest(y):
        residual = 0.0
    se = residual * float(np.linalg.norm(shares))
    return t_estimate(estimate, se, df, y.size, method, confidence=confidence)


def residual_variance(
    values: ArrayLike,
    arm_codes: Sequence[int] | ArrayLike,
    block_codes: Sequence[int] | ArrayLike | None = None,
) -> tuple[float, float] | None:
    """Return the variance of pieces about arms (and blocks) that add up, and its freedom.

    Parameters
    ----------
    values
        Shape (n,).
    arm_codes, block_codes
        Codes of each value's arm and block, shape (n,); no blocks where they are None.

    Returns
    -------
    tuple or None
        None where no degree of freedom is left, or no spread beyond rounding.
    """
    y = np.asarray(values, dtype=np.float64).ravel()
    codes = [arm_codes] if block_codes is None else [arm_codes, block_codes]
    columns = [
        known[:, None] == np.unique(known)[None, :]
        for known in (np.asarray(code).ravel() for code in codes)
    ]
    design = np.hstack(columns).astype(np.float64)
    centred = y - np.mean(y) if y.size else y
    left = centred - design @ np.linalg.lstsq(design, centred, rcond=None)[0]
    df = y.size - int(np.linalg.matrix_rank(design)) if y.size else 0
    if df < 1:
        return None
    variance = float(left @ left) / df
    return (variance, float(df)) if variance > (4 * ROUNDING * largest(y)) ** 2 else None
