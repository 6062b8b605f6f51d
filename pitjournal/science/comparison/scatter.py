"""Whether several differences scatter by more than what they were each found from explains."""

from collections.abc import Sequence

import numpy as np
from scipy import stats

from pitjournal.science.comparison.pooled import cochran_q, shared_variances

UNLIKE = 0.2
"""Below this chance of one spread within all, each is taken by its own: a test that stays out of
the way where spreads are alike, and small samples hide much."""


def scatter_p(
    estimates: Sequence[float],
    variances: Sequence[float],
    dfs: Sequence[float],
    leverages: Sequence[float],
) -> float | None:
    """Return the chance that differences of one true size scatter so; None where none can be said.

    Q over k − 1 as an F with the spread of all together. Where the spreads within are unlike by
    Bartlett's test, Welch's F as well, and the larger of the two chances counts.

    Parameters
    ----------
    estimates
        Two or more differences.
    variances
        Of a single value within each, squared unit; not a number where it has none.
    dfs
        Degrees of freedom of each variance, 0 where there is none.
    leverages
        What turns a variance into that of its difference, such as 1 ÷ n + 1 ÷ m.

    References
    ----------
    Cochran (1954), Biometrics 10, 101–129; Welch (1951), Biometrika 38, 330–336; Bartlett (1937),
    Proc. R. Soc. A 160, 268–282 (from memory; held against statsmodels and SciPy).
    """
    effect, spread, df, leverage = (
        np.asarray(v, dtype=float) for v in (estimates, variances, dfs, leverages)
    )
    count, within = effect.size, float(df.sum())
    if count < 2 or not within:
        return None
    shared = shared_variances(spread, df, leverage)
    if not (shared > 0).all():
        return None
    q = cochran_q(effect, shared)
    same = float(stats.f.sf(q / (count - 1), count - 1, within))
    if (spread <= 0).any() or (df <= 0).any() or bartlett_p(spread, df) >= UNLIKE:
        return same
    return max(same, _welch_p(effect, spread * leverage, df))


def bartlett_p(variances: np.ndarray, dfs: np.ndarray) -> float:
    """Return Bartlett's chance that positive variances, shape (k,), are of one spread.

    Parameters
    ----------
    variances, dfs
        Shape (k,), positive.
    """
    within = dfs.sum()
    pooled = (variances * dfs).sum() / within
    ratio = within * np.log(pooled) - (dfs * np.log(variances)).sum()
    scale = 1.0 + ((1.0 / dfs).sum() - 1.0 / within) / (3.0 * (dfs.size - 1))
    return float(stats.chi2.sf(ratio / scale, dfs.size - 1))


def _welch_p(effect: np.ndarray, error: np.ndarray, df: np.ndarray) -> float:
    count = effect.size
    weight = 1.0 / error
    unsure = float(((1.0 - weight / weight.sum()) ** 2 / df).sum())
    over = 1.0 + 2.0 * (count - 2) / (count**2 - 1) * unsure
    ratio = cochran_q(effect, error) / (count - 1) / over
    return float(stats.f.sf(ratio, count - 1, (count**2 - 1) / (3.0 * unsure)))
