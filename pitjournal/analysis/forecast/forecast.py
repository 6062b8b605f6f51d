"""The forecast of a cook under way: for each target a most likely time and honest bands."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.forecast.ahead import MOST, Ahead, Trace, Wrapping, look_ahead, pit_ahead
from pitjournal.analysis.forecast.habit import Span, span
from pitjournal.analysis.forecast.joined import bands
from pitjournal.analysis.forecast.past import FEWEST, PastCook, shared_by
from pitjournal.analysis.forecast.pieces import geometry_of
from pitjournal.analysis.forecast.refusals import REACHED, refusal
from pitjournal.units.figures import figure

MEMBERS = 200
MARKS = (60.0, 71.0, 90.0, 93.0)
"""Levels, °C, that past cooks are known by."""

SEED = 20_231
"""One seed, so that the same trace gives the same answer."""


@dataclass(frozen=True)
class Asked:
    """A cook under way.

    Attributes
    ----------
    trace
        Readings from on to now.
    form
        The shape of the cut: slab, box, cylinder or strip.
    thickness, mass
        m and g; mass None where it was not weighed.
    set_point
        °C; None where nobody said it.
    wrapping
        How it is wrapped, or will be; None where that is open.
    past
        Own past cooks of the cut; fewer than three tell nothing.
    targets
        °C.
    """

    trace: Trace
    form: str
    thickness: float
    mass: float | None
    set_point: float | None
    wrapping: Wrapping | None
    past: tuple[PastCook, ...]
    targets: tuple[float, ...]


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


def forecast(asked: Asked) -> list[Forecast]:
    """Return the forecast of each target, in the order asked."""
    trace = asked.trace
    ahead_pit = pit_ahead(trace, asked.set_point) if trace.seconds.size else 0.0
    refused = {target: refusal(trace, target, ahead_pit) for target in asked.targets}
    open_ones = [target for target in asked.targets if not refused[target]]
    seen = _run(asked, ahead_pit, max(open_ones)) if open_ones else None
    return [
        _reached(asked, target)
        if refused[target] == REACHED
        else Forecast(target, None, None, None, None, None, refused[target])
        if seen is None or refused[target]
        else _one(asked, seen, target)
        for target in asked.targets
    ]


def _run(asked: Asked, pit: float, top: float) -> Ahead:
    geometry = geometry_of(asked.thickness, asked.mass, asked.form)
    shared = shared_by(asked.past, asked.form, MEMBERS, SEED)
    return look_ahead(
        asked.trace,
        geometry,
        shared,
        wrapping=asked.wrapping,
        past=asked.past,
        pit_ahead=pit,
        top=top,
        seed=SEED,
    )


def _reached(asked: Asked, target: float) -> Forecast:
    """Return when the probe first read a target that lies behind."""
    first = float(asked.trace.seconds[int(np.argmax(asked.trace.meat >= target))])
    return Forecast(target, first, first, first, first, first, REACHED)


def _one(asked: Asked, ahead: Ahead, target: float) -> Forecast:
    found = bands(ahead, target, _usual(asked, target))
    at = {name: value if value <= MOST else None for name, value in found.at.items()}
    return Forecast(
        target,
        at["median"],
        at["low50"],
        at["high50"],
        at["low90"],
        at["high90"],
        chance=found.chance,
    )


def _usual(asked: Asked, target: float) -> tuple[float, Span] | None:
    """Return the last mark passed, s from on, and what past cooks took from it to the target."""
    if len(asked.past) < FEWEST:
        return None
    level = min(MARKS, key=lambda mark: abs(mark - target))
    if abs(level - target) > 2.0:
        return None
    begin, since = None, 0.0
    for mark in MARKS:
        if mark < level - 0.5 and float(np.max(asked.trace.meat)) >= mark:
            begin = mark
            since = float(asked.trace.seconds[int(np.argmax(asked.trace.meat >= mark))])
    now = float(asked.trace.seconds[-1])
    wrapped = asked.wrapping is not None and asked.wrapping.at <= now
    wrap = asked.wrapping.wrap if wrapped and asked.wrapping is not None else None
    set_point = asked.set_point
    if set_point is None:
        set_point = float(np.median([cook.set_point for cook in asked.past]))
    found = span(
        asked.past, begin, level, thickness=asked.thickness, set_point=set_point, wrap=wrap
    )
    return None if found is None else (since, found)


def rests_on(asked: Asked, past_words: str) -> list[str]:
    """Return what a forecast rests on, in a cook's words."""
    hours = (float(asked.trace.seconds[-1]) if asked.trace.seconds.size else 0.0) / 3600.0
    found = [f"{figure(hours, 1)} h of readings", _past_words(asked.past, past_words)]
    if asked.mass is None:
        found.append("no weight: the usual shape of the cut")
    if asked.set_point is None:
        found.append("no set point: the pit as it was of late")
    if asked.wrapping is None and any(cook.wrap_at for cook in asked.past):
        found.append("not wrapped yet: wrapped when your other cooks were")
    return found


def _past_words(past: Sequence[PastCook], words: str) -> str:
    if len(past) >= FEWEST:
        return f"{len(past)} of your past cooks ({words})"
    return "no past cooks of this cut: the trade's ranges"
