"""Why a meat's channel may not be the meat: as unsteady as air, with the pit, too soon, stuck.

Meat is slow: a lid that is lifted for minutes is felt at a depth of 5 mm and hardly in the
middle, since heat goes √(diffusivity × time ÷ π) deep (Carslaw & Jaeger 1959, 2.6). What wiggles
with the pit is in its air, or at the face. The limits were set on cooks simulated apart
(`tests/analysis/meat_in_a_pit`): the middle of thin meat strays from a smooth curve by 0.1 to
0.4 K, air by 0.5 to 10 K.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.traces.features import Array, averaged, running_median
from pitjournal.analysis.traces.first_order import AS_AIR, LIKE_AIR, warms_as_air
from pitjournal.analysis.traces.slipped import SLIPPED, slipped
from pitjournal.science.arrays import runs_of

UNSTEADY = "its probe is as unsteady as air"
WITH_PIT = "its probe goes up and down with the pit"
AS_PIT = "its probe reads what the pit reads"
TOO_SOON = "hot sooner than the middle of so thick a piece can be"
FAST_FIRST = "it warmed fast at first, as air and the outside do"
WARM_AT_ONCE = "it was warm already as it went on"
ELSEWHERE = "its probe was in meat before, and put back at another place"
STUCK = "its reading stands still"
NOT_SEEN = "its trace begins hot, and does not climb for long enough to tell meat from air"

_WARM = 45.0
"""What is colder, °C, reaches nothing."""

_SPANS, _FEWEST = (1200.0, 2400.0), 7
_STRAYS, _BENDS = 0.6, 0.03
"""Meat strays by less, K, from a smooth curve over 20 and 40 minutes, and what its
climb bends: one that is wrapped leaves its stall at once."""

_TOGETHER, _SHARE, _STIR = 0.75, 0.2, 0.35
"""A trace follows the pit where its stir, over so many K, is alike and this share of the pit's."""

_LEVEL, _ABOVE = 2.0, 5.0
"""A probe within 2 K of the pit for 40 minutes, never 5 K above it before, lies in its air."""

SEEN_RAW, _CLIMBS, _SETTLED = 35.0, 6.0, 1200.0
"""What begins hotter than 35 °C has to climb by 6 K after 20 minutes to be told from air."""

_UP_TO, _SHARES, _LAGS = 55.0, (0.1, 0.4, 0.8), 0.24

_LEAP, _PACE, _TEN_MINUTES, _LAGGED = 3.0, 4.0 / 60.0, 600.0, 0.5
"""K, K/s, s and K: what leaps no further, and rises at all, may have been meat."""

_STANDS, _STANDS_COARSE = 3600.0, 5400.0
_STEP, _CREEPS, _SAME, _FINE = 300.0, 0.06, 1e-4, 0.25
"""A log in steps of a quarter K or less creeps by 0.06 K within an hour, or it is stuck."""

DIFFUSIVITY = 1.6e-7
"""No meat lets heat through faster, m²/s (Choi & Okos 1986: lean meat 1.2 to 1.5)."""

WARMEST_RAW, HOTTEST_FACE = 30.0, 100.0
_ALLOWED, _LASTS, _AT_ONCE, _RAW = 3.0, 300.0, 180.0, 27.0

_NEAR_THE_FIRE, _FILM, _CONDUCTS = 15.0, 60.0, 0.47
"""K, W/m²K and W/mK; pits hand over 10 to 35 W/m²K (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Body:
    """The least that a piece can be: half its thickness, m, and whether heat comes from all round.

    Attributes
    ----------
    half
        m.
    round
        Whether it is a bar or a ball, not a slab.
    """

    half: float
    round: bool


def doubt(
    times: Array,
    values: Array,
    pit: tuple[Array, Array] | None = None,
    body: Body | None = None,
    on: float | None = None,
) -> str:
    """Return why readings may not be the middle of the meat, in a cook's words; empty where none.

    Parameters
    ----------
    times, values
        What is left of a channel without its leaps, s rising and °C, shape (n,).
    pit
        The pit's readings, s rising and °C, where there are any.
    body
        How thin the piece may be at the least; None where its cut is not known.
    on
        When it went on, s.
    """
    if times.size < 2:
        return ""
    return (
        _by_start(times, values, pit, body, on)
        or (STUCK if _stuck(times, values) else "")
        or _by_stir(times, running_median(values, 3), pit)
        or _by_rise(times, values, pit)
    )


def _by_start(
    times: Array,
    values: Array,
    pit: tuple[Array, Array] | None,
    body: Body | None,
    on: float | None,
) -> str:
    """Return what is odd in how a channel began and climbed; empty where nothing is."""
    if on is not None and body is not None and _too_soon(times, values, body, on, pit):
        return TOO_SOON
    if on is not None and _warm_at_once(times, values, on):
        return WARM_AT_ONCE
    return FAST_FIRST if _fast_first(times, values) else ""


def _by_rise(times: Array, values: Array, pit: tuple[Array, Array] | None) -> str:
    """Return what is odd in how a channel rose, all in all; empty where nothing is."""
    if warms_as_air(times, values):
        return AS_AIR if pit is None else LIKE_AIR
    return SLIPPED if pit is not None and slipped(times, values, pit) else ""


def _by_stir(times: Array, values: Array, pit: tuple[Array, Array] | None) -> str:
    """Return what is odd in how a channel wavers; empty where nothing is."""
    found = [_restless(times, values, span, pit) for span in _SPANS]
    why = UNSTEADY if UNSTEADY in found else next((one for one in found if one), None)
    if why is not None:
        return why
    if values[0] <= SEEN_RAW or values.max() <= _WARM:
        return ""
    later = values[times >= times[0] + _SETTLED]
    climbed = later.size > 0 and float(later.max() - later[0]) >= _CLIMBS
    return "" if climbed and found[-1] is not None else NOT_SEEN


def _restless(
    times: Array, values: Array, span: float, pit: tuple[Array, Array] | None
) -> str | None:
    """Return why windows of a span are not meat; empty where none is, None where there is none."""
    step = max(span / 20, float(np.median(np.diff(times))))
    width = int(span / step)
    grid, level = averaged(times, values, step)
    if width < _FEWEST or grid.size < width:
        return None
    seen = np.lib.stride_tricks.sliding_window_view(level, width)
    warm = seen.max(axis=1) > _WARM
    if not warm.any():
        return ""
    stir = (seen[warm] @ _without_curve(width)) / math.sqrt(1 - 4 / width)
    most = _STRAYS + _BENDS * np.ptp(seen[warm], axis=1)
    if (np.sqrt(np.mean(stir**2, axis=1)) > most).any():
        return UNSTEADY
    return "" if pit is None else _by_pit(grid, level, warm, stir, pit)


def _by_pit(
    grid: Array, level: Array, warm: NDArray[np.bool_], stir: Array, pit: tuple[Array, Array]
) -> str:
    """Return what the pit's own readings say of a channel."""
    width = stir.shape[1]
    if pit[0].size < _FEWEST or pit[0][0] > grid[-1] or pit[0][-1] < grid[0]:
        return ""
    around = np.interp(grid, *averaged(*pit, float(grid[1] - grid[0])))
    windows = np.lib.stride_tricks.sliding_window_view(around, width)
    air = (windows[warm] @ _without_curve(width)) / math.sqrt(1 - 4 / width)
    both = (stir * air).sum(axis=1)
    own, its = (stir**2).sum(axis=1), (air**2).sum(axis=1)
    alike = both > _TOGETHER * np.sqrt(own * its)
    if (alike & (both > _SHARE * its) & (own > width * _STIR**2)).any():
        return WITH_PIT
    above = np.maximum.accumulate(level - around)[: windows.shape[0]][warm] > _ABOVE
    near = np.median(np.abs(level - around)[_places(windows.shape[0], width)][warm], axis=1)
    return AS_PIT if ((near < _LEVEL) & ~above).any() else ""


def _places(count: int, width: int) -> NDArray[np.int64]:
    return np.arange(count)[:, None] + np.arange(width)


@lru_cache(maxsize=8)
def _without_curve(width: int) -> Array:
    """Return what takes a cubic out of so many readings in a row, shape (width, width)."""
    powers = np.vander(np.linspace(-1.0, 1.0, width), 4)
    smooth, _ = np.linalg.qr(powers)
    return np.asarray(np.eye(width) - smooth @ smooth.T)


def _fast_first(times: Array, values: Array) -> bool:
    """Whether a climb from raw was steep at once: the middle of meat waits for its outside.

    Of the time from a tenth to eight tenths of the way to 55 °C a middle takes 0.37 to the
    fourth tenth where it warms all at once, and more where it lags (Incropera & DeWitt, 5.1 and
    5.5); a face takes 0.24, whose rise goes with the root of time (the same, 5.7).
    """
    start = float(values[times <= times[0] + 60.0].min())
    if start > WARMEST_RAW or values.max() < _UP_TO:
        return False
    first, middle, last = (
        _crosses(times, values, start + share * (_UP_TO - start)) for share in _SHARES
    )
    if last - first < 4.0 * float(np.median(np.diff(times))):
        return False
    return (middle - first) < _LAGS * (last - first)


def _crosses(times: Array, values: Array, level: float) -> float:
    place = max(int(np.argmax(values >= level)), 1)
    low, high = values[place - 1], values[place]
    share = 1.0 if high <= low else min(max((level - low) / (high - low), 0.0), 1.0)
    return float(times[place - 1] + share * (times[place] - times[place - 1]))


def _warm_at_once(times: Array, values: Array, on: float) -> bool:
    """Whether the first three minutes were warmer than raw meat: its middle waits for its outside."""
    first = (times >= on) & (times <= on + _AT_ONCE)
    return bool(first.any()) and float(values[first].max()) > _RAW


def was_elsewhere(times: Array, values: Array, kept: float) -> bool:
    """Whether a channel looked like meat for ten minutes, before a leap to what is kept of it.

    Parameters
    ----------
    times, values
        All of a channel since the piece went on, s rising and °C, shape (n,).
    kept
        When what is kept of it begins, s.
    """
    before = (times < kept) & (values <= HOTTEST_FACE)
    times, values = times[before], values[before]
    if times.size < _FEWEST:
        return False
    leaps = np.abs(np.diff(values)) > _LEAP + _PACE * np.diff(times)
    edges = [0, *(np.flatnonzero(leaps) + 1).tolist(), times.size]
    return any(_like_meat(times[a:b], values[a:b]) for a, b in pairwise(edges))


def _like_meat(times: Array, values: Array) -> bool:
    if times.size < _FEWEST or times[-1] - times[0] < _TEN_MINUTES:
        return False
    straight = _without_curve(times.size)
    stir = straight @ running_median(values, 3)
    rose = float(values[-3:].mean() - values[:3].mean())
    return rose > _LAGGED and float(np.sqrt(np.mean(stir**2))) < _STRAYS


def _stuck(times: Array, values: Array) -> bool:
    """Whether a log stood still to its end while warm, longer than a stall does: that creeps."""
    moves = np.abs(np.diff(values))
    some = moves[moves > _SAME]
    fine = not some.size or float(some.min()) <= _FINE
    last = times >= times[-1] - (_STANDS if fine else _STANDS_COARSE)
    if values[-1] <= _WARM or last.all() or last.sum() < _FEWEST:
        return False
    if not fine:
        return float(np.ptp(values[last])) <= _SAME
    step = max(_STEP, float(np.median(np.diff(times))))
    return float(np.ptp(averaged(times[last], values[last], step)[1])) <= _CREEPS


def _too_soon(
    times: Array, values: Array, body: Body, on: float, pit: tuple[Array, Array] | None
) -> bool:
    """Whether a channel was for five minutes hotter than the middle of such a piece can be.

    The most: all of it at 30 °C as it goes on, its faces boiling from then on; or, where the
    pit is known, in air 15 K hotter than that ever was, which hands over heat as fast as any
    without a flame on the meat (common practice, no source).
    """
    since = np.maximum(times - on, 0.0)
    fourier = DIFFUSIVITY * since / body.half**2
    zeta, weight = (2.405, 1.602) if body.round else (math.pi / 2, 4 / math.pi)
    theta = np.minimum(weight * np.exp(-(zeta**2) * fourier), 1.0)  # Incropera & DeWitt, table 5.1
    most = HOTTEST_FACE - (HOTTEST_FACE - WARMEST_RAW) * theta
    if pit is not None and (seen := pit[1][(pit[0] >= on) & (pit[0] <= times[-1])]).size:
        air = max(float(seen.max()) + _NEAR_THE_FIRE, HOTTEST_FACE if seen.size < _FEWEST else 0.0)
        pace = (2.0 if body.round else 1.0) * _FILM / (_CONDUCTS / DIFFUSIVITY * body.half)
        lumped = air - (air - WARMEST_RAW) * np.exp(-pace * since)  # no lag inside: still faster
        most = np.minimum(most, lumped)
    hot = (values > most + _ALLOWED) & (values > _WARM)
    if not hot.any():
        return False
    starts, after = runs_of(hot).T
    return bool((times[after - 1] - times[starts] >= _LASTS).any())
