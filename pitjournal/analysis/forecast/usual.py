"""How long a piece like this usually takes to each mark: by one's own past cooks, else the trade's.

The logarithms of the minutes are put to this piece by a ridge regression on its thickness, its mass,
the pit above the stall and whether it was wrapped by then, with slopes held near those that heat
conduction gives, so that three cooks are enough and a cook that was odd does not turn it round.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.forecast.asked import FEWEST, MARKS, ForecastAsked, PastCook
from pitjournal.analysis.forecast.pieces import geometry_of
from pitjournal.science.arrays import Array

SLOPES: Array = np.array(
    [
        [1.0, 0.15, -0.9, 0.0],
        [0.8, 0.15, -1.1, -0.15],
        [0.6, 0.15, -1.3, -0.3],
        [0.6, 0.15, -1.4, -0.3],
    ]
)
"""How a time grows with thickness, mass, pit above 65 °C (powers) and a wrap (logarithm), by mark.

The power of thickness falls from what conduction has (up to 2, and 1 with a resistant face) as the
drying of the face takes over. No source: near what simulated cooks show, and corrected by one's own.
"""

SPREADS: Array = np.array([0.35, 0.15, 0.4, 0.2])
ODD = 0.08
"""How far one cook is from the next at least, where few tell: in logarithms, as two cooks' worth."""

TRADE: Array = np.array(
    [[5.05, 0.55, 0.0], [5.60, 0.50, -0.15], [6.25, 0.45, -0.3], [6.33, 0.45, -0.3]],
)
"""Without past cooks: logarithm of minutes at 60 mm and 50 °C above 65, by shape, and a wrap."""

UNTOLD = 0.25
"""How far cooks are from what the trade has, in logarithms."""


@dataclass(frozen=True)
class Usual:
    """What is to be expected.

    Attributes
    ----------
    minutes
        To each of the marks, shape (4,), rising.
    spread
        How far a cook is from that, in logarithms.
    cooks
        How many told it; none where it is the trade's.
    wrapped
        The chance that it is wrapped before the end, for what is known now.
    habit
        The share of past cooks that were wrapped, when (logarithm of minutes) and mostly in what.
    wrap_at, wrap_apart
        The logarithm of the minutes, and its spread; None and nothing without such cooks.
    """

    minutes: Array
    spread: float
    cooks: int
    wrapped: float
    habit: float
    wrap_at: float | None
    wrap_apart: float
    wrap: str

    def until(self, celsius: float, cold: float) -> float:
        """Return the minutes that it usually takes to a temperature from a cold start, °C."""
        if celsius < MARKS[0]:
            return float(self.minutes[0]) * _before(celsius, cold)
        if celsius <= MARKS[-1]:
            return float(np.interp(celsius, MARKS, self.minutes))
        pace = float(self.minutes[3] - self.minutes[2]) / (MARKS[3] - MARKS[2])
        return float(self.minutes[3]) + pace * (celsius - MARKS[3])


FACE = 82.0
"""What a face comes to while the middle warms to 60 °C, °C."""


def _before(celsius: float, cold: float) -> float:
    """Return the share of the time to the first mark: a lag, then the first mode's decay."""
    if celsius <= cold + 1.0:
        return 0.1
    whole = math.log((FACE - cold) / (FACE - MARKS[0]))
    return 0.14 + 0.86 * math.log((FACE - cold) / (FACE - celsius)) / whole


def usual_of(asked: ForecastAsked, set_point: float) -> Usual:
    """Return what is to be expected of a cook; `set_point` in °C."""
    told = [cook for cook in asked.past if cook.marks]
    habits = [c for c in told if c.wrap_at is not None and c.wrap not in {"", "none"}]
    kinds = [cook.wrap for cook in habits]
    at = [math.log(max(cook.wrap_at or 1.0, 1.0)) for cook in habits]
    share = len(habits) / len(told) if told else 0.0
    chance = _chance(asked, share, len(told), at)
    own = len(told) >= FEWEST
    minutes, spread = (
        _own(asked, told, set_point, chance) if own else (_trade(asked, set_point, chance), UNTOLD)
    )
    return Usual(
        np.maximum.accumulate(minutes * np.array([1.0, 1.0001, 1.0002, 1.0003])),
        spread,
        len(told) if own else 0,
        chance,
        share,
        float(np.mean(at)) if at else None,
        float(np.std(at)) if at else 0.0,
        max(sorted(set(kinds)), key=kinds.count) if kinds else "",
    )


@dataclass(frozen=True)
class SinceWrap:
    """What past cooks took from the wrap to a target: the mean of the logarithm of minutes.

    `celsius` is how warm they were on average when they were wrapped.
    """

    log_minutes: float
    celsius: float


def since_wrap(asked: ForecastAsked, target: float) -> SinceWrap | None:
    """Return what past cooks took from the wrap to a target, those in the same wrap if enough."""
    now = asked.wrapped
    told = [
        (cook, at - cook.wrap_at, cook.celsius_at(cook.wrap_at))
        for cook in asked.past
        if cook.wrap_at is not None
        and (at := cook.until(target)) is not None
        and cook.wrapped_by(at - 1.0)
    ]
    same = [one for one in told if now is not None and one[0].wrap == now.wrap]
    told = same if len(same) >= FEWEST else told
    if len(told) < FEWEST:
        return None
    logs = [math.log(minutes) for _, minutes, _ in told]
    return SinceWrap(float(np.mean(logs)), float(np.mean([celsius for *_, celsius in told])))


def _chance(asked: ForecastAsked, share: float, count: int, at: Sequence[float]) -> float:
    """Return the chance that it is wrapped: it falls as the time goes by at which one does it."""
    if asked.wrapped is not None or (asked.wrapping is not None and asked.wrapping.at > asked.now):
        return 1.0
    if asked.wrapping is not None or not at:
        return 0.0 if asked.wrapping is not None else 0.5 / (count + 1.0)
    spread = max(float(np.std(at)), 0.1) + 0.05
    score = (math.log(max(asked.now / 60.0, 1.0)) - float(np.mean(at))) / spread
    still = 0.5 * math.erfc(score / math.sqrt(2.0))
    prior = (share * count + 0.5) / (count + 1.0)
    return prior * still / (prior * still + 1.0 - prior)


def _trade(asked: ForecastAsked, set_point: float, chance: float) -> Array:
    shape = geometry_of(asked.thickness, asked.mass, asked.form).shape
    thick = math.log(asked.thickness / 0.060)
    warm = math.log(max(set_point - 65.0, 5.0) / 50.0)
    base = TRADE[:, 0] - TRADE[:, 1] * shape + TRADE[:, 2] * chance
    found: Array = np.exp(base + (SLOPES[:, 0] + 3 * SLOPES[:, 1]) * thick + SLOPES[:, 2] * warm)
    return found


def _own(
    asked: ForecastAsked, told: Sequence[PastCook], set_point: float, chance: float
) -> tuple[Array, float]:
    """Return the minutes to each mark by past cooks, and their spread at the last that is known."""
    guess = _trade(asked, set_point, chance)
    masses = [cook.mass for cook in told if cook.mass] + ([asked.mass] if asked.mass else [])
    middle = float(np.median(masses)) if masses else 1.0
    places: list[int] = []
    beside: list[float] = []
    spread = UNTOLD
    for place, mark in enumerate(MARKS):
        rows = [(cook, dict(cook.marks)[mark]) for cook in told if mark in dict(cook.marks)]
        if len(rows) < FEWEST:
            continue
        x = np.array([_piece(c, c.wrapped_by(at), middle) for c, at in rows])
        y = np.log(np.array([max(at, 1.0) for _, at in rows]))
        wrapped = chance if asked.wrapping is not None else chance * _by_then(rows)
        here = _numbers(asked.thickness, asked.mass or middle, set_point, wrapped)
        found = ridge(x, y, np.array(here), SLOPES[place], SPREADS)
        spread = found.spread
        places.append(place)
        beside.append(found.value - math.log(guess[place]))
    if not places:
        return guess, spread
    # A mark that past cooks do not tell lies beside the trade's as those around it do.
    return guess * np.exp(np.interp(np.arange(len(MARKS)), places, beside)), spread


def _by_then(rows: Sequence[tuple[PastCook, float]]) -> float:
    """Return the share of cooks that were wrapped at all which were when they came to a mark."""
    habits = [(c, at) for c, at in rows if c.wrap not in {"", "none"} and c.wrap_at is not None]
    return sum(c.wrapped_by(at) for c, at in habits) / len(habits) if habits else 0.0


def _piece(cook: PastCook, wrapped: bool, middle: float) -> tuple[float, float, float, float]:
    return _numbers(cook.thickness, cook.mass or middle, cook.set_point, float(wrapped))


def _numbers(
    thickness: float, mass: float, set_point: float, wrapped: float
) -> tuple[float, float, float, float]:
    warm = math.log(max(set_point - 65.0, 5.0))
    return math.log(max(thickness, 1e-3)), math.log(max(mass, 1.0)), warm, wrapped


@dataclass(frozen=True)
class Expected:
    """What a ridge expects of a cook: the value, how far a cook is from it, and the slopes.

    `taken` is the freedom that the slopes took, `farther` by what the variance of one cook is
    multiplied for this one: 1 + 1/n among those that tell, more beyond them.
    """

    value: float
    spread: float
    slopes: Array
    taken: float
    farther: float


def ridge(x: Array, y: Array, here: Array, slopes: Array, held: Array) -> Expected:
    """Return the value expected here, and how far a cook is from it.

    The spread is that of a cook to come (any textbook of regression): what is left over, with the
    freedom that the slopes took counted off, and the more the farther this cook lies from those
    that tell, for there the slopes' own error counts.

    Parameters
    ----------
    x, y
        Of the cooks that tell, shapes (n, k) and (n,).
    here
        Of the cook asked about, shape (k,).
    slopes, held
        What slopes are expected to be, and how closely, shape (k,).
    """
    centre_x, centre_y = x.mean(axis=0), float(y.mean())
    apart, away = x - centre_x, here - centre_x
    rest = y - centre_y - apart @ slopes
    noise = max(float(np.var(rest, ddof=1)), 0.03**2)
    inner = apart.T @ apart
    solved = np.linalg.solve(
        inner + np.diag(noise / held**2), np.column_stack((apart.T @ rest, away, inner))
    )
    slopes = slopes + solved[:, 0]
    left = y - centre_y - apart @ slopes
    taken = float(np.trace(solved[:, 2:]))
    variance = (float(left @ left) + 2.0 * ODD**2) / (y.size + 1.0 - taken)
    farther = 1.0 + 1.0 / y.size + float(away @ solved[:, 1])
    value = centre_y + float(away @ slopes)
    return Expected(value, math.sqrt(variance * farther), slopes, taken, farther)
