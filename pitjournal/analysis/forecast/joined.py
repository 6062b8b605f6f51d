"""From the time left and its spread to a most likely time and bands, and what the bodies say."""

import math
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.forecast.ahead import Ahead, crossing, quantile
from pitjournal.analysis.forecast.learned import Left
from pitjournal.analysis.forecast.signs import RunOn

SHARES = {"low90": 0.05, "low50": 0.25, "median": 0.5, "high50": 0.75, "high90": 0.95}


@dataclass(frozen=True)
class Bands:
    """When a target is reached, s from on, by name of `SHARES`; infinite where it may never be."""

    at: dict[str, float]
    chance: float
    """The share of members that get there at all within two days."""


def run_on_to(ahead: Ahead, target: float) -> RunOn:
    """Return when the members that were run on reach a target, °C."""
    times = crossing(ahead, target) / 60.0
    early, middle, late = (quantile(times, ahead.weights, share) for share in (0.25, 0.5, 0.75))
    return RunOn(early, middle, late, ahead.misfit, float(1.0 / np.sum(ahead.weights**2)))


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
    reached = np.isfinite(crossing(ahead, target))
    centre = left.log_minutes + math.log(60.0)
    away = dict(zip(SHARES, left.away, strict=True))
    found = {
        name: ahead.now + math.exp(min(centre + score * left.spread, 15.0))
        for name, score in away.items()
    }
    return Bands(found, float(ahead.weights[reached].sum()))
