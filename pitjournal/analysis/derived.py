"""Work out every variable of the catalogue for one cook: one value for each, or unknown."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from statistics import fmean
from zoneinfo import ZoneInfo

from pitjournal.analysis.contests.results import values_by_piece
from pitjournal.analysis.felt import JUST_OFF, off_moment, window_of
from pitjournal.analysis.tasting.scored_pieces import piece_scores
from pitjournal.analysis.tasting.totals import totals
from pitjournal.analysis.traces.facts import MEAT_KEYS, PIT_KEYS, facts_of_trace
from pitjournal.analysis.traces.readings import Readings, samples_of
from pitjournal.domain.blocks import Value
from pitjournal.domain.catalogue import Catalogue, Level, Origin
from pitjournal.domain.event import CUT_UP, EventKind
from pitjournal.domain.fires import fuel_used
from pitjournal.domain.judged import why_non_intact
from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.rules import UNLIKELY_GAIN
from pitjournal.domain.trace import Trace
from pitjournal.domain.treatment import FuelStage, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science import curing

Values = dict[str, Value]


@dataclass(frozen=True)
class CookValues:
    """A cook's values by catalogue key, and each piece's by its id."""

    cook: Mapping[str, Value]
    pieces: Mapping[str, Mapping[str, Value]]


def values_of(whole: WholeCook, readings: Readings) -> CookValues:
    """Work out a cook's values.

    Parameters
    ----------
    whole
        The cook.
    readings
        Gives a trace's samples; a trace whose file is damaged counts as not there.
    """
    span = _time_on(whole)
    chart: Values = {"probe_chart": bool(whole.traces), "brought": bool(whole.cook.brought_from)}
    cook = {**_recorded_cook(whole), **chart, **_fire(whole, span), **_pit(whole, readings)}
    scores = _scores(whole)
    own = _own(whole)
    judged = values_by_piece(whole)
    pieces = {
        piece.id: {
            **_recorded_piece(piece),
            **_arm(whole, piece),
            **_masses(whole, piece),
            **_times(whole, piece),
            **_doneness(whole, piece),
            **_meat(whole, piece, readings),
            **judged.get(piece.id, {}),
            **scores.get(piece.id, {}),
            **own.get(piece.arm_id or "", {}),
            **own.get(piece.id, {}),
        }
        for piece in whole.pieces
    }
    return CookValues({**cook, **own.get(whole.cook.id, {})}, pieces)


# the cook

_RECORDED = {
    level: tuple(
        (one.key, one.field)
        for one in Catalogue.BUILT_IN
        if one.level is level and one.origin is Origin.RECORDED
    )
    for level in Level
}
"""The variables that stand in a record: their keys and fields."""


def _recorded_cook(whole: WholeCook) -> Values:
    found: Values = {}
    for key, field in _RECORDED[Level.COOK]:
        value = getattr(whole.cook, field)
        found[key] = None if value == "" else value
    there = ZoneInfo(whole.cook.zone)  # a late Saturday is a Sunday elsewhere
    found["date"] = whole.cook.starts_at.astimezone(there).isoformat()
    details = whole.cooker.details if whole.cooker else {}
    found["cooker"] = whole.cooker.name if whole.cooker else None
    found["cooker_class"] = details.get("class") or None
    return found


def _time_on(whole: WholeCook) -> tuple[float, float] | None:
    """Return when the first piece went on and the last came off, s since 1970."""
    on, off = whole.moment_of(EventKind.ON), whole.moment_of(EventKind.OFF, last=True)
    return None if on is None or off is None else (on, off)


def _fire(whole: WholeCook, span: tuple[float, float] | None) -> Values:
    used = fuel_used(whole)
    burnt = Counter[str]()
    for load in whole.fuel_loads:
        if load.stage in {FuelStage.IN, FuelStage.ADDED}:
            burnt[load.fuel] += round(load.mass)
    woods = Counter(addition.wood for addition in whole.wood_additions if addition.wood)
    lit = whole.moment_of(EventKind.LIT)
    time = None if lit is None or span is None else span[1] - lit
    meat = [whole.mass(piece, Stage.ON) for piece in whole.pieces]
    on = sum(mass for mass in meat if mass is not None) if meat and None not in meat else None
    return {
        "fuel": burnt.most_common(1)[0][0] if burnt else None,
        "wood": woods.most_common(1)[0][0] if woods else None,
        "fuel_used": used,
        "cook_time": time,
        "fuel_rate": used / time if used is not None and time is not None and time > 0 else None,
        "fuel_per_meat": used / on if used is not None and on else None,
        "lid_openings": _count(whole, EventKind.LID, None) if span and not whole.brought else None,
    }


def _pit(whole: WholeCook, readings: Readings) -> Values:
    return dict.fromkeys(PIT_KEYS) | _of_trace(whole, whole.pit_trace, readings)


def _of_trace(whole: WholeCook, trace: Trace | None, readings: Readings) -> Values:
    """Return what a trace says; nothing without one, or when its file is damaged."""
    samples = samples_of(trace, readings)
    if trace is None or samples is None:
        return {}
    found: Values = {
        fact.key: fact.value for fact in facts_of_trace(whole, trace, samples, readings)
    }
    if found.get("stall_ended") is not None:
        found["stall_ended"] = bool(found["stall_ended"])
    return found


# the piece


def _recorded_piece(piece: Piece) -> Values:
    found: Values = {}
    for key, field in _RECORDED[Level.PIECE]:
        value = getattr(piece, field)
        found[key] = None if value == "" else value
    return found


def _arm(whole: WholeCook, piece: Piece) -> Values:
    arm = whole.arm_of(piece)
    kind = whole.treatment_kind(piece)
    why = why_non_intact(whole, piece)
    rubs = [s.rub for s in whole.seasonings if s.rub and s.arm_id in {None, piece.arm_id}]
    return {
        "arm": arm.name if arm else None,
        "control": arm.control if arm else None,
        "treatment": None if kind is None else str(kind),
        "non_intact": bool(why) if why or kind is not None else None,
        "rub": rubs[0] if rubs else None,
        "wrap": _wrap(whole, piece),
    }


def _wrap(whole: WholeCook, piece: Piece) -> str | None:
    wraps = whole.happened(EventKind.WRAP, piece)
    if wraps:
        return wraps[0].details.get("wrap") or None
    if whole.brought:  # its table says what it was wrapped in, and not when
        arm = whole.arm_of(piece)
        return (arm.wrap or None) if arm else None
    done = whole.first(EventKind.ON, piece) and whole.last(EventKind.OFF, piece)
    return "none" if done else None


def _masses(whole: WholeCook, piece: Piece) -> Values:
    masses = {stage: whole.mass(piece, stage) for stage in Stage}
    bought, trimmed, treated = masses[Stage.BOUGHT], masses[Stage.TRIMMED], masses[Stage.TREATED]
    on, off, edible = masses[Stage.ON], masses[Stage.OFF], masses[Stage.EDIBLE]
    before = trimmed if trimmed is not None else bought
    pickup = None if treated is None or before is None else curing.pickup(before, treated)
    found: Values = {f"mass_{stage}": mass for stage, mass in masses.items()}
    paid = None if piece.price is None or bought is None else piece.price * bought
    return found | {
        "pickup": pickup,
        "trim_loss": _share(_lost(bought, trimmed), bought),
        "yield_off": _share(_not_grown(off, before, treated, on), before),
        "yield_edible": _share(_not_grown(edible, bought, treated, on), bought),
        "cook_loss": _share(_lost(on, off), on),
        "cost_per_edible": _share(paid, edible),
        **_brine(whole, piece, pickup),
    }


def _minus(first: float | None, second: float | None) -> float | None:
    return None if first is None or second is None else first - second


def _lost(before: float | None, after: float | None) -> float | None:
    """Return a loss; None also where the weight grew, which cannot be and is asked about."""
    lost = _minus(before, after)
    return None if lost is None or lost < 0 else lost


def _not_grown(after: float | None, *before: float | None) -> float | None:
    """Return a weight; None where it is more than every earlier one, which cannot be."""
    most = max((mass for mass in before if mass is not None), default=None)
    grown = after is not None and most is not None and after > UNLIKELY_GAIN * most
    return None if grown else after


def _share(part: float | None, whole: float | None) -> float | None:
    return None if part is None or not whole else part / whole


def _brine(whole: WholeCook, piece: Piece, pickup: float | None) -> Values:
    """Work out the salt and phosphate that a pumped liquid leaves, of the treated weight."""
    treatment = whole.treatment_of(piece)
    pumped = treatment is not None and treatment.kind is TreatmentKind.INJECTED
    if treatment is None or not pumped or pickup is None:
        return {"salt_in_meat": None, "phosphate_in_meat": None}
    salt, phosphate = treatment.salt, treatment.phosphate
    return {
        "salt_in_meat": None if salt is None else curing.on_pumped(salt, pickup),
        "phosphate_in_meat": None if phosphate is None else curing.on_pumped(phosphate, pickup),
    }


def _count(whole: WholeCook, kind: EventKind, piece: Piece | None) -> float:
    return float(len(whole.happened(kind, piece)))


def _times(whole: WholeCook, piece: Piece) -> Values:
    on = whole.moment_of(EventKind.ON, piece)
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    wrap = whole.moment_of(EventKind.WRAP, piece)
    unwrap = whole.moment_of(EventKind.UNWRAP, piece, last=True)
    ends = [whole.moment_of(kind, piece) for kind in CUT_UP]
    served = [end for end in ends if end is not None and off is not None and end >= off]
    logged = on is not None and off is not None and not whole.brought
    return {
        "time_on": _after(_minus(off, on)),
        "time_to_wrap": _after(_minus(wrap, on)),
        "time_wrapped": _after(_minus(unwrap if unwrap is not None else off, wrap)),
        "time_rested": _minus(min(served), off) if served else None,
        "spritzes": _count(whole, EventKind.SPRITZ, piece) if logged else None,
    }


def _after(seconds: float | None) -> float | None:
    return seconds if seconds is not None and seconds >= 0 else None


def _doneness(whole: WholeCook, piece: Piece) -> Values:
    off = off_moment(whole, piece)
    checks = whole.checks_of(piece)
    before = [check for check in checks if off is None or check.at.timestamp() <= off + JUST_OFF]
    internal = [check.internal for check in before if check.internal is not None]
    feels = [check for check in before if check.feel is not None]
    found: Values = {
        "internal_off": internal[-1] if internal and (off is not None or whole.brought) else None,
        "feel_off": float(feels[-1].feel or 0) if feels and off is not None else None,
        "leeway_at_least": None,
        "leeway_at_most": None,
    }
    bounds = window_of(whole, piece, "time")
    if bounds is not None:
        found |= {"leeway_at_least": bounds.at_least, "leeway_at_most": bounds.at_most}
    return found


def _meat(whole: WholeCook, piece: Piece, readings: Readings) -> Values:
    return dict.fromkeys(MEAT_KEYS) | _of_trace(whole, whole.meat_trace(piece), readings)


# tasting and the cook's own


def _scores(whole: WholeCook) -> dict[str, Values]:
    """Return each piece's mean scores; a session counts once its codes are revealed."""
    told = [session for session in whole.tastings if session.revealed and session.asked.scored]
    given: dict[tuple[str, str], list[float]] = {}
    found: dict[str, Values] = {}
    for tasting in told:
        session = whole.session(tasting)
        for (piece_id, criterion), scores in piece_scores(session).items():
            key = piece_id, f"score.{tasting.variable(criterion)}"
            given.setdefault(key, []).extend(scores)
        for piece_id, total in totals(session).items():
            found.setdefault(piece_id, {})[f"score.{tasting.total_variable}"] = total.value
    for (piece_id, variable), scores in given.items():
        found.setdefault(piece_id, {})[variable] = fmean(scores)
    return found


def _own(whole: WholeCook) -> dict[str, Values]:
    found: dict[str, Values] = {}
    for value in whole.own_values:
        found.setdefault(value.owner_id, {})[f"own.{value.variable_id}"] = value.value
    return found


def mean_of(values: Iterable[float | None]) -> float | None:
    """Return the mean of the values that are known."""
    known = [value for value in values if value is not None]
    return fmean(known) if known else None
