"""What one's past cooks took from a moment of the cook to a target, put to the cook under way.

The moment is when it went on, when it passed the last mark, or when it was wrapped: whichever has
passed, cooks that lay apart up to there are together again. Each stretch is a ridge regression of
the logarithm of its minutes on the piece, the pit, the wrap and how the cook ran up to that moment,
with slopes held near the ones below, so that three cooks are enough and twelve can say otherwise.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from pitjournal.analysis.forecast.asked import FEWEST, ForecastAsked, PastCook
from pitjournal.analysis.forecast.usual import Usual, ridge
from pitjournal.science.arrays import Array

SLOPES: Array = np.array([0.6, 0.15, -1.3, -0.25, 0.25, 0.3, 0.25])
HELD: Array = np.array([0.35, 0.15, 0.4, 0.2, 0.3, 0.4, 0.2])
"""How the minutes grow with thickness, mass, the pit above 65 °C (powers), a wrap, when it came
(power), how late the moment was itself (power), and tens of degrees still to go; and how closely that
is held. No source: near what simulated cooks show, and corrected by one's own.
"""


@dataclass(frozen=True)
class Stretch:
    """Minutes from a moment to a target, their logarithm and its spread, by how many cooks.

    `plain` is the mean of the minutes as they were, of pieces and pits as they were.
    """

    log_minutes: float
    spread: float
    plain: float
    cooks: int


@dataclass(frozen=True)
class Moment:
    """A moment of this cook, minutes from on: it went on, passed a mark (°C), or was wrapped."""

    at: float
    mark: float | None = None
    wrapped: bool = False


@dataclass(frozen=True)
class _Row:
    """A cook up to a moment: minutes to it, °C there, and how it is or was wrapped."""

    thickness: float
    mass: float | None
    set_point: float
    wrapped: float
    wrap_at: float | None
    begins: float
    celsius: float


def stretch(
    asked: ForecastAsked, usual: Usual, set_point: float, target: float, moment: Moment
) -> Stretch | None:
    """Return what past cooks took from such a moment to a target; None where fewer than three tell.

    Parameters
    ----------
    asked
        The cook.
    usual
        What is to be expected of it, for its wrap.
    set_point, target
        °C.
    moment
        From when on.
    """
    told = [one for cook in asked.past if (one := _told(cook, target, moment)) is not None]
    if moment.wrapped and asked.wrapped is not None:
        same = [one for one in told if one[2] == asked.wrapped.wrap]
        told = same if len(same) >= FEWEST else told
    if len(told) < FEWEST:
        return None
    wrapped = _wrapped_then(asked, usual, told)
    here = replace(_here(asked, usual, set_point, moment), wrapped=wrapped)
    masses = [row.mass for row, *_ in told if row.mass]
    middle = float(np.median(masses)) if masses else 1.0
    late = [math.log(max(row.begins, 1.0)) for row, *_ in told]
    wraps = [math.log(max(row.wrap_at, 1.0)) for row, *_ in told if row.wrap_at is not None]
    at = (middle, float(np.mean(late)), float(np.mean(wraps)) if wraps else 0.0)
    x = np.array([_numbers(row, target, at) for row, *_ in told])
    minutes = np.array([took for _, took, _ in told])
    found = ridge(x, np.log(minutes), np.array(_numbers(here, target, at)), SLOPES, HELD)
    spread = math.hypot(found.spread, _unsure(asked, usual, wrapped, found.slopes))
    return Stretch(found.value, spread, float(minutes.mean()), len(told))


def _wrapped_then(
    asked: ForecastAsked, usual: Usual, told: Sequence[tuple[_Row, float, str]]
) -> float:
    """Return the chance that it is wrapped by the target: as past cooks were that were wrapped."""
    if asked.wrapping is not None:
        return usual.wrapped
    habits = sum(wrap not in {"", "none"} for *_, wrap in told)
    return usual.wrapped * sum(row.wrapped for row, *_ in told) / habits if habits else 0.0


def _unsure(asked: ForecastAsked, usual: Usual, chance: float, slopes: Array) -> float:
    """Return what it adds to the spread that nobody knows yet whether and when it is wrapped."""
    if asked.wrapping is not None:
        return 0.0
    whether = float(slopes[3]) * math.sqrt(chance * (1.0 - chance))
    return math.hypot(whether, float(slopes[4]) * usual.wrap_apart * math.sqrt(chance))


def _told(cook: PastCook, target: float, moment: Moment) -> tuple[_Row, float, str] | None:
    """Return a past cook up to such a moment, its minutes from there to the target, its wrap."""
    end = cook.until(target)
    begins = cook.wrap_at if moment.wrapped else 0.0 if moment.mark is None else _mark(cook, moment)
    if end is None or begins is None or end - begins < 1.0:
        return None
    wrapped = cook.wrapped_by(end)
    if moment.wrapped and not wrapped:
        return None
    celsius = moment.mark if moment.mark is not None else cook.celsius_at(begins)
    at = cook.wrap_at if wrapped else None
    row = _Row(cook.thickness, cook.mass, cook.set_point, float(wrapped), at, begins, celsius)
    return row, end - begins, cook.wrap


def _mark(cook: PastCook, moment: Moment) -> float | None:
    return dict(cook.marks).get(moment.mark or 0.0)


def _here(asked: ForecastAsked, usual: Usual, set_point: float, moment: Moment) -> _Row:
    """Return this cook as its past ones are told."""
    at = asked.wrapping.at / 60.0 if asked.wrapping is not None else None
    if at is None and usual.wrap_at is not None:
        at = max(math.exp(usual.wrap_at), asked.now / 60.0)
    if moment.mark is not None:
        celsius = moment.mark
    elif moment.wrapped:
        celsius = float(np.interp(moment.at * 60.0, asked.trace.seconds, asked.trace.meat))
    else:
        celsius = float(np.median(asked.trace.meat[:4]))
    return _Row(asked.thickness, asked.mass, set_point, usual.wrapped, at, moment.at, celsius)


def _numbers(row: _Row, target: float, at: Sequence[float]) -> tuple[float, ...]:
    """Return what a stretch is regressed on; `at` middle mass, logarithms of moment and wrap."""
    middle, late, wrap = at
    when = 0.0 if row.wrap_at is None else math.log(max(row.wrap_at, 1.0)) - wrap
    return (
        math.log(max(row.thickness, 1e-3)),
        math.log(max(row.mass or middle, 1.0)),
        math.log(max(row.set_point - 65.0, 5.0)),
        row.wrapped,
        row.wrapped * float(np.clip(when, -0.7, 0.7)),
        float(np.clip(math.log(max(row.begins, 1.0)) - late, -0.7, 0.7)) if row.begins else 0.0,
        (target - row.celsius) / 10.0 if row.begins else 0.0,
    )
