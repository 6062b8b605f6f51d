"""Lists that follow from a plan: what to buy, what to do the night before, what to pack.

What to pack is common practice, no source.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from pitjournal.analysis.plan.calculators import Sum
from pitjournal.analysis.plan.past import Past
from pitjournal.analysis.plan.rub_fuel_cost import fuel_sum
from pitjournal.analysis.plan.weighed import factor_of, mix_of, mixed_system
from pitjournal.domain.cook import CookKind
from pitjournal.domain.cuts import meat_of
from pitjournal.domain.event import EventKind
from pitjournal.domain.fires import class_of, usual_fuel
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.recipe import AS_WRITTEN, CURE_SOURCE, Line, cures, scaled
from pitjournal.domain.shelf import plain_name
from pitjournal.domain.treatment import Seasoning, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import Dimension, UnitSystem, show, weighed_in


@dataclass(frozen=True)
class Listed:
    """A list with its heading."""

    heading: str
    lines: tuple[str, ...]

    @property
    def text(self) -> str:
        """The list as plain words, a line each."""
        return "\n".join([self.heading, *(f"- {line}" for line in self.lines)])


Recipes = Mapping[str, Sequence[Line]]
"""A recipe's ingredients by its plain name."""


def shopping(
    whole: WholeCook, system: UnitSystem, recipes: Recipes, past: Past | None = None
) -> Listed:
    """Return what a plan needs: meat, what goes in and on it, fuel, wood, wraps.

    Parameters
    ----------
    whole
        The cook.
    system
        The units it is said in.
    recipes
        The ingredients of recipes on the Shelf.
    past
        What past cooks say, for the fuel.
    """
    lines = [*_meat(whole, system), *mixes(whole, system, recipes), *_rubs(whole, system)]
    fuel = fuel_sum(whole, past, system) if past is not None else None
    lines += _fire(whole, fuel)
    return Listed("To buy, or to have", tuple(lines))


def _meat(whole: WholeCook, system: UnitSystem) -> Iterator[str]:
    for cut, count in Counter(piece.cut for piece in whole.pieces).items():
        mine = [piece for piece in whole.pieces if piece.cut == cut]
        blocks = len({piece.block for piece in mine if piece.block})
        packs = len({piece.pack for piece in mine if piece.pack})
        slabs = {piece.pair for piece in mine if piece.pair and piece.end}
        if slabs and all(piece.pair and piece.end for piece in mine):
            words = f"{len(slabs)} × {cut}, to cut in two"
        else:
            words = f"{count} × {cut}"
        if packs and packs == blocks:
            words += f", in {packs} packs of {count // packs}" if packs > 1 else ", in one pack"
        bought = [mass for p in mine if (mass := whole.mass(p, Stage.BOUGHT)) is not None]
        if len(bought) == count:
            typed = [w.typed.get("mass", "") for w in _bought(whole, mine)]
            weight = show(sum(bought), Dimension.MASS, weighed_in(typed, system))
            words += f" ({weight}, bought)"
        yield words


def _bought(whole: WholeCook, pieces: Sequence[Piece]) -> list[Weighing]:
    ids = {piece.id for piece in pieces}
    return [w for w in whole.weighings if w.piece_id in ids and w.stage is Stage.BOUGHT]


def mixes(whole: WholeCook, system: UnitSystem, recipes: Recipes) -> Iterator[str]:
    """Yield each recipe once, with what all treatments by it take.

    Parameters
    ----------
    whole
        The cook, with all its records.
    system
        The units of the words.
    recipes
        Lines of recipes by plain name.
    """
    named = [t for t in whole.treatments if t.recipe and t.kind is not TreatmentKind.NONE]
    for recipe in dict.fromkeys(treatment.recipe for treatment in named):
        mine = [treatment for treatment in named if treatment.recipe == recipe]
        masses = [mix_of(whole, treatment) for treatment in mine]
        known = [mass for mass in masses if mass is not None]
        mass = sum(known) if len(known) == len(masses) else None
        lines = recipes.get(plain_name(recipe), ())
        factors = [factor_of(whole, treatment, lines) for treatment in mine]
        found = [factor for factor in factors if factor is not None]
        factor = sum(found) if len(found) == len(factors) else None
        units = {mixed_system(whole, treatment, system) for treatment in mine}
        own = units.pop() if len(units) == 1 else system
        yield _recipe(recipe, mass, factor, lines, own)


def _recipe(
    name: str, mass: float | None, factor: float | None, lines: Sequence[Line], system: UnitSystem
) -> str:
    """Return a recipe with its ingredients; curing salt as it is written, never scaled."""
    words = name if mass is None else f"{name}, {show(mass, Dimension.MASS, system)}"
    if factor is not None:
        each = scaled(lines, factor, system)
    else:
        each = [line.name for line in lines if not line.is_cure]
    each += [f"{written} as written, {AS_WRITTEN} ({CURE_SOURCE})" for written in cures(lines)]
    return f"{words}: {', '.join(each)}" if each else words


def _rubs(whole: WholeCook, system: UnitSystem) -> Iterator[str]:
    totals: dict[str, float | None] = {}
    for layer in whole.seasonings:
        if layer.rub:
            before = totals.get(layer.rub, 0.0)
            more = _rub_mass(whole, layer)
            totals[layer.rub] = None if before is None or more is None else before + more
    for rub, mass in totals.items():
        typed = [layer.typed.get("mass", "") for layer in whole.seasonings if layer.rub == rub]
        own = weighed_in(typed, system)
        yield rub if mass is None else f"{rub}, {show(mass, Dimension.MASS, own)}"


def _rub_mass(whole: WholeCook, layer: Seasoning) -> float | None:
    count = sum(layer.arm_id is None or layer.arm_id == p.arm_id for p in whole.pieces)
    return None if layer.mass is None else layer.mass * count


def _fire(whole: WholeCook, fuel: Sum | None) -> Iterator[str]:
    names = dict.fromkeys(load.fuel for load in whole.fuel_loads if load.fuel)
    name = " and ".join(names) or (usual_fuel(whole.cooker) if class_of(whole.cooker) else "fuel")
    yield f"{name}, {fuel.value} and some to spare" if fuel is not None else name
    woods = dict.fromkeys(wood.wood for wood in whole.wood_additions if wood.wood)
    yield from (f"{wood} for smoke" for wood in woods)
    wraps = dict.fromkeys(
        [arm.wrap for arm in whole.arms if arm.wrap not in {"", "none"}]
        + [e.details["wrap"] for e in whole.events if "wrap" in e.details]
    )
    if not wraps and any(event.kind == EventKind.WRAP for event in whole.events):
        wraps = {"foil or paper": None}
    yield from (f"{wrap} to wrap in" if wrap != "boat" else "foil for boats" for wrap in wraps)


def packing(whole: WholeCook) -> Listed:
    """Return what to have at the cooker; more for a contest, and where something is compared."""
    lines = [
        "probe thermometer, checked in ice water",
        "logger with its probes, and charged",
        "scale, and its spare cell",
        "gloves, towels, apron",
        "boards, knives, a tray for each arm" if whole.arms else "boards, knives, trays",
        "lighter, fire starter, ash bucket with a lid",
        "water and an extinguisher for grease; no water on a grease fire",
    ]
    kinds = {treatment.kind for treatment in whole.treatments}
    if TreatmentKind.INJECTED in kinds:
        lines.append("injector with a spare needle, and what cleans it")
    if kinds & {TreatmentKind.NEEDLED, TreatmentKind.BLADED}:
        lines.append("needle or blade tool, and what cleans it")
    if any(event.kind == EventKind.SPRITZ for event in whole.events):
        lines.append("spray bottle, filled")
    if whole.arms:
        lines.append("tags that outlast the fire, one a piece; pens, cups and code slips")
    if any(meat_of(piece.cut).is_poultry for piece in whole.pieces):
        lines.append("a board and tongs of its own for raw poultry")
    lines += ["warm box and towels", "cold box with ice: raw meat stays at 41 °F or below"]
    if whole.cook.kind is CookKind.CONTEST:
        lines += ["boxes and garnish", "a clock set to the official one", "table, light, shade"]
    return Listed("To pack", tuple(lines))
