"""Invented cooks from a third model: a front that recedes into a box.

An eighth of a box in three dimensions, water that leaves from a front which moves inward as the
face dries: heat has to come through the dry layer and vapour has to go out through it; the air of
the cooker grows damper the more meat gives off; a wrap fills with vapour and leaks some of it; a
fire is a thermostat that goes on and off, or a man with a vent who overshoots. People wrap by how
dry the face looks or by the clock, and push a probe in from one side, so that it lies off the middle
along one axis above all. What has no source was set so that most cooks take as long as the trade
reports (common practice); here, too, few stall.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tests.benchmarks.simulated import COOKERS, CUTS, Cooks, Wraps, near_by, run, written_down

Array = NDArray[np.float64]

CELLS = 7
"""Along each half side."""

LATENT = 2.34e6
STEFAN = 5.670e-8


@dataclass(frozen=True)
class Kitchen:
    """What the cooks of one person have in common."""

    cut: str
    cooker: str
    set_point: float
    scatter: float
    convection: float
    sees: float
    damp: float
    draught: float
    wet: float
    porous: float
    dense: float
    crust: float
    bound: float
    pit_bias: float
    swing: float
    period: float
    wrap: str
    habit: float
    by_clock: bool
    dryness: float
    clock: float
    leak: float
    tip: float


def kitchen(seed: int, cut: str) -> Kitchen:
    """Return one person's cooker and habits."""
    dice = np.random.default_rng((seed, 4))
    poultry = "chicken" in cut
    cooker = str(dice.choice(COOKERS))
    thermostat = cooker == "pellet"
    usual = {"pork butt": 310.0, "brisket": 290.0, "brisket flat": 190.0}.get(cut, 150.0)
    return Kitchen(
        cut=cut,
        cooker=cooker,
        set_point=float(dice.uniform(*CUTS[cut]["set"])),
        scatter=float(dice.uniform(0.1, 0.9)),
        convection=float(dice.uniform(6.0, 15.0)) * (1.4 if poultry else 1.0),
        sees=float(dice.uniform(0.35, 0.9)),
        damp=float(dice.uniform(2000.0, 6000.0)),
        draught=float(dice.uniform(0.3, 1.5)),
        wet=float(np.exp(dice.normal(np.log(1.25e-8), 0.3))) * (0.3 if poultry else 1.0),
        porous=float(np.exp(dice.normal(np.log(0.9e-11), 0.4))),
        dense=float(dice.uniform(350.0, 650.0)),
        crust=float(dice.uniform(0.14, 0.35)),
        bound=float(dice.uniform(0.0, 0.5)),
        pit_bias=float(dice.normal(0.0, 2.5)),
        swing=float(dice.uniform(2.0, 9.0)),
        period=float(dice.uniform(12.0, 30.0) if thermostat else dice.uniform(60.0, 160.0)),
        wrap=str(dice.choice(["foil", "paper", "boat"])),
        habit=0.0 if poultry or dice.random() < 0.1 else float(dice.uniform(0.7, 1.0)),
        by_clock=bool(dice.random() < 0.4),
        dryness=float(dice.uniform(0.9, 2.2)),
        clock=usual * float(dice.uniform(0.75, 1.2)),
        leak=float(dice.uniform(0.02, 0.2)),
        tip=float(dice.uniform(2.0, 11.0)),
    )


class Pieces(NamedTuple):
    """Cooks of a person, each array over cooks (n,); sides (3, n), half, m."""

    thick: Array
    mass: Array
    sides: Array
    convection: Array
    wet: Array
    porous: Array
    dense: Array
    conductivity: Array
    set_point: Array
    cold: Array
    tip: Array
    offset: Array
    lag: Array


def _pieces(home: Kitchen, count: int, dice: np.random.Generator) -> Pieces:
    spec = CUTS[home.cut]
    mass = dice.uniform(*spec["mass"], count)
    span = spec["thick"][1] - spec["thick"][0]
    grown = (mass - spec["mass"][0]) / (spec["mass"][1] - spec["mass"][0])
    thick = spec["thick"][0] + span * np.clip(0.6 * grown + dice.uniform(0, 0.4, count), 0, 1)
    wide = thick * dice.uniform(*spec["wide"], count)
    long = np.maximum(mass * 1e6 / 1060.0 / thick / wide, wide)
    near = near_by(home.scatter, count, dice)

    tip = np.abs(dice.normal(0.0, 1.0, (3, count))) * home.tip * np.array([[0.6], [1.6], [0.8]])
    sides = np.vstack((thick, wide, long)) / 2000.0
    return Pieces(
        thick,
        mass,
        sides,
        near(home.convection, 0.08),
        near(home.wet, 0.08),
        near(home.porous, 0.12),
        near(home.dense, 0.08),
        near(0.47, 0.03),
        np.round((home.set_point + dice.normal(0, 2.0, count)) / 2.0) * 2.0,
        dice.uniform(2.0, 9.0, count),
        np.minimum(tip / 1000.0 / sides, 0.6),
        dice.normal(0.0, 0.8, count),
        dice.uniform(0.2, 1.2, count),
    )


def _pits(home: Kitchen, pieces: Pieces, minutes: int, dice: np.random.Generator) -> Array:
    """Return the pit each minute: a swing of some period, jitter, a start, lids."""
    count = pieces.mass.size
    time = np.arange(minutes)[:, None]
    turn = 2.0 * np.pi * (time / home.period + dice.random(count))
    slow = np.cumsum(dice.normal(0.0, 0.25, (minutes, count)), axis=0)
    phase = turn + slow * (0.1 if home.cooker == "pellet" else 0.5)
    pit = pieces.set_point + home.swing * np.sin(phase) + dice.normal(0, 1.2, (minutes, count))
    pit += dice.normal(0, 2.0, count)
    pit -= dice.uniform(20, 70, count) * np.exp(-time / dice.uniform(4, 15, count))
    for cook in range(count):
        for at in np.flatnonzero(dice.random(minutes) < 1 / 80.0):
            shut = int(dice.integers(1, 4))
            pit[at : at + shut, cook] -= dice.uniform(15, 45)
            pit[at + shut : at + shut + 12, cook] -= 15.0 * np.exp(
                -np.arange(pit[at + shut : at + shut + 12, cook].size) / 4.0
            )
    return pit


def _saturation(celsius: Array) -> Array:
    found: Array = 611.2 * np.exp(17.62 * celsius / (243.12 + celsius))  # Magnus's form, Pa
    return found


class _Box:
    """An eighth of each box, (CELLS, CELLS, CELLS, n): the middle at the first cell of each axis."""

    def __init__(self, home: Kitchen, pieces: Pieces) -> None:
        self.home, self.pieces = home, pieces
        count = pieces.mass.size
        self.width = pieces.sides / CELLS
        self.celsius = np.broadcast_to(pieces.cold, (CELLS, CELLS, CELLS, count)).copy()
        shape = (3, CELLS, CELLS, count)
        self.lost = np.zeros(shape)
        self.face = np.broadcast_to(pieces.cold + 4.0, shape).copy()
        self.vapour = np.full(count, home.damp)
        slow = 1.0 / np.sum(self.width**-2.0, axis=0)
        self.step = min(45.0, 0.4 * float(np.min(slow)) / 1.35e-7)

    def advance(self, pit: Array, heat: Array, shut: Array) -> None:
        """Go on by a step; `heat` is a share, `shut` what share of vapour a wrap holds back."""
        t, pieces = self.celsius, self.pieces
        change = np.zeros_like(t)
        given = np.zeros(pit.size)
        for axis in range(3):
            width = self.width[axis]
            inner = np.moveaxis(t, axis, 0)
            flow, rate = self._outside(axis, inner[-1], pit, heat, shut)
            self.lost[axis] += rate * self.step
            given += rate.mean(axis=(0, 1)) / 3.0
            through = pieces.conductivity * np.diff(inner, axis=0) / width
            into = np.moveaxis(change, axis, 0)
            into[:-1] += through / width
            into[1:] -= through / width
            into[-1] += flow / width
        store = 3.55e6 * (1.0 + 0.12 * np.exp(-(((t - 35.0) / 8.0) ** 2)))
        self.celsius = t + change * self.step / store
        damp = self.home.damp + given / self.home.draught * 2.0e7
        self.vapour += (damp - self.vapour) * self.step / 300.0

    def _outside(
        self, axis: int, last: Array, pit: Array, heat: Array, shut: Array
    ) -> tuple[Array, Array]:
        """Return the heat into the outer cells of a face, W/m², and what leaves it, kg/(s m²)."""
        home, pieces = self.home, self.pieces
        depth = self.lost[axis] / pieces.dense
        kelvin, warm = pit + 273.15, self.face[axis] + 273.15
        radiation = home.sees * STEFAN * (kelvin**2 + warm**2) * (kelvin + warm)
        outer = heat * (pieces.convection + radiation)
        let = 1.0 / (1.0 / outer + depth / home.crust)
        passing = (1.0 - shut) / (1.0 / pieces.wet + depth / pieces.porous)
        half = 2.0 * pieces.conductivity / self.width[axis]
        front = self.face[axis]
        freed = 1.0 + home.bound / (1.0 + np.exp(-(last - 60.0) / 3.0))
        passing = passing * freed
        for _ in range(2):
            pressure = _saturation(front)
            rate = passing * np.maximum(pressure - self.vapour, 0.0)
            slope = passing * pressure * 17.62 * 243.12 / (243.12 + front) ** 2
            short = half * (last - front) + let * (pit - front) - LATENT * rate
            front = np.clip(front + short / (half + let + LATENT * slope), -5.0, 140.0)
        self.face[axis] = front
        rate = passing * np.maximum(_saturation(front) - self.vapour, 0.0)
        return half * (front - last), rate

    def read(self, tip: Array) -> Array:
        """Return the temperature at a place, shares of each half side (3, n)."""
        cook = np.arange(tip.shape[1])
        at = np.maximum(tip * CELLS - 0.5, 0.0)
        low = np.minimum(at.astype(int), CELLS - 2)
        share = at - low
        found = np.zeros(tip.shape[1])
        for corner in np.ndindex(2, 2, 2):
            part = np.ones(tip.shape[1])
            for axis in range(3):
                part *= share[axis] if corner[axis] else 1.0 - share[axis]
            x, y, z = (low[d] + corner[d] for d in range(3))
            found += part * self.celsius[x, y, z, cook]
        return found

    def core(self) -> Array:
        """Return the temperature in the middle: the inmost cells, by their slopes to nothing."""
        t = self.celsius
        first = t[0, 0, 0]
        rise = (t[1, 0, 0] - first) + (t[0, 1, 0] - first) + (t[0, 0, 1] - first)
        found: Array = first - rise / 8.0
        return found


def simulate(home: Kitchen, count: int, seed: int, hours: float) -> Cooks:
    """Return cooks of one person, all at once."""
    dice = np.random.default_rng((seed, 5))
    pieces = _pieces(home, count, dice)
    minutes = int(hours * 60)
    pit = _pits(home, pieces, minutes, dice)
    bias = home.pit_bias + home.scatter * dice.normal(0, 1.5, count)
    clock = home.clock + dice.normal(0, 20.0 * home.clock / 250.0, count)
    dry = home.dryness * np.exp(dice.normal(0, 0.10, count))
    wraps = Wraps(dice.random(count) < home.habit)
    leak = {"foil": home.leak, "paper": 4.0 * home.leak, "boat": 0.6}[home.wrap]
    let = np.clip(leak * np.exp(home.scatter * dice.normal(0, 0.3, count)), 0.0, 1.0)
    warm = {"foil": 0.85, "paper": 0.92, "boat": 1.0}[home.wrap]
    box = _Box(home, pieces)
    per_minute = int(np.ceil(60.0 / box.step))
    box.step = 60.0 / per_minute
    shown = pieces.cold.copy()

    def read(_minute: int) -> tuple[Array, Array]:
        nonlocal shown
        shown += (box.read(pieces.tip) - shown) * -np.expm1(-1.0 / pieces.lag)
        return shown, box.core()

    def due(minute: int, _shown: Array) -> NDArray[np.bool_]:
        if home.by_clock:
            return minute >= clock
        gone: Array = box.lost[0].mean(axis=(0, 1))
        return gone >= dry

    def heat(minute: int) -> None:
        share = np.where(wraps.wrapped, warm, 1.0)
        shut = np.where(wraps.wrapped, 1 - let, 0.0)
        for _ in range(per_minute):
            box.advance(pit[minute] + bias, share, shut)

    ran = run(minutes, wraps, read=read, due=due, heat=heat)
    meat = ran.meat + pieces.offset + dice.normal(0, 0.12, ran.meat.shape)
    return written_down(
        home,
        ran,
        wraps,
        mass=pieces.mass,
        thickness=pieces.thick + dice.normal(0, 1.0 + 0.02 * pieces.thick, count),
        set_point=pieces.set_point,
        pit=pit,
        meat=meat,
    )
