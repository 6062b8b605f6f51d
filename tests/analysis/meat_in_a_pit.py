"""Invented cooks with ground truth: meat conducts heat, a probe sits where it should or elsewhere.

Physics written apart from the program: conduction in a slab, a cylinder or a ball by implicit
finite volumes, heated by a pit's air and cooled by evaporation (Chilton–Colburn with Lewis's
number 1; saturation by Magnus's formula). Diffusivity 1.2 to 1.5e-7 m²/s (Choi & Okos 1986 for
lean meat). How a fire wanders, what a lid does and where probes end up: common practice, no
source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

STEP = 20.0
BEFORE = 600.0
HOURS = 7.0
_CELLS = 14
_CUTS = (
    # cut, shape (0 slab, 1 cylinder, 2 ball), thickness m
    ("St. Louis ribs", 0, 0.019, 0.038),
    ("pork loin", 1, 0.060, 0.110),
    ("pork chops", 0, 0.018, 0.045),
    ("chicken breast", 0, 0.022, 0.048),
    ("chicken thighs", 0, 0.025, 0.045),
    ("tri-tip", 0, 0.042, 0.070),
    ("brisket flat", 0, 0.030, 0.060),
    ("turkey breast", 1, 0.070, 0.115),
    ("burgers", 0, 0.016, 0.032),
    ("meatloaf", 1, 0.070, 0.110),
)


class Where(StrEnum):
    """Where a probe was, and what befell it."""

    HONEST = "in the middle"
    INSIDE = "in the meat, off the middle"
    SPIKES = "in the middle, with single hot readings"
    SURFACE = "at the surface"
    THROUGH = "half in the meat, half in the air"
    AIR = "in the air all along"
    FELL_OUT = "fell out into the air"
    LATE = "in the air first, put in late"
    MOVED = "moved from another piece, or to one"
    STUCK = "stuck at what it read in the air"


@dataclass(frozen=True, eq=False)
class Invented:
    """One cook as a journal would know it, and what it does not know.

    Attributes
    ----------
    cut, thickness
        As written, and m where it was measured.
    times, probe, pit
        s after going on, what the meat's channel and the pit's read, °C; shape (n,).
    has_pit
        Whether a pit's channel was kept.
    off
        s after going on.
    where
        Where the probe was.
    true_times, core, at_probe
        s, the middle of the piece and the meat about the probe's tip (the middle, where the tip
        is not in the meat), °C; shape (m,).
    """

    cut: str
    thickness: float | None
    times: Array
    probe: Array
    pit: Array
    has_pit: bool
    off: float
    where: Where
    true_times: Array
    core: Array
    at_probe: Array


def cooks(count: int, seed: int, wheres: Sequence[Where] = tuple(Where)) -> list[Invented]:
    """Return so many invented cooks.

    Parameters
    ----------
    count, seed
        How many, and of the dice.
    wheres
        Where probes are, each as often as the others.
    """
    dice = np.random.default_rng(seed)
    picks = dice.integers(0, len(_CUTS), count)
    thick = np.array([dice.uniform(*_CUTS[p][2:]) for p in picks])
    shape = np.array([float(_CUTS[p][1]) for p in picks])
    air, spot, warms = _airs(count, dice)
    meat = _conduct(thick, shape, spot, dice)
    places = [wheres[int(p)] for p in dice.integers(0, len(wheres), count)]
    batch = _Batch([_CUTS[p][0] for p in picks], places, thick, air, spot, warms, meat)
    return [_cook(n, batch, dice) for n in range(count)]


@dataclass(frozen=True, eq=False)
class _Batch:
    """Cooks worked out together: by cook, and by step of the clock; °C."""

    cuts: list[str]
    places: list[Where]
    thick: Array
    air: Array
    spot: Array
    warms: NDArray[np.bool_]
    meat: Array


@dataclass(frozen=True, eq=False)
class _Around:
    """What is about a probe, °C by step: the air, the piece from the middle out, another one."""

    air: Array
    meat: Array
    other: Array
    off: float

    @property
    def core(self) -> Array:
        return np.asarray(self.meat[:, 0])


def _clock() -> Array:
    return np.arange(-BEFORE, HOURS * 3600.0, STEP)


def _airs(count: int, dice: np.random.Generator) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Return the air at the pit's probe and near the meat, °C, shape (count, m); which warm slowly."""
    at = _clock()
    level = np.where(
        dice.random(count) < 0.4, dice.uniform(62, 95, count), dice.uniform(95, 165, count)
    )
    steady = dice.choice([0.15, 0.5, 1.0, 2.0], count)
    drift = np.zeros((count, at.size))
    kick = dice.normal(0, 1, (count, at.size))
    for n in range(1, at.size):
        drift[:, n] = drift[:, n - 1] * (1 - STEP / 1800) + kick[:, n] * 3 * steady * np.sqrt(
            2 * STEP / 1800
        )
    period, phase = dice.uniform(240, 1800, count), dice.uniform(0, 6.28, count)
    cycle = 3 * steady[:, None] * np.sin(2 * np.pi * at / period[:, None] + phase[:, None])
    air = level[:, None] + drift + cycle
    slow_start = np.where(dice.random(count) < 0.25, dice.uniform(900, 5400, count), 1.0)
    rise = 1 - np.exp(-np.maximum(at + BEFORE, 0) / slow_start[:, None])
    outside = dice.uniform(5, 30, count)[:, None]
    air = outside + (air - outside) * rise
    lids: Array = 1 - _lid_dips(count, at, dice)
    air = outside + (air - outside) * lids
    offset = dice.uniform(-30, 8, count) * (dice.random(count) < 0.7)
    spot = outside + (air - outside) * (1 + (offset / level))[:, None]
    own = np.asarray(dice.normal(0, 1, (count, at.size)))
    for n in range(1, at.size):
        own[:, n] = own[:, n - 1] * 0.9 + own[:, n] * 0.2 * steady
    return air, spot + own, slow_start > 60


def _lid_dips(count: int, at: Array, dice: np.random.Generator) -> Array:
    """Return the share of its warmth that the air lost, shape (count, m)."""
    lost = np.zeros((count, at.size))
    for n in range(count):
        moments = np.concatenate(([0.0], dice.uniform(0, at[-1], dice.integers(1, 9))))
        for moment in moments:
            since = at - moment
            deep, back = dice.uniform(0.1, 0.6), dice.uniform(90, 360)
            lost[n] = np.maximum(lost[n], np.where(since >= 0, deep * np.exp(-since / back), 0))
    return lost


def _saturation(celsius: Array) -> Array:
    return np.asarray(611.2 * np.exp(17.62 * celsius / (243.12 + celsius)))


def _conduct(thick: Array, shape: Array, air: Array, dice: np.random.Generator) -> Array:
    """Return the meat's temperature, °C, shape (count, m, cells) from the middle outward."""
    count, steps = len(thick), air.shape[1]
    at = _clock()
    diffusivity = dice.uniform(1.2e-7, 1.5e-7, count)
    conduct = 0.47
    heat = conduct / diffusivity
    dx: Array = (thick / 2 / _CELLS)[:, None]
    faces: Array = (np.arange(_CELLS + 1) * dx) ** shape[:, None]
    volume: Array = ((np.arange(_CELLS) + 0.5) * dx) ** shape[:, None] * dx
    film = dice.uniform(12, 35, count)
    wet = dice.uniform(0.05, 0.7, count) * np.where(dice.random(count) < 0.4, 0.1, 1.0)
    vapour = dice.uniform(1500, 9000, count)
    store = heat[:, None] * volume / STEP
    inner = conduct * faces[:, 1:-1] / dx
    field = np.repeat(dice.uniform(2, 18, count)[:, None], _CELLS, axis=1)
    found = np.empty((count, steps, _CELLS))
    for n in range(steps):
        if at[n] > 0:
            surface = np.clip(field[:, -1], 0, 99.5)
            mass = film * 0.0152 * wet * np.exp(-at[n] / 14400)  # W/m²Pa, Lewis's number 1
            slope = mass * (_saturation(surface + 0.5) - _saturation(surface - 0.5))
            gone = mass * np.maximum(_saturation(surface) - vapour, 0.0)
            area = faces[:, -1]
            diagonal = store.copy()
            diagonal[:, :-1] += inner
            diagonal[:, 1:] += inner
            diagonal[:, -1] += area * (film + slope)
            right = store * field
            right[:, -1] += area * (film * air[:, n] - gone + slope * field[:, -1])
            field = _solve(diagonal, inner, right)
        found[:, n] = field
    return found


def _solve(diagonal: Array, inner: Array, right: Array) -> Array:
    """Solve symmetric three-band systems, one a row."""
    d, r = diagonal, right
    for k in range(1, d.shape[1]):
        share = inner[:, k - 1] / d[:, k - 1]
        d[:, k] -= share * inner[:, k - 1]
        r[:, k] += share * r[:, k - 1]
    out = np.empty_like(r)
    out[:, -1] = r[:, -1] / d[:, -1]
    for k in range(d.shape[1] - 2, -1, -1):
        out[:, k] = (r[:, k] + inner[:, k] * out[:, k + 1]) / d[:, k]
    return out


def _lagged(values: Array, lag: float) -> Array:
    out, share = values.copy(), 1 - np.exp(-STEP / lag)
    for n in range(1, out.size):
        out[n] = out[n - 1] + share * (values[n] - out[n - 1])
    return out


def _cook(n: int, batch: _Batch, dice: np.random.Generator) -> Invented:
    at = _clock()
    core = batch.meat[n, :, 0]
    done = at[np.argmax(core >= dice.uniform(52, 92))] if core.max() > 52 else at[-1]
    off = float(np.clip(done * dice.uniform(0.4, 1.3), 1200, at[-1] - 600))
    last = int(np.searchsorted(at, off)) - 1
    pieces = batch.meat[[n, (n + 1) % len(batch.cuts)]].copy()
    spot = batch.spot[n].copy()  # it is taken off; a probe in the air may stay behind
    pieces[:, last:] = pieces[:, last : last + 1]
    if dice.random() < 0.5:
        spot[last:] = dice.uniform(5, 30)
    lag = float(dice.uniform(8, 45))
    table = np.full(at.size, float(dice.uniform(8, 28)))  # before it is on, the kitchen
    air = _lagged(np.where(at < 0, table, spot), lag)
    around = _Around(air, pieces[0], pieces[1, :, 0], off)
    where = batch.places[n]
    if where in {Where.LATE, Where.MOVED, Where.FELL_OUT, Where.STUCK}:
        reading, at_probe = _disturbed(where, around, table, lag, dice)
    else:
        reading, at_probe = _steady(where, around, dice)
    still = where is Where.STUCK
    probe, pit, kept = _logged(reading, batch.air[n], off, dice, still=still)
    if where is Where.SPIKES:
        for place in dice.integers(30, at.size, 4):
            probe[place] += dice.uniform(5, 250)
    measured = float(batch.thick[n] * dice.uniform(0.9, 1.1)) if dice.random() < 0.4 else None
    return Invented(
        batch.cuts[n],
        measured,
        at[kept],
        probe[kept],
        pit[kept],
        bool(batch.warms[n]) or bool(dice.random() < 0.5),
        off,
        where,
        at,
        around.core,
        at_probe,
    )


def _logged(
    reading: Array, air: Array, off: float, dice: np.random.Generator, *, still: bool
) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Return the meat's and the pit's channel with noise, in the log's steps, and what it keeps."""
    at = _clock()
    noise = dice.normal(0, dice.choice([0.03, 0.1, 0.25]), at.size) * (0.0 if still else 1.0)
    step = float(dice.choice([20.0, 20.0, 60.0, 120.0, 300.0]))
    grid = dice.choice([0.1, 0.1, 0.5, 5 / 9])
    kept = np.zeros(at.size, dtype=np.bool_)
    kept[int(dice.integers(0, 30)) :: int(step / STEP)] = True
    kept &= at <= off + dice.choice([0.0, 60.0, 1200.0])
    probe = np.round((reading + noise) / grid) * grid
    pit = np.round((_lagged(air, 30) + dice.normal(0, 0.2, at.size)) / grid) * grid
    return probe, pit, kept


def _steady(where: Where, around: _Around, dice: np.random.Generator) -> tuple[Array, Array]:
    """Return what a probe that stays feels, °C, and the meat that it stands for."""
    core = around.core
    inside = _lagged(core, 15)
    if where is Where.INSIDE:
        cell = int(dice.integers(2, _CELLS * 2 // 3))
        return _lagged(around.meat[:, cell], 15), around.meat[:, cell]
    if where is Where.SURFACE:
        return _lagged(0.6 * around.meat[:, -1] + 0.4 * around.air, 15), core
    if where is Where.THROUGH:
        share = float(dice.uniform(0.3, 0.7))
        return share * inside + (1 - share) * around.air, core
    return (around.air if where is Where.AIR else inside), core


def _disturbed(
    where: Where, around: _Around, table: Array, lag: float, dice: np.random.Generator
) -> tuple[Array, Array]:
    """Return what a probe feels that does not stay, °C, and the meat that it stands for."""
    at, core, air, other = _clock(), around.core, around.air, around.other
    when = float(dice.uniform(0.1, 0.95)) * around.off
    later, inside = at >= when, _lagged(core, 15)
    if where is Where.STUCK:
        return np.where(later, air[np.argmax(later)], air), core
    if where is Where.FELL_OUT:
        return _lagged(np.where(later, air, inside), lag), core
    if where is Where.LATE:
        return _lagged(np.where(later, inside, table if dice.random() < 0.5 else air), lag), core
    between = later & (at < when + dice.choice([0.0, 60.0, 300.0]))
    to = dice.random() < 0.5
    mixed = np.where(later, inside, other) if to else np.where(later, other, inside)
    apart = abs(float(core[np.argmax(later)] - other[np.argmax(later)])) > 8.0
    stands = np.minimum(core, other) if apart else mixed  # alike: nobody could tell
    return _lagged(np.where(between, air, mixed), lag), stands
