"""Quantities in words. No unit library is needed here, so the window starts without one."""

import math

from pitjournal.units.figures import MINUS
from pitjournal.units.scales import (
    FLUID_OUNCE,
    GALLON,
    NOT_RECORDED,
    OUNCE,
    POUND,
    Dimension,
    UnitSystem,
    scale,
    to_display,
)

_TRIMMED = frozenset({Dimension.SCORE, Dimension.COUNT, Dimension.NUMBER})


def show(
    value: float | None,
    dimension: Dimension,
    system: UnitSystem,
    *,
    with_unit: bool = True,
    signed: bool = False,
) -> str:
    """Return a stored number in a cook's words.

    Parameters
    ----------
    value
        In the storage unit of `dimension`; None is "not recorded", never 0.
    with_unit
        Durations read as ``1 h 40 min``, US weights as ``3 lb 4 oz``; without, the number is
        in the unit of `unit_label`.
    signed
        A difference: + or −, and nothing before a zero.
    """
    if value is None or not math.isfinite(value):
        return NOT_RECORDED
    number = to_display(value, dimension, system)
    if not with_unit:
        words = _number(abs(number), dimension, system)
    elif dimension is Dimension.DURATION:
        words = _duration(abs(value))
    elif dimension is Dimension.MASS:
        words = _mass(abs(value), system)
    elif dimension is Dimension.VOLUME:
        words = _volume(abs(value), system)
    else:
        words = _with_label(_number(abs(number), dimension, system), dimension, system)
    zero = not any(digit in _leading(words) for digit in "123456789")
    sign = "" if zero else (MINUS if number < 0 else "+" * signed)
    return sign + words


_UNIT_BY_SIZE = frozenset({Dimension.MASS, Dimension.DURATION, Dimension.VOLUME})


def show_interval(
    low: float | None,
    high: float | None,
    dimension: Dimension,
    system: UnitSystem,
    *,
    signed: bool = False,
    with_unit: bool = True,
) -> str:
    """Return two stored bounds in a cook's words, as "1 to 2 °F"; "none" where one is unknown.

    The unit is said once, unless it changes with the size as those of weights and times do. Bounds
    are rounded outward, so that what is shown never claims more than what was worked out; one
    that would come to nothing by that has as many digits as it needs.
    """
    if low is None or high is None:
        return "none"
    twice = with_unit and dimension in _UNIT_BY_SIZE
    first = _outward(low, dimension, system, up=False, with_unit=twice, signed=signed)
    last = _outward(high, dimension, system, up=True, with_unit=with_unit, signed=signed)
    return f"{first} to {last}"


def _outward(
    value: float,
    dimension: Dimension,
    system: UnitSystem,
    *,
    up: bool,
    with_unit: bool,
    signed: bool,
) -> str:
    """Return a bound in words, rounded up or down to the digits that are shown."""
    if not math.isfinite(value):
        return show(value, dimension, system, with_unit=with_unit, signed=signed)
    if with_unit and dimension in _UNIT_BY_SIZE:
        step = _step(abs(value), dimension, system)
        rounded = _to_step(value, step, up=up)
        return show(rounded or value, dimension, system, signed=signed)
    number = to_display(value, dimension, system)
    digits = _digits(abs(number), dimension, system)
    rounded = _to_step(number, 10.0**-digits, up=up)
    while not rounded and abs(number) > _NOTHING:
        digits += 1
        rounded = _to_step(number, 10.0**-digits, up=up)
    words = _written(abs(rounded), digits, dimension)
    if with_unit:
        words = _with_label(words, dimension, system)
    zero = not any(digit in _leading(words) for digit in "123456789")
    sign = "" if zero else (MINUS if rounded < 0 else "+" * signed)
    return sign + words


_NOTHING = 1e-9
"""A bound nearer to none than this is none."""


def _to_step(number: float, step: float, *, up: bool) -> float:
    """Return the next multiple of a step up or down; one that is there but for rounding stays."""
    steps = number / step
    nearest = round(steps)
    if abs(steps - nearest) < 1e-6:
        return nearest * step
    return (math.ceil(steps) if up else math.floor(steps)) * step


def _step(size: float, dimension: Dimension, system: UnitSystem) -> float:
    """Return the least step, in the storage unit, of what is shown in units by size."""
    if dimension is Dimension.DURATION:
        return 1.0 if size < 59.5 else 60.0
    if system is UnitSystem.METRIC:
        return 10.0 if size >= 999.5 else 1.0 if size >= 9.95 else 0.1
    if dimension is Dimension.MASS:
        return OUNCE / 10
    return GALLON / 100 if size >= GALLON - FLUID_OUNCE / 20 else FLUID_OUNCE / 10


def _leading(words: str) -> str:
    """Return the part that holds the number; "in 10 min" is none of it."""
    return words.partition(" in ")[0]


def _with_label(number: str, dimension: Dimension, system: UnitSystem) -> str:
    label = scale(dimension, system).label
    if dimension is Dimension.SCORE and number == "1":
        label = "point"
    return f"{number} {label}".rstrip()


def _number(number: float, dimension: Dimension, system: UnitSystem) -> str:
    """Return a number that is not negative, with the digits that mean something."""
    return _written(number, _digits(number, dimension, system), dimension)


def _digits(number: float, dimension: Dimension, system: UnitSystem) -> int:
    """Return how many decimals of a number that is not negative mean something."""
    if dimension is Dimension.FRACTION:
        # Limits such as 0.5 % are told from 0.45 % only by a second digit.
        return 2 if 0 < number < 1.995 else 1
    if dimension is Dimension.NUMBER and 0 < number < 1:
        return min(2 - math.floor(math.log10(number)), 9)
    if dimension is Dimension.LENGTH and system is UnitSystem.METRIC and number < 9.95:
        return 1
    return scale(dimension, system).digits


def _written(number: float, digits: int, dimension: Dimension) -> str:
    text = f"{number:.{digits}f}"
    return text.rstrip("0").rstrip(".") if dimension in _TRIMMED and "." in text else text


def _duration(seconds: float) -> str:
    if 0.5 < seconds < 59.5:
        return f"{seconds:.0f} s"
    hours, minutes = divmod(round(seconds / 60), 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def _mass(grams: float, system: UnitSystem) -> str:
    if system is UnitSystem.METRIC:
        if grams >= 999.5:
            return f"{grams / 1000:.2f} kg"
        return f"{grams:.0f} g" if grams >= 9.95 else f"{_trim(grams)} g"
    if grams < POUND - OUNCE / 20:
        return f"{grams / OUNCE:.1f} oz"
    tenths = round(10 * grams / OUNCE)
    pounds, tenths = divmod(tenths, 160)
    return f"{pounds} lb {_trim(tenths / 10)} oz" if tenths else f"{pounds} lb"


def _volume(millilitres: float, system: UnitSystem) -> str:
    if system is UnitSystem.METRIC:
        if millilitres >= 999.5:
            return f"{millilitres / 1000:.2f} L"
        return f"{millilitres:.0f} mL" if millilitres >= 9.95 else f"{_trim(millilitres)} mL"
    if millilitres >= GALLON - FLUID_OUNCE / 20:
        return f"{millilitres / GALLON:.2f} gal"
    return f"{millilitres / FLUID_OUNCE:.1f} fl oz"


def _trim(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")
