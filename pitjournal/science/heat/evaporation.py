"""Water: how hard it evaporates, and how cool a wet surface stays in a hot pit.

Saturation from Wagner and Pruß (1993), J. Phys. Chem. Ref. Data 22, 783-787, in equations
of the ITS-90 scale; wet bulb from the balance of the ASHRAE Handbook of Fundamentals.
"""

import math

_CRITICAL_K = 647.096
_CRITICAL_PA = 22.064e6
_CRITICAL_DENSITY = 322.0
_FREEZING_K = 273.15
_PRESSURE = (
    (1.0, -7.85951783),
    (1.5, 1.84408259),
    (3.0, -11.7866497),
    (3.5, 22.6807411),
    (4.0, -15.9618719),
    (7.5, 1.80122502),
)
_LIQUID = (
    (1 / 3, 1.99274064),
    (2 / 3, 1.09965342),
    (5 / 3, -0.510839303),
    (16 / 3, -1.75493479),
    (43 / 3, -45.5170352),
    (110 / 3, -6.74694450e5),
)
_VAPOUR = (
    (2 / 6, -2.03150240),
    (4 / 6, -2.68302940),
    (8 / 6, -5.38626492),
    (18 / 6, -17.2991605),
    (37 / 6, -44.7586581),
    (71 / 6, -63.9201063),
)
_WATER_TO_AIR = 0.621945
"""Molar mass of water ÷ that of dry air (ASHRAE)."""


def _nearness(celsius: float) -> float:
    return 1 - (celsius + _FREEZING_K) / _CRITICAL_K


def saturation_pressure(celsius: float) -> float:
    """Return the vapour pressure of water, Pa, from 0 to 370 °C."""
    tau = _nearness(celsius)
    total = sum(factor * tau**power for power, factor in _PRESSURE)
    return float(_CRITICAL_PA * math.exp(total / (1 - tau)))


def boiling_point(pressure: float) -> float:
    """Return the temperature, °C, at which water boils under a pressure, Pa.

    Raises
    ------
    ValueError
        Outside 620 Pa to 20 MPa.
    """
    from scipy import optimize

    if not 620 <= pressure <= 20e6:
        raise ValueError(f"{pressure:g} Pa is outside the table of boiling water")
    return float(
        optimize.brentq(
            lambda t: math.log(saturation_pressure(t) / pressure), 0.0, 368.0, xtol=1e-12
        )
    )


def latent_heat(celsius: float) -> float:
    """Return the heat that evaporates water at its saturation, J/kg, from 0 to 350 °C.

    Clapeyron's relation between the slope of the vapour pressure and the two densities.
    """
    tau = _nearness(celsius)
    total = sum(factor * tau**power for power, factor in _PRESSURE)
    steep = sum(power * factor * tau ** (power - 1) for power, factor in _PRESSURE)
    slope = -saturation_pressure(celsius) / (celsius + _FREEZING_K) * (steep + total / (1 - tau))
    liquid = _CRITICAL_DENSITY * (1 + sum(factor * tau**power for power, factor in _LIQUID))
    vapour = _CRITICAL_DENSITY * math.exp(sum(factor * tau**power for power, factor in _VAPOUR))
    return float((celsius + _FREEZING_K) * (1 / vapour - 1 / liquid) * slope)


def humidity_ratio(vapour_pressure: float, pressure: float) -> float:
    """Return kg of water a kg of dry air, from the vapour pressure and the whole one, Pa."""
    return _WATER_TO_AIR * vapour_pressure / (pressure - vapour_pressure)


def vapour_pressure(ratio: float, pressure: float) -> float:
    """Return the vapour pressure, Pa, from kg of water a kg of dry air and the whole pressure."""
    return pressure * ratio / (_WATER_TO_AIR + ratio)


def dew_point(ratio: float, pressure: float) -> float | None:
    """Return the dew point, °C; None below freezing, where this table ends.

    Parameters
    ----------
    ratio
        kg of water a kg of dry air.
    pressure
        Pa.
    """
    partial = vapour_pressure(ratio, pressure)
    return boiling_point(partial) if partial >= 620 else None


def wet_bulb(celsius: float, ratio: float, pressure: float) -> float | None:
    """Return the wet-bulb temperature, °C: a lower guide for a wet surface in still heat.

    Radiation from the fire makes a real surface warmer. The search stays below boiling, where
    the balance has its only sensible answer.

    Parameters
    ----------
    celsius
        Air temperature.
    ratio
        kg of water a kg of dry air; relative humidity is useless at pit temperature.
    pressure
        Pa at the place, not reduced to sea level.

    Returns
    -------
    float or None
        None where the surface would be at freezing or below, or the air is not so hot as
        the dew point.
    """
    from scipy import optimize

    def short(t: float) -> float:
        full = humidity_ratio(saturation_pressure(t), pressure)
        balance = (2501 - 2.326 * t) * full - 1.006 * (celsius - t)
        return balance / (2501 + 1.86 * celsius - 4.186 * t) - ratio

    top = min(celsius, boiling_point(pressure) - 1e-6)
    if short(0.0) >= 0 or short(top) < -1e-12:
        return None
    if short(top) <= 0:
        return top
    return float(optimize.brentq(short, 0.0, top, xtol=1e-11))
