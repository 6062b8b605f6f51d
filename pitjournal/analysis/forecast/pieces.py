"""What is not known of a piece and its fire, as an ensemble of what could be."""

import math
from dataclasses import dataclass

import numpy as np

from pitjournal.science.arrays import Array
from pitjournal.science.heat.drying_body import Bodies

DENSITY = 1045.0
"""kg/m³ of raw meat (Choi and Okos 1986, for 70 % water, 20 % protein, 9 % fat, 1 % ash at 20 °C)."""

CONDUCTIVITY = 0.48
"""W/(m K), the same mixture near 50 °C, between along and across the fibres."""

STORE = 3.66e6
"""J/(m³ K), density × specific heat of the same mixture near 50 °C."""

WRAPS = ("foil", "paper", "boat")

SIZE, SPREAD, HEATING, WETNESS, DRIED, SHARP, FOIL, PAPER, BOAT, WRAPPED, PROBE, PIT = range(12)

MEANS: Array = np.array(
    [
        *(math.log(1.12), 0.0, math.log(19.0), math.log(1.05e-8), math.log(4.5), math.log(5.0)),
        *(math.log(0.2), math.log(0.45), math.log(0.75), 0.0, 0.0, 0.0),
    ]
)
"""What is drawn for each member: logarithms, but for the last two.

Size (half thickness ÷ measured), conductivity ÷ usual, heating W/(m² K), wetness kg/(s m² Pa),
dried kg/m², sharpness; evaporation that foil, paper and a boat let through; heating under a wrap ÷
bare; how far from the middle the probe sits; degrees of the pit at the meat above its probe.

Heating of 10 to 30 W/(m² K) is natural convection and radiation at a pit's temperature; a wet face
would evaporate some 6e-8 kg/(s m² Pa) by the analogy of Chilton and Colburn (1934). How much of it
meat gives off, when it has dried and what a wrap keeps in have no source: they were set so that
cooks come out as the trade reports them.
"""

ALIKE: Array = np.array([0.12, 0.05, 0.28, 0.40, 0.50, 0.30, 0.6, 0.45, 0.4, 0.12, 0.0, 3.0])
"""How far cuts, cookers and cooks differ: what all cooks of one cut, cooker and cook share."""

OWN: Array = np.array([0.12, 0.06, 0.20, 0.25, 0.30, 0.15, 0.3, 0.25, 0.2, 0.10, 0.15, 2.5])
"""How far one cook differs from the next of the same kind."""


@dataclass(frozen=True)
class Geometry:
    """Half thickness, m, and how the area grows outward: 0 a wall, 1 a long bar, 2 a ball."""

    half: float
    shape: float


def geometry_of(thickness: float, mass: float | None, form: str) -> Geometry:
    """Return the body that stands for a piece.

    The other two sides follow from the mass, as a box one and a half times as long as wide; a
    side counts by the square of the thickness in it, so that a wall gives 0, a square bar 1 and
    a cube 2.

    Parameters
    ----------
    thickness
        m, at its thickest.
    mass
        g; None where it was not weighed.
    form
        "slab", "box", "cylinder" or "strip", as the catalogue of cuts has it.
    """
    if mass is None:
        return Geometry(thickness / 2.0, {"box": 1.0, "cylinder": 1.0, "strip": 0.7}.get(form, 0.2))
    face = mass / 1000.0 / DENSITY / thickness
    wide = math.sqrt(face / 1.5)
    sides = [max(thickness, wide), max(thickness, 1.5 * wide)]
    shape = sum((thickness / side) ** 2 for side in sides)
    return Geometry(thickness / 2.0, round(min(2.0, max(0.0, shape)), 1))


def bodies_of(drawn: Array, half: float | Array) -> Bodies:
    """Return the bodies of drawn members, shape (b, 12), of a measured half thickness, m."""
    return Bodies(
        half=half * np.exp(drawn[:, SIZE]),
        conductivity=CONDUCTIVITY * np.exp(drawn[:, SPREAD]),
        store=np.full(drawn.shape[0], STORE),
        heating=np.exp(drawn[:, HEATING]),
        wetness=np.exp(drawn[:, WETNESS]),
        dried=np.exp(drawn[:, DRIED]),
        sharpness=np.exp(drawn[:, SHARP]),
    )


def draw(count: int, seed: int, spreads: Array) -> Array:
    """Return departures from independent normals, balanced about nothing, shape (count, n).

    Parameters
    ----------
    count
        How many are drawn.
    seed
        Of the lot.
    spreads
        Standard deviations, shape (n,).
    """
    half = np.random.default_rng(seed).standard_normal((count // 2, spreads.size))
    return spreads * np.concatenate((half, -half))


def let_through(drawn: Array, wrap: str) -> tuple[Array, Array]:
    """Return what a wrap leaves of heating and of evaporation, each shape (b,)."""
    if wrap not in WRAPS:
        ones = np.ones(drawn.shape[0])
        return ones, ones
    column = {"foil": FOIL, "paper": PAPER, "boat": BOAT}[wrap]
    return np.exp(drawn[:, WRAPPED]), np.minimum(1.0, np.exp(drawn[:, column]))
