"""What was learnt and what the run-on bodies say, joined into a most likely time and bands."""

import math
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.forecast.ahead import Ahead, crossing, quantile
from pitjournal.analysis.forecast.learned import Left, network

BODIES = 0.4
"""What the bodies count beside what was learnt: best on simulated cooks at all three moments."""

DOUBT = 0.3
"""How much of the gap between the two goes into the spread: then the bands hold where it is wide."""

APART = 1.0
"""Beyond so much in logarithms between the two, the bodies count less."""

TAILS = 1.08
"""How much farther out the bands of nine in ten lie than simulated cooks ask for: real cooks, and
other models of them, do what these do not."""

SHARES = {"low90": 0.05, "low50": 0.25, "median": 0.5, "high50": 0.75, "high90": 0.95}


@dataclass(frozen=True)
class Bands:
    """When a target is reached, s from on, by name of `SHARES`; infinite where it may never be."""

    at: dict[str, float]
    chance: float
    """The share of members that get there at all within two days."""


def bands(ahead: Ahead, target: float, left: Left) -> Bands:
    """Return the bands of a target.

    Parameters
    ----------
    ahead
        The members run on.
    target
        °C.
    left
        The time left by what was learnt.
    """
    times = crossing(ahead, target)
    reached = np.isfinite(times)
    chance = float(ahead.weights[reached].sum())
    centre = left.log_minutes + math.log(60.0)
    middle = quantile(times, ahead.weights, 0.5)
    spread = left.spread
    if math.isfinite(middle):
        gap = math.log(max(middle - ahead.now, 20.0)) - centre
        centre += BODIES * gap / (1.0 + (gap / APART) ** 2)
        spread = math.hypot(spread, DOUBT * min(abs(gap), 1.0))
    away = dict(zip(SHARES, network().away, strict=True))
    away = {name: score * (TAILS if "90" in name else 1.0) for name, score in away.items()}
    found = {
        name: ahead.now + math.exp(min(centre + (score - away["median"]) * spread, 15.0))
        for name, score in away.items()
    }
    return Bands(found, chance)
