"""What is known of a cook under way: its trace, its piece, and one's own cooks like it."""

from dataclasses import dataclass

import numpy as np

from pitjournal.science.arrays import Array

MARKS = (60.0, 71.0, 90.0, 93.0)
"""Levels, °C, that past cooks are known by."""

COLD = 5.0
"""A piece's temperature as it goes on where nobody says it, °C."""

FEWEST = 3
"""Past cooks from which on they help."""


@dataclass(frozen=True, eq=False)
class Trace:
    """What the probes showed: s from on, °C of the meat and of the pit, each (n,).

    One is the same as itself only, so that what rests on it can be kept by it.
    """

    seconds: Array
    meat: Array
    pit: Array


@dataclass(frozen=True)
class Wrapping:
    """When it is wrapped, s from on, in what; `until` s when it was unwrapped."""

    at: float
    wrap: str
    until: float = float("inf")


@dataclass(frozen=True)
class PastCook:
    """A past cook of the same cut: `marks` maps °C to minutes from on; wrap_at in minutes."""

    thickness: float
    mass: float | None
    set_point: float
    wrap: str
    wrap_at: float | None
    marks: tuple[tuple[float, float], ...]

    def wrapped_by(self, minutes: float) -> bool:
        """Say whether it was wrapped by a moment, minutes from on."""
        return self.wrap not in {"", "none"} and self.wrap_at is not None and self.wrap_at < minutes

    def until(self, celsius: float) -> float | None:
        """Return the minutes to a temperature, between its marks and a little beyond the last."""
        if len(self.marks) < 2 or celsius < self.marks[0][0]:
            return None
        (low, before), (high, last) = self.marks[-2:]
        if celsius > high:
            return last + (last - before) * (celsius - high) / (high - low)
        levels, minutes = zip(*self.marks, strict=True)
        return float(np.interp(celsius, levels, minutes))

    def celsius_at(self, minutes: float) -> float:
        """Return how warm it was at a moment, minutes from on, by its marks and a cold start."""
        levels, times = zip((COLD, 0.0), *self.marks, strict=True)
        return float(np.interp(minutes, times, levels))


@dataclass(frozen=True)
class ForecastAsked:
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

    @property
    def now(self) -> float:
        """The last reading, s from on."""
        return float(self.trace.seconds[-1])

    @property
    def wrapped(self) -> Wrapping | None:
        """How it is wrapped at the moment."""
        one = self.wrapping
        return one if one is not None and one.at <= self.now < one.until else None
