"""What one's own past cooks took from one mark to the next, beside what physics says of it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.forecast.past import FEWEST, PastCook
from pitjournal.science.arrays import Array

SLOPES = np.array([1.0, -1.0])
"""How a stretch of time grows with thickness and shrinks with the pit above 65 °C, as powers."""

SLOPE_SPREADS = np.array([0.5, 0.5])


@dataclass(frozen=True)
class Span:
    """How long it usually takes from a moment to the target: its logarithm of minutes and spread."""

    log_minutes: float
    spread: float
    cooks: int


def span(
    past: Sequence[PastCook],
    begin: float | None,
    target: float,
    *,
    thickness: float,
    set_point: float,
    wrap: str | None,
) -> Span | None:
    """Return how long past cooks took from a mark to a target, put to this piece and pit.

    A regression on the logarithms of thickness and of the pit above the stall, its slopes held
    near one and minus one (ridge), so that three cooks are enough.

    Parameters
    ----------
    past
        Cooks of the same cut.
    begin
        The mark from which is counted, °C; None counts from on.
    target
        °C.
    thickness, set_point
        Of this cook: m, °C.
    wrap
        What it is wrapped in now or "none", to choose cooks like it; None where that is open.
    """
    rows = [(cook, stretch) for cook in past if (stretch := _stretch(cook, begin, target))]
    alike = [(cook, stretch) for cook, stretch in rows if wrap is not None and cook.wrap == wrap]
    rows = alike if len(alike) >= FEWEST else rows
    if len(rows) < FEWEST:
        return None
    x = np.array([_features(cook.thickness, cook.set_point) for cook, _ in rows])
    y = np.log(np.array([stretch for _, stretch in rows]))
    return _ridge(x, y, np.array(_features(thickness, set_point)))


def _stretch(cook: PastCook, begin: float | None, target: float) -> float | None:
    marks = dict(cook.marks)
    end, start = marks.get(target), 0.0 if begin is None else marks.get(begin)
    return None if end is None or start is None or end - start < 1.0 else end - start


def _features(thickness: float, set_point: float) -> tuple[float, float]:
    return math.log(max(thickness, 1e-3)), math.log(max(set_point - 65.0, 5.0))


def _ridge(x: Array, y: Array, here: Array) -> Span:
    centre_x, centre_y = x.mean(axis=0), float(y.mean())
    apart = x - centre_x
    rest = y - centre_y - apart @ SLOPES
    noise = max(float(np.var(rest, ddof=1)), 0.03**2)
    shrink = np.diag(noise / SLOPE_SPREADS**2)
    slopes = SLOPES + np.linalg.solve(apart.T @ apart + shrink, apart.T @ rest)
    left = y - centre_y - apart @ slopes
    count = y.size
    variance = (float(left @ left) + 2 * 0.10**2) / (count - 1 + 2)  # two cooks' worth of a tenth
    value = centre_y + float((here - centre_x) @ slopes)
    few = (count + 1.0) / (count - 1.0)  # a spread from few cooks is itself not sure
    return Span(value, math.sqrt(variance * few * (1.0 + 1.0 / count)), count)
