"""Heat conduction in a piece of meat: series solutions, constant heat transfer, no evaporation.

θ = (T − T around) ÷ (T at first − T around), so θ falls from 1 to 0. Lengths are half
thickness (wall) or radius (cylinder, sphere); Bi = h·L ÷ k and Fo = diffusivity × time ÷ L². A real piece
dries and stalls, so these are guides and bounds, not forecasts.
"""

import math
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import Array

Shape = Literal["wall", "cylinder", "sphere"]

_GONE = 45.0
"""Terms with exp(−45) or less are dropped."""

_MOST_TERMS = 400


def root(number: int, biot: float, shape: Shape = "wall") -> float:
    """Return the n-th root ζ of the transient solution, n from 1.

    Wall ζ tan ζ = Bi; cylinder ζ J1(ζ) = Bi J0(ζ); sphere 1 − ζ cot ζ = Bi.

    Parameters
    ----------
    number
        1 for the first.
    biot
        Above 0; infinite fixes the surface.
    shape
        Of the piece.
    """
    if shape == "wall" and math.isinf(biot):
        return (number - 0.5) * math.pi
    from scipy import optimize, special

    if shape == "wall":
        low, high = (number - 1) * math.pi, (number - 0.5) * math.pi

        def equation(z: float) -> float:
            return z * math.sin(z) - biot * math.cos(z)

    elif shape == "sphere":
        low, high = (number - 1) * math.pi, number * math.pi
        if math.isinf(biot):
            return high

        def equation(z: float) -> float:
            return (1 - biot) * math.sin(z) - z * math.cos(z)

    else:
        zeros = special.jn_zeros(0, number)
        high = float(zeros[-1])
        low = 0.0 if number == 1 else float(special.jn_zeros(1, number - 1)[-1])
        if math.isinf(biot):
            return high

        def equation(z: float) -> float:
            return float(z * special.j1(z) - biot * special.j0(z))

    if shape == "sphere":  # sin vanishes at both ends; step inside
        low, high = low + 1e-9, high - 1e-9
    return float(optimize.brentq(equation, low, high, xtol=1e-15, rtol=1e-15))


def coefficient(zeta: float, shape: Shape = "wall") -> float:
    """Return the coefficient C of a root in the series for the centre."""
    if shape == "wall":
        return 4 * math.sin(zeta) / (2 * zeta + math.sin(2 * zeta))
    if shape == "sphere":
        return 4 * (math.sin(zeta) - zeta * math.cos(zeta)) / (2 * zeta - math.sin(2 * zeta))
    from scipy import special

    j0, j1 = float(special.j0(zeta)), float(special.j1(zeta))
    return 2 * j1 / (zeta * (j0**2 + j1**2))


def _terms(biot: float, fourier: float) -> list[tuple[float, float]]:
    """Return the roots of a wall that still matter, each with its decayed coefficient."""
    kept: list[tuple[float, float]] = []
    for number in range(1, _MOST_TERMS + 1):
        zeta = root(number, biot)
        decay = zeta**2 * fourier
        if kept and decay > _GONE:
            break
        kept.append((zeta, coefficient(zeta) * math.exp(-decay)))
    return kept


def wall_theta(biot: float, fourier: float, place: float = 0.0) -> float:
    """Return θ in a wall heated from both faces.

    Parameters
    ----------
    biot, fourier
        On half thickness.
    place
        0 the middle, 1 the face.
    """
    if fourier <= 0:
        return 1.0
    return sum(weight * math.cos(zeta * place) for zeta, weight in _terms(biot, fourier))


def wall_mean_theta(biot: float, fourier: float) -> float:
    """Return θ averaged over a wall."""
    if fourier <= 0:
        return 1.0
    return sum(weight * math.sin(zeta) / zeta for zeta, weight in _terms(biot, fourier))


def brick_theta(
    biot: float, fourier: float, ratios: ArrayLike, places: ArrayLike | None = None
) -> float:
    """Return θ in a bar or brick as the product of walls.

    Parameters
    ----------
    biot, fourier
        On the first half thickness.
    ratios
        Each half thickness ÷ the first, so the first is 1, shape (2,) or (3,).
    places
        Place along each, 0 the middle and 1 the face; the centre if not given.
    """
    sides: Array = np.asarray(ratios, dtype=np.float64)
    where: Array = np.zeros(sides.size) if places is None else np.asarray(places, np.float64)
    return math.prod(
        wall_theta(biot * float(side), fourier / float(side) ** 2, float(place))
        for side, place in zip(sides, where, strict=True)
    )


def deep_theta(biot_x: float, fourier_x: float) -> float:
    """Return θ at a depth below the face of a piece too thick to feel its other side.

    Parameters
    ----------
    biot_x
        h·x ÷ k; infinite fixes the surface.
    fourier_x
        diffusivity × time ÷ x².
    """
    from scipy import special

    if fourier_x <= 0:
        return 1.0
    depth = 1 / (2 * math.sqrt(fourier_x))
    if math.isinf(biot_x):
        return math.erf(depth)
    carried = math.exp(-(depth**2)) * float(special.erfcx(depth + biot_x * math.sqrt(fourier_x)))
    return math.erf(depth) + carried


def face_theta(biot: float, fourier: float) -> float:
    """Return θ at the face of such a piece; Bi and Fo on any one length."""
    from scipy import special

    return float(special.erfcx(biot * math.sqrt(fourier)))


def time_to_theta(theta: float, biot: float) -> float | None:
    """Return the Fo at which the middle of a wall reaches θ; None unless 0 < θ < 1."""
    from scipy import optimize

    if not 0 < theta < 1:
        return None
    high = 1.0
    while wall_theta(biot, high) > theta:
        high *= 2
    return float(optimize.brentq(lambda fo: wall_theta(biot, fo) - theta, 1e-4, high, xtol=1e-12))
