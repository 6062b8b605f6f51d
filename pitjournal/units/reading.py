"""Quantities as they are typed.

Pint knows the units and converts; this grammar adds what it lacks: pounds with ounces, hours
with minutes, fractions, glued and upper-case units, rates in a cook's words. Pint takes a
third of a second to load, so it is loaded when the first unit is read, or by `warm_up`.
"""

import math
import re
import unicodedata
from functools import cache
from typing import TYPE_CHECKING

from pitjournal.errors import JournalError
from pitjournal.units.numbers import read_number
from pitjournal.units.scales import Dimension, UnitSystem, example, from_display

if TYPE_CHECKING:
    import pint

_STORED = {
    Dimension.MASS: "gram",
    Dimension.TEMPERATURE: "degC",
    Dimension.TEMPERATURE_DIFFERENCE: "delta_degC",
    Dimension.LENGTH: "meter",
    Dimension.ALTITUDE: "meter",
    Dimension.DURATION: "second",
    Dimension.VOLUME: "milliliter",
    Dimension.FRACTION: "dimensionless",
    Dimension.SPEED: "meter / second",
}
_RATES = {
    Dimension.TEMPERATURE_RATE: (Dimension.TEMPERATURE_DIFFERENCE, Dimension.DURATION),
    Dimension.MASS_RATE: (Dimension.MASS, Dimension.DURATION),
    Dimension.SPEED: (Dimension.ALTITUDE, Dimension.DURATION),
    Dimension.PRICE: (Dimension.MONEY, Dimension.MASS),
}
_SPOKEN = {
    Dimension.MASS: "a weight",
    Dimension.TEMPERATURE_RATE: "a rise or fall of temperature",
    Dimension.ALTITUDE: "a height",
    Dimension.DURATION: "a length of time",
    Dimension.FRACTION: "a percentage",
    Dimension.MASS_RATE: "a weight per hour",
    Dimension.MONEY: "an amount of money",
    Dimension.COUNT: "a whole number",
}
_BARE = {
    Dimension.TEMPERATURE: {"°", "deg", "degree", "degrees"},
    Dimension.TEMPERATURE_DIFFERENCE: {"°", "deg", "degree", "degrees"},
    Dimension.SCORE: {"point", "points", "pt", "pts"},
}
_SHARES = frozenset({"%", "‰", "percent", "permille", "ppm"})
_ABSOLUTE_ZERO = -273.15

_NAMES = {
    **dict.fromkeys(("f", "fahrenheit"), "degF"),
    **dict.fromkeys(("c", "celsius"), "degC"),
    **dict.fromkeys(("k", "kelvin"), "kelvin"),
    **dict.fromkeys(("#", "lbs"), "pound"),
    **dict.fromkeys(("kilo", "kilos", "kgs"), "kilogram"),
    **dict.fromkeys(("gr", "gm", "gms"), "gram"),  # no cook weighs in grains
    **dict.fromkeys(("fl oz", "fluid oz", "fluid ounce", "fluid ounces"), "fluid_ounce"),
    **dict.fromkeys(('"', "''", "in"), "inch"),
    "'": "foot",
    "per cent": "percent",
}
_MINUTES = {"m": "minute", "mn": "minute", "'": "minute", '"': "second"}
_SUMMED = frozenset({Dimension.MASS, Dimension.DURATION, Dimension.VOLUME, Dimension.LENGTH})
_SMALLER = {"hour": "minute", "minute": "second", "pound": "ounce", "foot": "inch"}
"""What a last number without a unit is in: 1h40, 3 lb 4."""

_SIGNS = str.maketrans(
    {"−": "-", "–": "-", "\xa0": " ", "\u202f": " ", "\u2009": " ", "º": "°", "˚": "°"}
    | {"℉": "°F", "℃": "°C", "″": '"', "”": '"', "“": '"', "\u2032": "'", "’": "'", "\u2044": "/"}
)
_ONE = re.compile(r"^(?:an?|one)\s+(?=[a-z])")
_HALF = re.compile(r"^half\s+(?:an?\s+)?(?=[a-z])")
_CLOCK = re.compile(r"(\d+):([0-5]\d)(?::([0-5]\d))?(?:\s*h(?:rs?|ours?)?)?")
_RATE = re.compile(r"(?P<top>.+?)\s*(?:/|\b(?:per|an?|in|each)\b)\s*(?P<below>(?:\d+\s*)?[a-z#]+)")
_RUNS = re.compile(r"([.,]?\d(?:[\d\s.,/-]*\d)?)(\D*?)(?=\s[.,]\d|\d|$)")
_UNIT = re.compile(r"[a-zμ°\"'#%‰ ]+")
_DEGREES = re.compile(r"^(?:°|deg(?:rees?)?)\s*(?=[fck])")
_BETWEEN = re.compile(r"\s*(?:,|\band\b|&)?\s*$")


def parse(text: str, dimension: Dimension, system: UnitSystem) -> float:
    """Return what a cook typed as it is stored.

    A bare number is in the system's own unit (minutes for a duration, per cent for a
    fraction). Units of either system are understood in both, in either case.

    Raises
    ------
    JournalError
        If it cannot be understood, or is another sort of quantity; the hint gives an example.
    """
    words = _normal(text, dimension)
    negative = words.startswith("-")
    words = words.removeprefix("-" if negative else "+").lstrip()
    try:
        value = _read(words, dimension, system, -1.0 if negative else 1.0)
    except JournalError as error:
        raise JournalError(error.message, error.hint or _hint(dimension, system)) from error
    except (ArithmeticError, ValueError):  # more digits than a number holds
        value = None
    if value is None or not math.isfinite(value) or not _possible(value, dimension):
        seen = f"“{text.strip()[:40]}”" if text.strip() else "An empty field"
        raise JournalError(f"{seen} is not {_spoken(dimension)}.", _hint(dimension, system))
    return value


def _hint(dimension: Dimension, system: UnitSystem) -> str:
    return f"Try {example(dimension, system)}."


def _spoken(dimension: Dimension) -> str:
    return _SPOKEN.get(dimension, f"a {dimension}")


def _possible(value: float, dimension: Dimension) -> bool:
    if dimension is Dimension.TEMPERATURE:
        return value > _ABSOLUTE_ZERO - 1e-9
    return dimension is not Dimension.COUNT or value.is_integer()


def _normal(text: str, dimension: Dimension) -> str:
    """Return the text in one spelling: plain signs and spaces, fractions spelled, lower case."""
    spelled = "".join(_vulgar(sign) for sign in text)
    words = " ".join(spelled.translate(_SIGNS).casefold().split())
    if dimension in {Dimension.MONEY, Dimension.PRICE}:
        words = "".join(c for c in words if unicodedata.category(c) != "Sc").strip()
    return _HALF.sub("1/2 ", _ONE.sub("1 ", words))


def _vulgar(sign: str) -> str:
    """Return ½ as " 1/2" (with a space: it may follow a digit)."""
    fraction = unicodedata.decomposition(sign).startswith("<fraction>")
    return f" {unicodedata.normalize('NFKC', sign)}" if fraction else sign


def _read(words: str, dimension: Dimension, system: UnitSystem, sign: float) -> float | None:
    if dimension is Dimension.DURATION and (clock := _CLOCK.fullmatch(words)):
        hours, minutes, seconds = (int(part or 0) for part in clock.groups())
        return sign * (3600.0 * hours + 60.0 * minutes + seconds)
    if dimension in _RATES and (rate := _RATE.fullmatch(words)):
        above, below = _RATES[dimension]
        share = re.sub(r"^(?=[a-z#])", "1 ", rate["below"])
        if dimension is Dimension.SPEED and read_number(rate["top"]) is not None:
            return None  # 8 per hour: of what?
        top, bottom = _read(rate["top"], above, system, 1.0), _read(share, below, system, 1.0)
        return None if top is None or not bottom else sign * top / bottom
    terms = _terms(words)
    if len(terms) == 1:
        number, unit = terms[0]
        if not unit or unit in _BARE.get(dimension, ()):
            return from_display(sign * number, dimension, system)
        return _convert(sign * number, unit, dimension)
    return _sum(terms, dimension, sign) if terms else None


def _terms(words: str) -> list[tuple[float, str]]:
    """Return numbers with their units as written; empty if anything else is there."""
    terms = []
    end = 0
    for run in _RUNS.finditer(words):
        number = read_number(run[1])
        glued = run[2].endswith((".", ",")) and run.end() < len(words)  # 3 lb.5: which?
        if number is None or glued or words[end : run.start()].strip():
            return []
        terms.append((number, _BETWEEN.sub("", run[2]).replace(".", "").strip()))
        end = run.end()
    return terms if end == len(words) else []


def _sum(terms: list[tuple[float, str]], dimension: Dimension, sign: float) -> float | None:
    """Return ``3 lb 4 oz``: each part less than one of the unit before."""
    if dimension not in _SUMMED:
        return None
    total, room, before = 0.0, math.inf, ""
    for number, written in terms:
        unit = written or _SMALLER.get(before, "")
        part, one = _convert(number, unit, dimension), _convert(1.0, unit, dimension)
        if part is None or one is None or part >= room * (1 - 1e-9):
            return None
        total, room, before = total + part, one, str(_registry().Unit(_name(unit, dimension)))
    return sign * total


# units


@cache
def _registry() -> "pint.UnitRegistry[float]":
    import pint  # noqa: PLC0415 - a third of a second that the start must not pay

    return pint.UnitRegistry()


def warm_up() -> None:
    """Load what reading a unit needs; for a worker, once the window is up."""
    _registry()


def _name(unit: str, dimension: Dimension) -> str:
    """Return a unit as Pint names it; what Pint knows itself is left as it is."""
    if dimension is Dimension.DURATION and unit in _MINUTES:
        return _MINUTES[unit]
    bare = _DEGREES.sub("", unit)
    name = _NAMES.get(bare, bare)
    if dimension is Dimension.TEMPERATURE_DIFFERENCE:
        return {"degF": "delta_degF", "degC": "delta_degC"}.get(name, name)
    return name


def _convert(number: float, unit: str, dimension: Dimension) -> float | None:
    """Return a number of a unit in the storage unit; None where no unit can stand."""
    stored, name = _STORED.get(dimension), _name(unit, dimension)
    if stored is None or not _UNIT.fullmatch(unit):
        return None
    if dimension is Dimension.FRACTION and name not in _SHARES:
        return None
    import pint  # noqa: PLC0415 - as above

    registry = _registry()
    try:
        typed = registry.Unit(name)
        return float(registry.Quantity(number, typed).to(stored).magnitude)
    except pint.DimensionalityError as error:
        other = next((d for d, u in _STORED.items() if typed.is_compatible_with(u)), None)
        if other is None:
            return None
        raise JournalError(
            f"“{unit}” is for {_spoken(other)}, not {_spoken(dimension)}."
        ) from error
    except (pint.UndefinedUnitError, AssertionError, ValueError, TypeError) as error:
        raise JournalError(f"“{unit}” is not a unit known here.") from error
