"""Teach the forecast from simulated cooks, and write `resources/forecast/learned.json`.

    python -m tests.benchmarks.forecast_train FOLDER

Several networks of two small layers learn the logarithm of the time left over the usual one, and its
spread, by the likelihood of Student's law with four degrees of freedom, which one odd cook does not
turn. They are taught from all simulators. How wide the bands have to be is measured on simulators that
were left out: each in turn is forecast by networks that were taught from the others, for a real
cook is from none of them. A fifth of the people is held out to stop in time.

The questions are worked out a part at a time and kept in FOLDER, so that parts can be worked out at
the same time (`forecast_rows`) and a second run only learns: some thirty quiet minutes of one core for
all parts, three to learn.
"""

import json
import math
import sys
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pitjournal.resource_files import resource_path
from tests.benchmarks.forecast_people import WORLDS
from tests.benchmarks.forecast_rows import Rows, joined, part

Array = NDArray[np.float64]
HIDDEN = (40, 20)
DEGREES = 4.0
"""Of freedom, of Student's law."""

EPOCHS, PATIENCE, DECAY, NOISE = 80, 25, 5e-3, 0.4
NETWORKS, NETWORKS_OUT = 5, 3
"""How many are shipped, and how many are taught for each simulator that is left out."""

PEOPLE = 120
FIRST = (100_000, 101_000, 102_000, 103_000)
"""People of each simulator from each of these seeds are what is shipped."""

SHARES = (0.25, 0.5, 0.75)
LEVELS = (0.05, 0.25, 0.5, 0.75, 0.95)
WIDER = 1.1
"""By so much bands are wider than all simulators that were left out needed together: the one of them
that needed most is then covered as it should be, and a cook of one's own is more foreign to all of
them than they are to each other.
"""


class Learner(NamedTuple):
    """A network being taught by Adam (Kingma and Ba 2015)."""

    weights: list[Array]
    offsets: list[Array]

    def out(self, signs: Array) -> list[Array]:
        """Return what each layer gives."""
        layers = [signs]
        for place, (weight, offset) in enumerate(zip(self.weights, self.offsets, strict=True)):
            at = layers[-1] @ weight + offset
            layers.append(np.tanh(at) if place < len(self.weights) - 1 else at)
        return layers

    def slopes(self, signs: Array, truth: Array) -> list[Array]:
        """Return how the mean of minus the log likelihood changes with each parameter."""
        layers = self.out(signs)
        back = _loss_slope(layers[-1], truth) / truth.size
        found: list[Array] = []
        for place in reversed(range(len(self.weights))):
            found = [layers[place].T @ back, back.sum(axis=0), *found]
            if place:
                back = (back @ self.weights[place].T) * (1.0 - layers[place] ** 2)
        return found


def _loss_slope(out: Array, truth: Array) -> Array:
    width = np.exp(np.clip(out[:, 1], -5.0, 1.5))
    away = (truth - out[:, 0]) / width
    pull = (DEGREES + 1.0) * away / (DEGREES + away**2)
    return np.column_stack((-pull / width, 1.0 - pull * away))


def loss(out: Array, truth: Array) -> float:
    """Return the mean of minus the log likelihood, but for a constant."""
    width = np.clip(out[:, 1], -5.0, 1.5)
    away = (truth - out[:, 0]) / np.exp(width)
    return float(np.mean(width + (DEGREES + 1.0) / 2.0 * np.log1p(away**2 / DEGREES)))


def teach(signs: Array, truth: Array, held: tuple[Array, Array], seed: int = 1) -> Learner:
    """Return the network that does best on the held-out people."""
    dice = np.random.default_rng(seed)
    learner = _fresh(signs.shape[1], dice)
    best, least, since = _copy(learner), math.inf, 0
    adam = Adam(learner)
    for epoch in range(EPOCHS):
        rate = 0.004 * 0.5 * (1 + math.cos(math.pi * epoch / EPOCHS))
        order = dice.permutation(truth.size)
        for start in range(0, truth.size, 256):
            some = order[start : start + 256]
            noisy = signs[some] + dice.normal(0, NOISE, (some.size, signs.shape[1]))
            adam.step(learner.slopes(noisy, truth[some]), rate)
        now = loss(learner.out(held[0])[-1], held[1])
        if now < least - 1e-4:
            best, least, since = _copy(learner), now, 0
        since += 1
        if since > PATIENCE:
            break
    return best


class Adam:
    """Steps down the slope, each as long as the slope is steady (Kingma and Ba 2015)."""

    def __init__(self, learner: Learner) -> None:
        pairs = zip(learner.weights, learner.offsets, strict=True)
        self.parameters = [parameter for pair in pairs for parameter in pair]
        self.first = [np.zeros_like(one) for one in self.parameters]
        self.second = [np.zeros_like(one) for one in self.parameters]
        self.steps = 0

    def step(self, slopes: Sequence[Array], rate: float) -> None:
        """Move each parameter by its slope, in place, and the weights a little to nothing."""
        self.steps += 1
        for place, slope in enumerate(slopes):
            one = self.parameters[place]
            full = slope + (DECAY * one if one.ndim == 2 else 0.0)
            self.first[place] = 0.9 * self.first[place] + 0.1 * full
            self.second[place] = 0.999 * self.second[place] + 0.001 * full**2
            mean = self.first[place] / (1 - 0.9**self.steps)
            spread = np.sqrt(self.second[place] / (1 - 0.999**self.steps))
            np.subtract(one, rate * mean / (spread + 1e-8), out=one)


def _fresh(width: int, dice: np.random.Generator) -> Learner:
    pairs = list(pairwise([width, *HIDDEN, 2]))
    learner = Learner(
        [dice.normal(0, 1 / math.sqrt(low), (low, high)) for low, high in pairs],
        [np.zeros(high) for _, high in pairs],
    )
    learner.weights[-1][:] *= 0.1
    learner.offsets[-1][1] = -1.5
    return learner


def _copy(learner: Learner) -> Learner:
    return Learner([w.copy() for w in learner.weights], [o.copy() for o in learner.offsets])


class Taught(NamedTuple):
    """Networks, and the mean and spread of the signs that they are told in."""

    learners: list[Learner]
    mean: Array
    spread: Array

    def out(self, numbers: Array) -> Array:
        """Return the mean of what the networks give, shape (n, 2)."""
        scaled = np.clip((numbers - self.mean) / self.spread, -3.0, 3.0)
        found: Array = np.mean([one.out(scaled)[-1] for one in self.learners], axis=0)
        return found


def taught(rows: Rows, count: int) -> Taught:
    """Return networks taught from questions, each stopped by a fifth of the people."""
    mean = rows.numbers.mean(axis=0)
    spread = np.maximum(rows.numbers.std(axis=0), 0.02)
    scaled = np.clip((rows.numbers - mean) / spread, -3.0, 3.0)
    truth = np.clip(rows.truth - rows.usual, -2.5, 2.5)
    out = rows.person % 5 == 3
    held = (scaled[out], truth[out])
    learners = [teach(scaled[~out], truth[~out], held, seed) for seed in range(count)]
    return Taught(learners, mean, spread)


class Judged(NamedTuple):
    """Questions of simulators that were left out: spreads from the middle, and which they were."""

    away: Array
    share: Array
    own: Array


def left_out(rows: Rows) -> Judged:
    """Return how far off networks are that were not taught from the simulator they are asked of."""
    away, share, own = [], [], []
    for place, world in enumerate(WORLDS):
        here = rows.world == place
        some, rest = rows.where(here), rows.where(~here)
        given = taught(rest, NETWORKS_OUT).out(some.numbers)
        width = np.exp(np.clip(given[:, 1], -5.0, 1.5))
        error = some.truth - some.usual - given[:, 0]
        away.append(error / width)
        gone = np.exp(some.truth) * some.share / (1.0 - some.share)
        left = np.exp(given[:, 0] + some.usual)
        share.append(gone / (gone + left))
        own.append(some.numbers[:, rows.names.index("own")] > 0.5)
        sys.stdout.write(f"{world} left out: {_told(some, error)}\n")
    return Judged(np.concatenate(away), np.concatenate(share), np.concatenate(own))


def _told(rows: Rows, error: Array) -> str:
    """Return the middle and 90th percentile of the errors at each share, of the time left."""
    own = rows.numbers[:, rows.names.index("few")] < 0.1
    off = np.abs(np.expm1(-error))
    words = []
    for share in SHARES:
        some = off[own & (np.abs(rows.share - share) < 0.08)]
        words.append(f"{np.median(some):.1%} / {np.quantile(some, 0.9):.0%}")
    return ", ".join(words)


def scores(judged: Judged) -> dict[str, object]:
    """Return how many spreads out the bands lie, by the share gone and by whether cooks are known."""
    found: dict[str, object] = {"shares": list(SHARES)}
    for name, own in (("alone", False), ("own", True)):
        found[name] = [
            _wider(judged.away[(judged.own == own) & (np.abs(judged.share - share) < 0.13)])
            for share in SHARES
        ]
    return found


def _wider(away: Array) -> list[float]:
    """Return how many spreads out the bands lie, about the middle."""
    found = np.quantile(away, LEVELS)
    middle = found[len(LEVELS) // 2]
    wider: list[float] = np.round(middle + WIDER * (found - middle), 3).tolist()
    return wider


def learn(rows: Rows, seeds: str) -> dict[str, object]:
    """Return what is written down."""
    away = scores(left_out(rows))
    net = taught(rows, NETWORKS)
    return {
        "what": "time left over usual time left, learnt by tests/benchmarks/forecast_train from "
        "invented cooks of four simulators beside it; no measured cook is in it",
        "seeds": seeds,
        "questions": int(rows.truth.size),
        "away": away,
        "signs": list(rows.names),
        "mean": np.round(net.mean, 4).tolist(),
        "spread": np.round(net.spread, 4).tolist(),
        "networks": [_written(learner) for learner in net.learners],
    }


def _written(learner: Learner) -> list[dict[str, object]]:
    return [
        {"weights": np.round(weight, 3).tolist(), "offsets": np.round(offset, 3).tolist()}
        for weight, offset in zip(learner.weights, learner.offsets, strict=True)
    ]


def main() -> None:
    """Work out what is missing of the questions, learn, and write it down."""
    folder = Path(sys.argv[1])
    rows = joined([part(folder, world, PEOPLE, first) for world in WORLDS for first in FIRST])
    seeds = f"{', '.join(WORLDS)}: {PEOPLE} people each from {', '.join(map(str, FIRST))}"
    path = resource_path("forecast/learned.json")
    path.write_text(json.dumps(learn(rows, seeds), separators=(",", ":")) + "\n", "utf-8")
    sys.stdout.write(f"{path}, {path.stat().st_size} bytes\n")


if __name__ == "__main__":
    main()
