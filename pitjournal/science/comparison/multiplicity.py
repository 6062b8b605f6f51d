"""Many looks at one cook: p values made honest about how many there were.

Holm's steps stand here because the library at hand empties the memory at each call, which takes
longer than all of a cook's findings.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pitjournal.science.arrays import Array


def _known(p_values: ArrayLike) -> tuple[Array, NDArray[np.bool_]]:
    raw = np.asarray(p_values, dtype=np.float64).ravel()
    return np.full(raw.size, np.nan), np.isfinite(raw)


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
    adjusted, known = _known(p_values)
    raw = np.asarray(p_values, dtype=np.float64).ravel()[known]
    order = np.argsort(raw, kind="stable")
    stepped = np.maximum.accumulate(np.arange(raw.size, 0, -1) * raw[order])
    own = np.empty(raw.size)
    own[order] = np.minimum(stepped, 1.0)
    adjusted[known] = own
    return adjusted
