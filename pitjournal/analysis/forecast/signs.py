"""What a trace shows of how this cook runs beside the usual one, in a few dozen bare numbers.

Each is a logarithm of a ratio of times, or a temperature in tens of degrees, so that a rib and a
shoulder, a hot pit and a slow one, are told in the same words.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from pitjournal.analysis.forecast.asked import MARKS, ForecastAsked, Trace
from pitjournal.analysis.forecast.pieces import WRAPS, geometry_of
from pitjournal.analysis.forecast.stretches import Moment, stretch
from pitjournal.analysis.forecast.usual import Usual, since_wrap
from pitjournal.science.arrays import Array

CELLS = 120
"""A trace is looked at in so many equal parts from on to now."""

LEAST = 6.0
"""A rise is taken over at least so many minutes."""


@dataclass(frozen=True)
class Course:
    """A trace on even steps: minutes (n,), °C as read (n,) and the highest so far (n,)."""

    minutes: Array
    meat: Array
    highest: Array
    now: float
    cold: float

    def crossed(self, celsius: float) -> float | None:
        """Return the minutes at which a temperature was first reached; None if it was not."""
        place = int(np.searchsorted(self.highest, celsius))
        if place >= self.highest.size:
            return None
        if place == 0:
            return max(0.5, float(self.minutes[0]))
        low, high = self.highest[place - 1], self.highest[place]
        share = (celsius - low) / max(high - low, 1e-9)
        step = self.minutes[place] - self.minutes[place - 1]
        return max(0.5, float(self.minutes[place - 1] + share * step))

    def line(self, share: float) -> tuple[float, float]:
        """Return the reading now and its rise, °C a minute, by a line through the last share."""
        count = max(4, round(CELLS * share), math.ceil(LEAST * CELLS / max(self.now, 8.0)))
        times, values = self.minutes[-count:] - self.now, self.meat[-count:]
        apart = times - times.mean()
        rise = float(apart @ values / max(float(apart @ apart), 1e-9))
        return float(values.mean() - rise * times.mean()), rise


def course_of(trace: Trace) -> Course:
    """Return a trace on even steps, each the mean of what was read in it."""
    now = float(trace.seconds[-1]) / 60.0
    edges = np.linspace(0.0, now, CELLS + 1)
    cell = np.clip(np.searchsorted(edges, trace.seconds / 60.0, side="left") - 1, 0, CELLS - 1)
    count = np.bincount(cell, minlength=CELLS)
    known = count > 0
    times = np.bincount(cell, trace.seconds / 60.0, CELLS)[known] / count[known]
    meat = np.bincount(cell, trace.meat, CELLS)[known] / count[known]
    even = (edges[1:] + edges[:-1]) / 2.0
    values = np.interp(even, times, meat)
    cold = float(np.median(trace.meat[:4]))
    return Course(even, values, np.maximum.accumulate(values), now, cold)


@dataclass(frozen=True)
class Signs:
    """The usual time left, logarithm of minutes, and what speaks for more or less of it."""

    usual_left: float
    numbers: Mapping[str, float]


@dataclass(frozen=True)
class Pit:
    """What the pit is set to, what it was of late, and on average once it had settled, °C."""

    set_point: float
    late: float
    so_far: float


@dataclass(frozen=True)
class RunOn:
    """What the bodies that were run on say: minutes from on, infinite where they do not get there.

    `early` and `late` hold the middle half of them, `misfit` is how badly they agree with the trace,
    and `alive` how many of them count.
    """

    early: float
    middle: float
    late: float
    misfit: float
    alive: float


@dataclass(frozen=True)
class Question:
    """A target, °C, the pit, and what the run-on bodies say of it."""

    target: float
    pit: Pit
    bodies: RunOn


def signs_of(asked: ForecastAsked, course: Course, usual: Usual, question: Question) -> Signs:
    """Return the signs for a target.

    Parameters
    ----------
    asked, course
        The cook, and its trace on even steps.
    usual
        What is to be expected of it.
    question
        What is asked of it.
    """
    target, pit = question.target, question.pit
    here, rise = course.line(1.0 / 8.0)
    end = usual.until(target, course.cold)
    reached = usual.until(float(np.clip(here, course.cold + 1.5, target - 0.3)), course.cold)
    left = max(end - reached, 0.01 * end, 0.5)
    numbers = {
        **_marks(course, usual, target, end=end, left=left),
        "ahead": math.log(course.now / max(reached, 0.5)),
        "share": reached / end,
        "here": here / 50.0,
        "gap": (target - here) / 50.0,
        "target": target / 50.0,
        "cold": course.cold / 10.0,
        **_rises(course, usual, here=here, rise=rise, target=target, left=left),
        **_shape(course, here),
        **_wraps(asked, course, usual, left),
        **_from_wrap(asked, course, target, left),
        **_stretches(asked, course, usual, question, left),
        **_bodies(question.bodies, course.now, left),
        **_piece(asked, usual, pit, end=end),
        **_between(target),
    }
    return Signs(math.log(left), numbers)


def _between(target: float) -> dict[str, float]:
    """Return how far a target lies from the marks: only there past cooks tell, else a line does."""
    found = {}
    for low, high in pairwise(MARKS[:3]):
        share = float(np.clip((target - low) / (high - low), 0.0, 1.0))
        found[f"between {round(low)} and {round(high)}"] = 4.0 * share * (1.0 - share)
    found["below 60"] = float(np.clip((MARKS[0] - target) / 10.0, 0.0, 2.0))
    found["above 93"] = float(np.clip((target - MARKS[-1]) / 5.0, 0.0, 1.0))
    return found


def _passed(course: Course, target: float) -> list[tuple[int, float]]:
    """Return the marks on the way to a target that were passed: places in `MARKS`, and minutes."""
    return [
        (place, at)
        for place, mark in enumerate(MARKS)
        if mark < target - 0.5 and (at := course.crossed(mark)) is not None
    ]


def _marks(
    course: Course, usual: Usual, target: float, *, end: float, left: float
) -> dict[str, float]:
    """Return when the last mark was passed, and what past cooks took from there."""
    passed = _passed(course, target)
    place, at = passed[-1] if passed else (-1, 0.0)
    usually = float(usual.minutes[place]) if passed else 0.0
    from_mark = max(at + (end - usually) - course.now, 0.15 * left)
    return {
        "from mark": math.log(from_mark / left),
        "mark": math.log(at / usually) if passed else 0.0,
        "no mark": float(not passed),
        "one mark": float(len(passed) == 1),
        "marks": float(len(passed) > 1),
    }


def _rises(
    course: Course, usual: Usual, *, here: float, rise: float, target: float, left: float
) -> dict[str, float]:
    """Return how it rises beside the usual, now and over longer, and where a line would end."""
    below = usual.until(max(here - 1.0, course.cold + 0.2), course.cold)
    pace = max(0.01, (usual.until(here + 1.0, course.cold) - below) / 2.0)
    lately, now, quarter, half = (
        math.log(max(one, 0.01))
        for one in (course.line(0.05)[1], rise, course.line(0.25)[1], course.line(0.5)[1])
    )
    gap = math.log(max(target - here, 0.3)) - math.log(left)
    return {
        "rise lately": lately + math.log(pace),
        "rise": now + math.log(pace),
        "rise quarter": quarter + math.log(pace),
        "rise half": half + math.log(pace),
        "bend lately": lately - now,
        "bend": now - quarter,
        "bend before": quarter - half,
        "line lately": gap - lately,
        "line": gap - now,
        "line quarter": gap - quarter,
    }


def _shape(course: Course, here: float) -> dict[str, float]:
    """Return how early it passed shares of its way from cold to now: a lag tells of depth."""
    way = max(here - course.cold, 1.0)

    def early(celsius: float) -> float:
        at = course.crossed(celsius)
        return math.log((course.now if at is None else at) / course.now)

    return {
        "quarter": early(course.cold + 0.25 * way),
        "half": early(course.cold + 0.5 * way),
        "three quarters": early(course.cold + 0.75 * way),
        "lag": early(course.cold + 3.0),
    }


def _wraps(asked: ForecastAsked, course: Course, usual: Usual, left: float) -> dict[str, float]:
    one = asked.wrapped
    since = 0.0 if one is None else course.now - one.at / 60.0
    at = 0.0
    if one is not None:
        at = float(np.interp(one.at / 60.0, course.minutes, course.meat)) / 50.0
    planned = asked.wrapping is not None and one is None and asked.wrapping.at > asked.now
    when = usual.wrap_at
    if planned and asked.wrapping is not None:
        when = math.log(max(asked.wrapping.at / 60.0, 1.0))
    beside = 0.0 if one is None or when is None else math.log(max(one.at / 60.0, 1.0)) - when
    kind = usual.wrap if one is None else ""
    if planned and asked.wrapping is not None:
        kind = asked.wrapping.wrap
    return {
        "wrapped": float(one is not None),
        "will be": usual.wrapped,
        "habit": usual.habit,
        "since": math.log1p(max(since, 0.0)) / 5.0,
        "since left": min(since / left, 5.0),
        "wrapped at": at,
        "wrap beside": beside,
        "wrap unsure": 0.0 if planned else _unsure(usual, course.now, left),
        "until wrap": 0.0 if when is None or one is not None else when - math.log(course.now),
        **{wrap: float(one is not None and one.wrap == wrap) for wrap in WRAPS},
        **{f"usually {wrap}": float(kind == wrap) for wrap in WRAPS},
    }


def _unsure(usual: Usual, now: float, left: float) -> float:
    """Return by how much of the time left the moment of a wrap to come is not known."""
    if usual.wrap_at is None or not 0.0 < usual.wrapped < 1.0:
        return 0.0
    apart = usual.wrap_apart * max(math.exp(usual.wrap_at), now)
    return min(usual.wrapped * apart / left, 2.0)


def _from_wrap(
    asked: ForecastAsked, course: Course, target: float, left: float
) -> dict[str, float]:
    """Return what past cooks took from the wrap, where it is wrapped."""
    one, told = asked.wrapped, since_wrap(asked, target)
    if one is None or told is None:
        return {"from wrap": 0.0, "warm at wrap": 0.0, "wrap told": 0.0}
    at = one.at / 60.0
    ahead = max(at + math.exp(told.log_minutes) - course.now, 0.15 * left)
    warm = float(np.interp(at, course.minutes, course.meat))
    return {
        "from wrap": math.log(ahead / left),
        "warm at wrap": (warm - told.celsius) / 10.0,
        "wrap told": 1.0,
    }


def _stretches(
    asked: ForecastAsked, course: Course, usual: Usual, question: Question, left: float
) -> dict[str, float]:
    """Return what past cooks took from on, from the last mark, from the wrap, put to this piece."""
    passed, begun = _passed(course, question.target), Moment(0.0)
    place, at = passed[-1] if passed else (-1, 0.0)
    moments = {
        "from on": begun,
        "since mark": Moment(at, MARKS[place]) if passed else begun,
        "since wrap": begun
        if asked.wrapped is None
        else Moment(asked.wrapped.at / 60.0, wrapped=True),
    }
    set_point = question.pit.set_point
    told = {
        moment: stretch(asked, usual, set_point, question.target, moment)
        for moment in set(moments.values())
    }
    found = {}
    for name, moment in moments.items():
        one = told[moment]
        found[name], found[f"{name} apart"] = 0.0, 0.3
        if one is not None:
            found[name] = _beside(moment.at + math.exp(one.log_minutes) - course.now, left)
            found[f"{name} apart"] = one.spread
        if name == "since mark":
            plain = 0.0 if one is None else _beside(moment.at + one.plain - course.now, left)
            found["plain"] = plain
    return found


def _beside(ahead: float, left: float) -> float:
    return float(np.clip(math.log(max(ahead, 0.15 * left) / left), -2.5, 2.5))


def _bodies(bodies: RunOn, now: float, left: float) -> dict[str, float]:
    """Return what the bodies have left beside the usual, and how far they lie apart."""
    trust = {"misfit": math.log1p(bodies.misfit), "alive": math.log(bodies.alive)}
    if not math.isfinite(bodies.middle):
        return {"bodies": 0.0, "bodies apart": 1.0, "bodies never": 1.0, **trust}
    middle = max(bodies.middle - now, 0.3)
    late = bodies.late if math.isfinite(bodies.late) else now + 3.0 * middle
    apart = math.log(max(late - now, 0.3) / max(bodies.early - now, 0.3))
    return {
        "bodies": float(np.clip(math.log(middle / left), -2.5, 2.5)),
        "bodies apart": float(np.clip(apart, 0.0, 2.5)),
        "bodies never": 0.0,
        **trust,
    }


def _piece(asked: ForecastAsked, usual: Usual, pit: Pit, *, end: float) -> dict[str, float]:
    """Return what piece and pit are beside those of the past cooks, and how these ran."""
    told = [cook for cook in asked.past if cook.marks] if usual.cooks else []
    thick = float(np.mean([cook.thickness for cook in told])) if told else asked.thickness
    sets = float(np.mean([cook.set_point for cook in told])) if told else pit.set_point
    masses = [cook.mass for cook in told if cook.mass]
    heavier = math.log(asked.mass / float(np.mean(masses))) if asked.mass and masses else 0.0
    minutes = usual.minutes
    return {
        "own": float(usual.cooks > 0),
        "few": 1.0 / max(usual.cooks, 1),
        "spread": usual.spread,
        "pit": math.log(max(pit.late - 60.0, 5.0) / max(pit.set_point - 60.0, 5.0)),
        "pit so far": math.log(max(pit.so_far - 60.0, 5.0) / max(pit.set_point - 60.0, 5.0)),
        "set": (pit.set_point - 110.0) / 20.0,
        "set beside": (pit.set_point - sets) / 10.0,
        "thick": math.log(asked.thickness / 0.06),
        "thick beside": math.log(asked.thickness / thick),
        "heavy beside": heavier,
        "bulk": geometry_of(asked.thickness, asked.mass, asked.form).shape,
        "length": math.log(end / 300.0),
        "60 to 71": math.log(max(minutes[1] / minutes[0], 1.0)),
        "71 to 90": math.log(max(minutes[2] / minutes[1], 1.0)),
        "90 to 93": math.log(
            max(minutes[3] - minutes[2], 1.0) / max(float(minutes[2] - minutes[1]), 1.0)
        ),
    }
