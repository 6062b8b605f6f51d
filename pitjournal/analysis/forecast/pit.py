"""What the pit will be from now on."""

import numpy as np

from pitjournal.analysis.forecast.asked import Trace

SETTLING = 25 * 60.0
"""How long a pit takes to come back once it was opened for the meat, s (common practice)."""

OF_LATE = 2 * 3600.0
"""So far back a pit tells what it will be, s."""


def pit_ahead(trace: Trace, set_point: float | None) -> float:
    """Return what the pit will be, °C: what it was of late, less of it the shorter it is known.

    The first while, when the pit comes back from being opened, does not count, and dips of the
    lid do not: it is a high half of the readings' middle.
    """
    end = float(trace.seconds[-1])
    recent = trace.pit[trace.seconds >= max(min(SETTLING, 0.5 * end), end - OF_LATE)]
    known = max(0.0, end - SETTLING)
    level = float(np.mean(np.sort(recent)[recent.size // 8 :]))
    if set_point is None:
        return level if known else max(level, float(np.max(trace.pit)))
    share = known / (known + 45 * 60.0)
    return share * level + (1.0 - share) * set_point


def pit_so_far(trace: Trace) -> float:
    """Return what the pit was on average, but for the first while, °C."""
    end = float(trace.seconds[-1])
    return float(np.mean(trace.pit[trace.seconds >= min(SETTLING, 0.5 * end)]))
