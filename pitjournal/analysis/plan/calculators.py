"""Sums of the plan, each with its formula and its source. Nothing here approves anything.

What is not weighed is not guessed: a sum that lacks a number says which.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from pitjournal.analysis.plan.cure_limits import (
    CureLimits,
    Published,
    above,
    nitrite_in,
    phosphate_above,
)
from pitjournal.analysis.plan.past import Past, Usual
from pitjournal.analysis.plan.weighed import (
    SPARE,
    factor_of,
    green_mass,
    green_system,
    mix_of,
    mixed_system,
)
from pitjournal.domain.piece import Piece
from pitjournal.domain.recipe import AS_WRITTEN, CURE_SOURCE, Line, cures, made_of_volumes, scaled
from pitjournal.domain.record import Measured
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science import curing
from pitjournal.science.heat.conduction import wall_theta
from pitjournal.units import (
    Dimension,
    UnitSystem,
    show,
    show_interval,
    show_typed,
)
from pitjournal.units.figures import figure, trimmed

HANDBOOK = "USDA FSIS Directive 7620.3 (1995)"
CRANK = "Crank, The Mathematics of Diffusion (1975), 4.3; how fast salt goes in from memory"
SALT_DIFFUSIVITY = 2.5e-10
"""Of salt in cold pork, m²/s: of the order that measurements give, from memory."""

_TABLESPOONS = 4
"""In a quarter of a US cup."""


@dataclass(frozen=True)
class Sum:
    """One sum: what it is, what it comes to, how, and where that stands.

    `look` marks what wants looking at, such as more than a limit.
    """

    what: str
    value: str
    formula: str
    source: str = ""
    look: bool = False


# treatments


@dataclass(frozen=True)
class _Meat:
    """The meat of a treatment: how many pieces, and their green weight where all are weighed.

    `system` are the units it was weighed in.
    """

    pieces: tuple[Piece, ...]
    masses: tuple[float, ...]
    system: UnitSystem

    @property
    def green(self) -> float | None:
        known = len(self.masses) == len(self.pieces) and self.pieces
        return sum(self.masses) if known else None


def treatment_sums(
    whole: WholeCook,
    treatment: Treatment,
    system: UnitSystem,
    limits: CureLimits,
    *,
    lines: Sequence[Line] = (),
    past: Past | None = None,
    quarter_cup: float | None = None,
) -> tuple[Sum, ...]:
    """Return the sums beside the fields of a treatment.

    Parameters
    ----------
    whole, treatment
        The cook, and the treatment of one of its arms or pieces.
    system
        The units they are said in where none were typed.
    limits
        The published limits.
    lines
        The recipe's ingredients.
    past
        What past cooks say, for the weight after cooking.
    quarter_cup
        What a quarter of a cup of the cook's salt weighs, g.
    """
    pieces = whole.treated_by(treatment)
    masses = tuple(m for piece in pieces if (m := green_mass(whole, piece)) is not None)
    meat = _Meat(pieces, masses, green_system(whole, pieces, system))
    system = mixed_system(whole, treatment, system)
    sums: list[Sum] = list(impossible(treatment, system))
    if sums:
        return tuple(sums)
    if treatment.kind is TreatmentKind.INJECTED:
        sums += _injected(treatment, meat, system)
        sums += _shares(treatment, _cooked(pieces, past), system, limits.phosphate)
    elif treatment.kind in {TreatmentKind.BRINED, TreatmentKind.MARINATED}:
        sums += _brined(treatment, meat, system)
    elif treatment.kind is TreatmentKind.DRY_BRINED:
        sums += _dry_brined(treatment, meat, system, quarter_cup)
    sums += _recipe(whole, treatment, lines, system)
    if treatment.cure is not None:
        sums += _cure(treatment, meat, limits.of(whole, treatment))
    return tuple(sums)


def impossible(treatment: Treatment, system: UnitSystem) -> Iterator[Sum]:
    """Yield what of a treatment cannot be: more than all of it, or less than nothing.

    Parameters
    ----------
    treatment, system
        The treatment, and the units it is said in.
    """
    shares = (
        ("Salt", treatment.salt, 1.0),
        ("Phosphate", treatment.phosphate, 1.0),
        ("Nitrite on the label", treatment.cure_strength, 1.0),
        ("Pickup wanted", treatment.target_pickup, math.inf),
    )
    for what, share, most in shares:
        if share is not None and not 0.0 <= share <= most:
            why = "less than nothing" if share < 0.0 else "more than all of it"
            said = f"{_share(share, system)} cannot be: it is {why}"
            yield Sum(what, said, "nothing is worked out until it is put right", look=True)


def _cooked(pieces: Sequence[Piece], past: Past | None) -> Usual | None:
    if past is None or not pieces:
        return None
    return past.cooked.get(pieces[0].cut)


def mass_words(grams: float, system: UnitSystem) -> str:
    """Return a weight in a cook's words."""
    return show(grams, Dimension.MASS, system)


def typed_words(grams: float, record: Measured, name: str, system: UnitSystem) -> str:
    """Return a weight in the units that it was typed in.

    Parameters
    ----------
    grams
        The weight.
    record, name
        The record, and which of its fields it was typed into.
    system
        The units where nothing was typed.
    """
    """Return a weight as its field shows it, so that a sum agrees with what stands there."""
    return show_typed(grams, record.typed.get(name, ""), Dimension.MASS, system)


def _share(fraction: float | None, system: UnitSystem) -> str:
    return show(fraction, Dimension.FRACTION, system)


def _recipe(
    whole: WholeCook, treatment: Treatment, lines: Sequence[Line], system: UnitSystem
) -> Iterator[Sum]:
    """Yield the recipe's ingredients for this cook; curing salt as it is written."""
    factor = factor_of(whole, treatment, lines)
    if factor is not None:
        salted = treatment.kind is TreatmentKind.DRY_BRINED
        mixed = mass_words(mix_of(whole, treatment) or 0.0, system)
        formula = f"the recipe with {mixed} " + ("of salt" if salted else "in all")
        told = made_of_volumes(lines)
        formula += f"; {told}" if told else ""
        yield Sum("By weight", ", ".join(scaled(lines, factor, system)), formula)
    for written in cures(lines):
        yield Sum("As written", written, AS_WRITTEN, CURE_SOURCE, look=True)


def _injected(treatment: Treatment, meat: _Meat, system: UnitSystem) -> Iterator[Sum]:
    pickup = treatment.target_pickup
    if pickup is None:
        yield Sum("Liquid", "say the pickup wanted", "green weight × pickup wanted")
        return
    if meat.green is None:
        yield Sum("Liquid", "weigh every piece", "green weight × pickup wanted")
        return
    taken = meat.green * pickup
    formula = f"{mass_words(meat.green, meat.system)} green × {_share(pickup, system)}"
    yield Sum("Liquid to go in", mass_words(taken, system), formula)
    mix = taken * SPARE
    yield Sum("Mix", mass_words(mix, system), "a quarter more: some runs out", "common practice")


def _shares(
    treatment: Treatment, cooked: Usual | None, system: UnitSystem, limit: Published
) -> Iterator[Sum]:
    """Yield salt and phosphate in the meat, on the green, the treated and the finished weight."""
    pickup = treatment.target_pickup
    if pickup is None:
        return
    if treatment.salt is not None:
        green = _share(curing.on_green(treatment.salt, pickup), system)
        treated = _share(curing.on_pumped(treatment.salt, pickup), system)
        formula = f"{_share(treatment.salt, system)} of the liquid × pickup"
        yield Sum("Salt", f"{green} of green, {treated} of treated weight", formula)
    if treatment.phosphate is not None:
        yield from _phosphate(treatment.phosphate, pickup, cooked, system, limit)


def _phosphate(
    share: float, pickup: float, cooked: Usual | None, system: UnitSystem, published: Published
) -> Iterator[Sum]:
    limit = published.value
    green = curing.on_green(share, pickup)
    treated = curing.on_pumped(share, pickup)
    finished = None if cooked is None else curing.on_finished(share, pickup, cooked.usual)
    said = f"{_share(green, system)} of green, {_share(treated, system)} of treated"
    if finished is not None:
        said += f", {_share(finished, system)} of finished weight"
    most = finished if finished is not None else treated
    over = max(green, most or 0.0) > limit + 1e-12
    strongest = curing.strongest_brine(limit, pickup, cooked.usual if cooked else 1.0)
    formula = (
        f"{_share(share, system)} of the liquid × pickup, ÷ (1 + pickup), ÷ yield; the limit is "
        f"{_share(limit, system)} of the finished weight, met by a liquid of "
        f"{_share(strongest, system)}"
    )
    if cooked is None:
        formula += "; the finished weight of this cut is not known yet, and is less"
    yield Sum("Phosphate", said, formula, published.citation, look=over)
    if more := phosphate_above(max(green, most or 0.0)):
        words = "of green, treated or finished weight, whichever holds most"
        yield Sum("Phosphate above its limit", more, words, published.citation, look=True)


def _brined(treatment: Treatment, meat: _Meat, system: UnitSystem) -> Iterator[Sum]:
    formula = "salt ÷ (meat + brine), once both are alike"
    if treatment.salt is None:
        return
    if treatment.liquid is None or meat.green is None:
        lacks = "weigh every piece" if meat.green is None else "say the liquid in all"
        yield Sum("Salt in the meat", lacks, formula, HANDBOOK)
        return
    salt = treatment.salt * treatment.liquid
    water = treatment.liquid - salt
    liquid = typed_words(treatment.liquid, treatment, "liquid", system)
    made = f"{_share(treatment.salt, system)} × {liquid} of brine"
    of_water = curing.strength_of_water(salt, water)
    if of_water is not None:
        made += f"; said of the water alone it is {_share(of_water, system)}"
    yield Sum(
        "Salt for the brine",
        f"{mass_words(salt, system)} in {mass_words(water, system)} of water",
        made,
    )
    alike = curing.equilibrium(salt, meat.green, treatment.liquid)
    yield Sum("Salt in the meat", f"at most {_share(alike, system)}", formula, HANDBOOK)
    yield from _far_in(treatment, meat, system)


def _far_in(treatment: Treatment, meat: _Meat, system: UnitSystem) -> Iterator[Sum]:
    """Yield how far salt from outside has come to the middle by the end of its time."""
    thick = [piece.thickness for piece in meat.pieces if piece.thickness]
    if treatment.time is None or not thick:
        return
    half = max(thick) / 2
    there = 1 - wall_theta(math.inf, SALT_DIFFUSIVITY * treatment.time / half**2)
    time = show(treatment.time, Dimension.DURATION, system)
    formula = (
        f"a slab as thick as the thickest piece after {time}, salt going in at "
        f"{SALT_DIFFUSIVITY:.1e} m²/s from both faces"
    )
    said = f"about {figure(100 * there)} % of that at the face"
    yield Sum("Salt in the middle", said, formula, CRANK)


def _dry_brined(
    treatment: Treatment, meat: _Meat, system: UnitSystem, quarter_cup: float | None
) -> Iterator[Sum]:
    if treatment.salt is None:
        return
    formula = f"{_share(treatment.salt, system)} × green weight"
    if meat.green is None:
        yield Sum("Salt", "weigh every piece", formula)
        return
    salt = treatment.salt * meat.green
    each = [treatment.salt * mass for mass in meat.masses]
    said = mass_words(salt, system)
    if len(each) > 1:
        said += f" in all, {show_interval(min(each), max(each), Dimension.MASS, system)} a piece"
    yield Sum("Salt", said, formula)
    yield from _spoons(salt, quarter_cup)
    yield from _far_in(treatment, meat, system)


def _spoons(salt: float, quarter_cup: float | None) -> Iterator[Sum]:
    if quarter_cup is None or quarter_cup <= 0:
        return
    spoons = salt * _TABLESPOONS / quarter_cup
    formula = f"a quarter cup of your salt weighs {trimmed(quarter_cup)} g; it may be 33 to 76 g"
    yield Sum("From your jar", f"{figure(spoons, 1)} tablespoons", formula, "common practice")


def _cure(treatment: Treatment, meat: _Meat, limits: Sequence[Published]) -> Iterator[Sum]:
    """Yield the nitrite that goes in, and the limits; never a word on whether it is right."""
    what = "Nitrite going in"
    if treatment.cure_strength is None:
        yield Sum(what, "say what the label gives", "grams of curing salt × nitrite on the label")
        return
    found, formula = nitrite_in(treatment, meat.green, treatment.target_pickup)
    value = "not to be worked out yet" if found is None else f"{figure(found)} ppm"
    over = found is not None and bool(limits) and found > max(one.value for one in limits)
    value += ", more than every limit below" if over else ""
    yield Sum(what, value, formula, HANDBOOK, look=over)
    more = () if found is None else above(found, limits, meat.pieces)
    if more:
        words = "the limit of what is made of this cut; nothing is approved here"
        yield Sum("Nitrite above its limit", "; ".join(more), words, look=True)
    if limits:
        said = "; ".join(f"{one.what} {trimmed(one.value)} ppm ({one.citation})" for one in limits)
        words = "limits depend on the product and the place; nothing is approved here"
        yield Sum("Published limits", said, words)
