"""Rub, fuel and cost: the sums of a plan that are no treatment's."""

from collections.abc import Iterable

from pitjournal.analysis.plan.calculators import Sum, mass_words, typed_words
from pitjournal.analysis.plan.past import Past
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Stage
from pitjournal.domain.treatment import Seasoning
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import (
    Dimension,
    UnitSystem,
    show,
    show_interval,
    weighed_in,
)
from pitjournal.units.figures import figure
from pitjournal.units.scales import OUNCE

PORTION = 6 * OUNCE
"""Edible meat a head, g (common practice, no source)."""


def rub_sums(whole: WholeCook, layers: Iterable[Seasoning], system: UnitSystem) -> tuple[Sum, ...]:
    """Return how much of each rub the plan takes; by the piece, since it lies on the surface.

    Parameters
    ----------
    whole
        The cook, with all its records.
    layers
        Of rub.
    system
        The units of the words.
    """
    sums = []
    for layer in layers:
        pieces = [p for p in whole.pieces if layer.arm_id is None or layer.arm_id == p.arm_id]
        if layer.mass is None or not pieces or not layer.rub:
            continue
        each = typed_words(layer.mass, layer, "mass", system)
        formula = f"{each} a piece × {len(pieces)}; never scaled by weight"
        typed = weighed_in((layer.typed.get("mass", ""),), system)
        sums.append(Sum(layer.rub, mass_words(layer.mass * len(pieces), typed), formula))
    return tuple(sums)


def planned_fire(whole: WholeCook) -> float | None:
    """Return how long the fire is to burn by the plan, s: from lighting to the last off."""
    lit = [e.happened_at or e.planned_at for e in whole.events if e.kind == EventKind.LIT]
    off = [e.happened_at or e.planned_at for e in whole.events if e.kind == EventKind.OFF]
    starts, ends = [t for t in lit if t], [t for t in off if t]
    if not starts or not ends:
        return None
    span = (max(ends) - min(starts)).total_seconds()
    return span if span > 0 else None


def fuel_sum(whole: WholeCook, past: Past, system: UnitSystem) -> Sum | None:
    """Return the fuel that the plan takes, by one's own rates or the trade's; None: not known.

    Parameters
    ----------
    whole
        The cook, with all its records.
    past
        What one's own cooks took; None without any.
    system
        The units of the words.
    """
    span = planned_fire(whole)
    if span is None or past.burns is None:
        return None
    low, usual, high = (rate * span for rate in (past.burns.low, past.burns.usual, past.burns.high))
    rate = show(past.burns.usual, Dimension.MASS_RATE, system)
    formula = (
        f"{rate} × {show(span, Dimension.DURATION, system)} from lit to off, start-up "
        f"{'included' if past.burns.cooks else 'apart'}; "
        f"{show_interval(low, high, Dimension.MASS, system)}"
    )
    return Sum("Fuel for this plan", mass_words(usual, system), formula, past.burns.words)


def cost_sum(whole: WholeCook, past: Past | None, system: UnitSystem) -> Sum | None:
    """Return what an edible portion costs; None where prices or weights are not all known.

    Parameters
    ----------
    whole
        The cook, with all its records.
    past
        What one's own cooks took; None without any.
    system
        The units of the words.
    """
    paid = edible = 0.0
    for piece in whole.pieces:
        bought = whole.mass(piece, Stage.BOUGHT)
        left = whole.mass(piece, Stage.EDIBLE)
        usual = past.edible.get(piece.cut) if past else None
        if piece.price is None or bought is None or (left is None and usual is None):
            return None
        paid += piece.price * bought
        edible += left if left is not None else bought * (usual.usual if usual else 0.0)
    if edible <= 0:
        return None
    heads = edible / PORTION
    formula = (
        f"{show(paid, Dimension.MONEY, system)} for {mass_words(edible, system)} of edible meat; "
        f"a portion is {mass_words(PORTION, system)}"
    )
    value = f"{show(paid / heads, Dimension.MONEY, system)} a portion, {figure(heads)} portions"
    return Sum("Meat costs", value, formula, "by your own edible yield")
