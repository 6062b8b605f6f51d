"""What goes into cured and injected meat, against the published limits, and by how much it is more.

Nothing here approves an amount: a limit depends on the product and the place.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from pitjournal.analysis.plan.weighed import green_mass
from pitjournal.domain.cuts import meat_of
from pitjournal.domain.cuts.meat import Form
from pitjournal.domain.judged import forms_of
from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.safety_tables import safety_rules
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science import curing
from pitjournal.units.figures import figure, trimmed

BACON = frozenset({"pork-belly", "bacon"})
"""The cuts, by key, that bacon is made of."""


@dataclass(frozen=True)
class Published:
    """A published limit: what it is for, its number (a fraction, or parts per million), where."""

    what: str
    value: float
    citation: str
    bacon: bool = False


@dataclass(frozen=True)
class CureLimits:
    """The limits that sums are shown beside; of curing salt by the way it goes in, or is ground."""

    phosphate: Published
    nitrite: Mapping[TreatmentKind, tuple[Published, ...]]
    ground: Published
    any_way: Published

    def of(self, whole: WholeCook, treatment: Treatment) -> tuple[Published, ...]:
        """Return the limits of nitrite that a treatment is shown beside."""
        if any(_is_ground(whole, piece) for piece in whole.treated_by(treatment)):
            return (self.ground,)
        return self.nitrite.get(treatment.kind, (self.any_way,))


@cache
def published_limits() -> CureLimits:
    """Return the published limits that the sums of a plan are shown beside."""
    rules = safety_rules()

    def _one(key: str, what: str, unit: float = 1.0) -> Published:
        rule = rules[key]
        return Published(what, (rule.value or 0.0) * unit, rule.citation, "bacon" in key)

    pumped = _one("fsis-hb-immersion", "pumped or immersed, no bacon")
    immersed = pumped, _one("cfr-bacon-immersion", "immersed bacon")
    return CureLimits(
        _one("cfr-phosphate", "phosphates", 0.01),
        {
            TreatmentKind.INJECTED: (pumped, _one("cfr-bacon-pumped", "pumped bacon")),
            TreatmentKind.BRINED: immersed,
            TreatmentKind.MARINATED: immersed,
            TreatmentKind.DRY_BRINED: (
                _one("fsis-hb-dry", "dry-cured, no bacon"),
                _one("cfr-bacon-dry", "dry-cured bacon"),
            ),
        },
        _one("fsis-hb-comminuted", "sausage and other ground meat"),
        _one("fda-homecure", "what is cured at home"),
    )


def nitrite_in(
    treatment: Treatment, green: float | None, pickup: float | None
) -> tuple[float | None, str]:
    """Return the nitrite that goes in, parts per million, and by what formula.

    Parameters
    ----------
    treatment
        With its curing salt and the strength of that.
    green
        g of all its meat before it was treated; None where not all is weighed.
    pickup
        Fraction of green weight that goes in, where it is injected.

    Returns
    -------
    tuple of float or None, str
        None where a number is lacking (USDA FSIS Directive 7620.3).
    """
    nitrite = (treatment.cure or 0.0) * (treatment.cure_strength or 0.0)
    liquid = treatment.liquid
    if treatment.kind is TreatmentKind.INJECTED:
        formula = "nitrite × pickup ÷ liquid in all, of green weight"
        known = liquid is not None and pickup is not None
        return curing.nitrite_pumped(
            nitrite, liquid or 0.0, pickup or 0.0
        ) if known else None, formula
    bathed = treatment.kind in {TreatmentKind.BRINED, TreatmentKind.MARINATED}
    if not bathed and (liquid is None or treatment.kind is TreatmentKind.DRY_BRINED):
        found = None if green is None else curing.nitrite_dry(nitrite, 1.0, green)
        return found, "curing salt × nitrite on its label ÷ green weight"
    formula = "nitrite ÷ (meat + brine), once both are alike"
    if green is None or liquid is None:
        return None, formula
    return curing.nitrite_immersed(nitrite, green, liquid), formula


def above(ppm: float, limits: Sequence[Published], pieces: Sequence[Piece]) -> tuple[str, ...]:
    """Return by how much nitrite going in is more than the limits of its product, in words.

    Parameters
    ----------
    ppm
        What goes in, parts per million.
    limits
        Those of the way it goes in.
    pieces
        The meat: bellies are held to what is published for bacon, all else to the other.
    """
    bacon = any(cut.key in BACON for piece in pieces for cut in meat_of(piece.cut).cuts)
    other = [one for one in limits if one.bacon is bacon] or list(limits)
    return tuple(
        f"{figure(ppm - one.value)} ppm above the {trimmed(one.value)} ppm of {one.what}, "
        f"{trimmed(ppm / one.value, 3)} times as much ({one.citation})"
        for one in other
        if round(ppm) > one.value
    )


def phosphate_above(share: float | None) -> str:
    """Return by how much phosphate in the meat is more than its limit, in words; else nothing.

    Parameters
    ----------
    share
        Fraction of the treated or the finished weight.
    """
    limit = published_limits().phosphate
    if share is None or share <= limit.value + 1e-12:
        return ""
    return (
        f"{figure(100 * (share - limit.value), 2)} % of the weight above the "
        f"{trimmed(100 * limit.value)} % of the finished weight, "
        f"{trimmed(share / limit.value, 3)} times as much ({limit.citation})"
    )


def over_limits(whole: WholeCook) -> list[str]:
    """Return a line for each treatment that puts more in than a published limit of its product.

    The pickup is the one weighed where all its meat was weighed before and after, else that aimed at.

    Parameters
    ----------
    whole
        The cook, with all its records.
    """
    return list(dict.fromkeys(line for t in whole.treatments for line in _over(whole, t)))


def _over(whole: WholeCook, treatment: Treatment) -> Iterator[str]:
    pieces = whole.treated_by(treatment)
    pickup = _pickup(whole, treatment)
    if treatment.cure and treatment.cure_strength:
        masses = [green_mass(whole, piece) for piece in pieces]
        known = [mass for mass in masses if mass is not None]
        green = sum(known) if known and len(known) == len(masses) else None
        ppm, _ = nitrite_in(treatment, green, pickup)
        if ppm is not None:
            limits = published_limits().of(whole, treatment)
            for said in above(ppm, limits, pieces):
                yield f"Nitrite going in: {figure(ppm)} ppm, {said}."
    if treatment.phosphate and pickup is not None:
        share = curing.on_pumped(treatment.phosphate, pickup)
        if said := phosphate_above(share):
            yield (
                f"Phosphate going in: {figure(100 * (share or 0.0), 2)} % of the treated weight, "
                f"{said}; cooked it weighs less, and the share is more."
            )


def _pickup(whole: WholeCook, treatment: Treatment) -> float | None:
    """Return the pickup of a treatment's meat together: weighed, else aimed at."""
    before, after = 0.0, 0.0
    for piece in whole.treated_by(treatment):
        green, treated = green_mass(whole, piece), whole.mass(piece, Stage.TREATED)
        if green is None or treated is None:
            return treatment.target_pickup
        before, after = before + green, after + treated
    return (after - before) / before if before else treatment.target_pickup


def _is_ground(whole: WholeCook, piece: Piece) -> bool:
    return Form.GROUND in {meat_of(piece.cut).form, *forms_of(whole, piece)}
