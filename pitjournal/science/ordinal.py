"""Ratings as ordered steps, not as numbers: the cumulative-link model."""

import math
import warnings
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import Array

Link = Literal["logit", "probit"]

FARTHEST = 15.0
"""An effect this large, in units of the link, means that the steps separate the arms fully."""


@dataclass(frozen=True, eq=False)
class OrdinalFit:
    """A cumulative-link model: P(rating ≤ step) = link(threshold − effect).

    Attributes
    ----------
    effects, errors
        One for each column, positive towards higher ratings, shape (k,).
    low, high
        Normal interval of each effect.
    p
        Two-sided p values.
    thresholds
        Between the steps that occur, shape (steps − 1,).
    steps
        The ratings that occur, rising.
    log_likelihood
        At the maximum.
    n
        Ratings.
    """

    effects: Array
    errors: Array
    low: Array
    high: Array
    p: Array
    thresholds: Array
    steps: Array
    log_likelihood: float
    link: Link
    n: int

    def chances(self, columns: ArrayLike) -> Array:
        """Return the chance of each step for one set of columns, shape (steps,)."""
        from scipy import special

        shift = float(np.asarray(columns, dtype=np.float64).ravel() @ self.effects)
        law = special.expit if self.link == "logit" else special.ndtr
        reached = law(self.thresholds - shift)
        return np.diff(np.concatenate([[0.0], reached, [1.0]]))


def cumulative_link(
    ratings: ArrayLike, columns: ArrayLike, link: Link = "logit", confidence: float = 0.95
) -> OrdinalFit | None:
    """Return the model of highest likelihood.

    Parameters
    ----------
    ratings
        Steps of a scale, as numbers, shape (n,).
    columns
        Effects, such as 0 for the control and 1 for another arm, shape (n,) or (n, k).
    link
        "logit" (odds ratios) or "probit".
    confidence
        Of the intervals, 0 to 1.

    Returns
    -------
    OrdinalFit or None
        None with fewer than two steps, columns that cannot be told apart, or arms that the
        steps separate fully, where no maximum exists.
    """
    from scipy import stats
    from statsmodels.miscmodels.ordinal_model import OrderedModel

    scores = np.asarray(ratings, dtype=np.float64).ravel()
    x = np.asarray(columns, dtype=np.float64).reshape(scores.size, -1)
    whole = np.isfinite(scores) & np.all(np.isfinite(x), axis=1)
    scores, x = scores[whole], x[whole]
    steps, codes = np.unique(scores, return_inverse=True)
    k = x.shape[1]
    told = np.linalg.matrix_rank(np.column_stack([np.ones(scores.size), x])) == k + 1
    if steps.size < 2 or not told:
        return None
    model = OrderedModel(codes, x, distr=link)
    with warnings.catch_warnings(), np.errstate(all="ignore"):
        warnings.simplefilter("ignore")  # a failed search is recognised below
        result = model.fit(method="bfgs", disp=False, maxiter=500, gtol=1e-8)
        point = np.asarray(result.params, dtype=np.float64)
        hessian = np.asarray(model.hessian(point), dtype=np.float64)
    effects = point[:k]
    if not np.all(np.isfinite(hessian)) or np.max(np.abs(effects)) > FARTHEST:
        return None
    if np.max(np.linalg.eigvalsh(hessian)) >= -1e-8:
        return None
    errors = np.sqrt(np.diag(np.linalg.inv(-hessian)))[:k]
    reach = float(stats.norm.ppf(0.5 + confidence / 2)) * errors
    return OrdinalFit(
        effects,
        errors,
        effects - reach,
        effects + reach,
        np.asarray(2 * stats.norm.sf(np.abs(effects) / errors), dtype=np.float64),
        np.asarray(model.transform_threshold_params(point)[1:-1], dtype=np.float64),
        steps,
        float(result.llf),
        link,
        int(scores.size),
    )


def share_higher(effect: float) -> float:
    """Return in what share of pairs the other is rated above the control: 0.5 for no effect.

    Parameters
    ----------
    effect
        Log odds of a higher rating, of a logit model.

    Notes
    -----
    What is felt is taken to lie on a logistic curve that the steps cut up, so that no pair is
    level: Agresti & Kateri (2017), Biometrics 73, 214–219 (from memory), who approximate it.
    """
    if abs(effect) < 1e-4:
        return 0.5 + effect / 6
    if effect < 0:
        return 1 - share_higher(-effect)
    less = math.exp(-effect)
    return (1 - (1 + effect) * less) / (1 - less) ** 2


def shares_higher(fit: OrdinalFit, column: int = 0) -> tuple[float, float, float] | None:
    """Return that share for a column of a fit with its interval; logit only."""
    if fit.link != "logit":
        return None
    ends = (fit.effects[column], fit.low[column], fit.high[column])
    middle, low, high = (share_higher(float(end)) for end in ends)
    return middle, low, high
