"""Quantities as a cook types and reads them, and as the journal stores them.

Stored: g, °C, K (a difference), K/s, m, s, mL, fraction, g/s, money per g, m/s.
Pint reads what is typed and is imported then; showing needs plain factors only.
"""

import math
import re
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, TypeVar

from pitjournal.errors import JournalError

if TYPE_CHECKING:
    import numpy as np
    import pint
    from numpy.typing import NDArray

NOT_RECORDED = "not recorded"
MINUS = "−"

POUND = 453.59237
"""g in an avoirdupois pound (international yard and pound agreement, 1959)."""
OUNCE = POUND / 16
INCH = 0.0254
FOOT = 0.3048


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
class _Shown:
    """How a dimension is shown: ``shown = stored × factor + offset``.

    `pint` is the unit's name for Pint; empty where a bare number is all there is.
    """

    label: str
    factor: float
    digits: int
    example: str
    pint: str = ""
    offset: float = 0.0


_US = {
    Dimension.MASS: _Shown("lb", 1 / POUND, 2, "3 lb 4 oz or 1.5 kg", "pound"),
    Dimension.TEMPERATURE: _Shown("°F", 1.8, 0, "225 °F or 107 °C", "degF", 32.0),
    Dimension.TEMPERATURE_DIFFERENCE: _Shown("°F", 1.8, 1, "10 °F", "delta_degF"),
    Dimension.TEMPERATURE_RATE: _Shown(
        "°F in 10 min", 1080.0, 1, "2 °F in 10 min", "delta_degF / (600 * second)"
    ),
    Dimension.LENGTH: _Shown("in", 1 / INCH, 2, "1 1/4 in or 32 mm", "inch"),
    Dimension.ALTITUDE: _Shown("ft", 1 / FOOT, 0, "850 ft or 260 m", "foot"),
    Dimension.DURATION: _Shown("min", 1 / 60, 0, "1h40, 1:40 or 100 min", "minute"),
    Dimension.VOLUME: _Shown("fl oz", 1 / 29.5735295625, 1, "3/4 cup or 180 mL", "fluid_ounce"),
    Dimension.FRACTION: _Shown("%", 100.0, 1, "9.5 %", "percent"),
    Dimension.MASS_RATE: _Shown("lb/h", 3600 / POUND, 2, "1.5 lb/h", "pound / hour"),
    Dimension.PRICE: _Shown("per lb", POUND, 2, "4.99"),
    Dimension.MONEY: _Shown("", 1.0, 2, "42.50"),
    Dimension.SPEED: _Shown("mph", 3600 / (5280 * FOOT), 0, "8 mph", "mile / hour"),
    Dimension.SCORE: _Shown("points", 1.0, 1, "7"),
    Dimension.COUNT: _Shown("", 1.0, 1, "3"),
    Dimension.NUMBER: _Shown("", 1.0, 2, "1.5"),
}
_METRIC = {
    **_US,
    Dimension.MASS: _Shown("kg", 0.001, 2, "1.5 kg or 3 lb 4 oz", "kilogram"),
    Dimension.TEMPERATURE: _Shown("°C", 1.0, 1, "107 °C or 225 °F", "degC"),
    Dimension.TEMPERATURE_DIFFERENCE: _Shown("°C", 1.0, 1, "5 °C", "delta_degC"),
    Dimension.TEMPERATURE_RATE: _Shown(
        "°C in 10 min", 600.0, 1, "1 °C in 10 min", "delta_degC / (600 * second)"
    ),
    Dimension.LENGTH: _Shown("mm", 1000.0, 0, "32 mm or 1 1/4 in", "millimeter"),
    Dimension.ALTITUDE: _Shown("m", 1.0, 0, "260 m or 850 ft", "meter"),
    Dimension.VOLUME: _Shown("mL", 1.0, 0, "180 mL or 3/4 cup", "milliliter"),
    Dimension.MASS_RATE: _Shown("kg/h", 3.6, 2, "0.7 kg/h", "kilogram / hour"),
    Dimension.PRICE: _Shown("per kg", 1000.0, 2, "10.90"),
    Dimension.SPEED: _Shown("km/h", 3.6, 0, "12 km/h", "kilometer / hour"),
}
_STORED = {
    Dimension.MASS: "gram",
    Dimension.TEMPERATURE: "degC",
    Dimension.TEMPERATURE_DIFFERENCE: "delta_degC",
    Dimension.TEMPERATURE_RATE: "delta_degC / second",
    Dimension.LENGTH: "meter",
    Dimension.ALTITUDE: "meter",
    Dimension.DURATION: "second",
    Dimension.VOLUME: "milliliter",
    Dimension.FRACTION: "dimensionless",
    Dimension.MASS_RATE: "gram / second",
    Dimension.SPEED: "meter / second",
}


def _shown(dimension: Dimension, system: UnitSystem) -> _Shown:
    return (_US if system is UnitSystem.US else _METRIC)[dimension]


def unit_label(dimension: Dimension, system: UnitSystem) -> str:
    """Return the unit for axis titles and column heads; may be empty."""
    return _shown(dimension, system).label


def example(dimension: Dimension, system: UnitSystem) -> str:
    """Return what may be typed, such as ``3 lb 4 oz or 1.5 kg``."""
    return _shown(dimension, system).example


V = TypeVar("V", float, "NDArray[np.float64]")


def to_display(value: V, dimension: Dimension, system: UnitSystem) -> V:
    """Return a stored number, or array, in the unit of `unit_label`."""
    shown = _shown(dimension, system)
    return value * shown.factor + shown.offset


def from_display(value: V, dimension: Dimension, system: UnitSystem) -> V:
    """Return a number, or array, in the unit of `unit_label` as it is stored."""
    shown = _shown(dimension, system)
    return (value - shown.offset) / shown.factor


# showing


def show(
    value: float | None,
    dimension: Dimension,
    system: UnitSystem,
    *,
    with_unit: bool = True,
    signed: bool = False,
) -> str:
    """Return a stored number in a cook's words.

    None is "not recorded", never 0. `signed` adds + or −. Durations read as ``1 h 40 min``,
    US weights as ``3 lb 4 oz``.
    """
    if value is None or not math.isfinite(value):
        return NOT_RECORDED
    if dimension is Dimension.DURATION and with_unit:
        words = _duration(abs(value))
    elif dimension is Dimension.MASS and with_unit:
        words = _mass(abs(value), system)
    else:
        return _plain(value, dimension, system, with_unit=with_unit, signed=signed)
    zero = not any(digit in words for digit in "123456789")
    sign = "" if zero else (MINUS if value < 0 else "+" * signed)
    return sign + words


def _plain(
    value: float, dimension: Dimension, system: UnitSystem, *, with_unit: bool, signed: bool
) -> str:
    shown = _shown(dimension, system)
    number = to_display(value, dimension, system)
    text = f"{abs(number):.{shown.digits}f}"
    if dimension in {Dimension.SCORE, Dimension.COUNT, Dimension.NUMBER}:
        text = text.rstrip("0").rstrip(".") if "." in text else text
    zero = not any(digit in text for digit in "123456789")
    sign = "" if zero else (MINUS if number < 0 else "+" * signed)
    return sign + text + (f" {shown.label}" if with_unit and shown.label else "")


def _duration(seconds: float) -> str:
    if seconds < 60:
        return f"{seconds:.0f} s" if seconds else "0 min"
    hours, minutes = divmod(round(seconds / 60), 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def _mass(grams: float, system: UnitSystem) -> str:
    if system is UnitSystem.METRIC:
        return f"{grams / 1000:.2f} kg" if grams >= 999.5 else _few(grams, "g")
    if grams < POUND - OUNCE / 20:
        return f"{grams / OUNCE:.1f} oz"
    pounds, ounces = divmod(round(grams / OUNCE, 1), 16)
    return f"{pounds:.0f} lb" if ounces < 0.05 else f"{pounds:.0f} lb {_trim(ounces)} oz"


def _few(number: float, unit: str) -> str:
    return f"{number:.0f} {unit}" if number >= 10 else f"{_trim(round(number, 1))} {unit}"


def _trim(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")


# reading

_VULGAR = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3", "⅛": " 1/8"}
_NUMBER = r"[-+]?\d+(?:[.,]\d+)?"
_POUNDS = re.compile(
    rf"^({_NUMBER})\s*(?:lbs?|pounds?|#)\s*({_NUMBER})\s*(?:oz|ounces?)$", re.IGNORECASE
)
_HOURS = re.compile(
    rf"^({_NUMBER})\s*(?:h|hr|hrs|hours?)\s*(?:(\d+)\s*(?:m|min|mins|minutes?)?)?$", re.IGNORECASE
)
_CLOCK = re.compile(r"^(\d+):([0-5]\d)(?::([0-5]\d))?$")
_MIXED = re.compile(r"^([-+]?)(?:(\d+)[\s-]+)?(\d+)\s*/\s*(\d+)\s*(.*)$")
_PLAIN = re.compile(rf"^({_NUMBER})\s*(.*)$")
_IN_TEN = re.compile(r"^(.*?)\s*(?:in|per|/)\s*10\s*min(?:utes)?$", re.IGNORECASE)

_NAMES = {
    "f": "degF",
    "°f": "degF",
    "degf": "degF",
    "deg f": "degF",
    "c": "degC",
    "°c": "degC",
    "degc": "degC",
    "deg c": "degC",
    "°": "",
    "k": "kelvin",
    '"': "inch",
    "in": "inch",
    "in.": "inch",
    "'": "foot",
    "#": "pound",
    "lbs": "pound",
    "min": "minute",
    "mins": "minute",
    "m": "meter",
    "h": "hour",
    "hr": "hour",
    "hrs": "hour",
    "sec": "second",
    "%": "percent",
    "fl oz": "fluid_ounce",
    "oz": "ounce",
    "cups": "cup",
    "tbsp": "tablespoon",
    "tsp": "teaspoon",
    "l": "liter",
    "ml": "milliliter",
    "mph": "mile / hour",
    "km/h": "kilometer / hour",
    "kph": "kilometer / hour",
    "m/s": "meter / second",
    "points": "",
    "point": "",
}


def parse(text: str, dimension: Dimension, system: UnitSystem) -> float:
    """Return what a cook typed as it is stored.

    A bare number is in the system's own unit (minutes for a duration).

    Raises
    ------
    JournalError
        If it cannot be understood; the hint gives an example.
    """
    words = text.strip().replace(MINUS, "-").replace("\N{NO-BREAK SPACE}", " ")
    for sign, spelled in _VULGAR.items():
        words = words.replace(sign, spelled)
    words = words.strip()
    value = _compound(words, dimension)
    if value is None:
        value = _number_and_unit(words, text, dimension, system)
    if value is None or not math.isfinite(value):
        raise _not_understood(text, dimension, system)
    return value


def _not_understood(text: str, dimension: Dimension, system: UnitSystem) -> JournalError:
    seen = text.strip() or "Nothing"
    hint = f"Try {example(dimension, system)}."
    return JournalError(f"“{seen[:40]}” is not a {dimension} here.", hint)


def _compound(words: str, dimension: Dimension) -> float | None:
    """Read the forms that Pint does not: pounds and ounces, hours and minutes."""
    if dimension is Dimension.MASS and (found := _POUNDS.match(words)):
        pounds, ounces = (_float(part) for part in found.groups())
        return math.copysign(abs(pounds) * POUND + ounces * OUNCE, pounds)
    if dimension is Dimension.DURATION:
        if found := _CLOCK.match(words):
            hours, minutes, seconds = (int(part or 0) for part in found.groups())
            return 3600.0 * hours + 60.0 * minutes + seconds
        if found := _HOURS.match(words):
            return 3600.0 * _float(found[1]) + 60.0 * int(found[2] or 0)
    return None


def _float(text: str) -> float:
    return float(text.replace(",", "."))


def _number_and_unit(
    words: str, text: str, dimension: Dimension, system: UnitSystem
) -> float | None:
    if dimension is Dimension.TEMPERATURE_RATE and (ten := _IN_TEN.match(words)):
        change = parse(ten[1], Dimension.TEMPERATURE_DIFFERENCE, system)
        return change / 600.0
    if mixed := _MIXED.match(words):
        if int(mixed[4]) == 0:
            return None
        number = int(mixed[2] or 0) + int(mixed[3]) / int(mixed[4])
        number, unit = (-number if mixed[1] == "-" else number), mixed[5]
    elif plain := _PLAIN.match(words):
        number, unit = _float(plain[1]), plain[2]
    else:
        return None
    unit = unit.strip().rstrip(".")
    name = _NAMES.get(unit.casefold(), unit)
    if not name:
        return from_display(number, dimension, system)
    return _by_pint(number, name, text, dimension, system)


_registry: "pint.UnitRegistry[float] | None" = None


def _units() -> "pint.UnitRegistry[float]":
    """Return the registry of units, made when the first quantity is typed."""
    global _registry  # noqa: PLW0603 - one registry, as Pint asks
    if _registry is None:
        import pint  # noqa: PLC0415 - a fifth of a second that the start must not pay

        _registry = pint.UnitRegistry()
    return _registry


def _by_pint(
    number: float, name: str, text: str, dimension: Dimension, system: UnitSystem
) -> float:
    stored = _STORED.get(dimension)
    if stored is None:
        raise _not_understood(text, dimension, system)
    if dimension is Dimension.TEMPERATURE_DIFFERENCE:
        name = {"degF": "delta_degF", "degC": "delta_degC"}.get(name, name)
    import pint  # noqa: PLC0415 - as above

    registry = _units()
    try:
        unit = registry.Unit(name)
        return float(registry.Quantity(number, unit).to(stored).magnitude)
    except (pint.PintError, ValueError, TypeError, AttributeError, ArithmeticError) as error:
        raise _not_understood(text, dimension, system) from error
