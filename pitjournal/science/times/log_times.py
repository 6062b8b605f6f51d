"""Log-normal and Weibull models of times known as bounds, for many weightings at once.

The log likelihood is concave in the coefficients ÷ scale and 1 ÷ scale (Burridge 1981, J. R.
Stat. Soc. B 43, 41–45), so that Newton's steps find its one maximum. A bootstrap is the same
fit with other weights: all its draws are fitted together.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import Array

Law = Literal["log-normal", "Weibull"]

STEPS = 60
FARTHEST = 1e4
"""A place this many standard deviations off means that it runs away."""


def middle(law: Law) -> float:
    """Return the median of the standard law of log time."""
    return 0.0 if law == "log-normal" else math.log(math.log(2))


def _log_between(law: Law, low: Array, high: Array) -> Array:
    """Return the log chance of falling between two standardised log times, low < high."""
    from scipy import special

    if law == "log-normal":
        flip = low > 0  # work in the tail where differences keep their digits
        a, b = np.where(flip, -high, low), np.where(flip, -low, high)
        upper, lower = special.log_ndtr(b), special.log_ndtr(a)
    else:
        upper, lower = -np.exp(low), -np.exp(high)  # log survival
    gap = np.minimum(lower - upper, -1e-300)
    return np.asarray(upper + np.log(-np.expm1(gap)), dtype=np.float64)


def _log_density(law: Law, z: Array) -> Array:
    if law == "log-normal":
        return np.asarray(-0.5 * z**2 - 0.5 * math.log(2 * math.pi), dtype=np.float64)
    return np.asarray(z - np.exp(z), dtype=np.float64)


def _score(law: Law, z: Array) -> tuple[Array, Array]:
    """Return the first and second derivative of the log density."""
    if law == "log-normal":
        return -z, np.full(z.shape, -1.0)
    grown = np.exp(z)
    return 1 - grown, -grown


@dataclass(frozen=True, eq=False)
class Bounds:
    """Intervals of log time with their design, ready to be fitted.

    Attributes
    ----------
    law
        Shape of the times.
    low, high
        Logs of the bounds, shape (n,); equal where a time is known exactly.
    design
        Shape (n, p).
    """

    law: Law
    low: Array
    high: Array
    design: Array

    @classmethod
    def of(cls, law: Law, left: Array, right: Array, design: Array) -> "Bounds":
        """Return the bounds of times, shape (n,), left 0 and right infinite among them."""
        with np.errstate(divide="ignore"):
            return cls(law, np.log(left), np.log(right), design)

    def terms(self, point: Array) -> tuple[Array, Array, Array]:
        """Return log likelihood, gradient and curvature of each piece.

        Parameters
        ----------
        point
            Coefficients ÷ scale and 1 ÷ scale for each weighting, shape (d, p + 1).

        Returns
        -------
        tuple of Array
            Shapes (d, n), (d, n, p + 1) and (d, n, p + 1, p + 1).
        """
        exact = self.low == self.high
        rise = point[:, -1:]
        with np.errstate(over="ignore", under="ignore", invalid="ignore", divide="ignore"):
            place = point[:, :-1] @ self.design.T
            low, high = rise * self.low - place, rise * self.high - place
            value = _log_between(self.law, low, high)
            # Where a bound is open its end moves nothing.
            ends = []
            for z, log_time in ((high, self.high), (low, self.low)):
                open_ = ~np.isfinite(log_time) | ~np.isfinite(z)
                safe = np.where(open_, 0.0, z)
                pull = np.where(open_, 0.0, np.exp(_log_density(self.law, safe) - value))
                slope, _ = _score(self.law, safe)
                ends.append((pull, np.nan_to_num(pull * slope), np.where(open_, 0.0, log_time)))
            known = np.broadcast_to(np.where(exact, self.low, 0.0), place.shape)
            z = np.where(exact, low, 0.0)
            slope, bend = _score(self.law, z)
            density = _log_density(self.law, z) + np.log(rise) - known
        value = np.where(exact, density, value)
        wide = np.broadcast_to(-self.design, (point.shape[0], *self.design.shape))
        (upper, upper_bend, upper_log), (lower, lower_bend, lower_log) = ends
        a = np.concatenate([wide, upper_log[..., None]], axis=2)
        b = np.concatenate([wide, lower_log[..., None]], axis=2)
        gradient = upper[..., None] * a - lower[..., None] * b
        curve = upper_bend[..., None, None] * _squared(a) - lower_bend[..., None, None] * _squared(
            b
        )
        curve -= _squared(gradient)
        if np.any(exact):
            c = np.concatenate([wide, known[..., None]], axis=2)
            own = slope[..., None] * c
            own[..., -1] += 1 / rise
            bent = bend[..., None, None] * _squared(c)
            bent[..., -1, -1] -= 1 / rise**2
            gradient = np.where(exact[:, None], own, gradient)
            curve = np.where(exact[:, None, None], bent, curve)
        return value, gradient, curve

    def weighed(self, point: Array, weights: Array) -> tuple[Array, Array, Array]:
        """Return the sums over pieces: shapes (d,), (d, p + 1) and (d, p + 1, p + 1)."""
        value, gradient, curve = self.terms(point)
        used = weights > 0
        return (
            np.sum(np.where(used, weights * value, 0.0), axis=1),
            np.einsum("dn,dnp->dp", weights, gradient),
            np.einsum("dn,dnpq->dpq", weights, curve),
        )


def _squared(vectors: Array) -> Array:
    return np.asarray(vectors[..., :, None] * vectors[..., None, :], dtype=np.float64)


def _start(bounds: Bounds) -> Array:
    """Return least squares on the logs of midpoints, a fair place to begin, shape (p + 1,)."""
    left, right = np.exp(bounds.low), np.exp(bounds.high)
    centre = np.where(np.isfinite(right), (left + np.where(np.isfinite(right), right, 0)) / 2, left)
    logs = np.log(np.maximum(centre, 1e-3 * float(np.max(centre))))
    coefficients = np.linalg.lstsq(bounds.design, logs, rcond=None)[0]
    spread = max(float(np.std(logs - bounds.design @ coefficients)), 0.1)
    return np.append(coefficients, 1.0) / spread


@dataclass(frozen=True, eq=False)
class Maxima:
    """The maximum for each weighting.

    Attributes
    ----------
    coefficients
        Of log time, shape (d, p).
    scale
        Of log time, shape (d,).
    log_likelihood
        Shape (d,).
    settled
        Whether the steps came to rest there, shape (d,).
    """

    coefficients: Array
    scale: Array
    log_likelihood: Array
    settled: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]


def maxima(bounds: Bounds, weights: ArrayLike) -> Maxima:
    """Return the fit of highest likelihood for each weighting of the pieces.

    Parameters
    ----------
    bounds
        Of n pieces with p coefficients.
    weights
        How often each piece counts, 0 or more, shape (d, n).
    """
    shares = np.atleast_2d(np.asarray(weights, dtype=np.float64))
    point = np.tile(_start(bounds), (shares.shape[0], 1))
    value, gradient, curve = bounds.weighed(point, shares)
    going = np.arange(shares.shape[0])
    settled = np.zeros(shares.shape[0], dtype=np.bool_)
    for _ in range(STEPS):
        ridge = 1e-9 * np.eye(point.shape[1])
        solved = np.linalg.solve(ridge - curve[going], gradient[going][..., None])
        move = np.asarray(solved[..., 0], dtype=np.float64)
        long = np.max(np.abs(move) / (1 + np.abs(point[going])), axis=1)
        move = np.asarray(move / np.maximum(1.0, long / 2)[:, None], dtype=np.float64)
        point, value, gradient, curve = _step(
            bounds, shares, (point, value, gradient, curve), going, move
        )
        rest = long < 1e-8
        settled[going[rest]] = True
        away = np.max(np.abs(point[going]), axis=1) > FARTHEST
        going = going[~rest & ~away]
        if not going.size:
            break
    scale = 1 / point[:, -1]
    return Maxima(point[:, :-1] * scale[:, None], scale, value, settled)


_State = tuple[Array, Array, Array, Array]


def _step(
    bounds: Bounds,
    weights: Array,
    state: _State,
    going: np.ndarray[tuple[int, ...], np.dtype[np.int64]],
    move: Array,
) -> _State:
    """Return the state after a step that is halved until it climbs and the scale is above 0."""
    point, value, gradient, curve = (part.copy() for part in state)
    left = going
    for _ in range(30):
        trial = point[left] + move
        trial[:, -1] = np.where(trial[:, -1] > 0, trial[:, -1], np.nan)
        found = bounds.weighed(np.nan_to_num(trial, nan=1e-6), weights[left])
        climbs = np.isfinite(trial[:, -1]) & (found[0] >= value[left] - 1e-10)
        done = left[climbs]
        point[done] = trial[climbs]
        value[done], gradient[done], curve[done] = (part[climbs] for part in found)
        left, move = left[~climbs], move[~climbs] / 2
        if not left.size:
            break
    return point, value, gradient, curve


def covariance(bounds: Bounds, coefficients: Array, scale: float) -> Array | None:
    """Return the covariance of coefficients and log scale at a maximum; None where it is flat.

    Parameters
    ----------
    bounds
        Of n pieces with p coefficients.
    coefficients, scale
        Of log time at the maximum, shape (p,).
    """
    size = coefficients.size
    point = np.append(coefficients, 1.0)[None] / scale
    curve = bounds.weighed(point, np.ones((1, bounds.low.size)))[2][0]
    # from (coefficients ÷ scale, 1 ÷ scale) to (coefficients, log scale); no slope is left there
    turn = np.zeros((size + 1, size + 1))
    turn[:size, :size] = np.eye(size) / scale
    turn[:, -1] = -point[0]
    hessian = turn.T @ -curve @ turn
    if not np.all(np.isfinite(hessian)) or np.any(np.linalg.eigvalsh(hessian) <= 1e-8):
        return None
    return np.asarray(np.linalg.inv(hessian), dtype=np.float64)
