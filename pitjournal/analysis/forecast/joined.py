"""What physics says and what one's past cooks say, joined by how sure each is."""

import math
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.forecast.ahead import Ahead, crossing, quantile
from pitjournal.analysis.forecast.habit import Span
from pitjournal.science.arrays import Array

WRONG = 0.25
"""How far the model itself is off in the time that is left, as a share of it: on simulated cooks."""

DEGREES = 1.2
"""How far the model is off in degrees, which is a long time where the meat hardly rises."""

WIDER = 1.25
"""What the bands are made wider by, so that they hold what they say: on simulated cooks."""

TAILS = 0.15
"""How much farther out than a normal law has it the rare ones lie, for each spread beyond 0.67."""

SHARES = {"low90": 0.05, "low50": 0.25, "median": 0.5, "high50": 0.75, "high90": 0.95}


@dataclass(frozen=True)
class Bands:
    """When a target is reached, s from on, by name of `SHARES`; infinite where it may never be."""

    at: dict[str, float]
    chance: float
    """The share of members that get there at all within two days."""


def bands(ahead: Ahead, target: float, usual: tuple[float, Span] | None) -> Bands:
    """Return the bands of a target.

    Parameters
    ----------
    ahead
        The members run on.
    target
        °C.
    usual
        When the mark was passed from which past cooks are counted, s from on, and their span.
    """
    times = crossing(ahead, target)
    left = np.maximum(times - ahead.now, 20.0)
    reached = np.isfinite(left)
    chance = float(ahead.weights[reached].sum())
    if chance < 0.05:
        return Bands(dict.fromkeys(SHARES, float("inf")), chance)
    logs = np.where(reached, np.log(np.where(reached, left, 1.0)), np.inf)
    middle, spread = _shape(logs, ahead.weights)
    gap = max(0.5, target - float(np.average(ahead.middle[0], weights=ahead.weights)))
    centre, width = middle, math.hypot(spread, WRONG, DEGREES / gap)
    if usual is not None:
        centre, width = _joined(centre, width, ahead.now, *usual)
    width *= WIDER
    away = np.where(reached, (logs - middle) / spread, 0.0)
    away = away * (1.0 + TAILS * np.clip(np.abs(away) - 0.67, 0.0, 1.5))
    moved = np.where(reached, centre + away * width, np.inf)
    found = {}
    for name, share in SHARES.items():
        at = quantile(moved, ahead.weights, share)
        found[name] = ahead.now + math.exp(at) if math.isfinite(at) else math.inf
    return Bands(found, chance)


def _shape(logs: Array, weights: Array) -> tuple[float, float]:
    """Return the middle of the logarithms and half of what the middle two thirds span."""
    middle = quantile(logs, weights, 0.5)
    low, high = quantile(logs, weights, 0.16), quantile(logs, weights, 0.84)
    if not math.isfinite(middle):
        known = np.isfinite(logs)
        middle = float(np.max(logs[known]))
    if not math.isfinite(high):
        high = middle + (middle - low)
    return middle, max(0.02, (high - low) / 2.0)


def _joined(
    centre: float, width: float, now: float, since: float, span: Span
) -> tuple[float, float]:
    """Return the logarithm of the seconds left and its spread, from both."""
    whole = 60.0 * math.exp(span.log_minutes)
    left = since + whole - now
    if left <= 0.25 * span.spread * whole:
        return centre, width  # it takes longer than usual already: that tells nothing of the rest
    usual_width = span.spread * whole / left
    if usual_width > 1.5:
        return centre, width
    one, other = 1.0 / width**2, 1.0 / usual_width**2
    return (
        (centre * one + math.log(left) * other) / (one + other),
        math.sqrt(1.0 / (one + other)),
    )
