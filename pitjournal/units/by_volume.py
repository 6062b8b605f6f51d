"""Weights that are measured by spoons and cups: what a volume of the thing weighs."""

from dataclasses import dataclass

from pitjournal.errors import JournalError
from pitjournal.units.figures import trimmed
from pitjournal.units.reading import parse
from pitjournal.units.scales import FLUID_OUNCE, Dimension, UnitSystem

TABLESPOON = FLUID_OUNCE / 2
"""mL in a US tablespoon (NIST Handbook 44, Appendix C: half a fluid ounce)."""


@dataclass(frozen=True)
class Density:
    """What a millilitre of something weighs.

    Attributes
    ----------
    per_ml
        g/mL.
    said
        How that is known, for the cook: "a tablespoon of it weighs 12 g".
    """

    per_ml: float
    said: str

    @property
    def tablespoon(self) -> float:
        """What a tablespoon weighs, g."""
        return round(self.per_ml * TABLESPOON, 9)


WATER = Density(1.0, "counted as water, 1 mL = 1 g")
"""Within half a per cent between 0 and 25 °C (from memory); a strong brine weighs more."""


WEIGHT_OR_VOLUME = "500 g, 1 lb 2 oz, 2 cups or 3 tbsp"
"""What may be typed where spoons and cups make sense."""

_FEW = 3
"""Digits of what a spoon weighs: nobody levels one better."""

ON_THE_SHELF = "on the Shelf what a tablespoon of it weighs"
"""Where it is said what a spoon weighs, if no field is nearer."""


def of_tablespoon(grams: float) -> Density:
    """Return the density of what weighs so many g a tablespoon."""
    return Density(grams / TABLESPOON, f"a tablespoon of it weighs {trimmed(grams, _FEW)} g")


def by_volume(text: str, system: UnitSystem) -> float | None:
    """Return the mL of a volume that was typed with its unit; None where it is none."""
    if not any(char.isalpha() for char in text):
        return None
    try:
        return parse(text, Dimension.VOLUME, system)
    except JournalError:
        return None


def parse_weight(
    text: str, system: UnitSystem, density: Density | None, where: str = ON_THE_SHELF
) -> float:
    """Return g of what was typed as a weight, or as a volume of something of known density.

    `where` is what to say, and where, if the density is not known.

    Raises
    ------
    JournalError
        If it is neither, or a volume of what no density is known of.
    """
    volume = by_volume(text, system)
    if volume is None:
        try:
            return parse(text, Dimension.MASS, system)
        except JournalError as error:
            raise JournalError(error.message, f"Try {WEIGHT_OR_VOLUME}.") from None
    if density is None:
        raise JournalError(
            f"“{text.strip()[:40]}” is a volume, and what a tablespoon of it weighs is not known.",
            f"Type a weight, or say {where}.",
        )
    return volume * density.per_ml
