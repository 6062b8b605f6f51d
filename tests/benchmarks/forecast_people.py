"""Invented people of several simulators, and the questions the forecast learns from.

Each person has thirteen cooks of one cut in one cooker; some are asked about in turn, at moments
drawn evenly over the time to a target, with all, some or none of the other twelve known, with and
without weight, set point and plan of the wrap, read every minute or seldom, with gaps, to a tenth
or to whole degrees, as loggers write.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.forecast.ahead import later_wraps, run_on
from pitjournal.analysis.forecast.asked import ForecastAsked, PastCook, Trace, Wrapping
from pitjournal.analysis.forecast.forecast import MEMBERS, SEED, agreed_of
from pitjournal.analysis.forecast.joined import run_on_to
from pitjournal.analysis.forecast.pit import pit_ahead, pit_so_far
from pitjournal.analysis.forecast.signs import Pit, course_of, signs_of
from pitjournal.analysis.forecast.signs import Question as Target
from pitjournal.analysis.forecast.usual import usual_of
from tests.benchmarks import (
    cook_simulator,
    front_simulator,
    juice_simulator,
    moist_simulator,
    shells_simulator,
)
from tests.benchmarks.simulated import MARKS, Cooks

Array = NDArray[np.float64]
Kitchen = TypeVar("Kitchen")

HOURS = {
    "pork butt": 20.0,
    "brisket": 15.0,
    "brisket flat": 14.0,
    "St. Louis ribs": 9.0,
    "spare ribs": 9.0,
    "chicken thighs": 2.0,
}
ASKED = 7
"""So many of a person's cooks are asked about: more people teach more than more cooks of one."""


def _layers(seed: int, cut: str) -> Cooks:
    home = cook_simulator.house(1000 + seed, cut)
    return cook_simulator.simulate(home, 13, 5000 + seed, HOURS[cut])


def _by(
    kitchen: Callable[[int, str], Kitchen],
    simulate: Callable[[Kitchen, int, int, float], Cooks],
) -> Callable[[int, str], Cooks]:
    return lambda seed, cut: simulate(kitchen(seed, cut), 13, seed, HOURS[cut])


WORLDS: dict[str, Callable[[int, str], Cooks]] = {
    "layers": _layers,
    "moist": _by(moist_simulator.kitchen, moist_simulator.simulate),
    "front": _by(front_simulator.kitchen, front_simulator.simulate),
    "shells": _by(shells_simulator.kitchen, shells_simulator.simulate),
}
"""The simulators that are taught from: each with laws, habits, fires and probes of its own."""

TRIED: dict[str, Callable[[int, str], Cooks]] = {
    **WORLDS,
    "juice": _by(juice_simulator.kitchen, juice_simulator.simulate),
}
"""Those that the forecast is tried on: the last is never taught from."""


def cooks_of(world: str, seed: int) -> Cooks | None:
    """Return thirteen cooks of an invented person; None where too many never get done."""
    cut = list(HOURS)[seed % len(HOURS)]
    cooks = TRIED[world](seed, cut)
    done = np.isfinite(cooks.marks[1 if "chicken" in cut else 3])
    return cooks if done.mean() >= 0.7 else None


def people(world: str, count: int, first: int) -> Iterator[tuple[int, Cooks]]:
    """Yield invented people whose cooks nearly all get done."""
    for seed in range(first, first + count):
        if (cooks := cooks_of(world, seed)) is not None:
            yield seed, cooks


@dataclass(frozen=True)
class Row:
    """One question: signs, what is usual and what was true, logarithms of minutes.

    `person` and `world` say whose it is; `share` of the time to the target has gone.
    """

    numbers: dict[str, float]
    usual: float
    truth: float
    person: int
    world: str
    share: float


@dataclass(frozen=True)
class Question:
    """A cook of a person, asked at a minute about a target, °C, that it reached at `truth`."""

    cooks: Cooks
    row: int
    target: float
    truth: float
    now: int
    past: tuple[PastCook, ...]


def form_of(cut: str) -> str:
    """Return the shape that the catalogue of cuts has."""
    return "box" if cut in {"pork butt", "chicken thighs"} else "slab"


def known(cooks: Cooks, row: int) -> PastCook:
    """Return a cook as its person would know it afterwards."""
    passed = [(mark, float(cooks.marks[at, row])) for at, mark in enumerate(MARKS)]
    at = cooks.wrap_at[row]
    return PastCook(
        float(cooks.thickness[row]) / 1000.0,
        float(cooks.mass[row]),
        float(cooks.set_point[row]),
        cooks.wrap[row],
        float(at) if np.isfinite(at) else None,
        tuple((mark, round(minute)) for mark, minute in passed if np.isfinite(minute)),
    )


def rows_of(world: str, cooks: Cooks, person: int, times: int = 2) -> list[Row]:
    """Return questions about some cooks of a person."""
    dice = np.random.default_rng(person)
    found = []
    poultry = "chicken" in cooks.cut
    for row in range(ASKED):
        past = _picked(cooks, row, dice)
        low, high = (55.0, 80.0) if poultry else (78.0, 97.0)
        targets = [71.0] if poultry else [71.0, 93.0]
        targets += [float(dice.uniform(low, high)), float(dice.uniform(45.0, 75.0))]
        for target in targets:
            truth = _truth(cooks, row, target)
            count = times if target > 75.0 or poultry else 1
            for share in dice.uniform(0.1, 0.95, count):
                if truth is not None and share * truth >= 10:
                    one = Question(cooks, row, target, truth, int(share * truth), past)
                    found.append(_row(one, person, world, dice))
    return found


def _truth(cooks: Cooks, row: int, target: float) -> float | None:
    if target in MARKS:
        found = float(cooks.marks[MARKS.index(target), row])
        return found if np.isfinite(found) else None
    place = int(np.argmax(cooks.core[:, row] >= target))
    return float(place) if place else None


def _row(question: Question, person: int, world: str, dice: np.random.Generator) -> Row:
    asked = _asked(question, dice)
    pit = pit_ahead(asked.trace, asked.set_point)
    set_point = pit if asked.set_point is None else asked.set_point
    course, usual = course_of(asked.trace), usual_of(asked, set_point)
    later = later_wraps(asked.wrapping, asked.past, asked.now, MEMBERS, SEED)
    ahead = run_on(agreed_of(asked), later, pit_ahead=pit, top=question.target)
    bodies = run_on_to(ahead, question.target)
    pits = Pit(set_point, pit, pit_so_far(asked.trace))
    signs = signs_of(asked, course, usual, Target(question.target, pits, bodies))
    if not all(math.isfinite(value) for value in signs.numbers.values()):
        raise AssertionError(signs)
    left = math.log(question.truth - question.now)
    share = question.now / question.truth
    return Row(dict(signs.numbers), signs.usual_left, left, person, world, share)


def _picked(cooks: Cooks, row: int, dice: np.random.Generator) -> tuple[PastCook, ...]:
    """Return the past cooks that are known: all, some or none, a few without the last mark."""
    others = [known(cooks, one) for one in range(cooks.mass.size) if one != row]
    size = dice.choice([12, int(dice.integers(3, 12)), 0], p=[0.65, 0.22, 0.13])
    picked = [others[place] for place in dice.permutation(12)[:size]]
    if dice.random() < 0.15:
        picked = [replace(c, marks=tuple(m for m in c.marks if m[0] != 93.0)) for c in picked]
    return tuple(picked)


def logged(cooks: Cooks, row: int, now: int, dice: np.random.Generator) -> Trace:
    """Return a cook's trace as a logger would write it: seldom, with gaps, rounded."""
    every = int(dice.choice([1, 1, 1, 2, 5])) if now > 60 else 1
    minutes = np.arange(now % every, now + 1, every)
    if dice.random() < 0.3:  # lines that are missing
        kept = dice.random(minutes.size) > dice.uniform(0.0, 0.1)
        kept[[0, -1]] = True
        minutes = minutes[kept]
    meat, pit = cooks.meat[minutes, row], cooks.pit[minutes, row]
    rounded = dice.random()
    if rounded < 0.25:  # whole degrees Fahrenheit
        meat, pit = (np.round(1.8 * one) / 1.8 for one in (meat, pit))
    elif rounded < 0.75:
        meat, pit = (np.round(one, 1) for one in (meat, pit))
    return Trace(60.0 * minutes.astype(np.float64), meat.astype(float), pit.astype(float))


def _asked(question: Question, dice: np.random.Generator) -> ForecastAsked:
    cooks, row, now = question.cooks, question.row, question.now
    at = float(cooks.wrap_at[row])
    told = np.isfinite(at) and (at <= now or dice.random() < 0.1)
    return ForecastAsked(
        logged(cooks, row, now, dice),
        form_of(cooks.cut),
        float(cooks.thickness[row]) / 1000.0,
        None if dice.random() < 0.05 else float(cooks.mass[row]),
        None if dice.random() < 0.05 else float(cooks.set_point[row]),
        Wrapping(60.0 * at, cooks.wrap[row]) if told else None,
        question.past,
        (question.target,),
    )
