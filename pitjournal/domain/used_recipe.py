"""What a treatment's recipe was: as the Shelf has it today, or as it was kept when the cook began."""

from collections.abc import Iterable, Mapping
from typing import Any

from pitjournal.domain.recipe import SPOONS, Densities, Line, lines_of
from pitjournal.domain.shelf import ShelfItem, ShelfKind, plain_name, tablespoon_of
from pitjournal.domain.treatment import Treatment
from pitjournal.units import Density, of_tablespoon

OF = "of"
"""The detail of a kept recipe that says, in plain, whose it is."""

SALT = "salt"
_QUARTER = 4
"""Tablespoons in a quarter cup (NIST Handbook 44, Appendix C: a cup is 16)."""

Details = Mapping[str, Mapping[str, Any]]
"""Details of recipes on the Shelf, by plain name."""


def densities_of(items: Iterable[ShelfItem], quarter_cup: str = "") -> dict[str, Density]:
    """Return what is known to weigh what, by plain name.

    Parameters
    ----------
    items
        What stands on the Shelf; rubs and ingredients say what a tablespoon of them weighs.
    quarter_cup
        What the journal says of a quarter cup of the cook's salt, g; the Shelf comes first.
    """
    found = {SALT: of_tablespoon(float(quarter_cup) / _QUARTER)} if quarter_cup else {}
    for kind in (ShelfKind.RUB, ShelfKind.INGREDIENT):
        for item in items:
            grams = tablespoon_of(item.details) if item.kind is kind else None
            if grams is not None:
                found[plain_name(item.name)] = of_tablespoon(grams)
    return found


def details_of(items: Iterable[ShelfItem]) -> Details:
    """Return the details of the recipes among things on the Shelf."""
    recipes = (item for item in items if item.kind is ShelfKind.RECIPE)
    return {plain_name(item.name): item.details for item in recipes}


def is_kept(treatment: Treatment) -> bool:
    """Whether the recipe that a treatment names was kept with it."""
    return bool(treatment.recipe) and treatment.made_of.get(OF) == plain_name(treatment.recipe)


def details_used(treatment: Treatment, shelf: Details) -> Mapping[str, Any]:
    """Return the details of a treatment's recipe: those kept with it, else those of the Shelf."""
    if is_kept(treatment):
        return treatment.made_of
    return shelf.get(plain_name(treatment.recipe), {})


def lines_used(treatment: Treatment, shelf: Details, densities: Densities) -> tuple[Line, ...]:
    """Return the lines of a treatment's recipe.

    Parameters
    ----------
    treatment
        What is done to an arm or a piece.
    shelf
        Details of recipes by plain name.
    densities
        What the Shelf knows to weigh what today.
    """
    if not treatment.recipe:
        return ()
    return lines_of(details_used(treatment, shelf), {} if is_kept(treatment) else densities)


def to_keep(name: str, shelf: Details, densities: Densities) -> dict[str, Any]:
    """Return what a treatment keeps of a recipe, with the densities it was read by.

    A recipe without lines has nothing to keep yet.

    Parameters
    ----------
    name
        Of the recipe, as the treatment has it.
    shelf
        Details of recipes by plain name.
    densities
        What the Shelf knows to weigh what today.
    """
    details = shelf.get(plain_name(name), {})
    lines = lines_of(details, densities)
    if not lines:
        return {}
    spoons = {plain_name(line.name): line.density.tablespoon for line in lines if line.density}
    return {**details, OF: plain_name(name), SPOONS: spoons}
