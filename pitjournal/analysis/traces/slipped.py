"""Whether a probe slipped out of the meat slowly: it boils dry, or rises as the meat never did.

Heat goes into meat by the difference to the air about it: the share of that difference which the
middle takes up in a minute grows while the outside warms, and is nearly as great as it gets by
the time a fourth of the way is done (Incropera & DeWitt, 5.5: one term of the series). Water that
leaves the face holds it back until it is gone; what dries takes up at most its full share again.
A probe that comes out takes up many times more. The limits were set on cooks simulated apart
(`tests/analysis/slow_slips`, `tests/analysis/meat_in_a_pit`).
"""

import numpy as np

from pitjournal.analysis.traces.features import Array, averaged
from pitjournal.science.arrays import runs_of

SLIPPED = "it rose faster than the meat had before, as a probe does that slips out"
BOILED = "it rose on above boiling, as no meat does"

_STEP, _OVER, _FEWEST = 60.0, 720.0, 5
_TIMES = 1.4
"""Meat takes up at most so many times the share it took up before: of 511 middles none over 1.2."""

_AIR_ABOVE, _AIR_LASTS = 8.0, 3600.0
"""The air near the meat is at most so much hotter, K, than the pit's probe had it within an hour."""

_SHARE, _WARM = 0.2, 40.0
_ROSE = 4.0
_EARLY_TIMES, _EARLY_SHARE, _COOL = 3.0, 0.1, 15.0
"""Before a fifth of the way the share may still grow, but not to three times what it was."""

BOILS, _ERRS, _BOILS_FOR = 100.0, 2.5, 180.0
"""What is hotter for so long, s, is no meat: water boils at 100 °C, and a probe errs by so much."""

_BEFORE, _LEAP, _PACE = 120.0, 4.0, 8.0 / 60.0
"""s, K and K/s: what rose further from so long before has leapt, which is judged elsewhere."""


def boils_at(altitude: float | None) -> float:
    """Return where water boils at a height, m; at sea level where it is not known, or below it."""
    from pitjournal.science.heat.altitude import boiling_point_at

    return BOILS if altitude is None or altitude <= 0 else min(BOILS, boiling_point_at(altitude))


def boiled(times: Array, values: Array, boils: float = BOILS) -> bool:
    """Return whether a channel went on above boiling without a leap and stayed.

    Parameters
    ----------
    times, values
        All of a channel while the piece was on, s rising and °C, shape (n,).
    boils
        °C at which water boils there.
    """
    above = values > boils + _ERRS
    if times.size < 2 or not above.any():
        return False
    for first, after in runs_of(above):
        before = int(np.searchsorted(times, times[first] - _BEFORE, side="right")) - 1
        if before < 0 or times[after - 1] - times[first] < _BOILS_FOR:
            continue
        gap = float(times[first] - times[before])
        if values[first] - values[before] <= _LEAP + _PACE * gap:
            return True
    return False


def slipped(times: Array, values: Array, pit: tuple[Array, Array]) -> bool:
    """Return whether a channel took up heat several times as fast as it had before.

    Parameters
    ----------
    times, values
        What is left of a channel without its leaps, s rising and °C, shape (n,).
    pit
        The pit's readings, s rising and °C.
    """
    if times.size < _FEWEST or pit[0].size < 2:
        return False
    step = max(_STEP, float(np.median(np.diff(times))))
    width = max(round(_OVER / step), 2)
    grid, level = averaged(times, values, step)
    if grid.size < 3 * width or pit[0][0] > grid[-1] or pit[0][-1] < grid[0]:
        return False
    air = _hottest_of_late(np.interp(grid, *averaged(*pit, step)), int(_AIR_LASTS / step))
    rise = level[width:] - level[:-width]
    apart = np.maximum(air[width:] + _AIR_ABOVE - level[width:], _AIR_ABOVE)
    share = rise / apart
    before = np.maximum.accumulate(share)[:-width]
    now, start = share[width:], level[width:-width]
    way = (start - level[0]) / np.maximum(air[width:-width] - level[0], 1.0)
    grown = now / np.maximum(before, 1e-9)
    late = (start >= _WARM) & (way >= _SHARE) & (grown > _TIMES)
    early = (start >= _COOL) & (way >= _EARLY_SHARE) & (grown > _EARLY_TIMES)
    return bool(((rise[width:] >= _ROSE) & (late | early)).any())


def _hottest_of_late(air: Array, width: int) -> Array:
    """Return the hottest so far of the last so many places."""
    padded = np.pad(air, (max(width - 1, 0), 0), mode="edge")
    return np.asarray(np.lib.stride_tricks.sliding_window_view(padded, max(width, 1)).max(axis=1))
