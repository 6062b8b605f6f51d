"""Can tasters tell two samples apart at all: triangle, duo–trio and their kin."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from pitjournal.science.binomial import proportion_interval, upper_tail


class DifferenceTest(StrEnum):
    """Ways of asking; the value is the name in the sensory standards."""

    TRIANGLE = "triangle"
    DUO_TRIO = "duo–trio"
    TWO_AFC = "2-AFC"
    THREE_AFC = "3-AFC"
    TETRAD = "tetrad"


CHANCE = {
    DifferenceTest.TRIANGLE: 1 / 3,
    DifferenceTest.DUO_TRIO: 1 / 2,
    DifferenceTest.TWO_AFC: 1 / 2,
    DifferenceTest.THREE_AFC: 1 / 3,
    DifferenceTest.TETRAD: 1 / 3,
}
"""Share right by guessing."""

_FARTHEST = 20.0
"""d-prime beyond which every answer is right to all digits."""


@dataclass(frozen=True)
class Discrimination:
    """What a discrimination test found.

    Attributes
    ----------
    correct, n
        So many right of so many.
    p
        Exact one-sided binomial p value against guessing.
    critical
        Fewest right answers that are significant at the level asked; None if no number is.
    discriminators
        Share of tasters who truly tell, beyond guessing, at least 0.
    d_prime, d_low, d_high
        Distance between the samples in standard deviations of perception, with the interval
        that the exact interval of the share gives; infinite when everyone is right.
    d_se
        Standard error by the delta method; None at chance or below, and at all right.
    """

    correct: int
    n: int
    p: float
    critical: int | None
    discriminators: float
    d_prime: float
    d_low: float
    d_high: float
    d_se: float | None


def critical_number(n: int, chance: float, alpha: float = 0.05) -> int | None:
    """Return the fewest right answers of n that guessing reaches with chance ≤ alpha.

    Parameters
    ----------
    n
        Independent answers; one taster's repeats are not independent.
    chance
        Share right by guessing.
    alpha
        One-sided level.

    Returns
    -------
    int or None
        None when even n of n is not enough.
    """
    from scipy import stats

    if n < 1:
        return None
    number = max(0, int(stats.binom.isf(alpha, n, chance)))
    while upper_tail(number, n, chance) > alpha * (1 + 1e-12):
        number += 1
    while number > 0 and upper_tail(number - 1, n, chance) <= alpha * (1 + 1e-12):
        number -= 1
    return number if number <= n else None


def _normal(z: float) -> float:
    """Return the normal distribution function."""
    return math.erfc(-z / math.sqrt(2)) / 2


def _density(z: float) -> float:
    return math.exp(-z * z / 2) / math.sqrt(2 * math.pi)


def _integral(function: Callable[[float], float], low: float, high: float) -> float:
    from scipy import integrate

    return float(integrate.quad(function, low, high, epsabs=1e-12, epsrel=1e-12, limit=200)[0])


def _triangle(d: float) -> float:
    shift = d * math.sqrt(2 / 3)

    def inner(z: float) -> float:
        far = z * math.sqrt(3)
        return (_normal(shift - far) + _normal(-shift - far)) * _density(z)

    return 2 * _integral(inner, 0.0, 9.0)


def _duo_trio(d: float) -> float:
    near, far = _normal(d / math.sqrt(2)), _normal(d / math.sqrt(6))
    return 1 - near - far + 2 * near * far


def _two_afc(d: float) -> float:
    return _normal(d / math.sqrt(2))


def _three_afc(d: float) -> float:
    return _integral(lambda z: _density(z - d) * _normal(z) ** 2, d - 9.0, d + 9.0)


def _tetrad(d: float) -> float:
    def inner(z: float) -> float:
        other = _normal(z - d)
        return _density(z) * (2 * _normal(z) * other - other**2)

    return 1 - 2 * _integral(inner, -9.0, 9.0)


_CURVES: dict[DifferenceTest, Callable[[float], float]] = {
    DifferenceTest.TRIANGLE: _triangle,
    DifferenceTest.DUO_TRIO: _duo_trio,
    DifferenceTest.TWO_AFC: _two_afc,
    DifferenceTest.THREE_AFC: _three_afc,
    DifferenceTest.TETRAD: _tetrad,
}


def d_prime_of(share: float, test: DifferenceTest) -> float:
    """Return the distance that gives this share of right answers; 0 at chance or below.

    Infinite when all are right.
    """
    if share <= CHANCE[test]:
        return 0.0
    if share >= 1:
        return math.inf
    from scipy import optimize

    curve = _CURVES[test]
    if share >= curve(_FARTHEST):
        return math.inf
    return float(optimize.brentq(lambda d: curve(d) - share, 0.0, _FARTHEST, xtol=1e-11))


def discriminate(
    correct: int, n: int, test: DifferenceTest, *, alpha: float = 0.05, confidence: float = 0.95
) -> Discrimination | None:
    """Return what so many right answers say.

    Parameters
    ----------
    correct, n
        Right answers of all; each from another taster.
    test
        The way of asking.
    alpha
        One-sided level of the critical number.
    confidence
        Of the interval of d-prime.

    Returns
    -------
    Discrimination or None
        None without answers.
    """
    interval = proportion_interval(correct, n, confidence)
    if interval is None:
        return None
    chance, share = CHANCE[test], correct / n
    d = d_prime_of(share, test)
    return Discrimination(
        correct,
        n,
        upper_tail(correct, n, chance),
        critical_number(n, chance, alpha),
        max(0.0, (share - chance) / (1 - chance)),
        d,
        d_prime_of(interval[0], test),
        d_prime_of(interval[1], test),
        _standard_error(d, share, n, test),
    )


def _standard_error(d: float, share: float, n: int, test: DifferenceTest) -> float | None:
    if not 0 < d < math.inf:
        return None
    step = min(1e-3, d / 2)
    curve = _CURVES[test]
    slope = (curve(d + step) - curve(d - step)) / (2 * step)
    return math.sqrt(share * (1 - share) / n) / slope
