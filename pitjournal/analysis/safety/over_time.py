"""What traces say over time: the published tables, four hours, hot holding, cooling."""

from collections.abc import Iterator, Sequence

from pitjournal.analysis.derived import Readings, samples_of
from pitjournal.analysis.safety.states import SafetyFact, State, pieces, state_of, together
from pitjournal.analysis.traces.features import LONGEST_GAP, Stretch, ordered, reached, within
from pitjournal.analysis.traces.heat_dose import WARM, cooling
from pitjournal.domain.cuts import meat_of
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.safety_tables import (
    HoldingTable,
    celsius,
    meat_lethality,
    poultry_lethality,
    safety_rules,
)
from pitjournal.domain.whole_cook import WholeCook

FOUR_HOURS = 4 * 3600.0

CONDITIONS = "its conditions of humidity and come-up time are in no log"


def table_fact(
    whole: WholeCook, readings: Readings, probed: Sequence[Piece], what: str
) -> SafetyFact:
    """Read the traces against the published holding times, by the next lower row."""
    from pitjournal.science.lethality import read_table  # noqa: PLC0415 - when first needed

    tables = [meat_lethality() if what == "meat" else _poultry(piece) for piece in probed]
    states, rows = [], []
    for piece, table in zip(probed, tables, strict=True):
        samples = _from_on_to_off(whole, readings, piece)
        if samples is None:
            states.append(State.UNKNOWN)
            continue
        read = read_table(
            samples.times,
            samples.values,
            table.temperatures,
            table.seconds,
            longest_gap=LONGEST_GAP,
        )
        states.append(state_of(reached=bool(read.reached)))
        if read.reached and read.row is not None:
            rows.append(float(table.temperatures[read.row]))
    at = f", met from {min(rows) * 1.8 + 32:.0f} °F ({min(rows):.0f} °C) up" if rows else ""
    fact = (
        f"Held as the published table for {what} asks ({tables[0].log_reduction:g}-log), "
        f"{pieces(len(probed))} with a probe{at}"
    )
    return SafetyFact(fact, together(states), f"{tables[0].source}; {CONDITIONS}")


def _poultry(piece: Piece) -> HoldingTable:
    animals = {str(animal) for animal in meat_of(piece.cut).animals}
    known = animals & {"chicken", "turkey"}
    return poultry_lethality(known.pop() if len(known) == len(animals) == 1 else None)


def _from_on_to_off(whole: WholeCook, readings: Readings, piece: Piece) -> Stretch | None:
    """Return a piece's trace from on to off, or None where it has none or gaps hide it."""
    on = whole.moment_of(EventKind.ON, piece)
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    samples = samples_of(whole.meat_trace(piece), readings)
    if on is None or off is None or samples is None:
        return None
    return within(samples, on, off)


def four_hours(whole: WholeCook, readings: Readings, probed: Sequence[Piece]) -> SafetyFact:
    """Say whether the meat passed 60 °C within four hours; never, over that time, is not reached."""
    states = [_passed(whole, readings, piece) for piece in probed]
    fact = f"Past 140 °F (60 °C) within four hours of going on, {pieces(len(probed))} with a probe"
    return SafetyFact(fact, together(states), "common practice, no source")


def _passed(whole: WholeCook, readings: Readings, piece: Piece) -> State:
    on = whole.moment_of(EventKind.ON, piece)
    samples = samples_of(whole.meat_trace(piece), readings)
    if on is None or samples is None:
        return State.UNKNOWN
    time = reached(samples, WARM, on)
    if time is not None:
        return state_of(reached=time <= FOUR_HOURS)
    times, values = ordered(samples)
    within_them = (times >= on) & (times <= on + FOUR_HOURS)
    seen_all = within(samples, on, on + FOUR_HOURS) is not None
    if seen_all and not (values[within_them] >= WARM).any():
        return State.NOT_REACHED
    return State.UNKNOWN


def hot_hold(whole: WholeCook, readings: Readings) -> Iterator[SafetyFact]:
    """Say whether what was held stayed hot: from held to sliced, boxed or the end of its trace."""
    held = [piece for piece in whole.pieces if whole.first(EventKind.HELD, piece) is not None]
    if not held:
        return
    rule = safety_rules()["fc-hold-hot"]
    states = [_stayed_hot(whole, readings, piece, rule.celsius) for piece in held]
    fact = f"Held at {rule.value:g} °F ({rule.celsius:.0f} °C) or more, {pieces(len(held))} held"
    yield SafetyFact(fact, together(states), rule.citation)


def _stayed_hot(whole: WholeCook, readings: Readings, piece: Piece, level: float) -> State:
    start = whole.moment_of(EventKind.HELD, piece)
    samples = samples_of(whole.meat_trace(piece), readings)
    if start is None or samples is None:
        return State.UNKNOWN
    ends = [whole.moment_of(kind, piece) for kind in (EventKind.SLICED, EventKind.BOXED)]
    end = min((at for at in ends if at is not None and at > start), default=None)
    times, values = ordered(samples)
    inside = (times >= start) & (times <= (end or float("inf")))
    if (values[inside] < level).any():
        return State.NOT_REACHED
    covered = end is not None and within(samples, start, end) is not None
    return State.REACHED if covered else State.UNKNOWN


def cooling_facts(
    whole: WholeCook, readings: Readings, probed: Sequence[Piece]
) -> Iterator[SafetyFact]:
    """Say how the pieces cooled whose traces go on until they do."""
    rules = safety_rules()
    stages = (rules["fc-cool-1"], rules["fc-cool-2"])
    top, levels = celsius(135.0), (celsius(70.0), celsius(41.0))
    found = []
    for piece in probed:
        off = whole.moment_of(EventKind.OFF, piece, last=True)
        samples = samples_of(whole.meat_trace(piece), readings)
        cooled = None if off is None or samples is None else cooling(samples, off, top, *levels)
        if cooled is not None:
            found.append(cooled)
    if not found:
        return
    for rule, to, times in (
        (stages[0], 70, [(c.first, c) for c in found]),
        (stages[1], 41, [(c.second, c) for c in found]),
    ):
        assert rule.value is not None
        limit = rule.value * 3600.0
        states = [
            State.UNKNOWN
            if not c.known or (time is None and c.lasted < limit)
            else state_of(reached=time is not None and time <= limit)
            for time, c in times
        ]
        fact = (
            f"Cooled from 135 to {to} °F (57 to {celsius(to):.0f} °C) within {rule.value:g} h, "
            f"{pieces(len(found))} seen to cool"
        )
        yield SafetyFact(fact, together(states), rule.citation)
