"""What one's own cooks say of a thing on the Shelf, from their records and values."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from statistics import fmean, median

from pitjournal.analysis.trends.question import Sign, Where
from pitjournal.domain.blocks import Value
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.fires import fuel_used
from pitjournal.domain.piece import Piece
from pitjournal.domain.samples import Samples
from pitjournal.domain.shelf import ACROSS, ShelfItem, ShelfKind, count_of, plain_name, price_of
from pitjournal.domain.times.moments import date_words
from pitjournal.domain.trace import Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.figures import figure

SCORES = ("tenderness", "juiciness", "flavour", "appearance")
"""Of the home panel's criteria, in the order in which they are said."""

FEW_COOKS = 2
"""A slot is said to be hotter or cooler only where so many cooks had it."""

MOST_SET_POINTS, NEWEST_TRACES = 3, 4
DOWNWARD = ("top", "upper", "middle", "lower", "bottom")
MANY_TASTED = 6
AS_HIGH = 0.05
"""Means that differ by less, points, are as high."""

MOST_CHECKS = 3
UNKNOWN = "Neither fuel nor pit was recorded with it."
NONE_YET = "No cook with it is done yet."

Values = Mapping[str, Mapping[str, Value]]
"""What is worked out, by the id of a cook or a piece."""


@dataclass(frozen=True)
class SlotHeat:
    """How much sooner (−) or later (+) pieces of a slot came off than their cook's mean, s."""

    slot: str
    later: float
    cooks: int


@dataclass(frozen=True)
class OfOwnCooks:
    """What cooks say of a thing: in words, as a small map of slots, and how Trends is asked.

    `across` is how many slots lie side by side.
    """

    words: str
    slots: tuple[SlotHeat, ...] = ()
    where: tuple[Where, ...] = ()
    across: int = 3


@dataclass(frozen=True)
class Known:
    """Cooks that were done, newest first, with what is worked out of them and their pieces."""

    cooks: Sequence[WholeCook]
    values: Values
    samples: Callable[[Trace], Samples]
    system: UnitSystem
    past: Mapping[str, Sequence[tuple[datetime, ShelfItem]]] = field(default_factory=dict)

    def numbers(self, owners: Sequence[str], key: str) -> list[float]:
        """Return what is known of a variable, a number an owner."""
        found = (self.values.get(owner, {}).get(key) for owner in owners)
        return [float(v) for v in found if isinstance(v, int | float)]


def told_of(item: ShelfItem, known: Known) -> OfOwnCooks:
    """Return what cooks say of a thing.

    Parameters
    ----------
    item
        The thing.
    known
        The cooks that are looked through.
    """
    tell = _BY_KIND.get(item.kind)
    done = [whole for whole in known.cooks if whole.cook.status is CookStatus.DONE]
    told = None if tell is None else tell(item, done, known)
    return told or OfOwnCooks(NONE_YET)


def _cooker(item: ShelfItem, cooks: Sequence[WholeCook], known: Known) -> OfOwnCooks | None:
    mine = [whole for whole in cooks if whole.cook.cooker_id == item.id]
    if not mine:
        return None
    said = [*_burn(mine, known), *_back_after_lid(mine, known)] or [UNKNOWN]
    slots = slot_heats(mine, known)
    where = (Where("cooker", Sign.IS, (item.name,)),)
    across = count_of(item, ACROSS) or OfOwnCooks.across
    return OfOwnCooks(" · ".join(said), slots, where, across)


def _burn(cooks: Sequence[WholeCook], known: Known) -> list[str]:
    """Return what is burnt an hour at each set point, the commonest first."""
    by_point: dict[str, list[float]] = {}
    for whole in cooks:
        if whole.cook.set_point is not None:
            at = show(whole.cook.set_point, Dimension.TEMPERATURE, known.system)
            by_point.setdefault(at, []).extend(known.numbers([whole.cook.id], "fuel_rate"))
    found = sorted(((at, v) for at, v in by_point.items() if v), key=lambda one: -len(one[1]))
    said = [
        f"{show(fmean(rates), Dimension.MASS_RATE, known.system)} at {at}"
        for at, rates in found[:MOST_SET_POINTS]
    ]
    return [f"burns {', '.join(said)}"] if said else []


def _back_after_lid(cooks: Sequence[WholeCook], known: Known) -> list[str]:
    """Return how long the pit takes to come back after the lid, of the newest traces."""
    from pitjournal.analysis.traces.pit import lid_recoveries

    traced = [whole.pit_trace for whole in cooks if whole.pit_trace is not None]
    took: list[float] = []
    for trace in traced[:NEWEST_TRACES]:
        took += [back - begin for begin, back in lid_recoveries(known.samples(trace))]
    if not took:
        return []
    often = f"{len(took)} {'opening' if len(took) == 1 else 'openings'}"
    return [f"back {figure(median(took) / 60)} min after the lid ({often})"]


def slot_heats(cooks: Sequence[WholeCook], known: Known) -> tuple[SlotHeat, ...]:
    """Return each slot's time on against its own cook's mean, over the cooks that had it."""
    found: dict[str, list[float]] = {}
    for whole in cooks:
        own: dict[str, list[float]] = {}
        for piece in whole.pieces:
            times = known.numbers([piece.id], "time_on")
            if piece.slot and times:
                own.setdefault(piece.slot, []).append(times[0])
        if len(own) < 2:
            continue
        usual = fmean([time for times in own.values() for time in times])
        for slot, times in own.items():
            found.setdefault(slot, []).append(fmean(times) - usual)
    heats = (
        SlotHeat(slot, fmean(later), len(later))
        for slot, later in found.items()
        if len(later) >= FEW_COOKS
    )
    return tuple(sorted(heats, key=lambda one: _in_order(one.slot)))


def _in_order(slot: str) -> tuple[int, int, str]:
    if slot.isdecimal():
        return 0, int(slot), ""
    low = slot.casefold()
    return 1, next((n for n, word in enumerate(DOWNWARD) if word in low), len(DOWNWARD)), low


def _fuel(item: ShelfItem, cooks: Sequence[WholeCook], known: Known) -> OfOwnCooks | None:
    name = plain_name(item.name)
    mine = [w for w in cooks if any(plain_name(load.fuel) == name for load in w.fuel_loads)]
    if not mine:
        return None
    ids = [whole.cook.id for whole in mine]
    said = []
    used, rates = known.numbers(ids, "fuel_used"), known.numbers(ids, "fuel_rate")
    if used:
        said.append(f"{show(fmean(used), Dimension.MASS, known.system)} a cook")
    if rates:
        said.append(f"{show(fmean(rates), Dimension.MASS_RATE, known.system)} from lit to off")
    price, burnt = price_of(item.details), [_burnt_of(name, whole) for whole in mine]
    weighed = [mass for mass in burnt if mass is not None]
    if price is not None and weighed:
        said.append(f"its fire costs {show(price * fmean(weighed), Dimension.MONEY, known.system)}")
    costs = [whole.cook.cost for whole in mine if whole.cook.cost is not None]
    if costs:
        many = "" if len(costs) == len(mine) else f" ({len(costs)} with their cost)"
        said.append(f"such a cook cost {show(fmean(costs), Dimension.MONEY, known.system)}{many}")
    return OfOwnCooks(" · ".join(said or [UNKNOWN]), where=(Where("fuel", Sign.IS, (item.name,)),))


def _burnt_of(name: str, whole: WholeCook) -> float | None:
    """Return what was burnt of one fuel alone, g, where a cook's fire may have had others."""
    own = tuple(load for load in whole.fuel_loads if plain_name(load.fuel) == name)
    return fuel_used(replace(whole, fuel_loads=own))


def _wood(item: ShelfItem, cooks: Sequence[WholeCook], known: Known) -> OfOwnCooks | None:
    name = plain_name(item.name)
    mine = [w for w in cooks if any(plain_name(one.wood) == name for one in w.wood_additions)]
    pieces = [piece for whole in mine for piece in whole.pieces]
    return _scored(mine, pieces, known, Where("wood", Sign.IS, (item.name,)))


def _rub(item: ShelfItem, cooks: Sequence[WholeCook], known: Known) -> OfOwnCooks | None:
    name, mine, pieces = plain_name(item.name), [], []
    for whole in cooks:
        layers = [layer for layer in whole.seasonings if plain_name(layer.rub) == name]
        arms = {layer.arm_id for layer in layers}
        own = [piece for piece in whole.pieces if None in arms or piece.arm_id in arms]
        if layers:
            mine.append(whole)
            pieces += own
    return _scored(mine, pieces, known, Where("rub", Sign.IS, (item.name,)))


def _recipe(item: ShelfItem, cooks: Sequence[WholeCook], known: Known) -> OfOwnCooks | None:
    name, mine, pieces = plain_name(item.name), [], []
    kinds: dict[str, None] = {}
    for whole in cooks:
        own = [one for one in whole.treatments if plain_name(one.recipe) == name]
        if own:
            mine.append(whole)
            kinds |= {str(one.kind): None for one in own}
            found = {p.id: p for one in own for p in whole.treated_by(one)}
            pieces += list(found.values())
    where = Where("treatment", Sign.IS, tuple(kinds)) if kinds else None
    return _scored(mine, pieces, known, where)


def _scored(
    cooks: Sequence[WholeCook], pieces: Sequence[Piece], known: Known, where: Where | None
) -> OfOwnCooks | None:
    """Return in how many cooks a thing was, and what its pieces scored."""
    if not cooks:
        return None
    ids = [piece.id for piece in pieces]
    scores = [
        f"{name} {figure(fmean(found), 1)}"
        for name in SCORES
        if (found := known.numbers(ids, f"score.{name}"))
    ]
    tasted = len(known.numbers(ids, f"score.{SCORES[0]}"))
    said = "not tasted yet"
    if scores:
        many = f"{tasted} pieces tasted" if tasted else "tasted"
        said = f"{', '.join(scores)} ({many})"
    return OfOwnCooks(said, where=() if where is None else (where,))


def _probe(item: ShelfItem, _cooks: Sequence[WholeCook], known: Known) -> OfOwnCooks | None:
    """Return what the probe's checks came to, the newest first: does it drift."""
    from pitjournal.analysis.traces.probe_check import correction_of

    checks: list[tuple[datetime, float]] = []
    for at, past in known.past.get(item.id, ()):
        line = correction_of(past)
        if line is not None and (not checks or checks[-1][1] != line[0]):
            checks.append((at, line[0]))
    if not checks:
        return OfOwnCooks("Its checks stand here, one beside the other, once it was checked.")
    what, system = Dimension.TEMPERATURE_DIFFERENCE, known.system
    said = [
        f"{show(shift, what, system, signed=True)} in ice on {date_words(at.date())}"
        for at, shift in reversed(checks[-MOST_CHECKS:])
    ]
    return OfOwnCooks(f"checked: {', before '.join(said)}")


def _taster(item: ShelfItem, cooks: Sequence[WholeCook], _known: Known) -> OfOwnCooks | None:
    """Return how a taster scored beside the others, sample by sample."""
    name, tastings, apart = plain_name(item.name), 0, []
    for whole in cooks:
        for tasting in whole.tastings:
            if not tasting.revealed or not tasting.asked.scored:
                continue
            scores = whole.session(tasting).scores
            mine = [score for score in scores if plain_name(score.taster) == name]
            tastings += bool(mine)
            for own in mine:
                others = [
                    score.value
                    for score in scores
                    if score.sample_id == own.sample_id
                    and score.criterion == own.criterion
                    and plain_name(score.taster) != name
                ]
                if others:
                    apart.append(own.value - fmean(others))
    if not tastings:
        return None
    said = [f"{tastings} {'tasting' if tastings == 1 else 'tastings'}"]
    if len(apart) >= MANY_TASTED:
        level = fmean(apart)
        way = "above" if level > 0 else "below"
        apart_by = f"{figure(abs(level), 1)} points {way} the others"
        said.append(f"scores {'as the others' if abs(level) < AS_HIGH else apart_by}")
        spread = fmean([abs(one - level) for one in apart])
        said.append(f"{figure(spread, 1)} apart from sample to sample ({len(apart)} scores)")
    return OfOwnCooks(" · ".join(said))


_BY_KIND: Mapping[
    ShelfKind, Callable[[ShelfItem, Sequence[WholeCook], Known], OfOwnCooks | None]
] = {
    ShelfKind.COOKER: _cooker,
    ShelfKind.FUEL: _fuel,
    ShelfKind.WOOD: _wood,
    ShelfKind.RUB: _rub,
    ShelfKind.RECIPE: _recipe,
    ShelfKind.PROBE: _probe,
    ShelfKind.TASTER: _taster,
}
