"""Invented cooks from a fifth model, which the forecast is never taught from: it is only tried on it.

A piece is a disc, in two dimensions of which one is round. Meat that warms lets go of its juice, by
a rate of the first order towards what holds at its temperature; a part of it comes to the faces and
evaporates there, the rest drips. So the stall is long where there is much juice and ends once it has
come. Water that a face has no more of comes through a bark that thickens as it dries. The air at the
meat is not the air at the pit's probe: a fire to one side, a wind that turns. Some spray the meat by
the clock; some are at times late with a wrap, or early. What has no source was set so that cooks take
as long as the trade reports (common practice), and stall.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tests.benchmarks.simulated import COOKERS, CUTS, Cooks, Wraps, near_by, run, written_down

Array = NDArray[np.float64]

ROUND, DEEP = 7, 6
"""Cells from the axis outward, and from the middle plane to the flat faces."""

LATENT = 2.33e6
STORE = 3.55e6
STEFAN = 5.670e-8


@dataclass(frozen=True)
class Kitchen:
    """What the cooks of one person have in common."""

    cut: str
    cooker: str
    set_point: float
    sets_apart: float
    scatter: float
    convection: float
    sees: float
    vapour: float
    passing: float
    moist: float
    juice: float
    letting: float
    outward: float
    bark: float
    pit_bias: float
    turning: float
    swing: float
    spray: float
    wrap: str
    habit: float
    rule: str
    celsius: float
    clock: float
    strays: float
    tight: float
    aim: float


def kitchen(seed: int, cut: str) -> Kitchen:
    """Return one person's cooker and habits."""
    dice = np.random.default_rng((seed, 8))
    poultry = "chicken" in cut
    usual = {"pork butt": 330.0, "brisket": 290.0, "brisket flat": 200.0}.get(cut, 150.0)
    return Kitchen(
        cut=cut,
        cooker=str(dice.choice(COOKERS)),
        set_point=float(dice.uniform(*CUTS[cut]["set"])),
        sets_apart=float(dice.uniform(0.5, 5.0)),
        scatter=float(dice.uniform(0.1, 0.7)),
        convection=float(dice.uniform(9.0, 20.0)),
        sees=float(dice.uniform(0.4, 0.9)),
        vapour=float(dice.uniform(2500.0, 9000.0)),
        passing=float(np.exp(dice.normal(np.log(1.9e-8), 0.25))) * (0.4 if poultry else 1.0),
        moist=float(dice.uniform(0.5, 2.5)),
        juice=float(dice.uniform(200.0, 330.0)) * (0.5 if poultry else 1.0),
        letting=float(np.exp(dice.normal(np.log(7200.0), 0.5))),
        outward=float(dice.uniform(0.5, 1.0)),
        bark=float(np.exp(dice.normal(np.log(3.0), 0.4))),
        pit_bias=float(dice.normal(0.0, 3.0)),
        turning=float(dice.uniform(0.5, 4.0)),
        swing=float(dice.uniform(1.5, 8.0)),
        spray=float(dice.choice([0.0, 0.0, 45.0, 60.0])),
        wrap=str(dice.choice(["foil", "paper", "boat"])),
        habit=0.0 if poultry else float(dice.choice([0.0, 0.5, 0.85, 0.95, 1.0])),
        rule=str(dice.choice(["probe", "clock", "face"])),
        celsius=float(dice.uniform(62.0, 77.0)),
        clock=usual * float(dice.uniform(0.8, 1.2)),
        strays=float(dice.uniform(0.0, 0.15)),
        tight=float(dice.uniform(0.5, 1.0)),
        aim=float(dice.uniform(0.05, 0.3)),
    )


class Pieces(NamedTuple):
    """Cooks of a person, each array over cooks (n,); `half` and `radius` in m."""

    mass: Array
    thick: Array
    half: Array
    radius: Array
    convection: Array
    passing: Array
    moist: Array
    juice: Array
    letting: Array
    bark: Array
    conductivity: Array
    set_point: Array
    cold: Array
    beside: Array
    above: Array
    offset: Array
    stray: Array


def _pieces(home: Kitchen, count: int, dice: np.random.Generator) -> Pieces:
    spec = CUTS[home.cut]
    low, high = spec["mass"]
    mass = np.clip(dice.normal(0.5 * (low + high), 0.27 * (high - low), count), low, high)
    thin, fat = spec["thick"]
    grown = (mass - low) / (high - low)
    thick = thin + (fat - thin) * np.clip(0.25 + 0.5 * grown + dice.normal(0, 0.15, count), 0, 1)
    near = near_by(home.scatter, count, dice)
    strays = dice.random(count) < home.strays
    return Pieces(
        mass,
        thick,
        thick / 2000.0,
        np.sqrt(mass * 1e-3 / 1060.0 / (np.pi * thick * 1e-3)) * near(0.93, 0.03),
        near(home.convection, 0.08),
        near(home.passing, 0.08),
        near(home.moist, 0.15),
        near(home.juice, 0.08),
        near(home.letting, 0.12),
        near(home.bark, 0.15),
        near(0.48, 0.03),
        np.round((home.set_point + dice.normal(0, home.sets_apart, count)) * 0.36) / 0.36,
        dice.uniform(2.0, 9.0, count),
        np.minimum(np.abs(dice.normal(0.0, home.aim, count)), 0.6),
        np.minimum(np.abs(dice.normal(0.0, home.aim, count)), 0.6),
        dice.normal(0.0, 0.8, count),
        np.where(strays, dice.choice([0.7, 0.8, 1.25], count), 1.0),
    )


def _pits(home: Kitchen, pieces: Pieces, minutes: int, dice: np.random.Generator) -> Array:
    """Return the pit each minute at its probe: a fire that is tended, and lids."""
    count = pieces.mass.size
    pit, level, pull = np.zeros((minutes, count)), np.zeros(count), np.zeros(count)
    for minute in range(minutes):  # somebody looks now and then, and turns it up or down
        looks = dice.random(count) < 1 / 20.0
        pull = np.where(looks, -level * dice.uniform(0.02, 0.08, count), pull)
        level += pull + dice.normal(0, 0.12 * home.swing, count)
        pit[minute] = level
    start = dice.uniform(10, 60, count) * np.exp(-np.arange(minutes)[:, None] / 8.0)
    found: Array = pieces.set_point + pit - start + dice.normal(0, 0.8, pit.shape)
    every = home.spray or 95.0
    for cook in range(count):
        for at in np.arange(every * dice.uniform(0.7, 1.6), minutes, every).astype(int):
            after = np.arange(minutes - at)
            found[at:, cook] -= dice.uniform(15, 40) * np.exp(-after / 5.0)
    return found


def _beside(home: Kitchen, minutes: int, count: int, dice: np.random.Generator) -> Array:
    """Return how much hotter it is at the meat than at the pit's probe, each minute."""
    wind = np.cumsum(dice.normal(0.0, 1.0, (minutes // 30 + 2, count)), axis=0)
    wind = home.turning * wind / np.sqrt(np.arange(1, wind.shape[0] + 1))[:, None]
    found: Array = home.pit_bias + home.scatter * dice.normal(0, 1.5, count)
    return found + np.repeat(wind, 30, axis=0)[:minutes]


def _saturation(celsius: Array) -> Array:
    found: Array = 133.322 * 10.0 ** (8.07131 - 1730.63 / (233.426 + celsius))  # Antoine's, Pa
    return found


class _Face:
    """One face of each piece, in parts: its water, kg/m², what dried of its bark, its °C."""

    def __init__(self, shape: tuple[int, int], pieces: Pieces) -> None:
        self.water = np.broadcast_to(pieces.moist, shape).copy()
        self.dried = np.zeros(shape)
        self.celsius = np.broadcast_to(pieces.cold + 5.0, shape).copy()


class _Disc:
    """Half of each disc, (DEEP, ROUND, n): the middle first along both."""

    def __init__(self, home: Kitchen, pieces: Pieces) -> None:
        self.home, self.pieces = home, pieces
        count = pieces.mass.size
        self.dz, self.dr = pieces.half / DEEP, pieces.radius / ROUND
        edges = np.arange(ROUND + 1)[:, None] * self.dr
        self.ring = np.diff(edges**2, axis=0) / 2.0  # area of a ring, by 2 pi
        self.edges = edges
        self.celsius = np.broadcast_to(pieces.cold, (DEEP, ROUND, count)).copy()
        self.let_go = np.zeros((DEEP, ROUND, count))
        self.flat, self.rim = _Face((ROUND, count), pieces), _Face((DEEP, count), pieces)
        self.area = pieces.radius**2 / 2.0 + pieces.half * pieces.radius
        quick = float(np.max(1.0 / self.dz**2 + 1.0 / self.dr**2))
        self.step = min(30.0, 0.4 / quick / 1.4e-7)

    def advance(self, pit: Array, heat: Array, let: Array) -> None:
        """Go on by a step; `heat` and `let` are what a wrap leaves of heat and of evaporation."""
        t, pieces = self.celsius, self.pieces
        conductivity = pieces.conductivity * (1.0 + 0.0015 * t)
        change = np.zeros_like(t)
        down = 0.5 * (conductivity[1:] + conductivity[:-1]) * np.diff(t, axis=0) / self.dz
        change[:-1] += down / self.dz
        change[1:] -= down / self.dz
        across = 0.5 * (conductivity[:, 1:] + conductivity[:, :-1]) * np.diff(t, axis=1) / self.dr
        across = across * self.edges[1:-1]
        change[:, :-1] += across / self.ring[:-1]
        change[:, 1:] -= across / self.ring[1:]
        come = self._juice(t)
        into = self._through(self.flat, t[-1], 0.5 * self.dz, pit, heat=heat, let=let, come=come)
        change[-1] += into / self.dz
        into = self._through(self.rim, t[:, -1], 0.5 * self.dr, pit, heat=heat, let=let, come=come)
        change[:, -1] += into * self.edges[-1] / self.ring[-1]
        self.celsius = t + change * self.step / STORE

    def _juice(self, t: Array) -> Array:
        """Return what comes to each square metre of the faces in a step, kg."""
        pieces = self.pieces
        holds = pieces.juice / (1.0 + np.exp(-(t - 62.0) / 6.0))
        going = np.maximum(holds - self.let_go, 0.0) * -np.expm1(-self.step / pieces.letting)
        self.let_go += going
        whole = np.sum(going * self.ring * self.dz, axis=(0, 1))
        found: Array = self.home.outward * whole / self.area
        return found

    def _through(
        self,
        face: _Face,
        last: Array,
        half: Array,
        pit: Array,
        *,
        heat: Array,
        let: Array,
        come: Array,
    ) -> Array:
        """Return the heat into the outer cells of a face, W/m², and dry it by a step."""
        home, pieces = self.home, self.pieces
        face.water += come
        wet = face.water / (face.water + 0.15)
        passing = let * pieces.passing * (wet + (1.0 - wet) / (1.0 + pieces.bark * face.dried))
        kelvin, warm = pit + 273.15, face.celsius + 273.15
        radiation = home.sees * STEFAN * (kelvin**2 + warm**2) * (kelvin + warm)
        outer = heat * (pieces.convection + radiation)
        inner = pieces.conductivity / half
        for _ in range(2):
            pressure = _saturation(face.celsius)
            rate = passing * np.maximum(pressure - home.vapour, 0.0)
            slope = passing * pressure * 2.302585 * 1730.63 / (233.426 + face.celsius) ** 2
            short = inner * (last - face.celsius) + outer * (pit - face.celsius) - LATENT * rate
            moved = face.celsius + short / (inner + outer + LATENT * slope)
            face.celsius = np.clip(moved, -5.0, 150.0)
        rate = passing * np.maximum(_saturation(face.celsius) - home.vapour, 0.0)
        face.dried += rate * (1.0 - wet) * self.step
        face.water = np.maximum(face.water - rate * self.step, 0.0)
        found: Array = inner * (face.celsius - last)
        return found

    def spray(self, kilograms: float) -> None:
        """Wet the faces by so much a square metre."""
        for face in (self.flat, self.rim):
            face.water += kilograms

    def read(self, above: Array, beside: Array) -> Array:
        """Return the temperature at shares of the way to the flat face and to the rim."""
        cook = np.arange(above.size)
        z, r = np.maximum(above * DEEP - 0.5, 0.0), np.maximum(beside * ROUND - 0.5, 0.0)
        at, to = z.astype(int), r.astype(int)
        low = self.celsius[at, to, cook] * (1 - r + to) + self.celsius[at, to + 1, cook] * (r - to)
        at = at + 1
        high = self.celsius[at, to, cook] * (1 - r + to) + self.celsius[at, to + 1, cook] * (r - to)
        found: Array = low * (1.0 - z + at - 1) + high * (z - at + 1)
        return found

    def core(self) -> Array:
        """Return the temperature in the middle, by the slopes to nothing there."""
        t = self.celsius
        found: Array = t[0, 0] - (t[1, 0] - t[0, 0]) / 8.0 - (t[0, 1] - t[0, 0]) / 4.0
        return found


def simulate(home: Kitchen, count: int, seed: int, hours: float) -> Cooks:
    """Return cooks of one person, all at once."""
    dice = np.random.default_rng((seed, 9))
    pieces = _pieces(home, count, dice)
    minutes = int(hours * 60)
    pit = _pits(home, pieces, minutes, dice)
    there = pit + _beside(home, minutes, count, dice)
    clock = home.clock * pieces.stray * np.exp(dice.normal(0, 0.08, count))
    warm_at = home.celsius + 25.0 * (np.minimum(pieces.stray, 1.1) - 1.0) + dice.normal(0, 2, count)
    wraps = Wraps(dice.random(count) < home.habit)
    leaves = {"foil": (0.04, 0.85), "paper": (0.35, 0.95), "boat": (0.6, 1.0)}[home.wrap]
    open_ = np.clip(leaves[0] / home.tight * np.exp(dice.normal(0, 0.15, count)), 0.0, 1.0)
    disc = _Disc(home, pieces)
    per_minute = int(np.ceil(60.0 / disc.step))
    disc.step = 60.0 / per_minute
    shown = pieces.cold.copy()

    def read(_minute: int) -> tuple[Array, Array]:
        nonlocal shown
        shown += 0.7 * (disc.read(pieces.above, pieces.beside) - shown)
        return shown + pieces.offset, disc.core()

    def due(minute: int, shown: Array) -> NDArray[np.bool_]:
        if home.rule == "clock":
            return minute >= clock
        if home.rule == "probe":
            return shown >= warm_at
        dark: Array = disc.flat.dried.mean(axis=0)
        return dark * pieces.stray >= 0.5  # kg/m²: the face looks done

    def heat(minute: int) -> None:
        if home.spray and minute and minute % home.spray == 0:
            disc.spray(0.04)
        warm, let = np.where(wraps.wrapped, leaves[1], 1.0), np.where(wraps.wrapped, open_, 1.0)
        for _ in range(per_minute):
            disc.advance(there[minute], warm, let)

    ran = run(minutes, wraps, read=read, due=due, heat=heat)
    return written_down(
        home,
        ran,
        wraps,
        mass=pieces.mass,
        thickness=pieces.thick * np.exp(dice.normal(0, 0.03, count)),
        set_point=np.round(pieces.set_point, 1),
        pit=pit,
        meat=ran.meat + dice.normal(0, 0.1, ran.meat.shape),
    )
