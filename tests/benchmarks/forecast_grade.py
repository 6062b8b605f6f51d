"""How good is the forecast? Graded on invented cooks of a finer model.

    python -m tests.benchmarks.forecast_grade [COOKS] [FIRST SEED]

At a quarter, half and three quarters of the time to a target: the error as a share of the time
that is left, how often the bands hold the truth, and beside it what the mean of one's own past
cooks gives. Prints by cut and in all.
"""

import sys
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.forecast.asked import ForecastAsked, PastCook, Trace, Wrapping
from pitjournal.analysis.forecast.forecast import Forecast, forecast
from tests.benchmarks.cook_simulator import MARKS, Cooks, house, simulate

HOURS = {
    "pork butt": 20.0,
    "brisket": 15.0,
    "brisket flat": 14.0,
    "St. Louis ribs": 9.0,
    "spare ribs": 9.0,
    "chicken thighs": 2.0,
}
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


def past_of(cooks: Cooks) -> tuple[PastCook, ...]:
    """Return all cooks but the first as their cook would know them."""
    return tuple(known(cooks, row) for row in range(1, cooks.mass.size))


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


def grade(seed: int) -> list[Graded]:
    """Return the forecasts of one invented cook."""
    cut = list(HOURS)[seed % len(HOURS)]
    cooks = simulate(house(1000 + seed, cut), 13, 5000 + seed, HOURS[cut])
    past = past_of(cooks)
    found = []
    for target in (71.0,) if cut == "chicken thighs" else (71.0, 93.0):
        truth = float(cooks.marks[MARKS.index(target), 0])
        if not np.isfinite(truth) or truth < 20.0:
            continue
        own = [dict(cook.marks)[target] for cook in past if target in dict(cook.marks)]
        mean = float(np.mean(own)) if own else float("nan")
        for fraction in FRACTIONS:
            now = int(fraction * truth)
            (one,) = forecast(asked_at(cooks, past, now, target))
            if not one.refused and one.median is not None:
                found.append(_graded(cut, fraction, one, truth=truth, left=truth - now, mean=mean))
    return found


def _graded(
    cut: str, fraction: float, one: Forecast, *, truth: float, left: float, mean: float
) -> Graded:
    def minutes(seconds: float | None) -> float:
        return 2880.0 if seconds is None else seconds / 60.0

    return Graded(
        cut,
        fraction,
        (minutes(one.median) - truth) / left,
        minutes(one.low50) <= truth <= minutes(one.high50),
        minutes(one.low90) <= truth <= minutes(one.high90),
        (minutes(one.high90) - minutes(one.low90)) / left,
        (mean - truth) / left,
    )


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
    return (
        f"{len(some):3d} forecasts, median {np.median(error):5.1%}, 90th {np.quantile(error, 0.9):5.1%}, "
        f"in 50 % {np.mean([one.in50 for one in some]):4.0%}, in 90 % {np.mean([one.in90 for one in some]):4.0%}, "
        f"width {np.median([one.width for one in some]):4.0%}; past mean {np.nanmedian(mean):5.1%}, "
        f"{np.nanquantile(mean, 0.9):5.1%}"
    )


def main() -> None:
    """Grade as many cooks as asked."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    print(f"{count} invented cooks, seeds from {first}")
    report([one for seed in range(first, first + count) for one in grade(seed)])


if __name__ == "__main__":
    main()
