"""Whether a channel warmed as air does: by one time constant from its first reading on.

What takes up heat at once follows a + b·exp(−t/τ) (Incropera & DeWitt, 5.1); the middle of meat
waits for its outside, and its outside is held back by the water that leaves it. Of the middles
simulated apart (`tests/analysis/meat_in_a_pit`) 488 of 489 strayed by 0.57 K or more from the
nearest such curve; air strays by its noise alone.
"""

import math

import numpy as np

from pitjournal.analysis.traces.features import Array

AS_AIR = "it warmed as air does and no probe was in the pit's air to tell"
LIKE_AIR = "it warmed as air does, with none of the lag of meat"

_FEWEST, _MOST = 7, 600
_CLIMB = 20.0
_LEVELS_OFF = 1.2
"""A curve whose time constant is longer than so many times its length is as good as straight."""

_WITHIN, _NOISES = 0.35, 1.1
"""K, and how many times its own noise a channel strays from its curve at the most; of few
readings more, since their noise is not well known."""


def warms_as_air(times: Array, values: Array) -> bool:
    """Return whether readings are one first-order curve within their noise.

    Parameters
    ----------
    times, values
        A channel from going on, or its first reading, to coming off, s rising and °C, shape (n,).
    """
    every = max(math.ceil(times.size / _MOST), 1)
    times, values = times[::every], values[::every]
    if times.size < _FEWEST or float(np.ptp(values)) < _CLIMB:
        return False
    since = (times - times[0]) / (times[-1] - times[0])
    tau, strays = _nearest(since, values)
    noise = math.sqrt(float(np.mean(np.diff(values, 3) ** 2)) / 20.0)
    allowed = _NOISES * (1.0 + 2.0 / math.sqrt(times.size))
    return tau <= _LEVELS_OFF and strays <= max(_WITHIN, allowed * noise)


def _nearest(since: Array, values: Array) -> tuple[float, float]:
    """Return the time constant of the nearest curve, and how far readings stray from it, K."""
    low, high = 0.02, 5.0
    best = low
    for _ in range(4):
        found = np.geomspace(low, high, 25)
        strays = [_strays(float(tau), since, values) for tau in found]
        place = int(np.argmin(strays))
        best = float(found[place])
        low, high = float(found[max(place - 1, 0)]), float(found[min(place + 1, 24)])
    return best, _strays(best, since, values)


def _strays(tau: float, since: Array, values: Array) -> float:
    curve = np.exp(-since / tau)
    curve -= curve.mean()
    apart = values - values.mean()
    size = float(curve @ curve)
    if size == 0.0:
        return float(np.sqrt(np.mean(apart**2)))
    return float(np.sqrt(np.mean((apart - (apart @ curve) / size * curve) ** 2)))
