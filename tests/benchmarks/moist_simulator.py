"""Invented cooks from a second model, of another build: what the forecast learns and is tried on.

One dimension in a body whose area grows outward as a power of its own (a wall to a ball), water that
moves inside it by diffusion, faster when warmer and slower where it is dry, a face whose vapour
pressure follows a sorption isotherm, evaporation by the analogy of Chilton and Colburn (1934) from
the share of the face that is open, heat that melting fat and unfolding protein take up, a wrap that
keeps vapour in by a resistance or covers a part. The pit wanders quickly and slowly, by cooker; the
probe sits so many millimetres beside the middle and is warmed along its stem. `cook_simulator` has
none of these laws but the sums of physics. What has no source was set so that most cooks take as long
as the trade reports (common practice); an unwrapped butt is quick here and hardly stalls, which is
meant: the forecast shall not count on a stall.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tests.benchmarks.simulated import COOKERS, CUTS, Cooks, Wraps, near_by, run, written_down

Array = NDArray[np.float64]

CELLS = 12
SKIN = 6e-4
"""m of the face that dries as one."""

LATENT = 2.36e6
COLBURN = 6.9e-9
"""kg/(s m² Pa) of evaporation for each W/(m² K) of convection: 0.622 ÷ (heat of air × pressure) ÷
Lewis's number to the two thirds, near 1."""

SOLIDS = 330.0
"""kg/m³ of what is not water."""

UNEVEN = {"pellet": 2.5, "ceramic": 2.5, "bullet": 4.0, "drum": 4.5, "kettle": 6.0, "offset": 7.5}
"""°C by which a pit wanders (common practice, no source)."""


@dataclass(frozen=True)
class Kitchen:
    """What the cooks of one person have in common."""

    cut: str
    cooker: str
    set_point: float
    sets_apart: float
    scatter: float
    convection: float
    radiation: float
    vapour: float
    open: float
    diffusion: float
    warming: float
    crust: float
    water: float
    melting: float
    pit_bias: float
    wander: float
    wrap: str
    habit: float
    by_clock: bool
    wrap_celsius: float
    wrap_share: float
    keeps: float
    beside: float
    ruler: float


def kitchen(seed: int, cut: str) -> Kitchen:
    """Return one person's cooker and habits."""
    dice = np.random.default_rng((seed, 2))
    poultry = "chicken" in cut
    cooker = str(dice.choice(COOKERS))
    habit = 0.0 if poultry or dice.random() < 0.1 else float(dice.uniform(0.7, 1.0))
    return Kitchen(
        cut=cut,
        cooker=cooker,
        set_point=float(dice.uniform(*CUTS[cut]["set"])),
        sets_apart=float(dice.uniform(0.0, 4.5)),
        scatter=float(dice.uniform(0.0, 0.8)),
        convection=float(dice.uniform(7.0, 16.0))
        * (float(dice.uniform(0.7, 1.3)) if poultry else 1.0),
        radiation=float(dice.uniform(4.0, 8.0)),
        vapour=float(dice.uniform(2500.0, 12000.0)),
        open=float(dice.uniform(0.08, 0.45)) * (float(dice.uniform(0.05, 0.5)) if poultry else 1),
        diffusion=float(np.exp(dice.normal(np.log(2.6e-9), 0.35))),
        warming=float(dice.uniform(0.005, 0.03)),
        crust=float(dice.uniform(0.0, 1.2)),
        water=float(dice.uniform(1.7, 2.6)),
        melting=float(dice.uniform(0.0, 1.0)),
        pit_bias=float(dice.normal(0.0, 3.0)),
        wander=UNEVEN[cooker] * float(dice.uniform(0.5, 1.3)),
        wrap=str(dice.choice(["foil", "paper", "boat"])),
        habit=habit,
        by_clock=bool(dice.random() < 0.5),
        wrap_celsius=float(dice.uniform(62.0, 78.0)),
        wrap_share=float(dice.uniform(0.6, 1.25)),
        keeps=float(dice.uniform(0.0, 1.0)),
        beside=float(dice.uniform(0.05, 0.35)),
        ruler=float(dice.uniform(0.01, 0.05)),
    )


class Pieces(NamedTuple):
    """Cooks of a person, each array over cooks (n,)."""

    thick: Array
    mass: Array
    half: Array
    shape: Array
    convection: Array
    radiation: Array
    open: Array
    diffusion: Array
    water: Array
    set_point: Array
    cold: Array
    place: Array
    stem: Array
    offset: Array
    lag: Array


def _pieces(home: Kitchen, count: int, dice: np.random.Generator) -> Pieces:
    spec = CUTS[home.cut]
    low, high = spec["mass"]
    mass = low * (high / low) ** dice.uniform(0, 1, count)
    middle, span = np.mean(spec["thick"]), np.ptp(spec["thick"])
    thick = middle * (mass / np.sqrt(low * high)) ** 0.25 + dice.normal(0, 0.12 * span, count)
    wide = thick * dice.uniform(*spec["wide"], count)
    long = mass * 1e6 / 1060.0 / thick / wide
    near = near_by(home.scatter, count, dice)

    fahrenheit = (home.set_point + dice.normal(0, home.sets_apart, count)) * 1.8
    return Pieces(
        thick,
        mass,
        thick / 2000.0 * near(0.97, 0.03),
        np.clip(0.85 * (thick / wide + thick / long) + dice.normal(0, 0.06, count), 0.0, 2.0),
        near(home.convection, 0.08),
        near(home.radiation, 0.06),
        near(home.open, 0.10),
        near(home.diffusion, 0.12),
        near(home.water, 0.05),
        np.round(fahrenheit / 5.0) * 5.0 / 1.8,
        dice.uniform(2.0, 10.0, count),
        np.minimum(np.abs(dice.normal(0.0, home.beside, count)), 0.55),
        dice.uniform(0.0, 0.012, count),
        dice.normal(0.0, 0.7, count),
        dice.uniform(0.2, 1.5, count),
    )


def _pits(home: Kitchen, pieces: Pieces, minutes: int, dice: np.random.Generator) -> Array:
    """Return the pit each minute: what is set, a slow and a quick wander, a start, lids."""
    count = pieces.mass.size
    slow, quick = np.zeros(count), np.zeros(count)
    pit = np.zeros((minutes, count))
    stay_slow, stay_quick = np.exp(-1 / dice.uniform(40, 150)), np.exp(-1 / dice.uniform(4, 14))
    away = dice.normal(0, 0.4 * home.wander, count)
    for minute in range(minutes):
        slow = stay_slow * slow + dice.normal(0, home.wander, count) * np.sqrt(1 - stay_slow**2)
        quick = stay_quick * quick + dice.normal(0, home.wander, count) * np.sqrt(1 - stay_quick**2)
        pit[minute] = 0.55 * slow + 0.75 * quick
    since = np.arange(minutes)[:, None]
    start = dice.uniform(15, 60, count) * np.exp(-since / dice.uniform(3, 12, count))
    lids = np.zeros((minutes, count))
    every = dice.uniform(35, 120)
    for cook in range(count):
        at = dice.uniform(60, 150)
        while at < minutes:
            after = np.maximum(since[:, 0] - at, 0.0)
            lids[:, cook] += np.where(since[:, 0] >= at, dice.uniform(10, 40), 0) * np.exp(
                -after / 5.0
            )
            at += every * dice.uniform(0.6, 1.4)
    return pieces.set_point + away + pit - start - lids


def _saturation(celsius: Array) -> Array:
    found: Array = np.exp(23.478 - 3990.5 / (celsius + 233.833))  # Antoine's form, Pa
    return found


class _Piece:
    """Many pieces at once: cells from the middle outward, (cells, n)."""

    def __init__(self, home: Kitchen, pieces: Pieces) -> None:
        self.home, self.pieces = home, pieces
        self.width = pieces.half / CELLS
        edges = np.linspace(0.0, 1.0, CELLS + 1)[:, None]
        self.area = edges**pieces.shape * np.ones_like(pieces.half)
        power = pieces.shape + 1.0
        self.volume = np.diff(edges**power, axis=0) / power * pieces.half
        count = pieces.mass.size
        self.celsius = np.broadcast_to(pieces.cold, (CELLS, count)).copy()
        self.water = np.broadcast_to(pieces.water, (CELLS, count)).copy()
        self.skin = pieces.water.copy()
        self.face = pieces.cold + 5.0
        self.step = min(20.0, 0.3 * float(np.min(self.width)) ** 2 / 1.5e-7)

    def _diffusion(self, celsius: Array, water: Array) -> Array:
        share = np.maximum(water / self.pieces.water, 0.02)
        found: Array = (
            self.pieces.diffusion
            * np.exp(self.home.warming * (celsius - 60.0))
            * share**self.home.crust
        )
        return found

    def advance(self, pit: Array, heat: Array, shut: Array, cover: Array) -> None:
        """Go on by a step; `heat` and `cover` are shares, `shut` a resistance to vapour."""
        t, x, home, pieces = self.celsius, self.water, self.home, self.pieces
        conductivity = 0.20 + 0.13 * x
        store = SOLIDS * (1600.0 + 4180.0 * x)
        store += SOLIDS * home.melting * 3500.0 * np.exp(-(((t - 36.0) / 6.0) ** 2))
        store += SOLIDS * home.melting * 1500.0 * np.exp(-(((t - 64.0) / 5.0) ** 2))
        activity = 1.0 / (1.0 + (0.14 / np.maximum(self.skin, 1e-3)) ** 2)
        passing = 1.0 / (1.0 / (pieces.open * pieces.convection * COLBURN) + shut) * cover
        through = 2.0 * conductivity[-1] / self.width
        warm = heat * pieces.convection
        kelvin = 0.5 * (pit + self.face) + 273.15
        warm = warm + heat * pieces.radiation * (kelvin / 350.0) ** 3
        for _ in range(2):
            pressure = activity * _saturation(self.face)
            rate = passing * np.maximum(pressure - home.vapour, 0.0)
            slope = passing * pressure * 3990.5 / (self.face + 233.833) ** 2
            short = through * (t[-1] - self.face) + warm * (pit - self.face) - LATENT * rate
            self.face = np.clip(self.face + short / (through + warm + LATENT * slope), -5.0, 140.0)
        rate = passing * np.maximum(activity * _saturation(self.face) - home.vapour, 0.0)
        inward = through * (self.face - t[-1])
        flow = 0.5 * (conductivity[1:] + conductivity[:-1]) * np.diff(t, axis=0) / self.width
        self.celsius = t + self._divergence(flow, inward) * self.step / store
        moving = self._diffusion(t, x)
        supply = moving[-1] * (x[-1] - self.skin) / (0.5 * self.width)
        drift = 0.5 * (moving[1:] + moving[:-1]) * np.diff(x, axis=0) / self.width
        self.water = np.maximum(x + self._divergence(drift, -supply) * self.step, 0.01)
        self.skin = np.maximum(self.skin + (supply - rate / SOLIDS) * self.step / SKIN, 0.01)

    def _divergence(self, inner: Array, outer: Array) -> Array:
        through = self.area[1:] * np.vstack((inner, outer[None, :]))
        found = through.copy()
        found[1:] -= through[:-1]
        found /= self.volume
        return found

    def read(self, place: Array) -> Array:
        """Return the temperature at a share of the way out, a parabola about the middle."""
        middles = (np.arange(CELLS) + 0.5) / CELLS
        cook = np.arange(place.size)
        at = np.clip(np.searchsorted(middles, place), 1, CELLS - 1)
        share = np.clip((place - middles[at - 1]) * CELLS, 0.0, 1.0)
        found: Array = self.celsius[at - 1, cook] * (1 - share) + self.celsius[at, cook] * share
        return found

    def core(self) -> Array:
        """Return the temperature in the middle."""
        found: Array = self.celsius[0] - (self.celsius[1] - self.celsius[0]) / 8.0
        return found


def _covers(home: Kitchen, count: int, dice: np.random.Generator) -> tuple[Array, Array, Array]:
    """Return what the wrap leaves of heat, its resistance to vapour, and its uncovered share."""
    part = home.keeps + home.scatter * dice.normal(0, 0.1, count)
    if home.wrap == "foil":
        return 0.75 + 0.2 * part, np.exp(dice.normal(20.0, 0.4, count)), np.ones(count)
    if home.wrap == "paper":
        return 0.85 + 0.12 * part, 8e7 * np.exp(1.2 * (0.5 - part)), np.ones(count)
    return np.ones(count), np.zeros(count), np.clip(0.45 + 0.35 * part, 0.3, 0.9)


def simulate(home: Kitchen, count: int, seed: int, hours: float) -> Cooks:
    """Return cooks of one person, all at once."""
    dice = np.random.default_rng((seed, 3))
    pieces = _pieces(home, count, dice)
    minutes = int(hours * 60)
    pit = _pits(home, pieces, minutes, dice)
    bias = home.pit_bias + home.scatter * dice.normal(0, 1.5, count)
    usual = {"pork butt": 300.0, "brisket": 280.0, "brisket flat": 180.0}.get(home.cut, 150.0)
    clock = usual * home.wrap_share * np.exp(dice.normal(0, 0.10, count))
    warm_at = home.wrap_celsius + dice.normal(0, 2.0, count)
    wraps = Wraps(dice.random(count) < home.habit)
    warm, shut, cover = _covers(home, count, dice)
    body = _Piece(home, pieces)
    per_minute = int(np.ceil(60.0 / body.step))
    body.step = 60.0 / per_minute
    shown = pieces.cold.copy()

    def read(minute: int) -> tuple[Array, Array]:
        nonlocal shown
        sensed = body.read(pieces.place)
        sensed = sensed + pieces.stem * (pit[minute] - sensed)
        shown += (sensed - shown) * -np.expm1(-1.0 / pieces.lag)
        return shown, body.core()

    def due(minute: int, shown: Array) -> NDArray[np.bool_]:
        return minute >= clock if home.by_clock else shown >= warm_at

    def heat(minute: int) -> None:
        covered = [
            np.where(wraps.wrapped, under, bare)
            for under, bare in ((warm, 1.0), (shut, 0.0), (cover, 1.0))
        ]
        for _ in range(per_minute):
            body.advance(pit[minute] + bias, *covered)

    ran = run(minutes, wraps, read=read, due=due, heat=heat)
    meat = ran.meat + pieces.offset + dice.normal(0, 0.1, ran.meat.shape)
    return written_down(
        home,
        ran,
        wraps,
        mass=pieces.mass,
        thickness=pieces.thick * np.exp(dice.normal(0, home.ruler, count)),
        set_point=np.round(pieces.set_point, 1),
        pit=pit + dice.normal(0, 0.3, pit.shape),
        meat=meat,
    )
