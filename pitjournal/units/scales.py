"""What can be measured, and in which units the two systems show it."""

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

NOT_RECORDED = "not recorded"

POUND = 453.59237
"""g in an avoirdupois pound (international yard and pound agreement, 1959)."""
OUNCE = POUND / 16
INCH = 0.0254
FOOT = 0.3048
FLUID_OUNCE = 29.5735295625
"""mL in a US fluid ounce: a gallon of 231 cubic inches ÷ 128."""
GALLON = 128 * FLUID_OUNCE


class Dimension(StrEnum):
    """What a number is a quantity of."""

    MASS = "mass"
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature difference"
    TEMPERATURE_RATE = "temperature rate"
    LENGTH = "length"
    ALTITUDE = "altitude"
    DURATION = "duration"
    VOLUME = "volume"
    FRACTION = "fraction"
    MASS_RATE = "mass rate"
    PRICE = "price"
    MONEY = "money"
    SPEED = "speed"
    SCORE = "score"
    COUNT = "count"
    NUMBER = "number"


class UnitSystem(StrEnum):
    """Whose units are shown, and meant by a bare number."""

    US = "us"
    METRIC = "metric"


@dataclass(frozen=True)
class Scale:
    """How a dimension is shown: ``shown = stored × factor + offset``.

    `example` is what may be typed.
    """

    label: str
    factor: float
    digits: int
    example: str
    offset: float = 0.0


_US = {
    Dimension.MASS: Scale("lb", 1 / POUND, 2, "3 lb 4 oz or 1.5 kg"),
    Dimension.TEMPERATURE: Scale("°F", 1.8, 0, "225 °F or 107 °C", 32.0),
    Dimension.TEMPERATURE_DIFFERENCE: Scale("°F", 1.8, 1, "10 °F or 5 °C"),
    Dimension.TEMPERATURE_RATE: Scale("°F in 10 min", 1080.0, 1, "2 °F in 10 min"),
    Dimension.LENGTH: Scale("in", 1 / INCH, 2, "1 1/4 in or 32 mm"),
    Dimension.ALTITUDE: Scale("ft", 1 / FOOT, 0, "850 ft or 260 m"),
    Dimension.DURATION: Scale("min", 1 / 60, 0, "1h40, 1:40 or 100 min"),
    Dimension.VOLUME: Scale("fl oz", 1 / FLUID_OUNCE, 1, "3/4 cup, 6 fl oz or 180 mL"),
    Dimension.FRACTION: Scale("%", 100.0, 1, "9.5 %"),
    Dimension.MASS_RATE: Scale("lb/h", 3600 / POUND, 2, "1.5 lb/h"),
    Dimension.PRICE: Scale("per lb", POUND, 2, "4.99 per lb"),
    Dimension.MONEY: Scale("", 1.0, 2, "42.50"),
    Dimension.SPEED: Scale("mph", 3600 / (5280 * FOOT), 0, "8 mph"),
    Dimension.SCORE: Scale("points", 1.0, 2, "7"),
    Dimension.COUNT: Scale("", 1.0, 1, "3"),
    Dimension.NUMBER: Scale("", 1.0, 2, "1.5"),
}
_METRIC = {
    **_US,
    Dimension.MASS: Scale("kg", 0.001, 2, "1.5 kg or 3 lb 4 oz"),
    Dimension.TEMPERATURE: Scale("°C", 1.0, 1, "107 °C or 225 °F"),
    Dimension.TEMPERATURE_DIFFERENCE: Scale("°C", 1.0, 1, "5 °C or 10 °F"),
    Dimension.TEMPERATURE_RATE: Scale("°C in 10 min", 600.0, 1, "1 °C in 10 min"),
    Dimension.LENGTH: Scale("mm", 1000.0, 0, "32 mm or 1 1/4 in"),
    Dimension.ALTITUDE: Scale("m", 1.0, 0, "260 m or 850 ft"),
    Dimension.VOLUME: Scale("mL", 1.0, 0, "180 mL or 3/4 cup"),
    Dimension.MASS_RATE: Scale("kg/h", 3.6, 2, "0.7 kg/h"),
    Dimension.PRICE: Scale("per kg", 1000.0, 2, "10.90 per kg"),
    Dimension.SPEED: Scale("km/h", 3.6, 0, "12 km/h"),
}


STORED = {
    Dimension.MASS: "g",
    Dimension.TEMPERATURE: "degC",
    Dimension.TEMPERATURE_DIFFERENCE: "K",
    Dimension.TEMPERATURE_RATE: "K/s",
    Dimension.LENGTH: "m",
    Dimension.ALTITUDE: "m",
    Dimension.DURATION: "s",
    Dimension.VOLUME: "mL",
    Dimension.FRACTION: "1",
    Dimension.MASS_RATE: "g/s",
    Dimension.PRICE: "1/g",
    Dimension.MONEY: "1",
    Dimension.SPEED: "m/s",
    Dimension.SCORE: "points",
    Dimension.COUNT: "1",
    Dimension.NUMBER: "1",
}
"""The unit each dimension is stored in, as machine-readable answers name it."""


def difference_of(dimension: Dimension) -> Dimension:
    """Return what a difference between two of a dimension is."""
    if dimension is Dimension.TEMPERATURE:
        return Dimension.TEMPERATURE_DIFFERENCE
    return dimension


def scale(dimension: Dimension, system: UnitSystem) -> Scale:
    """Return how a dimension is shown."""
    return (_US if system is UnitSystem.US else _METRIC)[dimension]


def unit_label(dimension: Dimension, system: UnitSystem) -> str:
    """Return the unit for axis titles and column heads; may be empty."""
    return scale(dimension, system).label


def example(dimension: Dimension, system: UnitSystem) -> str:
    """Return what may be typed, such as ``3 lb 4 oz or 1.5 kg``."""
    return scale(dimension, system).example


V = TypeVar("V", float, "NDArray[np.float64]")


def to_display(value: V, dimension: Dimension, system: UnitSystem) -> V:
    """Return a stored number, or array, in the unit of `unit_label`."""
    shown = scale(dimension, system)
    return value * shown.factor + shown.offset


def from_display(value: V, dimension: Dimension, system: UnitSystem) -> V:
    """Return a number, or array, in the unit of `unit_label` as it is stored."""
    shown = scale(dimension, system)
    return (value - shown.offset) / shown.factor
