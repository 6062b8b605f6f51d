"""What cookers burn: by their class, how fast, and what a load of fuel adds up to.

Rates are common practice, no source; start-up is apart from them.
"""

from collections import Counter
from collections.abc import Iterable, Mapping

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import EventKind
from pitjournal.domain.shelf import COOKER_CLASSES, ShelfItem
from pitjournal.domain.treatment import FuelLoad, FuelStage
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.scales import POUND

_POUND_AN_HOUR = POUND / 3600.0

_BURNS: Mapping[str, tuple[float, float]] = {
    "bullet": (0.4, 0.6),
    "cabinet": (1.3, 1.7),
    "drum": (1.0, 1.7),
    "ceramic": (0.2, 0.4),
    "pellet": (0.5, 1.5),
    "offset": (3.0, 6.0),
    "gravity-fed charcoal": (1.0, 2.0),
    "kettle": (0.5, 1.0),
}
"""lb/h."""

_FUEL: Mapping[str, str] = {"offset": "splits", "pellet": "pellets"}
"""What a class of cooker burns, where that is no charcoal."""

CHARCOAL = "lump"


def class_of(cooker: ShelfItem | None) -> str:
    """Return a cooker's class: as said, else as its name says; empty where neither does."""
    if cooker is None:
        return ""
    said = str(cooker.details.get("class") or "").strip().casefold()
    if said:
        return said
    name = cooker.name.casefold()
    return next((sort for sort in COOKER_CLASSES if sort.split("-", 1)[0] in name), "")


def usual_burn(cooker: ShelfItem | None) -> tuple[float, float] | None:
    """Return what a cooker of this class burns, g/s from and to; None where it is not known."""
    found = _BURNS.get(class_of(cooker))
    return None if found is None else (found[0] * _POUND_AN_HOUR, found[1] * _POUND_AN_HOUR)


def usual_fuel(cooker: ShelfItem | None, used: Iterable[str] = ()) -> str:
    """Return what a fire in a cooker starts with.

    Parameters
    ----------
    cooker
        Which; an offset starts with splits, a pellet cooker with pellets.
    used
        Fuels used before, the likeliest first: a cook's own word for it is taken.
    """
    wanted = _FUEL.get(class_of(cooker))
    if wanted is None:
        return next((fuel for fuel in used if not _is_wood(fuel)), CHARCOAL)
    word = wanted.removesuffix("s")
    return next((fuel for fuel in used if word in fuel.casefold()), wanted)


def _is_wood(fuel: str) -> bool:
    return any(word.removesuffix("s") in fuel.casefold() for word in _FUEL.values())


def usual_wood_form(cooker: ShelfItem | None) -> str:
    """Return the form of wood for smoke in a cooker: a split in an offset, else a chunk."""
    return "split" if class_of(cooker) == "offset" else "chunk"


def burnt(whole: WholeCook) -> bool:
    """Whether there has been a fire: what is planned is not used."""
    return whole.cook.status is not CookStatus.PLANNED or any(
        event.happened_at is not None and event.kind in {EventKind.LIT, EventKind.ON}
        for event in whole.events
    )


def summed(loads: Iterable[FuelLoad]) -> Mapping[FuelStage, float]:
    """Return the fuel of each stage that has any, g."""
    sums = Counter[FuelStage]()
    for load in loads:
        sums[load.stage] += load.mass  # type: ignore[assignment]
    return dict(sums)


def fuel_used(whole: WholeCook) -> float | None:
    """Return fuel in + added − reusable left, g.

    None unless what went in is recorded and there was a fire, and where more is left than was
    put in, which cannot be. Without what is left, all of it is taken for burnt.
    """
    sums = summed(whole.fuel_loads)
    if FuelStage.IN not in sums or not burnt(whole):
        return None
    used = _given(sums) - sums.get(FuelStage.LEFT, 0.0)
    return used if used >= 0 else None


def _given(sums: Mapping[FuelStage, float]) -> float:
    return sums.get(FuelStage.IN, 0.0) + sums.get(FuelStage.ADDED, 0.0)


def impossible_fuel(loads: Iterable[FuelLoad]) -> str:
    """Return why what was weighed of a fire cannot be, or an empty text."""
    sums = summed(loads)
    given, left = _given(sums), sums.get(FuelStage.LEFT, 0.0)
    if not given or not left or left <= given:
        return ""
    return "More is left than was put in. Weigh again, or mend what went in."


def left_weighed(whole: WholeCook) -> bool:
    """Whether what is left was weighed: else all that went in is taken for burnt."""
    return any(load.stage is FuelStage.LEFT for load in whole.fuel_loads)
