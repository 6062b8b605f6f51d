"""From a cook under way to when it will be done: members that agree with the trace, run on."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.forecast.asked import PastCook, Trace, Wrapping
from pitjournal.analysis.forecast.past import VAPOUR, Shared
from pitjournal.analysis.forecast.pieces import (
    MEANS,
    OWN,
    PIT,
    PROBE,
    Geometry,
    bodies_of,
    draw,
    let_through,
)
from pitjournal.analysis.forecast.smoother import agree
from pitjournal.science.arrays import Array
from pitjournal.science.heat.drying_body import (
    Bodies,
    Modes,
    State,
    advance,
    at,
    centre,
    modes_of,
    step_of,
    uniform,
)

MOST = 48 * 3600.0
"""How far ahead is looked, s."""

SEEN = 22
"""How many moments of the trace the members are made to agree with."""


DIFFUSIVITY = 1.31e-7
"""m²/s of meat, `pieces.CONDUCTIVITY` ÷ `pieces.STORE`: what the length of a step is chosen by."""


@dataclass(frozen=True)
class Ahead:
    """The members run on: s from on (t,), the middle of each (t, b), and how much each counts.

    `misfit` is how far they are from the trace as it was, in what such bodies are usually wrong by.
    """

    seconds: Array
    middle: Array
    weights: Array
    now: float
    misfit: float


@dataclass(frozen=True)
class Agreed:
    """Members that agree with the trace, where they are now; how much each counts, (b,).

    `misfit` as in `Ahead`.
    """

    run: "_Run"
    drawn: Array
    bodies: Bodies
    state: State
    weights: Array
    misfit: float


def agreed_with(
    trace: Trace, geometry: Geometry, shared: Shared, *, wrapping: Wrapping | None, seed: int
) -> Agreed:
    """Return the members after they agreed with the trace.

    Parameters
    ----------
    trace
        From on to now.
    geometry
        The body that stands for the piece.
    shared
        What cooks of this kind have in common.
    wrapping
        How it is wrapped, where that is known.
    seed
        Of the draws.
    """
    run = _Run(trace, geometry, wrapping, shared.members.shape[0])
    members = shared.members + draw(shared.members.shape[0], seed + 99, OWN)
    rows, seen, error = run.moments()
    moved = agree(members - MEANS, lambda m: run.probe(MEANS + m)[rows], seen, error, seed=seed)
    drawn = MEANS + moved
    shown, state, bodies = run.to_now(drawn)
    weights = _weights(shown[rows[-4:]] - seen[-4:, None])
    wrong = (shown[rows] @ weights - seen) / error
    return Agreed(run, drawn, bodies, state, weights, float(np.sqrt(np.mean(wrong**2))))


def run_on(
    agreed: Agreed, later: Sequence[Wrapping | None], *, pit_ahead: float, top: float
) -> Ahead:
    """Return the members run on until all are past a temperature.

    Parameters
    ----------
    agreed
        The members where they are now.
    later
        How each is wrapped from some moment on; None is not.
    pit_ahead
        The pit from now on, °C.
    top
        °C at which nobody needs to go on.
    """
    return agreed.run.onward(agreed, later, pit_ahead=pit_ahead, top=top)


def _weights(short: Array) -> Array:
    """Return how much each member counts, by how it misses the last readings, shape (b,)."""
    miss = np.mean(short, axis=0) / 1.2
    weight = np.exp(-0.5 * np.minimum(miss**2, 50.0))
    found: Array = weight / weight.sum()
    return found


def later_wraps(
    wrapping: Wrapping | None, past: Sequence[PastCook], now: float, count: int, seed: int
) -> list[Wrapping | None]:
    """Return how each member will be wrapped from now on, by what the person does.

    Parameters
    ----------
    wrapping
        How it is or will be wrapped, where that is known: then all are.
    past
        Where it is not: how the person's other cooks were, drawn from those not passed yet.
    now
        s from on.
    count, seed
        How many members, and of the draws.
    """
    if wrapping is not None or not past:
        return [wrapping] * count
    dice = np.random.default_rng(seed + 7)
    habits: list[Wrapping | None] = [
        Wrapping(60.0 * cook.wrap_at, cook.wrap)
        if cook.wrap_at is not None and cook.wrap not in {"", "none"}
        else None
        for cook in past
    ]
    open_ones = [one for one in habits if one is None or one.at > now]
    if not open_ones:
        return [None] * count
    picks = dice.integers(0, len(open_ones), count)
    return [open_ones[pick] for pick in picks]


def _read(trace: Trace, moment: float) -> float:
    """Return the reading at a moment by a line through those around it, °C."""
    order = np.argsort(np.abs(trace.seconds - moment), kind="stable")[:5]
    times, values = trace.seconds[order] - moment, trace.meat[order]
    middle, mean = times.mean(), values.mean()
    apart = times - middle
    rise = float(apart @ values) / max(float(apart @ apart), 1e-9)
    return float(mean - rise * middle)


class _Run:
    """The members of one cook on one clock."""

    def __init__(
        self, trace: Trace, geometry: Geometry, wrapping: Wrapping | None, count: int
    ) -> None:
        self.trace, self.geometry, self.wrapping, self.count = trace, geometry, wrapping, count
        self.now = float(trace.seconds[-1])
        pace = geometry.half**2 / DIFFUSIVITY  # s; how fast heat crosses half the piece
        self.steps = int(np.clip(np.ceil(self.now / np.clip(pace / 16.0, 60.0, 900.0)), 12, 20))
        self.step = self.now / self.steps
        self.modes: Modes = modes_of(geometry.shape)
        edges = self.step * np.arange(self.steps + 1)
        fine = np.linspace(edges[:-1], edges[1:], 7)
        self.pit = np.interp(fine, trace.seconds, trace.pit).mean(axis=0)

    def moments(self) -> tuple[Array, Array, Array]:
        """Return the steps at which members must agree, what was read there, and how closely.

        The model is wrong by a degree or so in ways that last, so that many readings tell little
        more than a few; the recent ones count most.
        """
        rows = np.unique(
            np.linspace(max(2, self.steps // 12), self.steps, SEEN).round().astype(int)
        )
        seen = np.array([_read(self.trace, row * self.step) for row in rows])
        age = (self.now - rows * self.step) / max(self.now, 1.0)
        return rows, seen, 0.4 + 2.0 * age

    def probe(self, drawn: Array) -> Array:
        """Return what each member's probe would have shown, shape (steps + 1, b)."""
        return self.to_now(drawn)[0]

    def to_now(self, drawn: Array) -> tuple[Array, State, Bodies]:
        """Return the probe's readings, and where the members are now."""
        bodies = bodies_of(drawn, self.geometry.half)
        step = step_of(bodies, self.modes, self.step)
        cold = float(self.trace.meat[0])
        place = np.abs(drawn[:, PROBE])
        pit = self.pit + drawn[:, PIT][:, None]
        state = uniform(bodies, self.modes, np.full(self.count, cold), pit[:, 0], VAPOUR)
        states = [state]
        cover = let_through(drawn, self.wrapping.wrap if self.wrapping else "none")
        for number in range(self.steps):
            heating, wetness = self._covered(bodies, cover, number)
            state = advance(
                bodies,
                self.modes,
                step,
                state,
                pit=pit[:, number],
                vapour=VAPOUR,
                heating=heating,
                wetness=wetness,
            )
            states.append(state)
        return at(bodies, self.modes, states, place), state, bodies

    def _covered(
        self, bodies: Bodies, cover: tuple[Array, Array], number: int
    ) -> tuple[Array, Array]:
        wrapping = self.wrapping
        if wrapping is None:
            return bodies.heating, bodies.wetness
        begin, end = number * self.step, (number + 1) * self.step
        share = max(0.0, min(end, wrapping.until) - max(begin, wrapping.at)) / self.step
        if share <= 0:
            return bodies.heating, bodies.wetness
        heat, water = cover
        return bodies.heating * (1 + share * (heat - 1)), bodies.wetness * (1 + share * (water - 1))

    def onward(
        self,
        agreed: Agreed,
        later: Sequence[Wrapping | None],
        *,
        pit_ahead: float,
        top: float,
    ) -> Ahead:
        """Run the members on until nearly all are past the top, or two days.

        Parameters
        ----------
        agreed
            The members where they are now, and how much each counts.
        later
            How each member is wrapped from some moment on; None is not.
        pit_ahead
            Of the pit to come, °C.
        top
            °C at which nobody needs to go on.
        """
        drawn, bodies, state = agreed.drawn, agreed.bodies, agreed.state
        weights = agreed.weights
        seconds = float(np.clip(self.geometry.half**2 / DIFFUSIVITY / 12.0, 150.0, 900.0))
        step = step_of(bodies, self.modes, seconds)
        never = np.inf
        begins = np.array([never if one is None else one.at for one in later])
        ends = np.array([never if one is None else one.until for one in later])
        heat, water = np.ones(self.count), np.ones(self.count)
        for wrap in {one.wrap for one in later if one is not None}:
            mine = np.array([one is not None and one.wrap == wrap for one in later])
            all_heat, all_water = let_through(drawn, wrap)
            heat, water = np.where(mine, all_heat, heat), np.where(mine, all_water, water)
        clock, times, middle = self.now, [self.now], [centre(bodies, self.modes, state)]
        pit = pit_ahead + drawn[:, PIT]
        while clock < MOST and np.sum(weights[middle[-1] < top]) > 0.02:
            on = (clock + 0.5 * seconds >= begins) & (clock + 0.5 * seconds < ends)
            heating = bodies.heating * np.where(on, heat, 1.0)
            wetness = bodies.wetness * np.where(on, water, 1.0)
            state = advance(
                bodies,
                self.modes,
                step,
                state,
                pit=pit,
                vapour=VAPOUR,
                heating=heating,
                wetness=wetness,
            )
            clock += seconds
            times.append(clock)
            middle.append(centre(bodies, self.modes, state))
        return Ahead(np.array(times), np.array(middle), weights, self.now, agreed.misfit)


def crossing(ahead: Ahead, level: float) -> Array:
    """Return when each member's middle first reaches a level, s from on, shape (b,); inf never."""
    above = ahead.middle >= level
    first = np.argmax(above, axis=0)
    ever = above.any(axis=0)
    members = np.arange(ahead.middle.shape[1])
    before = np.maximum(first - 1, 0)
    low, high = ahead.middle[before, members], ahead.middle[first, members]
    share = np.where(high > low, (level - low) / np.maximum(high - low, 1e-9), 1.0)
    time = ahead.seconds[before] + np.clip(share, 0, 1) * (
        ahead.seconds[first] - ahead.seconds[before]
    )
    found: Array = np.where(ever, np.where(first == 0, ahead.now, time), np.inf)
    return found


def quantile(values: Array, weights: Array, share: float) -> float:
    """Return a weighted quantile; infinite where so many members never get there.

    Parameters
    ----------
    values
        Of the members, shape (b,).
    weights
        Of the members, adding up to 1, shape (b,).
    share
        0 to 1.
    """
    order = np.argsort(values)
    reached = np.cumsum(weights[order])
    middle = reached - 0.5 * weights[order]
    place = int(np.searchsorted(middle, share))
    ordered = values[order]
    if place == 0:
        return float(ordered[0])
    if place >= ordered.size:
        return float(ordered[-1])
    if not np.isfinite(ordered[place]):
        return float("inf")
    low, high = middle[place - 1], middle[place]
    part = (share - low) / max(high - low, 1e-12)
    return float(ordered[place - 1] + part * (ordered[place] - ordered[place - 1]))
