"""The forecast of a cook under way: for each target a most likely time and honest bands."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from pitjournal.analysis.forecast.ahead import MOST, Agreed, agreed_with, later_wraps, run_on
from pitjournal.analysis.forecast.asked import FEWEST, ForecastAsked, PastCook
from pitjournal.analysis.forecast.joined import SHARES, bands, run_on_to
from pitjournal.analysis.forecast.learned import left_by
from pitjournal.analysis.forecast.past import Shared, shared_by
from pitjournal.analysis.forecast.pieces import geometry_of
from pitjournal.analysis.forecast.pit import pit_ahead, pit_so_far
from pitjournal.analysis.forecast.refusals import REACHED, refusal
from pitjournal.analysis.forecast.signs import Pit, Question, course_of, signs_of
from pitjournal.analysis.forecast.usual import usual_of
from pitjournal.units.figures import figure

MEMBERS = 100
SEED = 20_231
"""One seed, so that the same trace gives the same answer."""


@dataclass(frozen=True)
class Forecast:
    """When a target is reached, s from on; None where that is unknown or beyond two days."""

    target: float
    median: float | None
    low50: float | None
    high50: float | None
    low90: float | None
    high90: float | None
    refused: str = ""
    chance: float = 1.0

    def chance_by(self, seconds: float) -> float:
        """Return the chance that it is reached by a moment, s from on: a line between the bands."""
        bands = (self.low90, self.low50, self.median, self.high50, self.high90)
        shares = (0.05, 0.25, 0.5, 0.75, 0.95)
        known = [(at, share) for at, share in zip(bands, shares, strict=True) if at is not None]
        if not known:
            return 0.0
        times, chances = zip(*known, strict=True)
        return float(np.interp(seconds, times, chances, left=0.0, right=chances[-1]))


def forecast(asked: ForecastAsked) -> list[Forecast]:
    """Return the forecast of each target, in the order asked."""
    trace = asked.trace
    pit = pit_ahead(trace, asked.set_point) if trace.seconds.size else 0.0
    refused = {target: refusal(trace, target, pit) for target in asked.targets}
    open_ones = sorted({target for target in asked.targets if not refused[target]})
    found = _later_and_later(_open(asked, pit, open_ones)) if open_ones else {}
    return [
        found[target]
        if target in found
        else _reached(asked, target)
        if refused[target] == REACHED
        else Forecast(target, None, None, None, None, None, refused[target])
        for target in asked.targets
    ]


def _open(asked: ForecastAsked, pit: float, targets: Sequence[float]) -> list[Forecast]:
    """Return the forecasts of targets that lie ahead, lowest first."""
    later = later_wraps(asked.wrapping, asked.past, asked.now, MEMBERS, SEED)
    ahead = run_on(agreed_of(asked), later, pit_ahead=pit, top=targets[-1])
    set_point = pit if asked.set_point is None else asked.set_point
    pits = Pit(set_point, pit, pit_so_far(asked.trace))
    course, usual = course_of(asked.trace), usual_of(asked, set_point)
    found = []
    for target in targets:
        question = Question(target, pits, run_on_to(ahead, target))
        left = left_by(signs_of(asked, course, usual, question), course.now)
        one = bands(ahead, target, left)
        at = {name: value if value <= MOST else None for name, value in one.at.items()}
        found.append(_forecast_of(target, at, one.chance))
    return found


def _forecast_of(target: float, at: Mapping[str, float | None], chance: float) -> Forecast:
    bands_ = (at["median"], at["low50"], at["high50"], at["low90"], at["high90"])
    return Forecast(target, *bands_, chance=chance)


def _later_and_later(found: Sequence[Forecast]) -> dict[float, Forecast]:
    """Return them with no band earlier than that of a lower target."""
    kept: dict[float, Forecast] = {}
    before = dict.fromkeys(SHARES, 0.0)
    for one in found:
        for name in SHARES:
            at: float | None = getattr(one, name)
            before[name] = math.inf if at is None else max(before[name], at)
        known = {name: None if at == math.inf else at for name, at in before.items()}
        kept[one.target] = _forecast_of(one.target, known, one.chance)
    return kept


@lru_cache(maxsize=32)
def shared_of(past: tuple[PastCook, ...], form: str) -> Shared:
    """Return what past cooks have in common: the same all through a cook."""
    return shared_by(past, form, MEMBERS, SEED)


def agreed_of(asked: ForecastAsked) -> Agreed:
    """Return the bodies that agree with the past cooks and the trace: the same for all targets."""
    return _agreed(replace(asked, targets=()))


@lru_cache(maxsize=4)
def _agreed(asked: ForecastAsked) -> Agreed:
    return agreed_with(
        asked.trace,
        geometry_of(asked.thickness, asked.mass, asked.form),
        shared_of(asked.past, asked.form),
        wrapping=asked.wrapping,
        seed=SEED,
    )


def _reached(asked: ForecastAsked, target: float) -> Forecast:
    """Return when the probe first read a target that lies behind."""
    first = float(asked.trace.seconds[int(np.argmax(asked.trace.meat >= target))])
    return Forecast(target, first, first, first, first, first, REACHED)


def rests_on(asked: ForecastAsked, past_words: str) -> list[str]:
    """Return what a forecast rests on, in a cook's words."""
    hours = (float(asked.trace.seconds[-1]) if asked.trace.seconds.size else 0.0) / 3600.0
    found = [f"{figure(hours, 1)} h of readings", _past_words(asked.past, past_words)]
    if asked.mass is None:
        found.append("no weight: the usual shape of the cut")
    if asked.set_point is None:
        found.append("no set point: the pit as it was of late")
    if asked.wrapping is None and any(cook.wrap_at for cook in asked.past):
        found.append("not wrapped yet: wrapped when your other cooks were")
    found.append("how a trace runs, learnt from simulated cooks")
    return found


def _past_words(past: Sequence[PastCook], words: str) -> str:
    if len(past) >= FEWEST:
        return f"{len(past)} of your past cooks ({words})"
    return "no past cooks of this cut: the trade's ranges"
