"""What the card of the day shows: its steps in a cook's words."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from pitjournal.analysis.plan.durations import Span
from pitjournal.analysis.plan.hands import Trouble, hands_of
from pitjournal.analysis.plan.schedule import Spans
from pitjournal.analysis.plan.schedule_check import (
    all_in_time,
    crowded,
    in_time,
    slack,
    troubles,
)
from pitjournal.domain.day.schedule import (
    ENDS,
    StepKind,
    chain_of,
    chains,
    cuts_of,
    due,
    is_open,
    is_step,
)
from pitjournal.domain.day.turn_in import turn_in_of
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.times.moments import (
    date_words,
    show_moment,
    show_time,
    time_zone,
    weekday_words,
)
from pitjournal.domain.treatment import Seasoning, Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.contest_words import missed_words, window_words
from pitjournal.ui.event_words import event_words, everyone
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.figures import figure
from pitjournal.units.first_letter import capital

SAME_TIME = 150.0
"""Nobody plans closer than this, s."""

GRACE = timedelta(minutes=15)
"""Meat that goes on so much later than planned is not told of yet."""

STRONG = frozenset({EventKind.ON, EventKind.OFF, *ENDS})


@dataclass(frozen=True)
class StepLine:
    """One step as it is shown; `day` is empty where it is that of the line above."""

    step_id: str
    at: datetime
    day: str
    clock: str
    text: str
    who: str
    by: str
    looks: tuple[int | None, ...]
    strong: bool
    locked: bool
    done: bool

    @property
    def spoken(self) -> str:
        """The whole line in words, for whoever listens."""
        state = ", locked" if self.locked else ", done" if self.done else ""
        who = f", {self.who}" if self.who else ""
        who += f", by {self.by}" if self.by else ""
        return f"{self.day} {self.clock} {self.text}{who}{state}".strip()


def planned_steps(whole: WholeCook) -> list[Event]:
    """Return the steps of a cook in time order."""
    steps = [event for event in whole.events if is_step(event)]
    return sorted(steps, key=lambda step: (step.planned_at or step.entered_at, step.id))


def step_lines(whole: WholeCook, system: UnitSystem) -> tuple[StepLine, ...]:
    """Return the lines of a cook's day."""
    zone = whole.cook.zone
    place = time_zone(zone)
    lines = []
    before = ""
    for step in planned_steps(whole):
        assert step.planned_at is not None
        local = step.planned_at.astimezone(place)
        day = f"{weekday_words(local)} {date_words(local, with_year=False)}"
        lines.append(
            StepLine(
                step.id,
                step.planned_at,
                day if day != before else "",
                show_time(step.happened_at or step.planned_at, zone),
                step_words(whole, step, system) + _planned_for(step, zone),
                who(whole, step.pieces),
                step.by,
                looks(whole, step.pieces),
                step.kind in STRONG,
                step.locked,
                step.happened_at is not None,
            )
        )
        before = day
    return tuple(lines)


def _planned_for(step: Event, zone: str) -> str:
    """Say when a step that is done was planned for, where it was done at another time."""
    if step.happened_at is None or step.planned_at is None:
        return ""
    apart = abs((step.happened_at - step.planned_at).total_seconds())
    return f", planned for {show_time(step.planned_at, zone)}" if apart > SAME_TIME else ""


def who(whole: WholeCook, pieces: Sequence[str]) -> str:
    """Return whom a step is for: "all nine", a cut, an arm or labels; "" for the whole cook."""
    if not pieces:
        return ""
    chosen = set(pieces)
    if chosen == {piece.id for piece in whole.pieces}:
        return everyone(len(chosen)) if len(chosen) > 1 else whole.pieces[0].label
    cuts = cuts_of(whole.pieces)
    for cut in dict.fromkeys(cuts.values()):
        if chosen == {piece_id for piece_id, its in cuts.items() if its == cut}:
            return cut
    names = [piece.label for piece in whole.pieces if piece.id in chosen]
    return " ".join(names[:5]) + (f" and {len(names) - 5} more" if len(names) > 5 else "")


def looks(whole: WholeCook, pieces: Sequence[str]) -> tuple[int | None, ...]:
    """Return the arms' looks of a step that is not for every arm."""
    if not whole.arms or not pieces:
        return ()
    arms = {piece.arm_id for piece in whole.pieces if piece.id in pieces}
    if len(arms) == len({piece.arm_id for piece in whole.pieces}):
        return ()
    return tuple(sorted((whole.arm_index(arm) for arm in arms), key=lambda one: one or 0))


_PLAIN: Mapping[str, str] = {
    EventKind.OFF: "Off when right",
    EventKind.BOXED: "Build the box",
    StepKind.BOX_PHOTO: "Photo of the box",
    StepKind.WALK: "Walk it over",
    StepKind.SWAP: "Swap slots: first with last, and so on",
    StepKind.PROBE: "Start probing, every 15 min",
    StepKind.THAW: "Into the refrigerator to thaw",
}


def step_words(whole: WholeCook, step: Event, system: UnitSystem) -> str:
    """Return a step as a cook says it."""
    if step.kind in _PLAIN:
        return _PLAIN[step.kind]
    if step.kind == EventKind.LIT:
        at = show(whole.cook.set_point, Dimension.TEMPERATURE, system)
        return "Light the fire" + (f"; set {at}" if whole.cook.set_point is not None else "")
    if step.kind == StepKind.TURN_IN:
        return _turn_in_words(whole, step)
    if step.kind == EventKind.SLICED:
        return "Slice and code" if len(whole.arms) > 1 else "Slice"
    if step.kind == StepKind.RUB:
        return _rub(whole, step, system)
    treatment = _treatment(whole, step)
    return event_words(step) if treatment is None else _treat(step, treatment, system)


def _turn_in_words(whole: WholeCook, step: Event) -> str:
    turn_in = turn_in_of(whole, step)
    if turn_in is None:
        return "Turn in"
    window = window_words(turn_in).partition(", ")[2]
    return f"Turn in {turn_in.category.name}" + (f", {window}" if window else "")


def _rub(whole: WholeCook, step: Event, system: UnitSystem) -> str:
    arms = {piece.arm_id for piece in whole.pieces if piece.id in step.pieces}
    layers = [s for s in whole.seasonings if s.rub and s.arm_id in {None, *arms}]
    parts = [_layer(layer, system) for layer in layers]
    return "Rub" + (f": {'; then '.join(parts)}" if parts else "")


def _layer(layer: Seasoning, system: UnitSystem) -> str:
    """Return a layer of rub with its side and how long it is left to set."""
    words = [layer.rub, layer.side] if layer.side else [layer.rub]
    if layer.set_time is not None:
        words.append(show(layer.set_time, Dimension.DURATION, system))
    return ", ".join(words)


_STEP_OF = {
    StepKind.INJECT: TreatmentKind.INJECTED,
    StepKind.BRINE: TreatmentKind.BRINED,
    StepKind.DRY_BRINE: TreatmentKind.DRY_BRINED,
    StepKind.NEEDLE: TreatmentKind.NEEDLED,
    StepKind.BLADE: TreatmentKind.BLADED,
    StepKind.MARINATE: TreatmentKind.MARINATED,
}


def _treatment(whole: WholeCook, step: Event) -> Treatment | None:
    kind = next((kind for name, kind in _STEP_OF.items() if name == step.kind), None)
    arms = {piece.arm_id for piece in whole.pieces if piece.id in step.pieces}
    return next(
        (
            t
            for t in whole.treatments
            if t.kind is kind and (t.arm_id in arms or t.piece_id in step.pieces)
        ),
        None,
    )


def _treat(step: Event, treatment: Treatment, system: UnitSystem) -> str:
    words = capital(step.kind)
    if treatment.kind is TreatmentKind.DRY_BRINED and treatment.salt is not None:
        words += f", {show(treatment.salt, Dimension.FRACTION, system)} salt"
    elif treatment.target_pickup is not None:
        words += f" to {show(treatment.target_pickup, Dimension.FRACTION, system)} of its weight"
    if treatment.passes is not None:
        words += f", {'one pass' if treatment.passes == 1 else f'{treatment.passes} passes'}"
    return words


# how sure


@dataclass(frozen=True)
class Sureness:
    """The chance of being in time, in words; all empty without a plan."""

    number: str = ""
    words: str = ""
    sources: tuple[str, ...] = ()
    slack: str = ""


def sureness(whole: WholeCook, spans: Spans, system: UnitSystem, now: datetime) -> Sureness:
    """Return how sure it is that the plan holds from now on, and where that comes from."""
    each = in_time(whole, spans, now)
    sources = tuple(_source(group.cut, group.time_on, system) for group in spans.groups)
    if not each:
        return Sureness(sources=sources)
    least = each[0]
    if len(each) == 1:
        words = f"in time, {least.span.words}"
    else:
        words = (
            f"or more that all are in time. The tightest is {least.cut}: "
            f"{percent(least.chance)}, {least.span.words}"
        )
    said = (*sources, RULE)
    return Sureness(percent(all_in_time(each)), words, said, _slack(whole, system))


RULE = (
    "In time is: off early enough that the least rest, slicing and boxing still fit. One more "
    "cook is taken to scatter as yours did, or as the trade's range read as nine cooks in ten."
)


def percent(chance: float) -> str:
    """Return a chance as per cent; never all and never none, which nobody can know."""
    if chance > 0.99:
        return "over 99 %"
    return f"{figure(100 * chance)} %" if chance >= 0.01 else "under 1 %"


def _source(cut: str, span: Span | None, system: UnitSystem) -> str:
    if span is None:
        return f"{cut}: how long it takes is not known. Type when it comes off."
    usual, low, high = (
        show(time, Dimension.DURATION, system) for time in (span.usual, span.low, span.high)
    )
    return f"{cut}: usually {usual} on, {low} to {high}, {span.words}"


def _slack(whole: WholeCook, system: UnitSystem) -> str:
    cuts = cuts_of(whole.pieces)
    found = [s for chain in chains(whole.events, cuts).values() if (s := slack(chain)) is not None]
    if not found:
        return ""
    least = min(found)
    shown = show(abs(least), Dimension.DURATION, system)
    return f"slack {shown}" if least >= 0 else f"{shown} short"


def trouble_words(whole: WholeCook, now: datetime, system: UnitSystem) -> tuple[str, ...]:
    """Return what in the plan does not fit, a line each."""
    said = list(_too_late(whole, now))
    said += _out_of_windows(whole)
    said += [_trouble(whole, trouble, system, now) for trouble in troubles(whole)]
    crowd = crowded(whole)
    if crowd is not None:
        cooker = whole.cooker.name if whole.cooker else "the cooker"
        at = show_moment(crowd.at, whole.cook.zone, now)
        said.append(f"At {at} {crowd.pieces} pieces are on, and {cooker} has {crowd.slots} slots.")
    return tuple(said)


def _too_late(whole: WholeCook, now: datetime) -> Iterator[str]:
    """Say what should have been done already, by a plan that was made too late."""
    late = [s for s in due(whole.events) if s.planned_at and s.planned_at < now - GRACE]
    ons = [s for s in late if s.kind == EventKind.ON]
    fire = next((s for s in late if s.kind == EventKind.LIT), None)
    for step in ons:
        at = show_moment(step.planned_at, whole.cook.zone, now)
        what = who(whole, step.pieces) or "the meat"
        yield (
            f"By this plan {what} should have been on at {at}. Type when it will be: the "
            "chance of being in time goes by that, or by now."
        )
    if fire is not None and not ons:
        at = show_moment(fire.planned_at, whole.cook.zone, now)
        yield (
            f"By this plan the fire should have been lit at {at}. Log it, or type when it will "
            "be: the chance of being in time counts from now."
        )
    others = [step for step in late if step.kind in _BEFORE]
    if others:
        said = (
            f"{step.kind} {show_moment(step.planned_at, whole.cook.zone, now)}" for step in others
        )
        yield f"Past by this plan, and not logged: {', '.join(said)}."


_BEFORE = frozenset({StepKind.THAW, StepKind.TRIM, StepKind.RUB, *_STEP_OF})
"""What is done to meat before it goes on."""


def _out_of_windows(whole: WholeCook) -> Iterator[str]:
    """Say which box is planned for a time at which its window is not open."""
    for step in whole.events:
        turn_in = turn_in_of(whole, step) if step.kind == StepKind.TURN_IN else None
        if turn_in is None or not is_open(step) or step.planned_at is None:
            continue
        missed = missed_words(turn_in.category, step.planned_at)
        if missed:
            at = show_time(step.planned_at, whole.cook.zone)
            name = capital(turn_in.category.name)
            yield f"{name} is turned in at {at}, {missed}: {window_words(turn_in)}."


def _trouble(whole: WholeCook, trouble: Trouble, system: UnitSystem, now: datetime) -> str:
    zone = whole.cook.zone
    first, second = (_short(whole, step) for step in (trouble.first, trouble.second))
    if trouble.hands:
        at = show_moment(trouble.second.planned_at, zone, now)
        if trouble.by:
            return f"{first} and {second.lower()} fall together at {at}: both are {trouble.by}’s."
        also = [_short(whole, step).lower() for step in trouble.also]
        what = f"{', '.join([first, *also])} and {second.lower()}"
        count = max(len(hands_of(whole)), 1)
        hands = "one pair" if count == 1 else f"{count} pairs"
        return f"{what} fall together at {at}: {hands} of hands."
    lacks = show(trouble.lacks, Dimension.DURATION, system)
    return f"{first} leaves {lacks} too little before {second.lower()}."


def _short(whole: WholeCook, step: Event) -> str:
    cut = chain_of(step, cuts_of(whole.pieces))
    word = capital(step.kind)
    return f"{word} ({cut})" if cut else word
