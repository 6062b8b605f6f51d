"""What one's own past cooks say of the next: one ensemble of what they share, and of each alone."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.forecast.asked import COLD, FEWEST, PastCook
from pitjournal.analysis.forecast.pieces import (
    ALIKE,
    MEANS,
    OWN,
    bodies_of,
    draw,
    geometry_of,
    let_through,
)
from pitjournal.analysis.forecast.smoother import agree
from pitjournal.science.arrays import Array
from pitjournal.science.heat.drying_body import advance, centre, modes_of, step_of, uniform

STEPS = 60
VAPOUR = 4000.0
"""Vapour pressure in a pit, Pa: damp air, burnt wood and the meat's own; no source."""


@dataclass(frozen=True)
class Shared:
    """Members of what cooks of this kind have in common, shape (b, 12), and how many told it."""

    members: Array
    cooks: int


def shared_by(past: Sequence[PastCook], form: str, count: int, seed: int) -> Shared:
    """Return what a person's past cooks have in common.

    Parameters
    ----------
    past
        Cooks of one cut, and best of one cooker; those without a mark tell nothing.
    form
        The shape of the cut.
    count
        How many members.
    seed
        Of the draws.
    """
    alike = draw(count, seed, ALIKE)
    told = [cook for cook in past if cook.marks]
    if len(told) < FEWEST:
        return Shared(MEANS + alike, 0)
    own = [draw(count, seed + 1 + place, OWN) for place in range(len(told))]
    members = np.hstack((alike, *own))
    seen = np.array([level for cook in told for level, _ in cook.marks])
    error = np.array([2.0 if level > 65.0 else 1.5 for level in seen])
    rows = np.array([place for place, cook in enumerate(told) for _ in cook.marks])
    width = MEANS.size
    touched = np.zeros((members.shape[1], rows.size))
    touched[:width] = 1.0
    for place in range(len(told)):
        touched[width * (place + 1) : width * (place + 2), rows == place] = 1.0
    house = _House(told, form)
    agreed = agree(members, house.run, seen, error, seed=seed, touched=touched)
    return Shared(MEANS + agreed[:, :width], len(told))


class _House:
    """All past cooks run at once, each member of each on its own clock."""

    def __init__(self, past: Sequence[PastCook], form: str) -> None:
        bodies = [geometry_of(cook.thickness, cook.mass, form) for cook in past]
        self.past = past
        self.modes = modes_of(round(float(np.mean([body.shape for body in bodies])), 1))
        self.half = np.array([body.half for body in bodies])
        self.ends = np.array([60.0 * max(at for _, at in cook.marks) for cook in past])
        self.pit = np.array([cook.set_point for cook in past])
        never = np.inf
        self.wraps = np.array(
            [60.0 * cook.wrap_at if cook.wrap_at is not None else never for cook in past]
        )

    def run(self, members: Array) -> Array:
        """Return the middle of each past cook's piece at each of its marks, shape (k, b)."""
        count, width = members.shape[0], MEANS.size
        cooks = len(self.past)
        drawn = np.vstack(
            [
                MEANS + members[:, :width] + members[:, width * (place + 1) : width * (place + 2)]
                for place in range(cooks)
            ]
        )  # cook after cook, each with all members

        def each(values: Array) -> Array:
            return np.repeat(values, count)

        bodies = bodies_of(drawn, each(self.half))
        seconds = each(self.ends) / STEPS
        step = step_of(bodies, self.modes, seconds)
        pit = each(self.pit) + drawn[:, -1]
        heat, water = np.ones(drawn.shape[0]), np.ones(drawn.shape[0])
        for place, cook in enumerate(self.past):
            part = slice(place * count, (place + 1) * count)
            heat[part], water[part] = let_through(drawn[part], cook.wrap)
        state = uniform(bodies, self.modes, np.full(drawn.shape[0], COLD), pit, VAPOUR)
        middle = [centre(bodies, self.modes, state)]
        at = each(self.wraps)
        for number in range(1, STEPS + 1):
            # The share of the step that is wrapped, so that members agree to the minute.
            share = np.clip((number * seconds - at) / seconds, 0.0, 1.0)
            heating = bodies.heating * (1.0 + share * (heat - 1.0))
            wetness = bodies.wetness * (1.0 + share * (water - 1.0))
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
            middle.append(centre(bodies, self.modes, state))
        return self._at_marks(np.array(middle).reshape(STEPS + 1, cooks, count))

    def _at_marks(self, middle: Array) -> Array:
        found = []
        for place, cook in enumerate(self.past):
            for _, minutes in cook.marks:
                position = min(60.0 * minutes / self.ends[place] * STEPS, STEPS - 1e-9)
                low = int(position)
                share = position - low
                found.append((1 - share) * middle[low, place] + share * middle[low + 1, place])
        return np.array(found)
