"""Differences between arms in packs that do not hold every arm: within packs and between them."""

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import ROUNDING, Array, largest
from pitjournal.science.comparison.paired import Estimate, bare, blocked_difference, t_estimate

METHOD = "within and between blocks"

_RATIOS = np.concatenate([[0.0], np.geomspace(1e-3, 1e5, 65)])
"""Variance between blocks ÷ within, where the likelihood is looked at first."""


def interblock_difference(
    values: ArrayLike,
    arm_codes: ArrayLike,
    block_codes: ArrayLike,
    arm: int,
    control: int,
    *,
    confidence: float = 0.95,
) -> Estimate:
    """Return arm − control from every value, blocks being drawn from many like them.

    The two sources of what is known of it, differences within blocks and means between them, are
    weighed by the variances found by restricted likelihood (Patterson & Thompson 1971, Biometrika
    58, 545–554). The error and its degrees of freedom allow for those being guessed from few
    values (Kenward & Roger 1997, Biometrics 53, 983–997; one contrast).

    Parameters
    ----------
    values
        Shape (n,); what is not finite is left out.
    arm_codes, block_codes
        Whole numbers naming each value's arm and block, shape (n,).
    arm, control
        The codes of the two arms to compare.
    confidence
        Of the interval, 0 to 1.

    Returns
    -------
    Estimate
        Without bounds where no block holds two values, or nothing scatters.
    """
    y = np.asarray(values, dtype=np.float64).ravel()
    whole = np.isfinite(y)
    y = y[whole]
    arms, blocks = (np.asarray(codes).ravel()[whole] for codes in (arm_codes, block_codes))
    names = np.unique(arms)
    if arm not in names or control not in names:
        return bare(np.nan, y.size, METHOD)
    x = np.asarray(arms[:, None] == names, dtype=np.float64)
    contrast = (names == arm).astype(np.float64) - (names == control)
    z = np.asarray(blocks[:, None] == np.unique(blocks), dtype=np.float64)
    together = z @ z.T
    free = y.size - names.size
    plain = float(contrast @ (x.T @ y / x.sum(axis=0)))
    if free < 2 or np.all(together == np.eye(y.size)):
        return bare(plain, y.size, METHOD)
    exact = blocked_difference(y, arms, blocks, arm, control)
    if exact.se == 0:  # blocks and arms say all there is
        return bare(exact.estimate, y.size, METHOD, se=0.0)
    found = _variances(y, x, together)
    if found is None:
        return bare(plain, y.size, METHOD, se=0.0)
    within, between = found
    estimate, se, df = _contrast(y - np.mean(y), x, together, contrast, (within, between))
    return t_estimate(estimate, se, min(df, free), y.size, METHOD, confidence=confidence)


def _variances(y: Array, x: Array, together: Array) -> tuple[float, float] | None:
    """Return the variance within blocks and between them, of highest restricted likelihood.

    On values less what the arms explain, turned so that blocks only stretch them.
    """
    from scipy import optimize

    turned = np.linalg.qr(x, mode="complete")[0][:, x.shape[1] :]
    stretch, axes = np.linalg.eigh(turned.T @ together @ turned)
    squares = (axes.T @ (turned.T @ y)) ** 2
    free = squares.size
    if float(np.sqrt(np.sum(squares) / free)) <= 4 * ROUNDING * largest(y):
        return None

    def deviance(ratio: float) -> float:
        scale = 1 + ratio * stretch
        return float(np.sum(np.log(scale)) + free * np.log(np.sum(squares / scale)))

    looked = [deviance(ratio) for ratio in _RATIOS]
    best = int(np.argmin(looked))
    ratio = float(_RATIOS[best])
    ends = _RATIOS[max(best - 1, 0)], _RATIOS[min(best + 1, len(looked) - 1)]
    finer = optimize.minimize_scalar(
        deviance, bounds=ends, method="bounded", options={"xatol": 1e-9}
    )
    if finer.fun < looked[best]:
        ratio = float(finer.x)
    within = float(np.sum(squares / (1 + ratio * stretch))) / free
    return within, ratio * within


def _contrast(
    y: Array, x: Array, together: Array, contrast: Array, variances: tuple[float, float]
) -> tuple[float, float, float]:
    """Return the estimate, its error and degrees of freedom by Kenward and Roger."""
    parts = (np.eye(y.size), together)
    inverse = np.linalg.inv(variances[0] * parts[0] + variances[1] * parts[1])
    weighed = inverse @ x
    spread = np.linalg.inv(x.T @ weighed)
    left = inverse - weighed @ spread @ weighed.T
    told = np.array([[np.sum((left @ a) * (left @ b).T) / 2 for b in parts] for a in parts])
    doubt = np.linalg.pinv(told)
    slopes = [weighed.T @ part @ weighed for part in parts]
    more = sum(
        doubt[i, j]
        * (weighed.T @ parts[i] @ inverse @ parts[j] @ weighed - slopes[i] @ spread @ slopes[j])
        for i in range(2)
        for j in range(2)
    )
    adjusted = spread + 2 * spread @ more @ spread
    variance = float(contrast @ spread @ contrast)
    moves = np.array([contrast @ spread @ slope @ spread @ contrast for slope in slopes])
    df = 2 * variance**2 / float(moves @ doubt @ moves)
    estimate = float(contrast @ spread @ (weighed.T @ y))
    return estimate, float(np.sqrt(contrast @ adjusted @ contrast)), max(df, 1.0)
