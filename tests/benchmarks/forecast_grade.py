"""How good is the forecast? Graded on invented cooks of five other models.

    python -m tests.benchmarks.forecast_grade [COOKS] [FIRST SEED] [WORLD]...

At a quarter, half and three quarters of the time to a target: the error as a share of the time
that is left, how often the bands hold the truth, and beside it what the mean of one's own past
cooks gives, and that mean counted from the last mark passed. Prints by cut and in all. Of the five
models it was taught from four; the last, `juice`, tells what a cook of no known model may expect.
"""

import sys
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.forecast.asked import ForecastAsked, PastCook, Trace, Wrapping
from pitjournal.analysis.forecast.forecast import Forecast, forecast
from tests.benchmarks.forecast_people import HOURS, TRIED, cooks_of, form_of, known
from tests.benchmarks.simulated import MARKS, Cooks

FRACTIONS = (0.25, 0.5, 0.75)


@dataclass(frozen=True)
class Graded:
    """One forecast beside the truth, in shares of the time left."""

    cut: str
    fraction: float
    error: float
    in50: bool
    in90: bool
    width: float
    mean_error: float
    from_mark: float


def past_of(cooks: Cooks) -> tuple[PastCook, ...]:
    """Return all cooks but the first as their cook would know them."""
    return tuple(known(cooks, row) for row in range(1, cooks.mass.size))


def asked_at(cooks: Cooks, past: tuple[PastCook, ...], now: int, target: float) -> ForecastAsked:
    """Return what the first cook's person would ask at a minute."""
    minutes = np.arange(now + 1, dtype=np.float64)
    wrap_at = float(cooks.wrap_at[0])
    wrapped = np.isfinite(wrap_at) and wrap_at <= now
    return ForecastAsked(
        trace=Trace(60.0 * minutes, cooks.meat[: now + 1, 0], cooks.pit[: now + 1, 0]),
        form=form_of(cooks.cut),
        thickness=float(cooks.thickness[0]) / 1000.0,
        mass=float(cooks.mass[0]),
        set_point=float(cooks.set_point[0]),
        wrapping=Wrapping(60.0 * wrap_at, cooks.wrap[0]) if wrapped else None,
        past=past,
        targets=(target,),
    )


def grade(seed: int, world: str = "layers") -> list[Graded]:
    """Return the forecasts of one invented cook; none where its person's cooks never get done."""
    cooks = cooks_of(world, seed)
    if cooks is None:
        return []
    past = past_of(cooks)
    found = []
    for target in (71.0,) if "chicken" in cooks.cut else (71.0, 93.0):
        truth = float(cooks.marks[MARKS.index(target), 0])
        if not np.isfinite(truth) or truth < 20.0:
            continue
        for fraction in FRACTIONS:
            now = int(fraction * truth)
            asked = asked_at(cooks, past, now, target)
            (one,) = forecast(asked)
            if not one.refused and one.median is not None:
                found.append(_graded(cooks.cut, fraction, one, truth, asked))
    return found


def _graded(cut: str, fraction: float, one: Forecast, truth: float, asked: ForecastAsked) -> Graded:
    def minutes(seconds: float | None) -> float:
        return 2880.0 if seconds is None else seconds / 60.0

    left = truth - asked.now / 60.0
    return Graded(
        cut,
        fraction,
        (minutes(one.median) - truth) / left,
        minutes(one.low50) <= truth <= minutes(one.high50),
        minutes(one.low90) <= truth <= minutes(one.high90),
        (minutes(one.high90) - minutes(one.low90)) / left,
        (mean_from(asked, one.target, 0.0, 0.0) - truth) / left,
        (mean_from_mark(asked, one.target) - truth) / left,
    )


def mean_from(asked: ForecastAsked, target: float, mark: float, at: float) -> float:
    """Return the mean of past cooks from a mark, °C, that was passed at a minute, on to a target."""
    took = []
    for cook in asked.past:
        marks = {0.0: 0.0, **dict(cook.marks)}
        if target in marks and mark in marks:
            took.append(marks[target] - marks[mark])
    return at + float(np.mean(took)) if took else float("nan")


def mean_from_mark(asked: ForecastAsked, target: float) -> float:
    """Return that mean from the last mark that the probe has passed, never before now."""
    mark, at = 0.0, 0.0
    for one in MARKS:
        passed = np.flatnonzero(asked.trace.meat >= one)
        if one < target and passed.size:
            mark, at = one, float(asked.trace.seconds[passed[0]]) / 60.0
    return max(mean_from(asked, target, mark, at), asked.now / 60.0)


def report(graded: list[Graded]) -> None:
    """Print a line for each cut and fraction, and for all."""
    for cut in [*HOURS, "all"]:
        for fraction in FRACTIONS:
            some = [g for g in graded if g.fraction == fraction and cut in {"all", g.cut}]
            if some:
                print(f"{cut:15} at {fraction:.2f}: {summary(some)}")


def summary(some: list[Graded]) -> str:
    """Return the figures of some forecasts in a line."""
    error = np.abs([one.error for one in some])
    mean = np.abs([one.mean_error for one in some])
    mark = np.abs([one.from_mark for one in some])
    return (
        f"{len(some):3d} forecasts, median {np.median(error):5.1%}, 90th {np.quantile(error, 0.9):5.1%}, "
        f"worst {error.max():4.0%}, in 50 % {np.mean([one.in50 for one in some]):4.0%}, "
        f"in 90 % {np.mean([one.in90 for one in some]):4.0%}, "
        f"width {np.median([one.width for one in some]):4.0%}; past mean {np.nanmedian(mean):4.0%}, "
        f"{np.nanquantile(mean, 0.9):4.0%}, from mark {np.nanmedian(mark):4.0%}, "
        f"{np.nanquantile(mark, 0.9):4.0%}"
    )


def main() -> None:
    """Grade as many cooks as asked."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    for world in sys.argv[3:] or TRIED:
        print(f"{count} invented cooks of {world}, seeds from {first}")
        report([one for seed in range(first, first + count) for one in grade(seed, world)])


if __name__ == "__main__":
    main()
