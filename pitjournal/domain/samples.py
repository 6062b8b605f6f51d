"""The readings of one channel."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, eq=False)
class Samples:
    """Readings of one channel.

    Attributes
    ----------
    times
        Seconds since 1970 (UTC), float64, shape (n,), in the file's order.
    values
        °C, float32, shape (n,).
    levels
        Where their least and most lie (see `extremes.packed`), or nothing where that is not
        known.
    """

    times: NDArray[np.float64]
    values: NDArray[np.float32]
    levels: bytes = b""
