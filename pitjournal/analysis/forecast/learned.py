"""How much more or less than usual is left, as small networks learnt it from simulated cooks.

Several small networks, each with two hidden layers, give on average the logarithm of the time left
over the usual time left, and the logarithm of its spread; a number out of its range counts as at the
end of it, so that a strange trace is never answered beyond what was learnt. How wide the bands are
was measured on simulators that the networks had not been taught from (`away`), for a cook of one's
own is none of them either. What it was learnt from stands in `resources/forecast/learned.json` with
its seeds; `tests/benchmarks/forecast_train` makes that file. Nothing else is in it: it knows no cut,
no cooker and no cook, only ratios of times (`signs`).
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
    """The time left: the logarithm of its minutes, the spread of that, and where the bands lie.

    `away` has how many spreads from the middle 5, 25, 50, 75 and 95 % of cooks lay.
    """

    log_minutes: float
    spread: float
    away: tuple[float, ...]


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
        How far from the middle, in spreads, 5, 25, 50, 75 and 95 % of cooks of simulators lay that
        were held out, at each of `shares` of the time gone: without past cooks, and with some.
    shares
        Of the time from on to the target.
    """

    names: tuple[str, ...]
    mean: Array
    spread: Array
    layers: tuple[tuple[tuple[Array, Array], ...], ...]
    away: tuple[Array, Array]
    shares: Array

    def bands_at(self, share: float, own: bool) -> tuple[float, ...]:
        """Return how many spreads out the bands lie once a share of the time has gone."""
        scores = self.away[own]
        return tuple(
            float(np.interp(share, self.shares, scores[:, place]))
            for place in range(scores.shape[1])
        )

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
        (np.array(kept["away"]["alone"]), np.array(kept["away"]["own"])),
        np.array(kept["away"]["shares"]),
    )


def left_by(signs: Signs, now: float) -> Left:
    """Return the time left by what was learnt; `now` minutes from on."""
    net = network()
    numbers = np.array([[signs.numbers[name] for name in net.names]])
    more, width = net.out(numbers)[0]
    centre = signs.usual_left + float(more)
    share = now / (now + math.exp(centre))
    away = net.bands_at(share, signs.numbers["own"] > 0.5)
    return Left(centre, math.exp(float(np.clip(width, -5.0, 1.5))), away)
