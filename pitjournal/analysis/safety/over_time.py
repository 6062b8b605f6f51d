"""What traces say over time: the published tables, four hours, hot holding, cooling."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from pitjournal.analysis.safety.coldest import (
    JUST_OFF,
    LOG_ENOUGH,
    Log,
    Logs,
    checks_of,
    may_have_held,
    point_of,
)
from pitjournal.analysis.safety.states import (
    SafetyFact,
    State,
    of_all,
    pieces,
    probed_of,
    state_of,
    together,
)
from pitjournal.analysis.traces.features import (
    LONGEST_GAP,
    Array,
    longest_gap,
    within,
)
from pitjournal.analysis.traces.heat_dose import WARM, Cooling, cooling
from pitjournal.domain.cuts import meat_of
from pitjournal.domain.event import CUT_UP, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.safety_tables import (
    HoldingTable,
    celsius,
    meat_lethality,
    poultry_lethality,
    safety_rules,
)
from pitjournal.domain.samples import Samples
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.figures import figure, trimmed

FOUR_HOURS = 4 * 3600.0

HOW_READ = (
    "three readings in a row over a minute or more, or two over three minutes, in every probe, "
    "without a leap that no meat makes"
)

COLD, DRY = celsius(50.0), celsius(130.0)
"""Come-up time counts from and to these, °C (FSIS-GD-2021-14)."""

NOT_KNOWN = "; what meat it is is not known for sure, so this may not be its table"

CONDITIONS = "its condition of humidity is in no log"


def table_fact(
    logs_of: Logs, probed: Sequence[Piece], what: str, count: int, *, known: bool = True
) -> SafetyFact:
    """Read the traces against the published holding times, by the next lower row.

    Parameters
    ----------
    logs_of
        What the probes of the cook read.
    probed
        The pieces with a trace, and what it read.
    what
        Which of the published facts.
    count
        How many pieces it is about, with a probe or without.
    known
        Whether it is known that the meat is of such animals; else it is not said to be reached.
    """
    tables = [meat_lethality() if what == "meat" else _poultry(piece) for piece in probed]
    states, rows, slow = [], [], []
    for piece, table in zip(probed, tables, strict=True):
        found = [
            _of_table(logs_of.whole, piece, log, table) for log in _from_on_to_off(logs_of, piece)
        ]
        states.append(together([one.state for one in found]))
        if states[-1] is State.REACHED:
            rows += [one.row for one in found if one.row is not None]
        slow += [one.come_up for one in found if one.come_up is not None]
    at = f", met from {figure(min(rows) * 1.8 + 32)} °F ({figure(min(rows))} °C) up" if rows else ""
    fact = (
        f"Held as the published table for {what} asks ({trimmed(tables[0].log_reduction)}-log), "
        f"{probed_of(len(probed), count)}{at}{_come_up_words(slow)}"
        f"{'' if known else NOT_KNOWN}"
    )
    source = f"{tables[0].source}; {safety_rules()['fsis-cut'].citation}; {CONDITIONS}; {HOW_READ}"
    state = of_all(states, count)
    if state is State.REACHED and not known:
        state = State.UNKNOWN
    return SafetyFact(fact, state, source)


@dataclass(frozen=True)
class _Read:
    """What one probe says of a table: the row it met, °C, and its come-up time, s."""

    state: State
    row: float | None = None
    come_up: float | None = None


def _come_up_words(times: Sequence[float]) -> str:
    most = trimmed(safety_rules()["fsis-cut"].value)
    if not times:
        return "; how long it took from 50 to 130 °F is not known"
    longest = figure(max(times) / 3600.0, 1)
    return f"; {longest} h from 50 °F, or from going on, to 130 °F, {most} h at most"


def _come_up(log: Log, on: float) -> float | None:
    """Return how long a probe took from 50 °F, or from going on where warmer, to 130 °F, s.

    None where it was not seen to get there.
    """
    times, values = log.sure_times, log.sure_values
    dry = np.flatnonzero(values >= DRY)
    if log.why or not dry.size or times[0] > on + LONGEST_GAP:
        return None
    cold = np.flatnonzero(values[: dry[0]] <= COLD)
    start = float(times[cold[-1]]) if cold.size else on
    return max(float(times[dry[0]]) - start, 0.0)


def _of_table(whole: WholeCook, piece: Piece, log: Log | None, table: HoldingTable) -> _Read:
    """Return what one probe says of a table, and of the come-up time that goes with it."""
    on = whole.moment_of(EventKind.ON, piece)
    if log is None or on is None or log.times.size < LOG_ENOUGH.readings:
        return _Read(State.UNKNOWN)
    come_up = _come_up(log, on)
    row = _row_met(log.sure_times, log.cold_values, table)
    if _cold_by_hand(whole, piece, float(table.temperatures[0])):
        return _Read(State.NOT_REACHED, None, come_up)
    if row is not None:
        read = _in_time(row, come_up)
        unsure = read.state is State.REACHED and not log.borne_out
        return replace(read, state=State.UNKNOWN) if unsure else read
    hidden = any(
        _row_met(times, values, table) is not None
        for times, values in ((log.sure_times, log.sure_values), (log.times, log.values))
    )
    few = any(
        may_have_held(log.sure_times, log.cold_values, float(level), float(hold))
        for level, hold in zip(table.temperatures, table.seconds, strict=True)
    )
    open_still = hidden or few or bool(log.why)
    return _Read(State.UNKNOWN if open_still else State.NOT_REACHED, None, come_up)


def _in_time(row: float, come_up: float | None) -> _Read:
    """Return what a row that was held says: reached only where the come-up time was kept too."""
    most = safety_rules()["fsis-cut"].value
    assert most is not None
    if come_up is None:
        return _Read(State.UNKNOWN)
    return _Read(state_of(reached=come_up <= 3600.0 * most), row, come_up)


def _row_met(times: Array, values: Array, table: HoldingTable) -> float | None:
    from pitjournal.science.heat.lethality import read_table

    read = read_table(
        times,
        values,
        table.temperatures,
        table.seconds,
        longest_gap=LONGEST_GAP,
        enough=LOG_ENOUGH,
    )
    if not read.reached or read.row is None:
        return None
    return float(table.temperatures[read.row])


def _cold_by_hand(whole: WholeCook, piece: Piece, least: float) -> bool:
    """Whether the hand last found a point below all rows as the piece came off."""
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    near = [
        check
        for check in checks_of(whole, piece, JUST_OFF)
        if off is not None and check.at.timestamp() >= off - LONGEST_GAP
    ]
    last = {point_of(check): check.internal for check in near}
    return any(level is not None and level < least for level in last.values())


def _poultry(piece: Piece) -> HoldingTable:
    animals = {str(animal) for animal in meat_of(piece.cut).animals}
    known = animals & {"chicken", "turkey"}
    return poultry_lethality(known.pop() if len(known) == len(animals) == 1 else None)


def _from_on_to_off(logs_of: Logs, piece: Piece) -> list[Log | None]:
    """Return a piece's traces from on to off; None for one that gaps hide."""
    whole = logs_of.whole
    on = whole.moment_of(EventKind.ON, piece)
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    if on is None or off is None:
        return [None]
    return [
        log if log is not None and _covers(log, on, off) else None for log in logs_of.of(piece, off)
    ] or [None]


def _covers(log: Log, start: float, end: float) -> bool:
    return bool(log.times.size) and longest_gap(log.times, start, end) <= LONGEST_GAP


def four_hours(logs_of: Logs, probed: Sequence[Piece], count: int) -> SafetyFact:
    """Say whether the meat passed 60 °C within four hours; never, over that time, is not reached.

    Parameters
    ----------
    logs_of
        What the probes of the cook read.
    probed
        The pieces with a trace, and what it read.
    count
        How many pieces the cook has, with a probe or without.
    """
    states = [_passed(logs_of, piece) for piece in probed]
    told = probed_of(len(probed), count)
    fact = f"Past 140 °F (60 °C) within four hours of going on, {told}"
    return SafetyFact(fact, of_all(states, count), "common practice, no source")


def _passed(logs_of: Logs, piece: Piece) -> State:
    whole = logs_of.whole
    on = whole.moment_of(EventKind.ON, piece)
    if on is None:
        return State.UNKNOWN
    late = (c for c in checks_of(whole, piece, JUST_OFF) if c.at.timestamp() >= on + FOUR_HOURS)
    if any(check.internal is not None and check.internal < WARM for check in late):
        return State.NOT_REACHED
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    cooking = together([_log_passed(log, on) for log in logs_of.of(piece, off)])
    if cooking is State.REACHED or off is None:
        return cooking
    # Once it is off nobody knows where its probe lies: that can show only that it did not.
    later = together([_log_passed(log, on) for log in logs_of.of(piece, None)])
    return State.NOT_REACHED if State.NOT_REACHED in {cooking, later} else State.UNKNOWN


def _log_passed(log: Log | None, on: float) -> State:
    """Return whether one probe was seen to pass: by readings that stay, and can be the meat."""
    if log is None:
        return State.UNKNOWN
    time = _stays_from(log.sure_times, log.cold_values, on)
    if time is not None:
        state = state_of(reached=time <= FOUR_HOURS)
        return State.UNKNOWN if state is State.REACHED and not log.borne_out else state
    if log.why or log.times[-1] < on + FOUR_HOURS - LONGEST_GAP:
        return State.UNKNOWN
    if longest_gap(log.times, on, on + FOUR_HOURS) > LONGEST_GAP:
        return State.UNKNOWN
    early = log.times <= on + FOUR_HOURS
    hidden = _warm(log.times[early], log.values[early]) is not None
    return State.UNKNOWN if hidden else State.NOT_REACHED


def _warm(times: Array, values: Array) -> int | None:
    from pitjournal.science.heat.lethality import first_stretch

    return first_stretch(times, values, WARM, longest_gap=LONGEST_GAP, enough=LOG_ENOUGH)


def _stays_from(times: Array, values: Array, on: float) -> float | None:
    """Return the time from on to the first stretch above 60 °C, s; None where it is not seen."""
    place = _warm(times, values)
    if place is None or place == 0 or times[0] > on + LONGEST_GAP:
        return None
    if np.diff(times[: place + 1]).max() > LONGEST_GAP:
        return None
    low, high = values[place - 1], values[place]
    share = (WARM - low) / (high - low)
    return float(times[place - 1] + share * (times[place] - times[place - 1]) - on)


def hot_hold(logs_of: Logs) -> Iterator[SafetyFact]:
    """Say whether what was held stayed hot: from held to sliced, boxed or the end of its trace."""
    whole = logs_of.whole
    held = [piece for piece in whole.pieces if whole.first(EventKind.HELD, piece) is not None]
    if not held:
        return
    rule = safety_rules()["fc-hold-hot"]
    states = [_stayed_hot(logs_of, piece, rule.celsius) for piece in held]
    fact = f"Held at {trimmed(rule.value)} °F ({figure(rule.celsius)} °C) or more, {pieces(len(held))} held"
    yield SafetyFact(fact, together(states), rule.citation)


def _stayed_hot(logs_of: Logs, piece: Piece, level: float) -> State:
    whole = logs_of.whole
    start = whole.moment_of(EventKind.HELD, piece)
    if start is None:
        return State.UNKNOWN
    ends = [whole.moment_of(kind, piece) for kind in CUT_UP]
    end = min((at for at in ends if at is not None and at > start), default=None)
    logs = logs_of.of(piece, end)
    return together([_log_stayed_hot(log, start, end, level) for log in logs])


def _log_stayed_hot(log: Log | None, start: float, end: float | None, level: float) -> State:
    if log is None:
        return State.UNKNOWN
    if (log.values[log.times >= start] < level).any():
        return State.NOT_REACHED
    hot = not (log.cold_values[log.sure_times >= start] < level).any()
    covered = end is not None and within(_sure(log), start, end) is not None
    return State.REACHED if covered and hot and log.borne_out else State.UNKNOWN


def _sure(log: Log) -> Samples:
    return Samples(log.sure_times, log.sure_values.astype(np.float32))


def _cooled(log: Log, off: float, top: float, levels: tuple[float, float]) -> Cooling | None:
    """Return how one probe cooled; not known where it may not have been in the meat."""
    if not log.why and log.borne_out:
        return cooling(_sure(log), off, top, *levels)
    found = cooling(Samples(log.times, log.values.astype(np.float32)), off, top, *levels)
    return None if found is None else replace(found, known=False)


def cooling_facts(logs_of: Logs, probed: Sequence[Piece]) -> Iterator[SafetyFact]:
    """Say how the pieces cooled whose traces go on until they do.

    Parameters
    ----------
    logs_of
        What the probes of the cook read.
    probed
        The pieces with a trace, and what it read.
    """
    rules = safety_rules()
    stages = (rules["fc-cool-1"], rules["fc-cool-2"])
    top, levels = celsius(135.0), (celsius(70.0), celsius(41.0))
    found: list[Cooling] = []
    count = 0
    for piece in probed:
        off = logs_of.whole.moment_of(EventKind.OFF, piece, last=True)
        logs = () if off is None else logs_of.of(piece, None)
        cooled = [_cooled(log, off, top, levels) for log in logs if log and off]
        found += [one for one in cooled if one is not None]
        count += any(one is not None for one in cooled)
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
            f"Cooled from 135 to {to} °F (57 to {figure(celsius(to))} °C) within {trimmed(rule.value)} h, "
            f"{pieces(count)} seen to cool"
        )
        yield SafetyFact(fact, together(states), rule.citation)
