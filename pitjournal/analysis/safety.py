"""Safety facts of a cook: reached, not reached or unknown, each with its source."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from pitjournal.analysis.derived import Readings, samples_of
from pitjournal.analysis.trace_features import Stretch, reached, within
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import POULTRY_CUTS, Piece
from pitjournal.domain.treatment import NON_INTACT
from pitjournal.domain.whole_cook import WholeCook

FOUR_HOURS = 4 * 3600.0
DANGER_TOP = 60.0


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


@dataclass(frozen=True)
class Rule:
    """A published end point: °F as published, hold in s (0: at once), and its source."""

    fahrenheit: float
    hold: float
    source: str

    @property
    def celsius(self) -> float:
        """The temperature in °C."""
        return (self.fahrenheit - 32.0) / 1.8


NON_INTACT_RULE = Rule(158.0, 0.0, "FDA Food Code 2017/2022 3-401.11(A)(2) chart")
POULTRY_RULE = Rule(165.0, 0.0, "FDA Food Code 2017/2022 3-401.11(A)(3)")
INTACT_RULE = Rule(145.0, 15.0, "FDA Food Code 2017/2022 3-401.11(A)(1)")
"""The rows that a single probe reading, or a trace, can be held against."""


def facts_of(whole: WholeCook, readings: Readings) -> tuple[SafetyFact, ...]:
    """Return the facts that apply to a cook's meat."""
    return tuple(_facts(whole, readings))


def _facts(whole: WholeCook, readings: Readings) -> Iterator[SafetyFact]:
    poultry = [p for p in whole.pieces if p.cut in POULTRY_CUTS]
    non_intact = [
        p for p in whole.pieces if p not in poultry and whole.treatment_kind(p) in NON_INTACT
    ]
    intact = [p for p in whole.pieces if p not in poultry and p not in non_intact]
    for pieces, rule, what in (
        (poultry, POULTRY_RULE, "Poultry"),
        (non_intact, NON_INTACT_RULE, "Injected or needled meat counts as non-intact"),
        (intact, INTACT_RULE, "Whole meat"),
    ):
        if pieces:
            yield _end_point(whole, readings, pieces, rule, what)
    traced = [p for p in whole.pieces if whole.meat_trace(p) is not None]
    if traced:
        yield _four_hours(whole, readings, traced)


def _end_point(
    whole: WholeCook, readings: Readings, pieces: Sequence[Piece], rule: Rule, what: str
) -> SafetyFact:
    states = [_piece_state(whole, readings, piece, rule) for piece in pieces]
    hold = f" for {rule.hold:g} s" if rule.hold else ""
    known = sum(state is not State.UNKNOWN for state in states)
    count = f"{known} of {len(pieces)} pieces probed" if known < len(pieces) else "every piece"
    fact = f"{what}: {rule.fahrenheit:g} °F ({rule.celsius:.0f} °C){hold}, {count}"
    return SafetyFact(fact, _together(states), rule.source)


def _together(states: Sequence[State]) -> State:
    """Return the state of a rule for all pieces: reached only when every piece reached it."""
    if State.NOT_REACHED in states:
        return State.NOT_REACHED
    return State.UNKNOWN if State.UNKNOWN in states else State.REACHED


def _piece_state(whole: WholeCook, readings: Readings, piece: Piece, rule: Rule) -> State:
    checks = [c.internal for c in whole.checks_of(piece) if c.internal is not None]
    # A reading at the instantaneous row needs no hold (3-401.11, charts).
    at_once = rule.celsius if not rule.hold else NON_INTACT_RULE.celsius
    if any(internal >= at_once for internal in checks):
        return State.REACHED
    held = _held(whole, readings, piece, rule)
    if held is True:
        return State.REACHED
    if held is None and not checks:
        return State.UNKNOWN
    if held is None and rule.hold and any(internal >= rule.celsius for internal in checks):
        return State.UNKNOWN
    return State.NOT_REACHED


def _held(whole: WholeCook, readings: Readings, piece: Piece, rule: Rule) -> bool | None:
    """Whether a trace stayed at a temperature for the hold, by the straight lines it draws."""
    samples = _meat_samples(whole, readings, piece)
    if samples is None:
        return None
    times, values = samples.times, samples.values
    above = values >= rule.celsius
    if not above.any():
        return False
    if not rule.hold:
        return True
    edges = np.flatnonzero(np.diff(above.astype(np.int8), prepend=0, append=0)).reshape(-1, 2)
    return any(times[last - 1] - times[first] >= rule.hold for first, last in edges)


def _meat_samples(whole: WholeCook, readings: Readings, piece: Piece) -> Stretch | None:
    """Return a piece's trace from on to off, or None where it has none or gaps hide it."""
    on, off = whole.first(EventKind.ON, piece), whole.last(EventKind.OFF, piece)
    if on is None or off is None:
        return None
    if on.happened_at is None or off.happened_at is None:
        return None
    samples = samples_of(whole.meat_trace(piece), readings)
    if samples is None:
        return None
    return within(samples, on.happened_at.timestamp(), off.happened_at.timestamp())


def _four_hours(whole: WholeCook, readings: Readings, pieces: Sequence[Piece]) -> SafetyFact:
    states = []
    for piece in pieces:
        on = whole.first(EventKind.ON, piece)
        samples = samples_of(whole.meat_trace(piece), readings)
        if on is None or on.happened_at is None or samples is None:
            states.append(State.UNKNOWN)
            continue
        time = reached(samples, DANGER_TOP, on.happened_at.timestamp())
        if time is None:
            states.append(State.UNKNOWN)
        else:
            states.append(State.REACHED if time <= FOUR_HOURS else State.NOT_REACHED)
    fact = f"Past 140 °F (60 °C) within four hours of going on, {len(pieces)} pieces with a probe"
    return SafetyFact(fact, _together(states), "common practice, no source")
