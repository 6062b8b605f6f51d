"""Where water boils at a height: what a probe should read in a boiling pot."""

from pitjournal.science.heat.evaporation import boiling_point

_EARTH = 6_356_766.0
_SEA_LEVEL_PA = 101_325.0
_SEA_LEVEL_K = 288.15
_LAPSE = 0.0065
_POWER = 9.80665 / (287.05287 * _LAPSE)


def standard_pressure(metres: float) -> float:
    """Return the pressure of the ISO standard atmosphere (ISO 2533), Pa, up to 11 km.

    Weather moves the real one by several hundred Pa; where a barometer gives the station
    pressure (not the one reduced to sea level), use that.

    Parameters
    ----------
    metres
        Height above sea level as maps give it.
    """
    potential = _EARTH * metres / (_EARTH + metres)
    return float(_SEA_LEVEL_PA * (1 - _LAPSE * potential / _SEA_LEVEL_K) ** _POWER)


def boiling_point_at(metres: float) -> float:
    """Return the boiling point of water at a height, °C, in the standard atmosphere."""
    return boiling_point(standard_pressure(metres))
