"""Arrays as the kernels take them: floats, with what is not a number left out."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
"""Floats of any shape."""

ROUNDING = 8 * float(np.finfo(np.float64).eps)
"""A spread below this share of the values' size is rounding, not spread."""


def finite(values: ArrayLike) -> Array:
    """Return the finite values, shape (n,), in their order."""
    flat = np.asarray(values, dtype=np.float64).ravel()
    return flat[np.isfinite(flat)]


def finite_pairs(first: ArrayLike, second: ArrayLike) -> tuple[Array, Array]:
    """Return the pairs of which both halves are finite, each of shape (n,).

    Raises
    ------
    ValueError
        If the two differ in length.
    """
    one = np.asarray(first, dtype=np.float64).ravel()
    two = np.asarray(second, dtype=np.float64).ravel()
    if one.size != two.size:
        raise ValueError(f"{one.size} values cannot be paired with {two.size}")
    whole = np.isfinite(one) & np.isfinite(two)
    return one[whole], two[whole]


def runs_of(mask: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Return where each unbroken run of what holds begins, and the place after its last: (k, 2)."""
    edges = np.flatnonzero(np.diff(mask.astype(np.int8), prepend=0, append=0))
    return np.asarray(edges, dtype=np.int64).reshape(-1, 2)


def largest(*arrays: Array) -> float:
    """Return the largest size of any value, 0 when there is none."""
    return max((float(np.max(np.abs(array))) for array in arrays if array.size), default=0.0)


def spread(values: Array, *, scale: float | None = None) -> float:
    """Return the standard deviation (n − 1), exactly 0 where it is only rounding.

    Parameters
    ----------
    values
        At least two values.
    scale
        The size of the numbers that the values were computed from; that of the values
        themselves if not given.
    """
    deviation = float(np.std(values, ddof=1))
    size = largest(values) if scale is None else scale
    return 0.0 if deviation <= ROUNDING * size else deviation
