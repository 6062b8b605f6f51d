"""What one more value like the ones before is likely to be, when all are times.

Times scatter by factors rather than by minutes, so all is done on their logarithms: a new one
lies about the mean of n others as Student's t with n − 1 degrees of freedom, times their
standard deviation and √(1 + 1/n), which allows for the mean being known from n only (the
prediction interval of any textbook, such as NIST/SEMATECH e-Handbook 4.5.1.2; from memory).
"""

import math
from collections.abc import Sequence
from statistics import fmean, stdev

LEAST = 3
"""With fewer values nothing is said of their scatter."""

_TAIL = 1.6448536269514722
"""95 % point of the normal distribution."""


def _of(values: Sequence[float]) -> tuple[float, float, int] | None:
    """Return mean and predictive standard deviation of the logarithms, and n."""
    known = [math.log(value) for value in values if value > 0 and math.isfinite(value)]
    if len(known) < LEAST:
        return None
    n = len(known)
    return fmean(known), stdev(known) * math.sqrt(1 + 1 / n), n


def chance_within(values: Sequence[float], limit: float) -> float | None:
    """Return the chance that one more time is no longer than a limit.

    Parameters
    ----------
    values
        Times so far, all above 0; one a cook, since pieces of one day are no more than one day.
    limit
        In the same unit.

    Returns
    -------
    float or None
        None with fewer than three times.
    """
    found = _of(values)
    if found is None:
        return None
    if not limit > 0:
        return 0.0
    mean, spread, n = found
    if spread < 1e-12:
        return 1.0 if math.log(limit) >= mean - 1e-12 else 0.0
    from scipy import special

    return float(special.stdtr(n - 1, (math.log(limit) - mean) / spread))


def limit_for(values: Sequence[float], chance: float) -> float | None:
    """Return the time that one more is within, with a chance; None with fewer than three."""
    found = _of(values)
    if found is None:
        return None
    mean, spread, n = found
    from scipy import special

    return math.exp(mean + spread * float(special.stdtrit(n - 1, chance)))


def chance_within_range(low: float, high: float, limit: float) -> float:
    """Return the chance of a time within a limit, where nine in ten lie from `low` to `high`.

    A range that is told and not counted: its logarithm is read as normal, with a twentieth
    below and a twentieth above.
    """
    if not limit > 0:
        return 0.0
    middle, half = _log_range(low, high)
    if half <= 0:
        return 1.0 if math.log(limit) >= middle else 0.0
    return 0.5 * math.erfc(-(math.log(limit) - middle) * _TAIL / half / math.sqrt(2))


def limit_for_range(low: float, high: float, chance: float) -> float:
    """Return the time that one is within, with a chance, read as `chance_within_range` does."""
    from statistics import NormalDist

    middle, half = _log_range(low, high)
    return math.exp(middle + half / _TAIL * NormalDist().inv_cdf(chance))


def _log_range(low: float, high: float) -> tuple[float, float]:
    return (math.log(low) + math.log(high)) / 2, (math.log(high) - math.log(low)) / 2
