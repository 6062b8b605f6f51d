"""Teach the forecast from simulated cooks, and write `resources/forecast/learned.json`.

    python -m tests.benchmarks.forecast_train [PEOPLE FIRST-SEED]...

Each invented person has thirteen cooks of one cut in one cooker; each cook in turn is asked about
at moments drawn at random, with all, some or none of the other twelve known, with and without
weight, set point and plan of the wrap. Three networks of two small layers learn the logarithm of the
time left over the usual one, and its spread, by the likelihood of Student's law with four degrees
of freedom, which one odd cook does not turn. A quarter of the people is held out to stop in time
and to set the widths. Takes about a minute for eight people, and a few minutes to learn.
"""

import json
import math
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.forecast.asked import ForecastAsked, PastCook, Trace, Wrapping
from pitjournal.analysis.forecast.pit import pit_ahead
from pitjournal.analysis.forecast.signs import Pit, course_of, signs_of
from pitjournal.analysis.forecast.usual import usual_of
from pitjournal.resource_files import resource_path
from tests.benchmarks.cook_simulator import MARKS, Cooks, house, simulate
from tests.benchmarks.forecast_grade import HOURS, form_of, known

Array = NDArray[np.float64]
HIDDEN = (32, 16)
DEGREES = 4.0
"""Of freedom, of Student's law."""

EPOCHS, PATIENCE, DECAY = 120, 30, 5e-4
NETWORKS, TIMES = 3, 2

USUAL = (160, 300_000, 160, 301_000, 90, 302_000, 90, 303_000)
"""People and first seeds of what is shipped."""


@dataclass(frozen=True)
class Row:
    """One question: signs, what is usual and what was true, logarithms of minutes; the person."""

    numbers: dict[str, float]
    usual: float
    truth: float
    person: int


def people(count: int, first: int) -> Iterator[tuple[int, Cooks]]:
    """Yield invented people whose cooks nearly all get done."""
    for seed in range(first, first + count):
        cut = list(HOURS)[seed % len(HOURS)]
        cooks = simulate(house(1000 + seed, cut), 13, 5000 + seed, HOURS[cut])
        if np.isnan(cooks.marks[1 if "chicken" in cut else 3]).mean() <= 0.3:
            yield seed, cooks


@dataclass(frozen=True)
class Question:
    """A cook of a person, asked at a minute about a target, °C, that it reached at `truth`."""

    cooks: Cooks
    row: int
    target: float
    truth: float
    now: int


def rows_of(cooks: Cooks, person: int, times: int = 3) -> list[Row]:
    """Return questions about each cook of a person."""
    dice = np.random.default_rng(person)
    found = []
    for row in range(cooks.mass.size):
        low, high = (55.0, 80.0) if "chicken" in cooks.cut else (78.0, 97.0)
        targets = [71.0] if "chicken" in cooks.cut else [71.0, 93.0]
        for target in (*targets, float(dice.uniform(low, high)), float(dice.uniform(45.0, 70.0))):
            truth = _truth(cooks, row, target)
            for share in dice.uniform(0.1, 0.95, times):
                if truth is not None and share * truth >= 10:
                    asked = Question(cooks, row, target, truth, int(share * truth))
                    found.append(_row(asked, person, dice))
    return found


def _truth(cooks: Cooks, row: int, target: float) -> float | None:
    if target in MARKS:
        found = float(cooks.marks[MARKS.index(target), row])
        return found if np.isfinite(found) else None
    place = int(np.argmax(cooks.core[:, row] >= target))
    return float(place) if place else None


def _row(question: Question, person: int, dice: np.random.Generator) -> Row:
    asked = _asked(question, dice)
    pit = pit_ahead(asked.trace, asked.set_point)
    set_point = pit if asked.set_point is None else asked.set_point
    course, usual = course_of(asked.trace), usual_of(asked, set_point)
    signs = signs_of(asked, course, usual, question.target, Pit(set_point, pit))
    if not all(math.isfinite(value) for value in signs.numbers.values()):
        raise AssertionError(signs)
    left = math.log(question.truth - question.now)
    return Row(dict(signs.numbers), signs.usual_left, left, person)


def _picked(question: Question, dice: np.random.Generator) -> tuple[PastCook, ...]:
    """Return the past cooks that are known: all, some or none, a few without the last mark."""
    cooks = question.cooks
    others = [known(cooks, one) for one in range(cooks.mass.size) if one != question.row]
    size = dice.choice([12, int(dice.integers(3, 12)), 0], p=[0.6, 0.25, 0.15])
    picked = [others[place] for place in dice.permutation(12)[:size]]
    if dice.random() < 0.2:
        picked = [replace(c, marks=tuple(m for m in c.marks if m[0] != 93.0)) for c in picked]
    return tuple(picked)


def _asked(question: Question, dice: np.random.Generator) -> ForecastAsked:
    cooks, row, now = question.cooks, question.row, question.now
    picked = _picked(question, dice)
    at = float(cooks.wrap_at[row])
    told = np.isfinite(at) and (at <= now or dice.random() < 0.2)
    minutes = np.arange(now + 1, dtype=np.float64)
    return ForecastAsked(
        Trace(60.0 * minutes, cooks.meat[: now + 1, row], cooks.pit[: now + 1, row]),
        form_of(cooks.cut),
        float(cooks.thickness[row]) / 1000.0,
        None if dice.random() < 0.1 else float(cooks.mass[row]),
        None if dice.random() < 0.1 else float(cooks.set_point[row]),
        Wrapping(60.0 * at, cooks.wrap[row]) if told else None,
        picked,
        (question.target,),
    )


@dataclass
class Learner:
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
            noisy = signs[some] + dice.normal(0, 0.03, (some.size, signs.shape[1]))
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
    learner.weights[-1] *= 0.1
    learner.offsets[-1][1] = -1.5
    return learner


def _copy(learner: Learner) -> Learner:
    return Learner([w.copy() for w in learner.weights], [o.copy() for o in learner.offsets])


def learn(rows: Sequence[Row], seeds: str) -> dict[str, object]:
    """Return what is written down."""
    names = list(rows[0].numbers)
    numbers = np.array([[row.numbers[name] for name in names] for row in rows])
    truth = np.array([row.truth - row.usual for row in rows])
    out = np.array([row.person % 4 == 3 for row in rows])
    mean, spread = numbers.mean(axis=0), np.maximum(numbers.std(axis=0), 0.02)
    scaled = np.clip((numbers - mean) / spread, -3.0, 3.0)
    held = (scaled[out], truth[out])
    learners = [
        teach(scaled[~out], np.clip(truth[~out], -2.5, 2.5), held, seed) for seed in range(NETWORKS)
    ]
    given = np.mean([learner.out(scaled[out])[-1] for learner in learners], axis=0)
    away = (truth[out] - given[:, 0]) / np.exp(np.clip(given[:, 1], -5.0, 1.5))
    print("held out: minus log likelihood", round(loss(given, truth[out]), 3))
    return {
        "what": "time left over usual time left, learnt by tests/benchmarks/forecast_train from "
        "invented cooks of tests/benchmarks/cook_simulator; no measured cook is in it",
        "seeds": seeds,
        "questions": len(rows),
        "away": [round(float(np.quantile(away, q)), 3) for q in (0.05, 0.25, 0.5, 0.75, 0.95)],
        "signs": names,
        "mean": np.round(mean, 4).tolist(),
        "spread": np.round(spread, 4).tolist(),
        "networks": [_written(learner) for learner in learners],
    }


def _written(learner: Learner) -> list[dict[str, object]]:
    return [
        {"weights": np.round(weight, 3).tolist(), "offsets": np.round(offset, 3).tolist()}
        for weight, offset in zip(learner.weights, learner.offsets, strict=True)
    ]


def main() -> None:
    """Simulate, learn, and write it down."""
    given = [int(word) for word in sys.argv[1:]] or list(USUAL)
    ranges = list(zip(given[::2], given[1::2], strict=True))
    rows = [
        row
        for count, first in ranges
        for seed, cooks in people(count, first)
        for row in rows_of(cooks, seed, TIMES)
    ]
    seeds = ", ".join(f"{first} to {first + count - 1}" for count, first in ranges)
    path = resource_path("forecast/learned.json")
    path.write_text(json.dumps(learn(rows, seeds), separators=(",", ":")) + "\n", "utf-8")
    sys.stdout.write(f"{path}, {path.stat().st_size} bytes\n")


if __name__ == "__main__":
    main()
