"""How much more or less than usual is left, as small networks learnt it from simulated cooks.

Three small networks, each with two hidden layers, give on average the logarithm of the time left over the usual time left, and the logarithm of
its spread; a number out of its range counts as at the end of it, so that a strange trace is never
answered beyond what was learnt. What it was learnt from stands in `resources/forecast/learned.json`
with its seeds; `tests/benchmarks/forecast_train` makes that file. Nothing else is in it: it knows no
cut, no cooker and no cook, only ratios of times (`signs`).
"""

import json
import math
from dataclasses import dataclass
from functools import cache

import numpy as np

from pitjournal.analysis.forecast.signs import Signs
from pitjournal.resource_files import resource_path
from pitjournal.science.arrays import Array

FARTHEST = 3.0
"""A sign counts as at most so many spreads from its mean."""


@dataclass(frozen=True)
class Left:
    """The time left: the logarithm of its minutes, and the spread of that."""

    log_minutes: float
    spread: float


@dataclass(frozen=True)
class Network:
    """What was learnt.

    Attributes
    ----------
    names, mean, spread
        Of the signs.
    layers
        Of several networks that learnt the same: weights and offsets of each layer.
    away
        How far from the middle, in spreads, 5, 25, 50, 75 and 95 % of held-out cooks lay.
    """

    names: tuple[str, ...]
    mean: Array
    spread: Array
    layers: tuple[tuple[tuple[Array, Array], ...], ...]
    away: tuple[float, ...]

    def out(self, numbers: Array) -> Array:
        """Return the two outputs for signs of shape (n, names), the mean of all, shape (n, 2)."""
        scaled = np.clip((numbers - self.mean) / self.spread, -FARTHEST, FARTHEST)
        found: Array = np.mean([_out(layers, scaled) for layers in self.layers], axis=0)
        return found


def _out(layers: tuple[tuple[Array, Array], ...], at: Array) -> Array:
    for weight, offset in layers[:-1]:
        at = np.tanh(at @ weight + offset)
    weight, offset = layers[-1]
    found: Array = at @ weight + offset
    return found


@cache
def network() -> Network:
    """Return what was learnt."""
    kept = json.loads(resource_path("forecast/learned.json").read_text("utf-8"))
    return Network(
        tuple(kept["signs"]),
        np.array(kept["mean"]),
        np.array(kept["spread"]),
        tuple(
            tuple((np.array(layer["weights"]), np.array(layer["offsets"])) for layer in one)
            for one in kept["networks"]
        ),
        tuple(kept["away"]),
    )


def left_by(signs: Signs) -> Left:
    """Return the time left by what was learnt."""
    net = network()
    numbers = np.array([[signs.numbers[name] for name in net.names]])
    more, width = net.out(numbers)[0]
    return Left(signs.usual_left + float(more), math.exp(float(np.clip(width, -5.0, 1.5))))
