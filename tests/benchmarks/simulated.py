"""What all simulators of cooks share: cuts and cookers, what is written down, and how it runs.

No law of physics, no habit and no number of a person is here: those are each simulator's own.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

DONE = 98.5
"""°C of the middle at which nobody cooks on."""

MARKS = (60.0, 71.0, 90.0, 93.0)

CUTS: dict[str, dict[str, tuple[float, float]]] = {
    # mass g, thickness mm, width ÷ thickness, set point °C, wrap at this °C, hours at most
    "pork butt": {"mass": (2400, 4600), "thick": (98, 128), "wide": (1.3, 1.7), "set": (105, 121)},
    "brisket": {"mass": (4800, 7200), "thick": (70, 92), "wide": (2.6, 3.6), "set": (112, 138)},
    "brisket flat": {
        "mass": (1900, 3400),
        "thick": (42, 62),
        "wide": (3.0, 4.5),
        "set": (112, 135),
    },
    "spare ribs": {"mass": (1200, 1900), "thick": (26, 38), "wide": (4.0, 5.0), "set": (107, 135)},
    "St. Louis ribs": {
        "mass": (1000, 1600),
        "thick": (26, 40),
        "wide": (3.6, 4.6),
        "set": (107, 135),
    },
    "chicken thighs": {
        "mass": (120, 210),
        "thick": (28, 44),
        "wide": (1.6, 2.2),
        "set": (150, 180),
    },
}
COOKERS = ("offset", "drum", "ceramic", "pellet", "kettle", "bullet")


@dataclass
class Cooks:
    """Many cooks; arrays over cooks (n,), traces (minutes, n)."""

    cut: str
    cooker: str
    mass: Array
    thickness: Array
    set_point: Array
    wrap: list[str]
    wrap_at: Array
    lids: list[Array]
    pit: Array
    meat: Array
    core: Array
    """The coldest point, °C, each minute."""
    marks: Array
    """Minutes from on at which the coldest point reached each of `MARKS`, (4, n); NaN never."""


def near_by(
    scatter: float, count: int, dice: np.random.Generator
) -> Callable[[float, float], Array]:
    """Return what draws each cook's own value near that of its person, shape (count,).

    Of the value and its spread, a logarithm; `scatter` is how far this person's cooks differ.
    """

    def near(value: float, spread: float) -> Array:
        found: Array = value * np.exp(scatter * dice.normal(0, spread, count))
        return found

    return near


class Wraps:
    """Which cooks are wrapped: so far, and since which minute; NaN those that never were."""

    def __init__(self, wraps: NDArray[np.bool_]) -> None:
        self._wraps = wraps
        self.wrapped = np.zeros(wraps.size, dtype=bool)
        self.at = np.full(wraps.size, np.nan)

    def look(self, minute: int, due: NDArray[np.bool_] | bool) -> None:
        """Wrap those that are due, of those whose person wraps at all."""
        now = self._wraps & ~self.wrapped & due
        self.at[now] = minute
        self.wrapped |= now

    def kinds(self, wrap: str) -> list[str]:
        """Return in what each was wrapped, where its person wraps in this."""
        return [wrap if np.isfinite(at) else "none" for at in self.at]


class Person(Protocol):
    """Whose cooks they are."""

    @property
    def cut(self) -> str:
        """What is cooked."""

    @property
    def cooker(self) -> str:
        """In what."""

    @property
    def wrap(self) -> str:
        """In what it is wrapped, where it is."""


@dataclass(frozen=True)
class Ran:
    """Cooks that were run: probe and middle, °C each minute (minutes, n), NaN once all are done."""

    meat: Array
    core: Array
    done: int
    """Minutes until all were done, or all there were."""


def run(
    minutes: int,
    wraps: Wraps,
    *,
    read: Callable[[int], tuple[Array, Array]],
    due: Callable[[int, Array], NDArray[np.bool_] | bool],
    heat: Callable[[int], None],
) -> Ran:
    """Run cooks minute by minute until nobody cooks on.

    Parameters
    ----------
    minutes
        At most.
    wraps
        Who is wrapped; told as it happens.
    read
        What the probes show and what the middles are at a minute, °C.
    due
        Who is to be wrapped at a minute, by what the probes show.
    heat
        Goes on by a minute.
    """
    count = wraps.at.size
    meat, core = np.full((minutes, count), np.nan), np.full((minutes, count), np.nan)
    for minute in range(minutes):
        meat[minute], core[minute] = read(minute)
        wraps.look(minute, due(minute, meat[minute]))
        heat(minute)
        if np.min(core[minute]) > DONE:
            break
    return Ran(meat, core, minute + 1)


def written_down(
    person: Person,
    ran: Ran,
    wraps: Wraps,
    *,
    mass: Array,
    thickness: Array,
    set_point: Array,
    pit: Array,
    meat: Array,
) -> Cooks:
    """Return cooks that were run as their person writes them down: no lids, weights to 5 g.

    Parameters
    ----------
    person, ran, wraps
        Whose, how they ran, and who was wrapped.
    mass, thickness, set_point
        g, mm (read to whole ones), and °C, shape (n,).
    pit, meat
        °C as the probes show it, shape (minutes, n).
    """
    return Cooks(
        cut=person.cut,
        cooker=person.cooker,
        mass=np.round(mass / 5) * 5,
        thickness=np.round(thickness),
        set_point=set_point,
        wrap=wraps.kinds(person.wrap),
        wrap_at=wraps.at,
        lids=[np.zeros(0) for _ in mass],
        pit=pit[: ran.done],
        meat=meat[: ran.done],
        core=ran.core[: ran.done],
        marks=crossings(ran.core[: ran.done]),
    )


def crossings(core: Array) -> Array:
    """Return the minutes at which each cook first passed each mark, (4, n); NaN never."""
    found = np.full((len(MARKS), core.shape[1]), np.nan)
    for place, mark in enumerate(MARKS):
        for cook in range(core.shape[1]):
            at = int(np.argmax(core[:, cook] >= mark))
            if at:
                before, after = core[at - 1, cook], core[at, cook]
                found[place, cook] = at - 1 + (mark - before) / max(after - before, 1e-9)
    return found
