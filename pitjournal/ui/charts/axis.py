"""One axis of a painted chart."""

from dataclasses import dataclass
from math import isnan
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FAR = 4.0
"""What lies further out than so many times the axis is painted there: it is out of sight, and
painters stumble over places without end."""

OUT_OF_SIGHT = -9999.0
"""Where a value stands that is no number, px."""


@dataclass(frozen=True)
class Axis:
    """Numbers from `low` to `high`, which differ, along the screen from `start` to `end`, px."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Return where a value stands, px."""
        if isnan(value):
            return OUT_OF_SIGHT
        share = (value - self.low) / (self.high - self.low)
        return self.start + min(max(share, -FAR), 1 + FAR) * (self.end - self.start)

    def all_at(self, values: "NDArray[np.float64]") -> "NDArray[np.float64]":
        """Return where many values stand, px, shape as given."""
        import numpy as np  # noqa: PLC0415 - a list is painted without

        share = np.clip((values - self.low) / (self.high - self.low), -FAR, 1 + FAR)
        places = self.start + share * (self.end - self.start)
        return np.where(np.isnan(values), OUT_OF_SIGHT, places)
