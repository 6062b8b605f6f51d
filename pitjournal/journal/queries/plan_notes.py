"""The usual cautions that follow from a plan, each with its source."""

from pitjournal.analysis.plan.calculators import Limits, Published
from pitjournal.domain.cook import CookKind
from pitjournal.domain.piece import POULTRY_CUTS
from pitjournal.domain.safety_tables import safety_rules
from pitjournal.domain.treatment import NON_INTACT, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science import curing

CHARCOAL = ("lump", "charcoal", "briquette", "compressed log")
CHARCOAL_COOKERS = frozenset({"drum", "ceramic", "gravity-fed charcoal", "kettle", "bullet"})


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
    notes += [said for said in (_phosphate(whole), _cured(whole)) if said]
    notes += _before_it_starts(whole)
    if _burns_charcoal(whole):
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


def _burns_charcoal(whole: WholeCook) -> bool:
    """Whether charcoal is burnt: by the fuel that is weighed, else by the class of cooker."""
    if whole.fuel_loads:
        fuels = [load.fuel.casefold() for load in whole.fuel_loads]
        return any(word in fuel for fuel in fuels for word in CHARCOAL)
    return whole.cooker is not None and whole.cooker.details.get("class") in CHARCOAL_COOKERS


def _before_it_starts(whole: WholeCook) -> list[str]:
    """Return what spoils a plan before the fire: meat sold injected, seasoning too soon."""
    found = []
    solution = max((piece.declared_solution or 0.0 for piece in whole.pieces), default=0.0)
    injected = any(t.kind is TreatmentKind.INJECTED for t in whole.treatments)
    if solution > 0 and injected:
        found.append(
            f"By its label some of this meat holds {100 * solution:g} % solution: it was injected "
            "before you inject it, and the comparison is not what it seems."
        )
    treated = any(t.kind is not TreatmentKind.NONE for t in whole.treatments)
    if whole.cook.kind is CookKind.CONTEST and (treated or whole.seasonings):
        found.append(
            "In a contest seasoning starts only after the meat has been inspected. "
            "(Common practice, no source.)"
        )
    return found


def published_limits() -> Limits:
    """Return the published limits that the sums of a plan are shown beside."""
    rules = safety_rules()

    def published(key: str, what: str, unit: float = 1.0) -> Published:
        rule = rules[key]
        return Published(what, (rule.value or 0.0) * unit, rule.citation)

    pumped = published("fsis-hb-immersion", "pumped or immersed, no bacon")
    return Limits(
        published("cfr-phosphate", "phosphates", 0.01),
        {
            TreatmentKind.INJECTED: (pumped, published("cfr-bacon-pumped", "pumped bacon")),
            TreatmentKind.BRINED: (pumped, published("cfr-bacon-immersion", "immersed bacon")),
            TreatmentKind.DRY_BRINED: (
                published("fsis-hb-dry", "dry-cured, no bacon"),
                published("cfr-bacon-dry", "dry-cured bacon"),
            ),
        },
    )


def _phosphate(whole: WholeCook) -> str:
    """Say how much phosphate the planned pickup leaves, against the limit."""
    limit = published_limits().phosphate
    for treatment in whole.treatments:
        share, pickup = treatment.phosphate, treatment.target_pickup
        if share is None or pickup is None:
            continue
        in_meat = curing.on_pumped(share, pickup) or 0.0
        return (
            f"Phosphate {100 * in_meat:.2f} % of the treated meat at {100 * pickup:.1f} % pickup; "
            f"the limit is {100 * limit.value:g} % of the finished weight, which is less "
            f"({limit.citation})."
        )
    return ""


def _cured(whole: WholeCook) -> str:
    """Say what holds where curing salt goes in."""
    if all(treatment.cure is None for treatment in whole.treatments):
        return ""
    return (
        "Curing salt: weigh it in grams and read its label; blends hold 6.25, 5.88 or 0.6 % "
        "nitrite. Scale no recipe by its nitrite. Which limit holds depends on the product "
        "(9 CFR 424.21(c), 424.22(b)); nothing here approves an amount."
    )
