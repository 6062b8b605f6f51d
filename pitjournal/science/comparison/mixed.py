"""Where the spread comes from: variance components.

Fitted by restricted likelihood. A component may be exactly zero; that says that the readings
show none of it, not that there is none.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import ROUNDING, Array, largest
from pitjournal.science.comparison.mixed_likelihood import CrossProducts

MOST = 1e7
"""A ratio to the residual beyond this means that nothing is left within the levels."""

HIGHEST = float(np.log1p(10 * MOST))
"""End of the search, as the logarithm of 1 + ratio: straight at zero, by decades far off."""


@dataclass(frozen=True, eq=False)
class MixedFit:
    """A linear mixed model.

    Attributes
    ----------
    coefficients
        Intercept and fixed effects, shape (p,).
    covariance
        Of the coefficients, shape (p, p).
    df
        Satterthwaite's degrees of freedom of each coefficient, shape (p,).
    components
        Variance of each source; None where the readings cannot tell it from the rest.
    residual
        Variance left.
    at_zero
        Names of the sources whose variance is exactly zero (the edge of what is possible).
    effects
        Predicted effect of each level of each source, in order of its code.
    criterion
        −2 log (restricted) likelihood.
    n
        Readings.
    """

    coefficients: Array
    covariance: Array
    df: Array
    components: Mapping[str, float | None]
    residual: float
    at_zero: tuple[str, ...]
    effects: Mapping[str, Array]
    criterion: float
    n: int

    @property
    def errors(self) -> Array:
        """Standard errors of the coefficients."""
        return np.asarray(np.sqrt(np.diag(self.covariance)), dtype=np.float64)

    def shares(self) -> dict[str, float]:
        """Return each source's share of the variance, and that of the "residual"."""
        known = {name: part for name, part in self.components.items() if part is not None}
        whole = sum(known.values()) + self.residual
        return {name: part / whole for name, part in {**known, "residual": self.residual}.items()}


def indicator(codes: ArrayLike) -> Array:
    """Return one column of 0 and 1 for each code, in order, shape (n, levels)."""
    _, places = np.unique(np.asarray(codes).ravel(), return_inverse=True)
    columns: Array = np.zeros((places.size, int(places.max(initial=-1)) + 1))
    columns[np.arange(places.size), places] = 1.0
    return columns


def _telling(fixed: Array, sources: Mapping[str, Array]) -> list[str]:
    """Return the sources that the readings can tell from the rest and from each other."""
    told: list[str] = []
    rank = np.linalg.matrix_rank(fixed)
    for name, columns in sources.items():
        repeated = columns.shape[1] < columns.shape[0]
        new = np.linalg.matrix_rank(np.hstack([fixed, columns])) > rank
        twin = any(_same_partition(columns, sources[other]) for other in told)
        if repeated and new and not twin:
            told.append(name)
    return told


def _same_partition(one: Array, two: Array) -> bool:
    return one.shape == two.shape and int(np.count_nonzero(one.T @ two)) == one.shape[1]


class _Search:
    """The profiled deviance as a function of log(1 + ratio of each source to the residual)."""

    def __init__(self, cross: CrossProducts, sizes: Sequence[int], *, reml: bool) -> None:
        self.cross, self.sizes, self.reml = cross, sizes, reml

    def factor(self, ratios: Array) -> Array:
        return np.diag(np.repeat(np.sqrt(ratios), self.sizes))

    def __call__(self, heights: Array) -> float:
        kept = np.expm1(np.clip(heights, 0.0, HIGHEST))
        return self.cross.deviance(self.factor(kept), reml=self.reml)

    def best(self) -> Array:
        """Return the ratios, source to residual, of highest likelihood."""
        from scipy import optimize

        found: list[tuple[float, Array]] = []
        for start in (0.5,) if len(self.sizes) == 1 else (0.1, 1.0):
            result = optimize.minimize(
                self,
                np.full(len(self.sizes), start),
                method="L-BFGS-B",
                jac="3-point",
                bounds=[(0.0, HIGHEST)] * len(self.sizes),
                options={"ftol": 1e-15, "gtol": 1e-9},
            )
            found.append((float(result.fun), np.asarray(result.x, dtype=np.float64)))
        heights = min(found, key=lambda pair: pair[0])[1]
        for place in np.flatnonzero(heights < 1e-4):
            trial = heights.copy()
            trial[place] = 0.0
            if self(trial) <= self(heights) + 1e-7:
                heights = trial
        return np.asarray(np.expm1(heights), dtype=np.float64)


def _satterthwaite(search: _Search, ratios: Array, residual: float, contrasts: Array) -> Array:
    """Return degrees of freedom of each contrast from the curvature of the likelihood.

    The parameters are the variances themselves, those at the edge left out.
    """
    inside = np.flatnonzero(ratios > 0)
    point = np.concatenate([ratios[inside] * residual, [residual]])
    steps = 1e-3 * point

    def at(values: Array) -> tuple[float, Array]:
        full = np.zeros(ratios.size)
        full[inside] = values[:-1] / values[-1]
        factor = search.factor(full)
        deviance = search.cross.deviance(factor, float(values[-1]), reml=search.reml)
        inner = search.cross.solve(factor).inner * values[-1]
        spread = np.einsum("ij,jk,ik->i", contrasts, inner, contrasts)
        return deviance, np.asarray(spread, dtype=np.float64)

    size = point.size
    moves = np.diag(steps)
    base, spread = at(point)
    hessian = np.empty((size, size))
    gradient = np.empty((size, contrasts.shape[0]))
    for i in range(size):
        up, down = at(point + moves[i]), at(point - moves[i])
        gradient[i] = (up[1] - down[1]) / (2 * steps[i])
        hessian[i, i] = (up[0] - 2 * base + down[0]) / steps[i] ** 2
        for j in range(i):
            corners = [at(point + a * moves[i] + b * moves[j])[0] for a in (1, -1) for b in (1, -1)]
            mixed = (corners[0] - corners[1] - corners[2] + corners[3]) / (4 * steps[i] * steps[j])
            hessian[i, j] = hessian[j, i] = mixed
    noise = np.einsum("ik,ij,jk->k", gradient, 2 * np.linalg.pinv(hessian), gradient)
    free = float(search.cross.n - search.cross.p)
    df = np.where(noise > 0, 2 * spread**2 / np.where(noise > 0, noise, 1.0), free)
    return np.clip(df, 1.0, free)


def variance_components(
    values: ArrayLike,
    sources: Mapping[str, ArrayLike],
    fixed: ArrayLike | None = None,
    *,
    reml: bool = True,
) -> MixedFit | None:
    """Return how much of the spread each source brings.

    Parameters
    ----------
    values
        Readings, shape (n,); what is not a number is left out.
    sources
        For each source (piece, cooker, day, taster) the code of every reading's level,
        shape (n,). A level nested in another needs a code of its own.
    fixed
        Columns of fixed effects beside the intercept, shape (n, p).
    reml
        Restricted likelihood; otherwise full likelihood, which makes variances too small.

    Returns
    -------
    MixedFit or None
        None when too few readings, no spread (at all, or within every level), or fixed effects
        that cannot be told apart.
    """
    y = np.asarray(values, dtype=np.float64).ravel()
    whole = np.isfinite(y)
    y = y[whole]
    columns = [np.ones((y.size, 1))]
    if fixed is not None:
        columns.append(np.asarray(fixed, dtype=np.float64).reshape(whole.size, -1)[whole])
    x = np.hstack(columns)
    if y.size <= x.shape[1] or np.linalg.matrix_rank(x) < x.shape[1]:
        return None
    level = float(np.mean(y))
    scale = float(np.std(y))
    if scale <= ROUNDING * largest(y):
        return None
    left = y - level - x @ np.linalg.lstsq(x, y - level, rcond=None)[0]
    if float(np.std(left)) <= ROUNDING * largest(y):
        return None  # the fixed effects say all there is
    tables = {name: indicator(np.asarray(codes).ravel()[whole]) for name, codes in sources.items()}
    told = _telling(x, tables)
    z = np.hstack([np.zeros((y.size, 0)), *(tables[name] for name in told)])
    cross = CrossProducts((y - level) / scale, x, z)
    search = _Search(cross, [tables[name].shape[1] for name in told], reml=reml)
    ratios = search.best() if told else np.zeros(0)
    if np.any(ratios > MOST):
        return None
    solved = cross.solve(search.factor(ratios))
    residual = solved.squares / (y.size - x.shape[1] if reml else y.size)
    if residual <= ROUNDING:
        return None
    df = _satterthwaite(search, ratios, residual, np.eye(x.shape[1]))
    coefficients = solved.coefficients * scale
    coefficients[0] += level
    ends = np.cumsum([0, *search.sizes])
    kept = dict(zip(told, ratios, strict=True))
    points = y.size - x.shape[1] if reml else y.size
    return MixedFit(
        coefficients,
        solved.inner * residual * scale**2,
        df,
        {
            name: float(kept[name] * residual * scale**2) if name in kept else None
            for name in tables
        },
        residual * scale**2,
        tuple(name for name, ratio in kept.items() if ratio == 0),
        {name: solved.effects[ends[i] : ends[i + 1]] * scale for i, name in enumerate(told)},
        cross.deviance(search.factor(ratios), reml=reml) + 2 * points * float(np.log(scale)),
        int(y.size),
    )
