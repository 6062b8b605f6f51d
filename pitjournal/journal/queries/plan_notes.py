"""The usual cautions that follow from a plan, each with its source."""

from pitjournal.domain.piece import POULTRY_CUTS
from pitjournal.domain.safety_tables import safety_rules
from pitjournal.domain.treatment import NON_INTACT
from pitjournal.domain.whole_cook import WholeCook

CHARCOAL = ("lump", "charcoal", "briquette", "compressed log")


def notes_of_plan(whole: WholeCook) -> list[str]:
    """Return a cook's cautions, most particular first; local codes and licensed practice rule."""
    rules = safety_rules()
    kinds = {treatment.kind for treatment in whole.treatments}
    notes = []
    if kinds & NON_INTACT:
        names = " and ".join(sorted(str(kind) for kind in kinds & NON_INTACT))
        rule = rules["fc-cook-nonintact"]
        notes.append(
            f"{names.capitalize()} meat counts as non-intact: the surface is carried inside. "
            f"{rule.value:g} °F for {rule.second_value:g} s ({rule.citation})."
        )
    if any(piece.cut in POULTRY_CUTS for piece in whole.pieces):
        rule = rules["fc-cook-poultry"]
        notes.append(f"Poultry: {rule.value:g} °F all through ({rule.citation}).")
    high = _phosphate(whole)
    if high:
        notes.append(high)
    if any(word in load.fuel.casefold() for load in whole.fuel_loads for word in CHARCOAL):
        notes.append(
            "Charcoal makes carbon monoxide: never indoors or in a closed garage. "
            "A grease fire gets no water. (Common practice, no source.)"
        )
    rule = rules["fc-hold-cold"]
    notes.append(
        f"Meat waits at {rule.value:g} °F or below ({rule.citation}). Local codes and licensed "
        "practice come first."
    )
    return notes


def _phosphate(whole: WholeCook) -> str:
    """Say how much phosphate the planned pickup leaves, against the limit."""
    limit = safety_rules()["cfr-phosphate"]
    for treatment in whole.treatments:
        share, pickup = treatment.phosphate, treatment.target_pickup
        if share is None or pickup is None:
            continue
        in_meat = share * pickup / (1 + pickup)
        return (
            f"Phosphate {100 * in_meat:.2f} % of the treated meat at {100 * pickup:.1f} % pickup; "
            f"the limit is {limit.value:g} % of the finished weight, which is less "
            f"({limit.citation})."
        )
    return ""
