"""Whether groups differ at all, by ranks or within blocks, however many values there are."""

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import ROUNDING, Array, largest


def centred(columns: Array, block_codes: ArrayLike) -> Array:
    """Return columns less their means within blocks.

    Parameters
    ----------
    columns
        Shape (n, k).
    block_codes
        Code of each row's block, shape (n,).
    """
    _, inverse = np.unique(np.asarray(block_codes).ravel(), return_inverse=True)
    counts = np.bincount(inverse).astype(np.float64)
    sums = np.zeros((counts.size, columns.shape[1]))
    np.add.at(sums, inverse, columns)
    return np.asarray(columns - (sums / counts[:, None])[inverse], dtype=np.float64)


def groups_differ(
    values: ArrayLike, group_codes: ArrayLike, block_codes: ArrayLike | None = None
) -> float | None:
    """Return the p value of "no group differs".

    Without blocks by ranks (Kruskal and Wallis), with blocks by F within them: the values and
    the groups are taken less their block's means, which gives the same F as columns for the
    blocks and costs nothing with many.

    Parameters
    ----------
    values
        Shape (n,).
    group_codes, block_codes
        Codes of group and block, shape (n,); None without blocks.

    Returns
    -------
    float or None
        None with one group, or nothing left to judge by.
    """
    from scipy import stats

    y = np.asarray(values, dtype=np.float64).ravel()
    names, groups = np.unique(np.asarray(group_codes).ravel(), return_inverse=True)
    if names.size < 2 or y.size < 3 or np.ptp(y) == 0:
        return None
    if block_codes is None:
        return float(stats.kruskal(*(y[groups == n] for n in range(names.size))).pvalue)
    blocks = np.asarray(block_codes).ravel()
    design = centred((groups[:, None] == np.arange(names.size)).astype(np.float64), blocks)
    left = centred(y[:, None], blocks)[:, 0]
    total = float(left @ left)
    left = left - design @ np.linalg.lstsq(design, left, rcond=None)[0]
    rank = int(np.linalg.matrix_rank(design, tol=1e-9 * np.sqrt(y.size)))
    df = y.size - np.unique(blocks).size - rank
    squares = float(left @ left)
    if rank < 1 or df < 1 or squares / df <= (4 * ROUNDING * largest(y)) ** 2:
        return None
    f = (total - squares) / rank / (squares / df)
    return float(stats.f.sf(max(f, 0.0), rank, df))
