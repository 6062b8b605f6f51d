"""The likelihood of a linear mixed model, profiled to the relative factor of its spread.

Penalised least squares of Bates, Mächler, Bolker and Walker (2015), J. Stat. Softw. 67(1),
section 3, on cross products: its cost grows with the number of levels, not of readings. A
variance of exactly zero is an ordinary point of it.
"""

from dataclasses import dataclass

import numpy as np

from pitjournal.science.arrays import Array


@dataclass(frozen=True, eq=False)
class Solved:
    """The model solved at one relative factor.

    Attributes
    ----------
    coefficients, inner
        Fixed effects, and (XᵀV⁻¹X)⁻¹ at unit residual variance.
    effects
        Predicted random effects, shape (levels,).
    squares
        Penalised residual sum of squares.
    """

    coefficients: Array
    inner: Array
    effects: Array
    squares: float


class CrossProducts:
    """Readings y, fixed columns X and level columns Z, kept as their cross products."""

    def __init__(self, y: Array, fixed: Array, levels: Array) -> None:
        self.n, self.p = fixed.shape
        self.levels = levels.shape[1]
        right = np.column_stack([fixed, y])
        self._zz, self._zr = levels.T @ levels, levels.T @ right
        self._rr = right.T @ right

    def _reduced(self, factor: Array) -> tuple[Array, Array, Array, Array]:
        """Return both Cholesky factors, and what is left of X and y, and of y, below them."""
        inside = factor.T @ self._zz @ factor
        inside[np.diag_indices_from(inside)] += 1.0
        lower = np.asarray(np.linalg.cholesky(inside), dtype=np.float64)
        half = _below(lower, factor.T @ self._zr)
        rest = self._rr - half.T @ half
        corner = np.asarray(np.linalg.cholesky(rest[: self.p, : self.p]), dtype=np.float64)
        return lower, half, corner, _below(corner, rest[: self.p, self.p :])[:, 0]

    def _squares(self, half: Array, cb: Array) -> float:
        """Return the penalised residual sum of squares."""
        cu = half[:, self.p]
        return max(float(self._rr[self.p, self.p] - cu @ cu - cb @ cb), 0.0)

    def deviance(self, factor: Array, residual: float | None = None, *, reml: bool = True) -> float:
        """Return −2 log likelihood at a relative factor, shape (levels, levels), lower.

        Parameters
        ----------
        factor
            Times the residual standard deviation it is that of the random effects.
        residual
            Residual variance; the best one if None.
        reml
            Restricted likelihood.
        """
        lower, half, corner, cb = self._reduced(factor)
        squares = self._squares(half, cb)
        df = self.n - self.p if reml else self.n
        variance = squares / df if residual is None else residual
        if not variance > 0:
            return -np.inf
        logs = np.sum(np.log(np.diag(lower)))
        if reml:
            logs += np.sum(np.log(np.diag(corner)))
        return float(2 * logs + df * np.log(2 * np.pi * variance) + squares / variance)

    def solve(self, factor: Array) -> Solved:
        """Return fixed and random effects at a relative factor."""
        lower, half, corner, cb = self._reduced(factor)
        coefficients = np.asarray(np.linalg.solve(corner.T, cb), dtype=np.float64)
        spherical = half[:, self.p] - half[:, : self.p] @ coefficients
        effects = factor @ np.linalg.solve(lower.T, spherical)
        back = np.linalg.inv(corner)
        return Solved(coefficients, back.T @ back, effects, self._squares(half, cb))


def _below(lower: Array, right: Array) -> Array:
    """Return the solution of a lower triangular system, without checks that cost more."""
    from scipy.linalg.lapack import dtrtrs

    if not lower.size:
        return right
    return np.asarray(dtrtrs(lower, right, lower=1)[0], dtype=np.float64)
