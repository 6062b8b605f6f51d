"""Ratings as ordered steps, not as numbers: the cumulative-link model."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pitjournal.science.arrays import Array

Link = Literal["logit", "probit"]

STEPS = 60
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
    scores = np.asarray(ratings, dtype=np.float64).ravel()
    x = np.asarray(columns, dtype=np.float64).reshape(scores.size, -1)
    whole = np.isfinite(scores) & np.all(np.isfinite(x), axis=1)
    scores, x = scores[whole], x[whole]
    steps, codes = np.unique(scores, return_inverse=True)
    k = x.shape[1]
    apart = np.linalg.matrix_rank(np.column_stack([np.ones(scores.size), x])) == k + 1
    if steps.size < 2 or not apart:
        return None
    likelihood = _Likelihood(link, codes, x, steps.size - 1)
    found = likelihood.highest()
    if found is None:
        return None
    point, curve = found
    effects = point[-k:]
    errors = np.sqrt(np.diag(np.linalg.inv(-curve)))[-k:]
    reach = _law("probit").quantile(0.5 + confidence / 2) * errors
    return OrdinalFit(
        effects,
        errors,
        effects - reach,
        effects + reach,
        np.asarray(2 * _law("probit").below(-np.abs(effects) / errors), dtype=np.float64),
        point[:-k],
        steps,
        likelihood.value(point),
        link,
        int(scores.size),
    )


@dataclass(frozen=True, eq=False)
class _Law:
    """A symmetric law: the chance of less, its density, the slope of that, and its quantiles."""

    below: Callable[[Array], Array]
    density: Callable[[Array], Array]
    slope: Callable[[Array], Array]
    quantile: Callable[[float], float]


def _law(link: Link) -> _Law:
    from scipy import special

    def bell(z: Array) -> Array:
        return np.asarray(np.exp(-0.5 * z**2) / math.sqrt(2 * math.pi))

    def logistic(z: Array) -> Array:
        return np.asarray(special.expit(z) * special.expit(-z))

    if link == "probit":
        return _Law(special.ndtr, bell, lambda z: -z * bell(z), special.ndtri)
    return _Law(special.expit, logistic, lambda z: -logistic(z) * np.tanh(z / 2), special.logit)


@dataclass(frozen=True, eq=False)
class _Likelihood:
    """The likelihood of ratings, as a function of the thresholds and then the effects.

    It has one maximum, for the log of what a log-concave law has between two ends is concave in
    both (Pratt 1981, J. Am. Stat. Assoc. 76, 103–106), so that Newton's steps find it.
    """

    link: Link
    codes: NDArray[np.intp]
    x: Array
    cuts: int

    def _ends(self, point: Array) -> tuple[Array, Array]:
        """Return between what each rating lies, shape (n,) twice; infinite at both ends."""
        edges = np.concatenate([[-np.inf], point[: self.cuts], [np.inf]])
        shift = self.x @ point[self.cuts :]
        return edges[self.codes] - shift, edges[self.codes + 1] - shift

    def _chances(self, low: Array, high: Array) -> Array:
        below = _law(self.link).below
        flip = low > 0  # in the tail where differences keep their digits
        a, b = np.where(flip, -high, low), np.where(flip, -low, high)
        return np.maximum(below(b) - below(a), np.finfo(np.float64).tiny)

    def value(self, point: Array) -> float:
        """Return the log likelihood; −∞ where the thresholds do not rise."""
        if np.any(np.diff(point[: self.cuts]) <= 0):
            return -math.inf
        return float(np.log(self._chances(*self._ends(point))).sum())

    def _derivatives(self, point: Array) -> tuple[Array, Array]:
        law = _law(self.link)
        low, high = self._ends(point)
        chance = self._chances(low, high)
        sides = []
        for z, place in ((low, self.codes - 1), (high, self.codes)):
            open_ = ~np.isfinite(z)
            at = np.where(open_, 0.0, z)
            density = np.where(open_, 0.0, law.density(at)) / chance
            slope = np.where(open_, 0.0, law.slope(at)) / chance
            rows = np.hstack([(place[:, None] == np.arange(self.cuts)).astype(np.float64), -self.x])
            sides.append((density, slope, rows))
        (below, falls, lower), (above, rises, upper) = sides
        first = upper.T @ above - lower.T @ below
        mixed = upper.T @ ((above * below)[:, None] * lower)
        second = upper.T @ ((rises - above**2)[:, None] * upper)
        second -= lower.T @ ((falls + below**2)[:, None] * lower)
        return first, second + mixed + mixed.T

    def highest(self) -> tuple[Array, Array] | None:
        """Return where it is highest and its curvature there; None where it has no maximum."""
        shares = np.bincount(self.codes, minlength=self.cuts + 1).cumsum()[:-1] / self.codes.size
        start = [_law(self.link).quantile(float(share)) for share in shares]
        point = np.concatenate([start, np.zeros(self.x.shape[1])])
        value = self.value(point)
        for _ in range(STEPS):
            first, second = self._derivatives(point)
            if np.max(np.linalg.eigvalsh(second)) >= -1e-8:
                return None
            step = -np.linalg.solve(second, first)
            size = 1.0
            while (more := self.value(point + size * step)) < value and size > 1e-6:
                size /= 2
            point, value = point + size * step, max(more, value)
            if np.max(np.abs(point[self.cuts :])) > FARTHEST:
                return None
            if np.max(np.abs(size * step)) < 1e-10:
                break
        return point, self._derivatives(point)[1]


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
