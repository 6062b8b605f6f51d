"""Least squares: lines, adjusted differences and what is left of a link when a third is held."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import ROUNDING, Array, largest
from pitjournal.science.comparison.paired import Estimate, bare, t_estimate


@dataclass(frozen=True, eq=False)
class Fit:
    """A least-squares fit: intercept first, then one coefficient a column.

    Attributes
    ----------
    coefficients, errors
        Shape (p,).
    df
        Residual degrees of freedom.
    residual_sd, r_squared
        Spread left, and share explained.
    n
        Readings.
    """

    coefficients: Array
    errors: Array
    df: int
    residual_sd: float
    r_squared: float
    n: int


def least_squares(y: ArrayLike, columns: ArrayLike) -> Fit | None:
    """Return the fit of y on an intercept and columns.

    Columns are centred and scaled before an orthogonal factorisation, so that years or
    populations among them cost no digits.

    Parameters
    ----------
    y
        Shape (n,).
    columns
        Shape (n,) or (n, k); rows with a gap are left out.

    Returns
    -------
    Fit or None
        None with no residual degree of freedom, or columns that cannot be told apart.
    """
    from scipy import linalg

    up = np.asarray(y, dtype=np.float64).ravel()
    x = np.asarray(columns, dtype=np.float64).reshape(up.size, -1)
    whole = np.isfinite(up) & np.all(np.isfinite(x), axis=1)
    up, x = up[whole], x[whole]
    n, k = x.shape
    df = n - k - 1
    if df < 1:
        return None
    middles = np.mean(x, axis=0)
    widths = np.std(x, axis=0)
    if np.any(widths <= ROUNDING * np.max(np.abs(x), axis=0)):
        return None
    level = float(np.mean(up))
    scaled = (x - middles) / widths
    q, r = linalg.qr(scaled, mode="economic")
    if np.min(np.abs(np.diag(r))) < 1e-10 * np.sqrt(n):
        return None
    slopes = linalg.solve_triangular(r, q.T @ (up - level))
    left = up - level - scaled @ slopes
    slopes = slopes + linalg.solve_triangular(r, q.T @ left)  # one step of refinement
    left = up - level - scaled @ slopes
    squares = float(left @ left)
    variance = squares / df
    back = linalg.solve_triangular(r, np.eye(k)) / widths[:, None]
    inner = back @ back.T
    slopes = slopes / widths
    total = float(np.sum((up - level) ** 2))
    heads = np.concatenate([[1 / n + middles @ inner @ middles], np.diag(inner)])
    return Fit(
        np.concatenate([[level - middles @ slopes], slopes]),
        np.sqrt(heads * variance),
        df,
        float(np.sqrt(variance)),
        1 - squares / total if total > 0 else 0.0,
        n,
    )


def within_slope(
    values: ArrayLike, x: ArrayLike, group_codes: ArrayLike, confidence: float = 0.95
) -> Estimate:
    """Return the slope of values on x within groups, whose levels are free.

    What differs from group to group (a cook, a way) does not count. `n` is the number of values
    in groups of at least two.

    Parameters
    ----------
    values, x
        Shape (n,); pairs with a gap are left out.
    group_codes
        Group of each, shape (n,).
    confidence
        Of the interval, 0 to 1.
    """
    method = "slope within groups"
    y, along = (np.asarray(v, dtype=np.float64).ravel() for v in (values, x))
    whole = np.isfinite(y) & np.isfinite(along)
    y, along = y[whole], along[whole]
    _, places = np.unique(np.asarray(group_codes).ravel()[whole], return_inverse=True)
    sizes = np.bincount(places, minlength=1)
    kept = sizes[places] > 1 if places.size else np.zeros(0, dtype=np.bool_)
    y, along, places = y[kept], along[kept], places[kept]
    if not y.size:
        return bare(np.nan, 0, method)
    up = y - (np.bincount(places, weights=y) / np.maximum(np.bincount(places), 1))[places]
    out = along - (np.bincount(places, weights=along) / np.maximum(np.bincount(places), 1))[places]
    squares = float(out @ out)
    df = y.size - np.unique(places).size - 1
    if df < 1 or squares <= (ROUNDING * largest(along)) ** 2 * y.size:
        return bare(np.nan, y.size, method)
    slope = float(out @ up) / squares
    left = float(np.linalg.norm(up - slope * out) / np.sqrt(df))
    if left <= 4 * ROUNDING * largest(y):
        left = 0.0
    return t_estimate(
        slope, left / float(np.sqrt(squares)), df, y.size, method, confidence=confidence
    )


def adjusted_difference(
    values: ArrayLike,
    arm_codes: ArrayLike,
    covariates: ArrayLike,
    arm: int,
    control: int,
    *,
    block_codes: ArrayLike | None = None,
    confidence: float = 0.95,
) -> Estimate:
    """Return arm − control at equal covariates (analysis of covariance).

    It takes for granted that a covariate acts alike in every arm, and that the arm did not
    change the covariate.

    Parameters
    ----------
    values
        Shape (n,).
    arm_codes
        Whole number naming each value's arm, shape (n,).
    covariates
        What else differed, such as mass at the start, shape (n,) or (n, k).
    arm, control
        The two arms to compare.
    block_codes
        Block of each value; None without blocks.
    confidence
        Of the interval, 0 to 1.
    """
    method = "adjusted by least squares"
    y = np.asarray(values, dtype=np.float64).ravel()
    x = np.asarray(covariates, dtype=np.float64).reshape(y.size, -1)
    whole = np.isfinite(y) & np.all(np.isfinite(x), axis=1)
    y, x = y[whole], x[whole]
    arms = np.asarray(arm_codes).ravel()[whole]
    if not (np.any(arms == arm) and np.any(arms == control)):
        return bare(np.nan, y.size, method)
    others = [name for name in np.unique(arms) if name not in {arm, control}]
    columns = [arms == arm, *(arms == name for name in others), *x.T]
    if block_codes is not None:
        blocks = np.asarray(block_codes).ravel()[whole]
        columns += [blocks == name for name in np.unique(blocks)[1:]]
    fit = least_squares(y, np.column_stack(columns).astype(np.float64))
    if fit is None:
        return bare(np.nan, y.size, method)
    spread = fit.errors[1] if fit.residual_sd > 4 * ROUNDING * largest(y) else 0.0
    return t_estimate(
        float(fit.coefficients[1]), float(spread), fit.df, y.size, method, confidence=confidence
    )
