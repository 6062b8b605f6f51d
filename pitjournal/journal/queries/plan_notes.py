"""The usual cautions that follow from a plan, each with its source."""

from collections.abc import Iterator, Sequence

from pitjournal.analysis.plan.cure_limits import over_limits, published_limits
from pitjournal.analysis.safety.cautions import FIRE, after_the_cook
from pitjournal.analysis.safety.end_points import asked, rows_of
from pitjournal.domain.cook import CookKind
from pitjournal.domain.cuts import meat_of
from pitjournal.domain.cuts.meat import ASKED_ABOUT, JudgedAs
from pitjournal.domain.judged import judged, why_non_intact
from pitjournal.domain.piece import Piece
from pitjournal.domain.safety_tables import safety_rules
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science import curing
from pitjournal.units.figures import figure, trimmed
from pitjournal.units.first_letter import capital


def notes_of_plan(whole: WholeCook) -> list[str]:
    """Return a cook's cautions, most particular first; local codes and licensed practice rule."""
    notes = [*_end_points(whole)]
    notes += over_limits(whole)
    notes += [said for said in (_phosphate(whole), _cured(whole)) if said]
    notes += _before_it_starts(whole)
    notes += [FIRE, *after_the_cook()]
    rule = safety_rules()["fc-hold-cold"]
    notes.append(
        f"Meat waits at {trimmed(rule.value)} °F or below ({rule.citation}). Local codes and licensed "
        "practice come first."
    )
    return notes


def _end_points(whole: WholeCook) -> Iterator[str]:
    """Yield what each sort of meat in the plan is judged by, what asks most first."""
    by_rule: dict[JudgedAs, list[Piece]] = {}
    for piece in whole.pieces:
        by_rule.setdefault(judged(whole, piece).rule, []).append(piece)
    for rule in reversed(JudgedAs):
        if pieces := by_rule.get(rule):
            row = rows_of(rule)[0]
            yield _end_point(whole, rule, pieces).format(
                f"{asked(row)} all through ({row.citation})"
            )


def _end_point(whole: WholeCook, rule: JudgedAs, pieces: Sequence[Piece]) -> str:
    """Return the words about an end point, with a place for it."""
    if rule in ASKED_ABOUT:
        cuts = ", ".join(f"“{cut}”" for cut in dict.fromkeys(piece.cut for piece in pieces))
        said = cuts.replace("{", "").replace("}", "")
        return (
            f"{rule.capitalize()}: {said}. {meat_of(pieces[0].cut).question} Until it is said, the "
            "strictest rule that could apply holds: {}."
        )
    if rule is JudgedAs.NON_INTACT:
        why = dict.fromkeys(one for piece in pieces for one in why_non_intact(whole, piece))
        names = " and ".join(sorted(why)).replace("{", "").replace("}", "") or "Probed early"
        return (
            f"{capital(names)}: the meat counts as non-intact, its surface is carried inside. {{}}."
        )
    return f"{rule.capitalize()}: {{}}."


def _before_it_starts(whole: WholeCook) -> list[str]:
    """Return what spoils a plan before the fire: meat sold injected, seasoning too soon."""
    found = []
    solution = max((piece.declared_solution or 0.0 for piece in whole.pieces), default=0.0)
    injected = any(t.kind is TreatmentKind.INJECTED for t in whole.treatments)
    if solution > 0 and injected:
        found.append(
            f"By its label some of this meat holds {trimmed(100 * solution)} % solution: it was injected "
            "before you inject it, and the comparison is not what it seems."
        )
    treated = any(t.kind is not TreatmentKind.NONE for t in whole.treatments)
    if whole.cook.kind is CookKind.CONTEST and (treated or whole.seasonings):
        found.append(
            "In a contest seasoning starts only after the meat has been inspected. "
            "(Common practice, no source.)"
        )
    return found


def _phosphate(whole: WholeCook) -> str:
    """Say how much phosphate the planned pickup leaves, against the limit."""
    limit = published_limits().phosphate
    for treatment in whole.treatments:
        share, pickup = treatment.phosphate, treatment.target_pickup
        if share is None or pickup is None:
            continue
        in_meat = curing.on_pumped(share, pickup) or 0.0
        return (
            f"Phosphate {figure(100 * in_meat, 2)} % of the treated meat at {figure(100 * pickup, 1)} % pickup; "
            f"the limit is {trimmed(100 * limit.value)} % of the finished weight, which is less "
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
