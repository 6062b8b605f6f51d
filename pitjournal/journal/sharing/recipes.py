"""What was done to the meat, at the level of detail that the cook lets out."""

from collections.abc import Iterator, Mapping, Sequence

from pitjournal.analysis.plan.cure_limits import over_limits
from pitjournal.domain.recipe import Line, cures, lines_of, parts_of, speaks_of_cure
from pitjournal.domain.shelf import plain_name
from pitjournal.domain.treatment import NON_INTACT, Seasoning, Treatment, TreatmentKind
from pitjournal.domain.used_recipe import is_kept
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import Choice
from pitjournal.journal.sharing.figures import Figures
from pitjournal.units import Dimension
from pitjournal.units.figures import trimmed

_TENDERIZED = "FDA Food Code 1-201.10(B), 3-401.11(A)(2); labels of such beef: 9 CFR 317.2(e)(3)"
NON_INTACT_SOURCES: Mapping[TreatmentKind, str] = {
    TreatmentKind.INJECTED: "FDA Food Code 1-201.10(B), 3-401.11(A)(2); labels of added solution: "
    "9 CFR 317.2(e)(2), of poultry 9 CFR 381.117(h)",
    TreatmentKind.NEEDLED: _TENDERIZED,
    TreatmentKind.BLADED: _TENDERIZED,
}
"""Read in public copies: 9 CFR 317.2(e)(2) and (3), and the Food Code's words in states' adoptions;
from memory: the numbers of the Food Code's definitions, and 9 CFR 381.117(h)."""


Shelf = Mapping[str, Mapping[str, object]]
"""Details of the rubs and recipes on the Shelf, by name."""


def used(treatment: Treatment, shelf: Shelf) -> Mapping[str, object]:
    """Return the details of a treatment's recipe as they were when it was cooked."""
    return treatment.made_of if is_kept(treatment) else _on_shelf(shelf, treatment.recipe)


def treated(treatment: Treatment | None, choice: Choice, figures: Figures, shelf: Shelf) -> str:
    """Return in a few words how meat was treated, with its recipe as far as that is let out."""
    if treatment is None:
        return ""
    if treatment.kind is TreatmentKind.NONE:
        return str(treatment.kind)
    words = str(treatment.kind)
    if treatment.recipe:
        words += f" with {treatment.recipe}"
    more = list(_shares(treatment, figures)) if choice.ratios else []
    if choice.grams and treatment.liquid is not None:
        more.append(f"{figures.show(treatment.liquid, Dimension.MASS)} of it")
    lines = lines_of(used(treatment, shelf)) if treatment.recipe else ()
    more += _ingredients(lines, choice, figures)
    more += _how(treatment, figures)
    return "; ".join((words, *more))


def _on_shelf(shelf: Shelf, name: str) -> Mapping[str, object]:
    """Return the details of a rub or a recipe, however its name is written; else none."""
    plain = plain_name(name)
    return next((found for other, found in shelf.items() if plain_name(other) == plain), {})


def _ingredients(lines: Sequence[Line], choice: Choice, figures: Figures) -> list[str]:
    """Give a recipe's ingredients: as shares of it, or as they are written; no names alone."""
    if choice.grams and lines:
        return [f"made of {', '.join(line.written for line in lines)}"]
    parts = parts_of(lines) if choice.ratios else {}
    whole = sum(parts.values())
    each = (
        f"{name} {figures.show(part / (whole if whole > 1 else 1.0), Dimension.FRACTION)}"
        for name, part in parts.items()
    )
    return [f"made of {', '.join(each)}"] if parts else []


def _shares(treatment: Treatment, figures: Figures) -> Iterator[str]:
    """Give what is a share of the liquid, or of the meat."""
    dry = treatment.kind is TreatmentKind.DRY_BRINED
    of = "of the meat" if dry else "of the liquid"
    if treatment.salt is not None:
        yield f"salt {figures.show(treatment.salt, Dimension.FRACTION)} {of}"
    if treatment.phosphate is not None:
        yield f"phosphate {figures.show(treatment.phosphate, Dimension.FRACTION)} {of}"
    if treatment.target_pickup is not None:
        yield f"aiming at {figures.show(treatment.target_pickup, Dimension.FRACTION)} pickup"


def _how(treatment: Treatment, figures: Figures) -> list[str]:
    """Give what is method, no recipe: the tool, passes, sides, how long before."""
    words = [treatment.tool] if treatment.tool else []
    if treatment.passes is not None:
        words.append(f"{treatment.passes} {'pass' if treatment.passes == 1 else 'passes'}")
    if treatment.sides is not None:
        words.append(f"{treatment.sides} {'side' if treatment.sides == 1 else 'sides'}")
    if treatment.time is not None:
        words.append(f"{figures.show(treatment.time, Dimension.DURATION)} ahead")
    return words


def seasoned(layer: Seasoning, choice: Choice, figures: Figures) -> str:
    """Return a layer of rub in words."""
    words = f"{layer.rub}, {layer.side}" if layer.side else layer.rub
    if choice.grams and layer.mass is not None:
        words += f", {figures.show(layer.mass, Dimension.MASS)} a piece"
    if layer.set_time is not None:
        words += f", left {figures.show(layer.set_time, Dimension.DURATION)}"
    return words


def recipe_names(whole: WholeCook) -> list[str]:
    """Return the names of rubs and recipes that were used, each once."""
    names = [layer.rub for layer in whole.seasonings] + [t.recipe for t in whole.treatments]
    return [name for name in dict.fromkeys(names) if name]


def has_amounts(whole: WholeCook, shelf: Shelf) -> bool:
    """Whether any share or amount of a recipe was recorded."""
    if any(lines_of(used(t, shelf)) for t in whole.treatments if t.recipe):
        return True
    known = [layer.mass for layer in whole.seasonings]
    for treatment in whole.treatments:
        known += [treatment.salt, treatment.phosphate, treatment.liquid, treatment.target_pickup]
    return any(amount is not None for amount in known)


def protecting(whole: WholeCook, shelf: Shelf, figures: Figures) -> list[str]:
    """Return the facts that protect an eater; they leave at every level of detail.

    Parameters
    ----------
    whole
        The cook.
    shelf
        Details of the rubs and recipes on the Shelf, by name.
    figures
        How numbers are shown.
    """
    kinds = [t.kind for t in whole.treatments if t.kind in NON_INTACT]
    facts = [
        f"{kind.capitalize()} meat counts as non-intact ({NON_INTACT_SOURCES[kind]})."
        for kind in dict.fromkeys(kinds)
    ]
    solutions = {piece.declared_solution for piece in whole.pieces if piece.declared_solution}
    for share in sorted(solutions):
        shown = figures.show(share, Dimension.FRACTION)
        facts.append(f"Sold with {shown} solution in the meat, by its label.")
    details = [(name, _on_shelf(shelf, name)) for name in recipe_names(whole)]
    details += [(t.recipe, t.made_of) for t in whole.treatments if is_kept(t)]
    allergens = dict.fromkeys(
        allergen for _, found in details for allergen in _listed(found.get("allergens"))
    )
    if allergens:
        facts.append(f"Allergens in what was put on or in: {', '.join(allergens)}.")
    cured = dict.fromkeys(
        name
        for name, found in details
        if found.get("cured")
        or found.get("curing_salt")
        or cures(lines_of(found))
        or speaks_of_cure(name)
    )
    spoken = any(speaks_of_cure(f"{t.recipe} {t.note}") for t in whole.treatments)
    strengths = [t.cure_strength for t in whole.treatments if t.cure]
    if cured or strengths or spoken:
        named = f": {', '.join(cured)}" if cured else ""
        known = sorted({share for share in strengths if share})
        shown = " and ".join(f"{trimmed(100 * share, 3)} %" for share in known)
        labelled = f", {shown} nitrite by its label" if shown else ""
        facts.append(f"Contains curing salt{named}{labelled}.")
    facts += over_limits(whole)
    facts += _too_salty(whole, figures)
    return facts


SATURATED = 0.264
"""Salt in a saturated brine, share of the whole at 20 °C (35.9 g in 100 g of water: handbooks)."""


def _too_salty(whole: WholeCook, figures: Figures) -> list[str]:
    """Return which brines hold more salt than water takes up: a slip of the pen."""
    shares = {
        t.salt
        for t in whole.treatments
        if t.salt is not None and t.salt > SATURATED and t.kind is not TreatmentKind.DRY_BRINED
    }
    most = figures.show(SATURATED, Dimension.FRACTION)
    return [
        f"A brine of {figures.show(share, Dimension.FRACTION)} salt cannot be: water takes up "
        f"{most} at the most. Look at what was written."
        for share in sorted(shares)
    ]


def _listed(value: object) -> list[str]:
    if isinstance(value, str):
        return [part.strip() for part in value.split(",") if part.strip()]
    return [str(part) for part in value] if isinstance(value, list | tuple) else []
