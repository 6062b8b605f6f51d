"""Invented cooks whose probe slips out of the meat slowly, into the air or part of the way.

The meat is that of `meat_in_a_pit`, physics written apart. How a probe slips (in 5 to 40 minutes;
to the air, to what boils, or half out; at an even pace or not): common practice, no source.
"""

from dataclasses import replace

import numpy as np

from tests.analysis.meat_in_a_pit import Invented, Where, cooks


def slips(count: int, seed: int) -> list[Invented]:
    """Return cooks whose probe was in the middle first and slipped out before it was hot.

    Parameters
    ----------
    count, seed
        How many cooks to begin with, some of which have no time for a slip; and of the dice.
    """
    dice = np.random.default_rng(seed)
    found = (_slipped(cook, dice) for cook in cooks(count, seed, (Where.HONEST,)) if cook.has_pit)
    return [cook for cook in found if cook is not None]


def _slipped(cook: Invented, dice: np.random.Generator) -> Invented | None:
    lasts = 60.0 * float(dice.uniform(5.0, 40.0))
    stays = 60.0 * float(dice.uniform(5.0, 60.0))
    warm = np.flatnonzero((cook.core >= dice.uniform(35.0, 60.0)) & (cook.true_times > 0))
    cooking = (cook.true_times >= 0) & (cook.true_times <= cook.off)
    if not warm.size:
        return None
    begins = float(cook.true_times[warm[0]])
    if begins < 900.0 or begins + lasts + 300.0 > cook.off or not cooking.any():
        return None
    off = min(cook.off, begins + lasts + stays)
    share = np.clip((cook.times - begins) / lasts, 0.0, 1.0)
    kind = int(dice.integers(4))
    if kind == 1:
        share = share**2 * (3.0 - 2.0 * share)
    core = np.interp(cook.times, cook.true_times, cook.core)
    noise = cook.probe - core
    start = float(core[np.searchsorted(cook.times, begins) - 1])
    air = np.asarray(np.convolve(np.pad(cook.pit, 4, mode="edge"), np.full(9, 1 / 9), "valid"))
    if kind == 2:  # what it touches steams
        air = np.minimum(air, 100.0 + dice.uniform(-3.0, 6.0))
    if kind == 3:  # not all of the way
        air = core + (air - core) * dice.uniform(0.4, 0.9)
    out = share > 0
    probe = np.where(out, start + (air - start) * share, core) + np.where(out, noise * 0.5, noise)
    probe = np.where(out, np.round(probe * 10) / 10, cook.probe)
    kept = cook.times <= off
    return replace(cook, times=cook.times[kept], probe=probe[kept], pit=cook.pit[kept], off=off)
