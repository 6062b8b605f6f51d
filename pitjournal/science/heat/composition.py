"""Thermal properties of food from what it is made of (Choi and Okos 1986).

Each property of a component is a + b·T + c·T², T in °C, above freezing to 150 °C. The constant
of the specific heat of water is the 4176.2 of the 1986 table; later handbooks print 4128.9.
"""

from collections.abc import Mapping
from dataclasses import dataclass

Polynomial = tuple[float, float, float]

CONDUCTIVITY: Mapping[str, Polynomial] = {
    "water": (0.57109, 1.7625e-3, -6.7036e-6),
    "protein": (0.17881, 1.1958e-3, -2.7178e-6),
    "fat": (0.18071, -2.7604e-4, -1.7749e-7),
    "carbohydrate": (0.20141, 1.3874e-3, -4.3312e-6),
    "fibre": (0.18331, 1.2497e-3, -3.1683e-6),
    "ash": (0.32962, 1.4011e-3, -2.9069e-6),
}
"""W/(m K)."""

DENSITY: Mapping[str, Polynomial] = {
    "water": (997.18, 3.1439e-3, -3.7574e-3),
    "protein": (1329.9, -0.51840, 0.0),
    "fat": (925.59, -0.41757, 0.0),
    "carbohydrate": (1599.1, -0.31046, 0.0),
    "fibre": (1311.5, -0.36589, 0.0),
    "ash": (2423.8, -0.28063, 0.0),
}
"""kg/m³."""

SPECIFIC_HEAT: Mapping[str, Polynomial] = {
    "water": (4176.2, -9.0864e-2, 5.4731e-3),
    "protein": (2008.2, 1.2089, -1.3129e-3),
    "fat": (1984.2, 1.4733, -4.8008e-3),
    "carbohydrate": (1548.8, 1.9625, -5.9399e-3),
    "fibre": (1845.9, 1.8306, -4.6509e-3),
    "ash": (1092.6, 1.8896, -3.6817e-3),
}
"""J/(kg K)."""


@dataclass(frozen=True)
class ThermalProperties:
    """Of a mixture at one temperature.

    Attributes
    ----------
    density
        kg/m³.
    specific_heat
        J/(kg K).
    conductivity, conductivity_across
        W/(m K), the components side by side, and one behind another: the two bounds.
    diffusivity, diffusivity_across
        m²/s, from each.
    """

    density: float
    specific_heat: float
    conductivity: float
    conductivity_across: float
    diffusivity: float
    diffusivity_across: float


def _at(polynomial: Polynomial, celsius: float) -> float:
    a, b, c = polynomial
    return a + b * celsius + c * celsius**2


def thermal_properties(shares: Mapping[str, float], celsius: float) -> ThermalProperties | None:
    """Return the properties of a food.

    Parameters
    ----------
    shares
        Mass of each component ("water", "protein", "fat", "carbohydrate", "fibre", "ash"),
        in any one unit; they are brought to a sum of 1, which analyses seldom reach.
    celsius
        0 to 150 °C.

    Returns
    -------
    ThermalProperties or None
        None when the shares add to nothing.

    Raises
    ------
    ValueError
        For a component without published properties.
    """
    unknown = set(shares) - set(DENSITY)
    if unknown:
        raise ValueError(f"no thermal properties of {', '.join(sorted(unknown))}")
    whole = sum(shares.values())
    if not whole > 0:
        return None
    mass = {name: share / whole for name, share in shares.items() if share > 0}
    density = 1 / sum(share / _at(DENSITY[name], celsius) for name, share in mass.items())
    heat = sum(share * _at(SPECIFIC_HEAT[name], celsius) for name, share in mass.items())
    volume = {name: share * density / _at(DENSITY[name], celsius) for name, share in mass.items()}
    along = sum(part * _at(CONDUCTIVITY[name], celsius) for name, part in volume.items())
    across = 1 / sum(part / _at(CONDUCTIVITY[name], celsius) for name, part in volume.items())
    store = density * heat
    return ThermalProperties(density, heat, along, across, along / store, across / store)
