"""Work a cook's day out backward from serving.

The meat goes on so early that nine cooks in ten would be in time; *off* is planned at the usual
time, and what lies between is slack in the hold.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from statistics import fmean
from typing import TYPE_CHECKING

from pitjournal.analysis.plan.durations import (
    BOX_STEPS,
    HANDS,
    HOUR,
    MINUTE,
    PREHEAT,
    Like,
    Span,
    past_span,
    trade_rest,
    trade_time_on,
    trade_time_to_wrap,
)
from pitjournal.domain.contest import TurnIn
from pitjournal.domain.cook import CookKind
from pitjournal.domain.cuts import served_as
from pitjournal.domain.day.schedule import (
    ENDS,
    WHOLE_COOK,
    StepKind,
    by_hand,
    chain_of,
    chains,
    cuts_of,
    due,
    end_of,
    for_all,
    is_open,
    moved,
)
from pitjournal.domain.day.turn_in import due_at, turned_in
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.whole_cook import WholeCook

if TYPE_CHECKING:
    from pitjournal.analysis.trends.columns.frame import Frame

IN_TIME = 0.9
"""So many cooks are to be in time."""

PROBE_EARLY = 30 * MINUTE
"""Probing starts so long before the usual time: about 10 °F early (common practice)."""

THAW_PER_GRAM = 24 * HOUR / (4.5 * 453.59237)
"""24 hours in the refrigerator for each 4 to 5 lb (USDA FSIS, The Big Thaw; from memory), s/g."""

AHEAD = 12 * HOUR
"""How long ahead of going on meat is treated where the plan does not say (2 to 48 h)."""

RUB_SET = 30 * MINUTE
"""How long rub is left to set where the plan does not say (10 to 60 min)."""

NOT_KNOWN = 4 * HOUR
"""Where *off* stands for a cut nobody knows and no serving time is said, until a cook sets it."""

_TREATS = {
    TreatmentKind.INJECTED: StepKind.INJECT,
    TreatmentKind.BRINED: StepKind.BRINE,
    TreatmentKind.DRY_BRINED: StepKind.DRY_BRINE,
    TreatmentKind.NEEDLED: StepKind.NEEDLE,
    TreatmentKind.BLADED: StepKind.BLADE,
    TreatmentKind.MARINATED: StepKind.MARINATE,
}


@dataclass(frozen=True)
class Group:
    """Pieces of one cut, which go on and come off together in the plan, and where they end up."""

    cut: str
    pieces: tuple[Piece, ...]
    time_on: Span | None
    to_wrap: Span | None
    rest: Span
    turn_in: TurnIn | None = None


@dataclass(frozen=True)
class Spans:
    """How long everything takes, by one's own cooks or by the trade."""

    groups: tuple[Group, ...]
    preheat: Span


def spans_of(whole: WholeCook, frame: "Frame") -> Spans:
    """Return how long everything in a planned cook takes.

    Parameters
    ----------
    whole
        The cook.
    frame
        The values of all cooks.
    """
    cooker = whole.cooker.name if whole.cooker else ""
    cook = whole.cook
    groups = []
    cuts, turn_ins = cuts_of(whole.pieces), turned_in(whole)
    for cut in dict.fromkeys(cuts.values()):
        pieces = tuple(piece for piece in whole.pieces if cuts[piece.id] == cut)
        thick = [piece.thickness for piece in pieces if piece.thickness is not None]
        masses = [m for p in pieces if (m := heaviest(whole, p)) is not None]
        like = Like(
            cut,
            cooker,
            cook.set_point,
            fmean(thick) if thick else None,
            fmean(masses) if masses else None,
        )
        on = past_span(frame, "time_on", like, cook.id)
        on = on or trade_time_on(cut, max(masses, default=None))
        wrap = past_span(frame, "time_to_wrap", like, cook.id)
        wrap = wrap or (trade_time_to_wrap(cut, on.usual) if on else None)
        rest = past_span(frame, "time_rested", like, cook.id) or trade_rest(cut)
        own = next((one for p in pieces if (one := turn_ins.get(p.id)) is not None), None)
        groups.append(Group(cut, pieces, on, wrap, rest, own))
    return Spans(tuple(groups), PREHEAT)


def heaviest(whole: WholeCook, piece: Piece) -> float | None:
    """Return what a piece last weighed before the fire, g."""
    stages = (Stage.ON, Stage.TREATED, Stage.TRIMMED, Stage.BOUGHT)
    return next((m for stage in stages if (m := whole.mass(piece, stage)) is not None), None)


# working out


def work_out(whole: WholeCook, spans: Spans, now: datetime) -> tuple[Event, ...]:
    """Return the steps of a cook's day.

    It is worked out backward from what each cut is served or turned in at: the time its category
    of a contest has, else the time it has in the plan that is there, else the cook's own. Without
    any it goes forward from meat on.
    Steps that are locked, or have happened, stay and the others go about them. Those made by
    hand stay too, as long before or after the meat goes on as they were.

    Parameters
    ----------
    whole
        The cook as it is, with the plan that is there.
    spans
        How long everything takes.
    now
        When it is worked out, aware.
    """
    cuts = cuts_of(whole.pieces)
    before = chains(whole.events, cuts)
    made: list[Event] = []
    for group in spans.groups:
        end = end_of(before.get(group.cut, ()))
        at = end.planned_at if end is not None else None
        official = None if group.turn_in is None else due_at(group.turn_in.category)
        made += _group(whole, group, official or at or whole.cook.serve_at, now)
    ons = [step.planned_at for step in made if step.kind == EventKind.ON and step.planned_at]
    if ons:
        light = min(ons) - timedelta(seconds=spans.preheat.usual)
        made.insert(0, _step(whole, EventKind.LIT, (), light, spans.preheat.usual, now))
    steps = _about_the_fixed(_still_to_do(_with_hands(made, whole), whole), whole, cuts)
    return _in_order((*steps, *_made_by_hand(whole, steps, cuts)))


def _with_hands(made: Iterable[Event], whole: WholeCook) -> list[Event]:
    """Return the steps with the hands that such steps have in the plan that is there."""
    known = {(e.kind, frozenset(e.pieces)): e.by for e in whole.events if is_open(e) and e.by}
    return [replace(s, by=known.get((s.kind, frozenset(s.pieces)), "")) for s in made]


def _still_to_do(made: Iterable[Event], whole: WholeCook) -> list[Event]:
    """Return the steps that have not happened, or been passed over, at the bench meanwhile."""
    happened = [event for event in whole.events if event.happened_at is not None]
    left = [
        step
        for step in made
        if not any(event.kind == step.kind and for_all(event, step) for event in happened)
    ]
    wanted = {step.id for step in due([*happened, *left])}
    return [step for step in left if step.id in wanted]


def _step(  # noqa: PLR0917 - what a step is
    whole: WholeCook,
    kind: str,
    pieces: Iterable[Piece],
    at: datetime,
    takes: float | None,
    now: datetime,
    *,
    exact: bool = False,
) -> Event:
    return Event(
        cook_id=whole.cook.id,
        kind=str(kind),
        happened_at=None,
        entered_at=now,
        planned_at=at if exact else _five_minutes(at),
        pieces=tuple(piece.id for piece in pieces),
        takes=takes,
    )


def _five_minutes(at: datetime) -> datetime:
    """Return the nearest five minutes: nobody plans by the second."""
    return datetime.fromtimestamp(300 * round(at.timestamp() / 300), at.tzinfo)


def _group(whole: WholeCook, group: Group, end: datetime | None, now: datetime) -> Iterator[Event]:
    """Yield the steps of a cut, from thawing to serving."""
    after = _after_the_rest(whole, group)
    tail = sum(takes for _, takes in after)
    exact = group.turn_in is not None  # an official clock has no five minutes to give
    said = end is not None  # and a time that was typed is the time
    rest = group.rest.low
    usual, late = (0.0, 0.0)
    if group.time_on is not None:
        usual, late = group.time_on.usual, max(group.time_on.within(IN_TIME), group.time_on.usual)
    started = began(whole, group)
    if started is not None or end is None or group.time_on is None:
        on = started or whole.cook.starts_at
        end = end or on + timedelta(seconds=(late or NOT_KNOWN) + rest + tail)
    else:
        on = end - timedelta(seconds=late + rest + tail)
    yield from before_the_fire(whole, group, on, now)
    yield _step(whole, EventKind.ON, group.pieces, on, None, now)
    if group.time_on is not None:
        yield from _on_the_fire(whole, group, on, now)
        off = on + timedelta(seconds=usual)
    else:  # nobody knows how long: right before the rest, where that leaves any time
        off = max(end - timedelta(seconds=rest + tail), on + timedelta(seconds=HOUR))
    yield _step(whole, EventKind.OFF, group.pieces, off, rest, now)
    at = end - timedelta(seconds=tail)
    for kind, takes in after:
        yield _step(whole, kind, group.pieces, at, takes, now, exact=exact)
        at += timedelta(seconds=takes)
    last = _step(whole, _end_kind(whole, group), group.pieces, end, None, now, exact=exact or said)
    yield replace(last, locked=True)


def began(whole: WholeCook, group: Group) -> datetime | None:
    """Return when the first piece of a cut went on at the bench; None: not yet."""
    first = (whole.first(EventKind.ON, piece) for piece in group.pieces)
    known = [event.happened_at for event in first if event is not None and event.happened_at]
    return min(known, default=None)


def _for_a_box(whole: WholeCook, group: Group) -> bool:
    return group.turn_in is not None or whole.cook.kind is CookKind.CONTEST


def _end_kind(whole: WholeCook, group: Group) -> StepKind:
    if _for_a_box(whole, group):
        return StepKind.TURN_IN
    return StepKind.TASTE if len(whole.arms) > 1 else StepKind.SERVE


def _after_the_rest(whole: WholeCook, group: Group) -> list[tuple[str, float]]:
    """Return what follows the rest and how long each takes, s."""
    box = _for_a_box(whole, group)
    kind = _CARVED.get(served_as(group.cut))
    if kind is None and len(whole.arms) > 1 and not box:
        kind = EventKind.SLICED  # even what is served whole is portioned and coded for a panel
    steps: list[tuple[str, float]] = []
    if kind is not None:
        steps.append((kind, max(10 * MINUTE, HANDS[kind] * len(group.pieces))))
    return [*steps, *(BOX_STEPS.items() if box else ())]


_CARVED = {"sliced": EventKind.SLICED, "pulled": EventKind.PULLED}
"""How meat is taken apart, by how its cut is served; what is served whole is not."""


def before_the_fire(whole: WholeCook, group: Group, on: datetime, now: datetime) -> Iterator[Event]:
    """Yield the steps of a cut before it goes on: thaw, trim, treat, rub.

    Parameters
    ----------
    whole
        The cook, with all its records.
    group
        Pieces that go the same way.
    on
        When they go on, aware.
    now
        The time, aware.
    """
    treated = list(_treated(whole, group))
    rub = _rub_time(whole, group)
    first = max((ahead for _, _, ahead in treated), default=0.0)
    trim_for = HANDS[StepKind.TRIM] * len(group.pieces)
    # With nothing done the night before, trimming comes right before the rub.
    trimmed = on - timedelta(seconds=max(first, rub) + trim_for)
    frozen = [piece for piece in group.pieces if piece.frozen]
    if frozen:
        grams = max((heaviest(whole, piece) or 0.0 for piece in frozen), default=0.0)
        takes = max(24 * HOUR, THAW_PER_GRAM * grams)
        yield _step(whole, StepKind.THAW, frozen, trimmed - timedelta(seconds=takes), takes, now)
    yield _step(whole, StepKind.TRIM, group.pieces, trimmed, trim_for, now)
    for kind, pieces, ahead in treated:
        yield _step(whole, kind, pieces, on - timedelta(seconds=ahead), None, now)
    if rub:
        yield _step(whole, StepKind.RUB, group.pieces, on - timedelta(seconds=rub), rub, now)


def _treated(whole: WholeCook, group: Group) -> Iterator[tuple[StepKind, list[Piece], float]]:
    """Yield each treatment with its pieces and how long before going on it is done, s.

    What is done to several pieces by themselves at one time is one step; that of an arm is its own.
    """
    found: dict[tuple[StepKind, str | None, float], list[Piece]] = {}
    for treatment in whole.treatments:
        step = _TREATS.get(treatment.kind)
        pieces = [piece for piece in whole.treated_by(treatment) if piece in group.pieces]
        if step is not None and pieces:
            ahead = AHEAD if treatment.time is None else treatment.time
            found.setdefault((step, treatment.arm_id, ahead), []).extend(pieces)
    for (step, _, ahead), pieces in found.items():
        yield step, pieces, ahead


def _rub_time(whole: WholeCook, group: Group) -> float:
    arms = {piece.arm_id for piece in group.pieces}
    layers = [s for s in whole.seasonings if s.arm_id is None or s.arm_id in arms]
    return sum(RUB_SET if s.set_time is None else s.set_time for s in layers)


def _on_the_fire(whole: WholeCook, group: Group, on: datetime, now: datetime) -> Iterator[Event]:
    assert group.time_on is not None
    usual = group.time_on.usual
    wrap = group.to_wrap
    if wrap is not None and wrap.usual < usual:
        at = on + timedelta(seconds=wrap.usual)
        for name, pieces in _wraps(whole, group).items():
            step = _step(whole, EventKind.WRAP, pieces, at, None, now)
            yield replace(step, details={"wrap": name}) if name else step
    if len(whole.arms) > 1 and len(group.pieces) > 1:
        half = on + timedelta(seconds=usual / 2)
        yield _step(whole, StepKind.SWAP, group.pieces, half, None, now)
    if usual > 2 * PROBE_EARLY:
        at = on + timedelta(seconds=usual - PROBE_EARLY)
        yield _step(whole, StepKind.PROBE, group.pieces, at, None, now)


def _wraps(whole: WholeCook, group: Group) -> dict[str, list[Piece]]:
    """Return the pieces by what they are wrapped in; "" where that is left open."""
    found: dict[str, list[Piece]] = {}
    for piece in group.pieces:
        arm = whole.arm_of(piece)
        wrap = arm.wrap if arm else ""
        if wrap != "none":
            found.setdefault(wrap, []).append(piece)
    return found


def _about_the_fixed(
    made: list[Event], whole: WholeCook, cuts: Mapping[str, str]
) -> tuple[Event, ...]:
    """Put the steps that must stay in the place of those worked out, and move the others."""
    steps = {step.id: step for step in made}
    fixed = [e for e in whole.events if e.planned_at and (e.locked or not is_open(e))]
    for old in fixed:
        twin = next((s for s in steps.values() if _twins(s, old, cuts)), None)
        if twin is not None and twin.kind not in ENDS and old.planned_at is not None:
            for step_id, at in moved(steps.values(), cuts, twin.id, old.planned_at).items():
                steps[step_id] = replace(steps[step_id], planned_at=at)
            steps.pop(twin.id)
            steps[old.id] = old
        elif twin is None:
            steps[old.id] = old
    return _in_order(steps.values())


def _in_order(steps: Iterable[Event]) -> tuple[Event, ...]:
    return tuple(sorted(steps, key=lambda step: (step.planned_at or step.entered_at, step.id)))


def _made_by_hand(
    whole: WholeCook, steps: Iterable[Event], cuts: Mapping[str, str]
) -> Iterator[Event]:
    """Yield the open steps a cook put in, moved as far as the meat of their cut goes on."""
    before, after = chains(whole.events, cuts), chains(steps, cuts)
    there = {step.id for chain in after.values() for step in chain}
    for old in whole.events:
        if is_open(old) and by_hand(old) and old.id not in there and old.planned_at:
            chain = chain_of(old, cuts)
            then, now = (_on(found, chain) for found in (before, after))
            shift = now - then if then is not None and now is not None else timedelta()
            yield replace(old, planned_at=old.planned_at + shift)


def _on(found: Mapping[str, list[Event]], chain: str) -> datetime | None:
    """Return when a chain's meat goes on; for the whole cook, when the first does."""
    names = [chain] if chain in found and chain != WHOLE_COOK else list(found)
    ons = [
        step.planned_at
        for name in names
        for step in found[name]
        if step.kind == EventKind.ON and step.planned_at is not None
    ]
    return min(ons, default=None)


def _twins(one: Event, two: Event, cuts: Mapping[str, str]) -> bool:
    return (
        one.id != two.id
        and one.kind == two.kind
        and by_hand(one) == by_hand(two)
        and chain_of(one, cuts) == chain_of(two, cuts)
        and (not one.pieces or not two.pieces or bool(set(one.pieces) & set(two.pieces)))
    )
