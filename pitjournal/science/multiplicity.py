"""Many looks at one cook: p values made honest about how many there were."""

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import Array


def _adjusted(p_values: ArrayLike, method: str) -> Array:
    from statsmodels.stats.multitest import multipletests

    raw = np.asarray(p_values, dtype=np.float64).ravel()
    adjusted = np.full(raw.size, np.nan)
    known = np.isfinite(raw)
    if np.any(known):
        adjusted[known] = multipletests(raw[known], method=method)[1]
    return adjusted


def holm(p_values: ArrayLike) -> Array:
    """Return Holm's adjusted p values: the chance of even one false find is held.

    Parameters
    ----------
    p_values
        Shape (n,); what is not a number stays so and is not counted as a look.

    Returns
    -------
    Array
        In the order given, at most 1, shape (n,).
    """
    return _adjusted(p_values, "holm")


def benjamini_hochberg(p_values: ArrayLike) -> Array:
    """Return Benjamini and Hochberg's adjusted p values: the share of false finds is held.

    Parameters
    ----------
    p_values
        As for `holm`.
    """
    return _adjusted(p_values, "fdr_bh")


def bonferroni(p_values: ArrayLike) -> Array:
    """Return p values times the number of looks, at most 1.

    Parameters
    ----------
    p_values
        As for `holm`.
    """
    return _adjusted(p_values, "bonferroni")
