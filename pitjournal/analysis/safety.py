"""Safety facts of a cook: reached, not reached or unknown, each with its source."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from pitjournal.analysis.derived import Readings, samples_of
from pitjournal.analysis.traces.features import LONGEST_GAP, Stretch, reached, within
from pitjournal.analysis.traces.heat_dose import WARM, cooling
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import POULTRY_CUTS, Piece
from pitjournal.domain.safety_tables import (
    HoldingTable,
    SafetyRule,
    celsius,
    meat_lethality,
    poultry_lethality,
    safety_rules,
)
from pitjournal.domain.treatment import NON_INTACT
from pitjournal.domain.whole_cook import WholeCook

FOUR_HOURS = 4 * 3600.0

AT_ONCE = "fc-cook-nonintact-alt-158"
"""The row of the Food Code's chart at which no time is asked."""

CONDITIONS = "its conditions of humidity and come-up time are in no log"


class State(StrEnum):
    """What is known of a fact. There is no "safe"."""

    REACHED = "reached"
    NOT_REACHED = "not reached"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class SafetyFact:
    """A fact, its state, and where the rule stands."""

    fact: str
    state: State
    source: str


def levels_of(whole: WholeCook) -> list[tuple[float, str]]:
    """Return the levels that a cook's meat is seen against: °C, and the words for it.

    60 °C (140 °F), and the end point of the rule that asks most.
    """
    rules = safety_rules()
    asked = [(rules["fc-cook-intact"].celsius, "whole meat")]
    if any(whole.treatment_kind(piece) in NON_INTACT for piece in whole.pieces):
        asked.append((rules[AT_ONCE].celsius, "non-intact"))
    if any(piece.cut in POULTRY_CUTS for piece in whole.pieces):
        asked.append((rules["fc-cook-poultry"].celsius, "poultry"))
    return [(WARM, ""), max(asked)]


def facts_of(whole: WholeCook, readings: Readings) -> tuple[SafetyFact, ...]:
    """Return the facts that apply to a cook's meat."""
    return tuple(_facts(whole, readings))


def _facts(whole: WholeCook, readings: Readings) -> Iterator[SafetyFact]:
    rules = safety_rules()
    poultry = [p for p in whole.pieces if p.cut in POULTRY_CUTS]
    meat = [p for p in whole.pieces if p not in poultry]
    non_intact = [p for p in meat if whole.treatment_kind(p) in NON_INTACT]
    intact = [p for p in meat if p not in non_intact]
    for pieces, rule, what in (
        (poultry, rules["fc-cook-poultry"], "Poultry"),
        (non_intact, rules[AT_ONCE], "Injected or needled meat counts as non-intact"),
        (intact, rules["fc-cook-intact"], "Whole meat"),
    ):
        if pieces:
            yield _end_point(whole, readings, pieces, rule, what)
    traced = [p for p in whole.pieces if whole.meat_trace(p) is not None]
    for pieces, what in ((poultry, "poultry"), (meat, "meat")):
        probed = [piece for piece in pieces if piece in traced]
        if probed:
            yield _table(whole, readings, probed, what)
    if traced:
        yield _four_hours(whole, readings, traced)
        yield from _cooling(whole, readings, traced)


def _pieces(count: int) -> str:
    return "one piece" if count == 1 else f"{count} pieces"


def _end_point(
    whole: WholeCook, readings: Readings, pieces: Sequence[Piece], rule: SafetyRule, what: str
) -> SafetyFact:
    states = [_piece_state(whole, readings, piece, rule) for piece in pieces]
    hold = f" for {rule.hold:g} s" if rule.hold else ""
    known = sum(state is not State.UNKNOWN for state in states)
    count = f"{known} of {len(pieces)} pieces probed" if known < len(pieces) else "every piece"
    fact = f"{what}: {rule.value:g} °F ({rule.celsius:.0f} °C){hold}, {count}"
    return SafetyFact(fact, _together(states), rule.citation)


def _table(whole: WholeCook, readings: Readings, pieces: Sequence[Piece], what: str) -> SafetyFact:
    """Read the traces against the published holding times, by the next lower row."""
    from pitjournal.science.lethality import read_table  # noqa: PLC0415 - when first needed

    tables = [meat_lethality() if what == "meat" else _poultry(piece) for piece in pieces]
    states, rows = [], []
    for piece, table in zip(pieces, tables, strict=True):
        samples = _meat_samples(whole, readings, piece)
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
        states.append(State.REACHED if read.reached else State.NOT_REACHED)
        if read.reached and read.row is not None:
            rows.append(float(table.temperatures[read.row]))
    at = f", met from {min(rows) * 1.8 + 32:.0f} °F ({min(rows):.0f} °C) up" if rows else ""
    fact = (
        f"Held as the published table for {what} asks ({tables[0].log_reduction:g}-log), "
        f"{_pieces(len(pieces))} with a probe{at}"
    )
    return SafetyFact(fact, _together(states), f"{tables[0].source}; {CONDITIONS}")


def _poultry(piece: Piece) -> HoldingTable:
    species = next((name for name in ("chicken", "turkey") if name in piece.cut), None)
    return poultry_lethality(species)


def _together(states: Sequence[State]) -> State:
    """Return the state of a rule for all pieces: reached only when every piece reached it."""
    if State.NOT_REACHED in states:
        return State.NOT_REACHED
    return State.UNKNOWN if State.UNKNOWN in states else State.REACHED


def _piece_state(whole: WholeCook, readings: Readings, piece: Piece, rule: SafetyRule) -> State:
    checks = [c.internal for c in whole.checks_of(piece) if c.internal is not None]
    at_once = rule if not rule.hold else safety_rules()[AT_ONCE]
    if any(internal >= at_once.celsius for internal in checks):
        return State.REACHED  # at the row of no time a single reading needs no hold
    held = _held(whole, readings, piece, rule)
    if held is True:
        return State.REACHED
    if held is None and not checks:
        return State.UNKNOWN
    near = any(internal >= rule.celsius for internal in checks)
    if held is None and rule.hold and near:
        return State.UNKNOWN
    return State.NOT_REACHED


def _held(whole: WholeCook, readings: Readings, piece: Piece, rule: SafetyRule) -> bool | None:
    """Whether a trace stayed at a temperature for the hold; None where nothing tells."""
    from pitjournal.science.lethality import longest_hold  # noqa: PLC0415 - when first needed

    samples = _meat_samples(whole, readings, piece)
    if samples is None:
        return None
    held = longest_hold(samples.times, samples.values, rule.celsius)
    return held is not None and held >= rule.hold


def _meat_samples(whole: WholeCook, readings: Readings, piece: Piece) -> Stretch | None:
    """Return a piece's trace from on to off, or None where it has none or gaps hide it."""
    on = whole.moment_of(EventKind.ON, piece)
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    samples = samples_of(whole.meat_trace(piece), readings)
    if on is None or off is None or samples is None:
        return None
    return within(samples, on, off)


def _four_hours(whole: WholeCook, readings: Readings, pieces: Sequence[Piece]) -> SafetyFact:
    states = []
    for piece in pieces:
        on = whole.moment_of(EventKind.ON, piece)
        samples = samples_of(whole.meat_trace(piece), readings)
        time = None if on is None or samples is None else reached(samples, WARM, on)
        states.append(State.UNKNOWN if time is None else _state(time <= FOUR_HOURS))
    fact = f"Past 140 °F (60 °C) within four hours of going on, {_pieces(len(pieces))} with a probe"
    return SafetyFact(fact, _together(states), "common practice, no source")


def _state(yes: bool) -> State:
    return State.REACHED if yes else State.NOT_REACHED


def _cooling(whole: WholeCook, readings: Readings, pieces: Sequence[Piece]) -> Iterator[SafetyFact]:
    """Say how the pieces cooled whose traces go on until they do."""
    rules = safety_rules()
    stages = (rules["fc-cool-1"], rules["fc-cool-2"])
    top, levels = celsius(135.0), (celsius(70.0), celsius(41.0))
    found = []
    for piece in pieces:
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
            else _state(time is not None and time <= limit)
            for time, c in times
        ]
        fact = (
            f"Cooled from 135 to {to} °F (57 to {celsius(to):.0f} °C) within {rule.value:g} h, "
            f"{_pieces(len(found))} seen to cool"
        )
        yield SafetyFact(fact, _together(states), rule.citation)
