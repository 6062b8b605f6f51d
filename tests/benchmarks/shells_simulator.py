"""Invented cooks from a fourth model: shells that dry by the two periods of the textbooks.

A piece is five shells of a box, one inside the other, each at one temperature. Its outermost dries
as the textbooks of drying have it: at a steady rate while it is wet, then ever more slowly in
proportion to the water it has above what it would keep; the shell below feeds it, and meat that
contracts presses juice outward. A fire sinks and is fed again. Now and then somebody wraps far
earlier than is usual. The probe sits between the core and the shells around it.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tests.benchmarks.simulated import COOKERS, CUTS, Cooks, Wraps, near_by, run, written_down

Array = NDArray[np.float64]

SHELLS = 5
LATENT = 2.33e6
STEP = 15.0
"""s."""


@dataclass(frozen=True)
class Kitchen:
    """What the cooks of one person have in common."""

    cut: str
    cooker: str
    set_point: float
    scatter: float
    heating: float
    vapour: float
    wet: float
    critical: float
    fed: float
    juice: float
    sink: float
    every: float
    pit_bias: float
    wrap: str
    habit: float
    by_clock: bool
    celsius: float
    clock: float
    tight: float
    beside: float


def kitchen(seed: int, cut: str) -> Kitchen:
    """Return one person's cooker and habits."""
    dice = np.random.default_rng((seed, 6))
    poultry = "chicken" in cut
    usual = {"pork butt": 320.0, "brisket": 280.0, "brisket flat": 190.0}.get(cut, 150.0)
    return Kitchen(
        cut=cut,
        cooker=str(dice.choice(COOKERS)),
        set_point=float(dice.uniform(*CUTS[cut]["set"])),
        scatter=float(dice.uniform(0.2, 0.8)),
        heating=float(dice.uniform(13.0, 24.0)),
        vapour=float(dice.uniform(2500.0, 8000.0)),
        wet=float(np.exp(dice.normal(np.log(1.5e-8), 0.35))) * (0.25 if poultry else 1.0),
        critical=float(dice.uniform(0.3, 0.9)),
        fed=float(np.exp(dice.normal(np.log(6e-5), 0.5))),
        juice=float(dice.uniform(0.0, 1.5)),
        sink=float(dice.uniform(2.0, 10.0)),
        every=float(dice.uniform(30.0, 90.0)),
        pit_bias=float(dice.normal(0.0, 3.0)),
        wrap=str(dice.choice(["foil", "paper", "boat"])),
        habit=0.0 if poultry else float(dice.choice([0.0, 0.8, 0.9, 1.0])),
        by_clock=bool(dice.random() < 0.5),
        celsius=float(dice.uniform(62.0, 78.0)),
        clock=usual * float(dice.uniform(0.8, 1.2)),
        tight=float(dice.uniform(0.6, 1.0)),
        beside=float(dice.uniform(0.1, 0.5)),
    )


class Pieces(NamedTuple):
    """Cooks of a person, each array over cooks (n,); sides (3, n), half, m."""

    mass: Array
    sides: Array
    heating: Array
    wet: Array
    fed: Array
    set_point: Array
    cold: Array
    beside: Array
    offset: Array
    clock: Array
    celsius: Array


def _pieces(home: Kitchen, count: int, dice: np.random.Generator) -> Pieces:
    spec = CUTS[home.cut]
    mass = dice.uniform(*spec["mass"], count)
    share = (mass - spec["mass"][0]) / np.ptp(spec["mass"])
    thick = spec["thick"][0] + np.ptp(spec["thick"]) * (0.5 * share + dice.uniform(0, 0.5, count))
    wide = thick * dice.uniform(*spec["wide"], count)
    long = np.maximum(mass * 1e6 / 1050.0 / thick / wide, wide)
    near = near_by(home.scatter, count, dice)

    early = np.where(dice.random(count) < 0.08, dice.uniform(0.6, 0.9, count), 1.0)
    return Pieces(
        mass,
        np.vstack((thick, wide, long)) / 2000.0,
        near(home.heating, 0.08),
        near(home.wet, 0.10),
        near(home.fed, 0.15),
        np.round((home.set_point + dice.normal(0, 2.5, count)) * 0.36) / 0.36,
        dice.uniform(2.0, 9.0, count),
        np.minimum(np.abs(dice.normal(0.0, home.beside, count)), 1.5),
        dice.normal(0.0, 0.8, count),
        home.clock * early * np.exp(dice.normal(0, 0.08, count)),
        home.celsius - 25.0 * (1.0 - early) + dice.normal(0, 2.0, count),
    )


def _pits(home: Kitchen, pieces: Pieces, minutes: int, dice: np.random.Generator) -> Array:
    """Return the pit each minute: it sinks until it is fed, and the day drifts."""
    count = pieces.mass.size
    pit, level = np.zeros((minutes, count)), np.zeros(count)
    due = dice.uniform(0.5, 1.2, count) * home.every
    for minute in range(minutes):
        level -= 2.0 * home.sink / home.every * dice.uniform(0.5, 1.5, count)
        fed = minute >= due
        level = np.where(fed, home.sink * dice.uniform(0.4, 1.4, count), level)
        due = np.where(fed, minute + home.every * dice.uniform(0.6, 1.4, count), due)
        pit[minute] = level - 25.0 * (fed & (dice.random(count) < 0.5))
    drift = np.cumsum(dice.normal(0, 0.12, pit.shape), axis=0)
    start = dice.uniform(10, 50, count) * np.exp(-np.arange(minutes)[:, None] / 6.0)
    found: Array = pieces.set_point + pit + drift - start + dice.normal(0, 1.0, pit.shape)
    return found


def _saturation(celsius: Array) -> Array:
    found: Array = 1e5 * np.exp(13.7 - 5120.0 / (celsius + 273.15))  # by Clausius and Clapeyron
    return found


class _Onion:
    """Shells from the core outward, (SHELLS, n)."""

    def __init__(self, home: Kitchen, pieces: Pieces) -> None:
        self.home, self.pieces = home, pieces
        thick = pieces.sides[0] / SHELLS
        depth = np.arange(SHELLS, -1, -1)[:, None] * thick
        outer = np.maximum(pieces.sides[:, None, :] - depth, 0.0)  # half sides at each edge
        self.volume = np.diff(8.0 * np.prod(outer, axis=0), axis=0)
        a, b, c = outer
        self.area = 8.0 * (a * b + b * c + c * a)[1:]
        self.width = thick
        self.celsius = np.broadcast_to(pieces.cold, (SHELLS, pieces.mass.size)).copy()
        self.water = np.ones((SHELLS, pieces.mass.size))
        self.pressed = np.zeros((SHELLS, pieces.mass.size))

    def advance(self, pit: Array, heat: Array, let: Array) -> None:
        """Go on by a step; `heat` and `let` are what a wrap leaves of heat and of evaporation."""
        home, pieces, t = self.home, self.pieces, self.celsius
        conductivity = 0.45 + 0.0008 * t
        flow = conductivity[1:] * np.diff(t, axis=0) / self.width * self.area[:-1]
        damp = np.minimum(1.0, self.water[-1] / home.critical)
        # Through half of the outermost shell: the face is warmer than its middle.
        half = 2.0 * conductivity[-1] / self.width
        heating = heat * pieces.heating
        face = t[-1] + heating * (pit - t[-1]) / (half + heating) * (1.0 - 0.5 * let * damp)
        rate = let * pieces.wet * damp * np.maximum(_saturation(face) - home.vapour, 0.0)
        taken = heating * (pit - face) - LATENT * rate
        change = np.zeros_like(t)
        change[:-1] += flow
        change[1:] -= flow
        change[-1] += taken * self.area[-1]
        store = 3.6e6 * (1.0 - 0.25 * (1.0 - np.clip(self.water, 0.0, 1.0)))
        self.celsius = t + change * STEP / (store * self.volume)
        held = 600.0 * self.volume  # kg of water that can leave
        out = np.maximum(np.diff(-self.water, axis=0), 0.0) * held[:-1] * pieces.fed * 10.0
        goal = 0.15 * home.juice / (1.0 + np.exp(-(t - 62.0) / 3.0))
        juice = np.maximum(goal - self.pressed, 0.0) * STEP / 1800.0
        self.pressed += juice
        self.water[:-1] -= out * STEP / held[:-1] + juice[:-1]
        self.water[1:] += (out * STEP + juice[:-1] * held[:-1]) / held[1:]
        self.water[-1] -= rate * self.area[-1] * STEP / held[-1]
        self.water = np.clip(self.water, 0.01, 1.3)


def simulate(home: Kitchen, count: int, seed: int, hours: float) -> Cooks:
    """Return cooks of one person, all at once."""
    dice = np.random.default_rng((seed, 7))
    pieces = _pieces(home, count, dice)
    minutes = int(hours * 60)
    pit = _pits(home, pieces, minutes, dice)
    leaves = {"foil": (0.05, 0.85), "paper": (0.35, 0.95), "boat": (0.6, 1.0)}[home.wrap]
    let = np.clip(leaves[0] / home.tight * np.exp(dice.normal(0, 0.15, count)), 0.0, 1.0)
    wraps = Wraps(dice.random(count) < home.habit)
    onion, cook = _Onion(home, pieces), np.arange(count)
    low = pieces.beside.astype(int)
    share = pieces.beside - low
    bias = home.pit_bias + home.scatter * dice.normal(0, 1.5, count)

    def read(_minute: int) -> tuple[Array, Array]:
        t = onion.celsius
        return t[low, cook] * (1.0 - share) + t[low + 1, cook] * share + pieces.offset, t[0]

    def due(minute: int, shown: Array) -> NDArray[np.bool_]:
        return minute >= pieces.clock if home.by_clock else shown >= pieces.celsius

    def heat(minute: int) -> None:
        warm, left = np.where(wraps.wrapped, leaves[1], 1.0), np.where(wraps.wrapped, let, 1.0)
        for _ in range(int(60.0 / STEP)):
            onion.advance(pit[minute] + bias, warm, left)

    ran = run(minutes, wraps, read=read, due=due, heat=heat)
    return written_down(
        home,
        ran,
        wraps,
        mass=pieces.mass,
        thickness=2000.0 * pieces.sides[0] * np.exp(dice.normal(0, 0.03, count)),
        set_point=np.round(pieces.set_point, 1),
        pit=pit,
        meat=ran.meat + dice.normal(0, 0.1, ran.meat.shape),
    )
