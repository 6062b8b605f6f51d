"""Numbers in the unit that was typed, and sums of them in the same."""

import math
import re
from collections.abc import Callable, Iterable

from pitjournal.errors import JournalError
from pitjournal.units.reading import parse
from pitjournal.units.scales import Dimension, UnitSystem
from pitjournal.units.showing import show

_WORDS = re.compile(r"[a-z]+")
_US = frozenset({"oz", "ozs", "ounce", "ounces", "lb", "lbs", "pound", "pounds"})
_METRIC = frozenset({"g", "gr", "gm", "gms", "gram", "grams", "gramme", "grammes", "mg"}) | {
    "kg",
    "kgs",
    "kilo",
    "kilos",
    "kilogram",
    "kilograms",
}
_SPOONS = frozenset({"tbsp", "tbs", "tablespoon", "tablespoons", "tsp", "tsps", "teaspoon"}) | {
    "teaspoons",
    "cup",
    "cups",
    "ml",
    "l",
}
"""What was measured so is told in g below its field, and its sums are too."""


def weighed_in(typed: Iterable[str], system: UnitSystem) -> UnitSystem:
    """Return the units that weights were typed in, all of them; the cook's own where they differ.

    Parameters
    ----------
    typed
        The words of each weight as typed; empty where it was not typed.
    system
        The units that the cook reads, and means by a number without one.
    """
    found = {_of(words, system) for words in typed}
    return found.pop() if len(found) == 1 else system


def _of(typed: str, system: UnitSystem) -> UnitSystem:
    words = set(_WORDS.findall(typed.casefold()))
    if words & _US:
        return UnitSystem.US
    return UnitSystem.METRIC if words & (_METRIC | _SPOONS) else system


def says(typed: str, value: float, read: Callable[[str], float]) -> bool:
    """Whether words that were typed name their unit and mean this value, by what reads them."""
    if not any(char.isalpha() or char in '°%"' for char in typed):
        return False
    try:
        meant = read(typed)
    except JournalError:
        return False
    return math.isclose(meant, value, rel_tol=1e-6, abs_tol=1e-9)


def show_typed(value: float, typed: str, dimension: Dimension, system: UnitSystem) -> str:
    """Return a stored number as it was typed, if with a unit, else in the cook's words."""
    if says(typed, value, lambda words: parse(words, dimension, system)):
        return typed
    if dimension is Dimension.MASS:
        system = weighed_in((typed,), system)
    return show(value, dimension, system)
