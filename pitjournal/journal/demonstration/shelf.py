"""What stands on the Shelf of the invented cook."""

from pitjournal.domain.shelf import PRICE, OwnVariable, Setting, ShelfItem, ShelfKind
from pitjournal.journal.demonstration.panel import TASTERS
from pitjournal.journal.demonstration.plans import BURNS, COOKERS
from pitjournal.journal.demonstration.records import (
    BASE_RUB,
    BIRD_RUB,
    BRINE,
    INJECTION,
    RED_RUB,
)
from pitjournal.units import Dimension

INVENTED = (
    "Everything in this journal is invented: its cook, its tasters, its meat and its numbers. "
    "The temperatures come from a small simulation, the scores from a lot."
)


def shelf_items() -> tuple[ShelfItem, ...]:
    """Return what is used again."""
    kinds = ShelfKind
    cookers = [
        ShelfItem(kind=kinds.COOKER, name=c.name, details={"class": c.sort}) for c in COOKERS
    ]
    fuels = [
        ShelfItem(kind=kinds.FUEL, name=name, details={PRICE: a_kilogram / 1000})
        for name, a_kilogram in zip(BURNS, (2.40, 2.10, 0.60), strict=True)
    ]
    woods = [
        ShelfItem(kind=kinds.WOOD, name=name) for name in ("hickory", "cherry", "apple", "oak")
    ]
    rubs = [
        ShelfItem(kind=kinds.RUB, name=RED_RUB, details={"allergens": ["mustard", "celery"]}),
        ShelfItem(kind=kinds.RUB, name=BASE_RUB),
        ShelfItem(kind=kinds.RUB, name=BIRD_RUB, details={"allergens": ["mustard"]}),
    ]
    injection = {"stock": 0.96, "salt": 0.025, "phosphate": 0.015}
    recipes = [
        ShelfItem(kind=kinds.RECIPE, name=INJECTION, details={"parts": injection}),
        ShelfItem(kind=kinds.RECIPE, name=BRINE, details={"parts": {"salt": 0.008}}),
    ]
    ingredients = [ShelfItem(kind=kinds.INGREDIENT, name="salt", details={"tablespoon": 15.0})]
    probes = [
        ShelfItem(kind=kinds.PROBE, name=name, details={"correction": correction})
        for name, correction in (("logger one", 0.0), ("logger two", -0.3), ("logger three", -0.8))
    ]
    tasters = [
        ShelfItem(kind=kinds.TASTER, name=name, details={"note": "invented"}) for name in TASTERS
    ]
    return (*cookers, *fuels, *woods, *rubs, *recipes, *ingredients, *probes, *tasters)


def smoke_ring() -> OwnVariable:
    """Return the one variable this cook added."""
    return OwnVariable(
        name="smoke ring", level="piece", kind="number", dimension=str(Dimension.LENGTH)
    )


def invented() -> Setting:
    """Return the line that says what this journal is."""
    return Setting(id="demonstration", value=INVENTED)
