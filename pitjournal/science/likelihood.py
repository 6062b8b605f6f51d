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
    log_levels, log_fixed
        Log determinants of the two Cholesky factors, squared.
    """

    coefficients: Array
    inner: Array
    effects: Array
    squares: float
    log_levels: float
    log_fixed: float


class CrossProducts:
    """Readings y, fixed columns X and level columns Z, kept as their cross products."""

    def __init__(self, y: Array, fixed: Array, levels: Array) -> None:
        self.n, self.p = fixed.shape
        self.levels = levels.shape[1]
        self._zz, self._zx, self._zy = levels.T @ levels, levels.T @ fixed, levels.T @ y
        self._xx, self._xy, self._yy = fixed.T @ fixed, fixed.T @ y, float(y @ y)

    def solve(self, factor: Array) -> Solved:
        """Solve at a relative factor, shape (levels, levels), lower triangular."""
        from scipy.linalg import cholesky, solve_triangular

        inside = factor.T @ self._zz @ factor
        inside[np.diag_indices_from(inside)] += 1.0
        lower = cholesky(inside, lower=True)
        cu = solve_triangular(lower, factor.T @ self._zy, lower=True)
        rzx = solve_triangular(lower, factor.T @ self._zx, lower=True)
        corner = cholesky(self._xx - rzx.T @ rzx, lower=True)
        cb = solve_triangular(corner, self._xy - rzx.T @ cu, lower=True)
        coefficients = solve_triangular(corner, cb, lower=True, trans="T")
        spherical = solve_triangular(lower, cu - rzx @ coefficients, lower=True, trans="T")
        back = solve_triangular(corner, np.eye(self.p), lower=True)
        return Solved(
            coefficients,
            back.T @ back,
            factor @ spherical,
            max(self._yy - float(cu @ cu) - float(cb @ cb), 0.0),
            2 * float(np.sum(np.log(np.diag(lower)))),
            2 * float(np.sum(np.log(np.diag(corner)))),
        )

    def deviance(
        self, solved: Solved, residual: float | None = None, *, reml: bool = True
    ) -> float:
        """Return −2 log likelihood, at a residual variance or at the best one."""
        df = self.n - self.p if reml else self.n
        variance = solved.squares / df if residual is None else residual
        if not variance > 0:
            return -np.inf
        fixed = solved.log_fixed if reml else 0.0
        scale = df * np.log(2 * np.pi * variance)
        return float(solved.log_levels + fixed + scale + solved.squares / variance)
