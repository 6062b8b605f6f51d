"""Whether a piece reached an end point all through: the lowest point measured last decides."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import floor

from pitjournal.analysis.safety.coldest import (
    AGREES,
    AT_THE_END,
    JUST_OFF,
    LOG_ENOUGH,
    NO_PIT,
    Log,
    Logs,
    checks_of,
    may_have_held,
    not_the_middle,
    point_of,
    rest_of,
)
from pitjournal.analysis.safety.states import Seen, State
from pitjournal.analysis.traces.features import LONGEST_GAP, Array, longest_gap
from pitjournal.domain.cuts.meat import JudgedAs
from pitjournal.domain.cuts.places import outside
from pitjournal.domain.event import DonenessCheck, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.safety_tables import SafetyRule, safety_rules
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.figures import figure, trimmed

ONE_ROUND = 180.0
"""Readings within this of the last one are points of one round, s."""

PROBED_AGAIN = 900.0
"""Readings by hand further apart show no hold, s (common practice, no source)."""

AT_LEAST = 60.0
"""A point is seen held by hand over a minute or more, whatever its row asks, s."""

AT_ONCE = "fc-cook-nonintact-alt-158"
"""The row of the Food Code's chart at which no time is asked."""

_155 = (
    "fc-cook-nonintact",
    AT_ONCE,
    "fc-cook-nonintact-alt-150",
    "fc-cook-nonintact-alt-145",
)
"""Ratites, and mechanically tenderised or injected meat: one paragraph, one chart."""

_ROWS: Mapping[JudgedAs, tuple[str, ...]] = {
    JudgedAs.WHOLE: ("fc-cook-intact",),
    JudgedAs.SEAFOOD: ("fc-cook-intact",),
    JudgedAs.NON_INTACT: _155,
    JudgedAs.RATITE: _155,
    JudgedAs.VARIETY: ("fsis-consumer-variety",),
    JudgedAs.GROUND: ("fsis-consumer-ground",),
    JudgedAs.STUFFED: ("fc-cook-poultry",),
    JudgedAs.GAME: ("fc-cook-wild-game",),
    JudgedAs.POULTRY: ("fc-cook-poultry",),
    JudgedAs.VARIETY_UNSAID: ("fc-cook-poultry",),
    JudgedAs.GROUND_UNSAID: ("fc-cook-poultry",),
    JudgedAs.UNKNOWN: ("fc-cook-poultry",),
}


def rows_of(judged: JudgedAs) -> tuple[SafetyRule, ...]:
    """Return the rows of a rule, any of which counts; the first is the one it is named by."""
    rules = safety_rules()
    return tuple(rules[key] for key in _ROWS[judged])


def in_both(celsius: float) -> str:
    """Return a temperature, °C, in words: "160 °F (71 °C)"; no colder one reads as the limit."""
    fahrenheit = celsius * 1.8 + 32
    return f"{trimmed(floor(fahrenheit * 10 + 1e-6) / 10, 4)} °F ({figure(celsius)} °C)"


def asked(rule: SafetyRule) -> str:
    """Return what a row asks: "155 °F (68 °C) for 17 s"."""
    hold = f" for {trimmed(rule.hold)} s" if rule.hold else ""
    return f"{trimmed(rule.value)} °F ({figure(rule.celsius)} °C){hold}"


def counting(judged: JudgedAs) -> tuple[SafetyRule, ...]:
    """Return the rows that show a rule met: its own, and those of every rule that asks more."""
    order = list(JudgedAs)
    rules = order[order.index(judged) :]
    return tuple(dict.fromkeys(row for rule in rules for row in rows_of(rule)))


def seen(logs_of: Logs, piece: Piece, judged: JudgedAs) -> Seen:
    """Return what is known of one piece.

    Parameters
    ----------
    logs_of
        What the probes of its cook read.
    piece
        Which.
    judged
        The rule.

    Returns
    -------
    Seen
        Reached where every probe in it held a row, what was probed by hand is not colder, and a
        probe in the pit's air or the hand bears out that it was meat; not reached where a point
        measured last was below all rows; else unknown.
    """
    rows, whole = counting(judged), logs_of.whole
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    resting = _hot_in_the_rest(logs_of, piece, min(row.celsius for row in rows))
    logs = [_by_trace(log, rows, off, resting) for log in logs_of.of(piece, off)]
    hand = list(_by_hand(whole, piece, rows, off))
    found = [*logs, *hand]
    if not found:
        return Seen(State.UNKNOWN, "not probed")
    low = next((one for one in found if one.state is State.NOT_REACHED), None)
    colder = next((one for one in found if one.why.startswith("colder")), None)
    by_hand = any(one.state is State.REACHED for one in hand)
    unsure = [one for one in logs if one.state is State.UNKNOWN]
    open_log = next((one for one in unsure if not by_hand or one.why != NO_PIT), None)
    good = next((one for one in found if one.state is State.REACHED), None)
    return _with_cold(low or colder or open_log or good or found[0], hand, logs_of.of(piece, off))


def _with_cold(known: Seen, hand: Sequence[Seen], logs: Sequence[Log | None]) -> Seen:
    """Return what is known with what the hand found colder, where no probe was hotter later."""
    cold = next((one for one in hand if one.level is not None and one.at is not None), None)
    if known.state is not State.UNKNOWN or known.level is not None or cold is None:
        return known
    assert cold.level is not None
    assert cold.at is not None
    later = (log.values[log.times > cold.at] for log in logs if log is not None)
    hotter = any(values.size and values.max() > cold.level + AGREES for values in later)
    if hotter and not known.why.startswith("colder"):
        return known
    return replace(known, level=cold.level, at=cold.at)


def _hot_in_the_rest(logs_of: Logs, piece: Piece, least: float) -> frozenset[str]:
    """Return the traces that were as hot as a row only after coming off: nobody saw how they lay."""
    whole = logs_of.whole
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    if off is None:
        return frozenset()
    logs = logs_of.of(piece, off + rest_of(whole, piece))
    return frozenset(
        log.trace_id
        for log in logs
        if log is not None and (log.sure_values[log.sure_times > off] >= least).any()
    )


def _by_trace(
    log: Log | None, rows: Sequence[SafetyRule], off: float | None, resting: frozenset[str]
) -> Seen:
    """Return what one probe in a piece says."""
    if log is not None and _any_held(log.sure_times, log.cold_values, rows):
        held = Seen(State.REACHED, log.corrected)
        return held if log.borne_out else Seen(State.UNKNOWN, NO_PIT)
    why = _why_unknown(log, rows, off)
    if log is None or why:
        return Seen(State.UNKNOWN, why)
    touched = bool((log.values >= min(row.celsius for row in rows)).any())
    if touched and longest_gap(log.times, log.times[0], log.times[-1]) > LONGEST_GAP:
        return Seen(State.UNKNOWN, "a gap in the trace hides it")
    sure = log.sure_times, log.cold_values
    if any(may_have_held(*sure, row.celsius, row.hold, off) for row in rows):
        return Seen(State.UNKNOWN, "so hot in too few readings")
    if log.trace_id in resting:
        return Seen(State.UNKNOWN, "hot enough only in its rest")
    return Seen(State.NOT_REACHED, "not held so long") if touched else _hottest(log)


def _hottest(log: Log) -> Seen:
    """Return not reached, with the hottest that a probe showed."""
    place = int(log.cold_values.argmax())
    return Seen(State.NOT_REACHED, "", float(log.cold_values[place]), float(log.sure_times[place]))


def _why_unknown(log: Log | None, rows: Sequence[SafetyRule], off: float | None) -> str:
    """Return why a probe cannot say that its piece did not get there; empty where it can."""
    if log is None:
        return "a trace that cannot be read"
    if log.why:
        return log.why
    if _any_held(log.sure_times, log.sure_values, rows):
        return "colder where it was probed by hand"
    ended = off is not None and log.times[-1] < off - AT_THE_END
    reasons = (
        (_any_held(log.times, log.values, rows), "its trace leaps as no meat can"),
        (off is None, "not off yet"),
        (ended, "the trace ends before it came off"),
        (log.times.size < LOG_ENOUGH.readings, "too few readings in its trace"),
    )
    return next((why for holds, why in reasons if holds), "")


def _any_held(times: Array, values: Array, rows: Sequence[SafetyRule]) -> bool:
    from pitjournal.science.heat.lethality import longest_hold

    for row in rows:
        held = longest_hold(
            times, values, row.celsius, longest_gap=LONGEST_GAP + 1.0, enough=LOG_ENOUGH
        )
        if held is not None and 0 < held >= row.hold:
            return True
    return False


@dataclass(frozen=True)
class _Round:
    """Points measured together: the first and the last moment, and the lowest, °C."""

    since: float
    at: float
    lowest: float


def _by_hand(
    whole: WholeCook, piece: Piece, rows: Sequence[SafetyRule], off: float | None
) -> Iterator[Seen]:
    """Yield what the probing by hand says; nothing without any."""
    checks = checks_of(whole, piece, JUST_OFF)
    resting = checks_of(whole, piece, rest_of(whole, piece))
    if not resting:
        return
    if checks:
        cold = _cold(checks, min(row.celsius for row in rows), off)
        if cold is not None:
            yield cold
            return
    inner = [_in_the_middle(some) for some in (checks, resting)]
    if any(_held(some, row) for some in inner for row in rows):
        yield Seen(State.REACHED)
    elif not inner[-1]:
        yield Seen(State.UNKNOWN, f"read by hand {not_the_middle(resting[-1].point)}")
    else:
        one = len(resting) == 1
        yield Seen(State.UNKNOWN, "one reading at one point" if one else "not seen held")


def _in_the_middle(checks: Sequence[DonenessCheck]) -> list[DonenessCheck]:
    """Leave out what was read at the skin or an edge: cold there counts, hot there says nothing."""
    return [check for check in checks if not outside(check.point)]


def _cold(checks: Sequence[DonenessCheck], least: float, off: float | None) -> Seen | None:
    """Return what a point below all rows says; None where there is none."""
    last = _rounds(checks)[-1]
    if last.lowest < least:
        if off is not None and last.at >= off - AT_THE_END:
            return Seen(State.NOT_REACHED, "", last.lowest, last.at)
        seen_at = f"{in_both(last.lowest)}, below {in_both(least)}"
        why = f"last probed at {seen_at}, well before it came off"
        return Seen(State.UNKNOWN, why, last.lowest, last.at)
    cold = _colder(checks, last, least)
    if cold is None:
        return None
    why = f"colder where it was not probed again ({cold.point.strip()})"
    return Seen(State.UNKNOWN, why, cold.internal, cold.at.timestamp())


def _rounds(checks: Sequence[DonenessCheck]) -> list[_Round]:
    """Return the readings of a piece, those made together as one, in time order."""
    groups: list[list[DonenessCheck]] = []
    for check in checks:
        near = groups and (check.at - groups[-1][0].at).total_seconds() <= ONE_ROUND
        if near and not _again(check, groups[-1]):
            groups[-1].append(check)
        else:
            groups.append([check])
    return [
        _Round(
            group[0].at.timestamp(),
            group[-1].at.timestamp(),
            min(check.internal for check in group if check.internal is not None),
        )
        for group in groups
    ]


def _again(check: DonenessCheck, group: Sequence[DonenessCheck]) -> bool:
    """Whether a named point was measured in a round already."""
    point = check.point.strip().casefold()
    return bool(point) and any(point == other.point.strip().casefold() for other in group)


def _held(checks: Sequence[DonenessCheck], row: SafetyRule) -> bool:
    """Whether every point of the last round was at a row's temperature for its time.

    Several named points at a temperature that asks no time are enough; one reading never is.
    """
    if not checks:
        return False
    last = _rounds(checks)[-1]
    if last.lowest < row.celsius:
        return False
    points = {point_of(check) for check in checks if check.at.timestamp() >= last.since}
    if not row.hold and len(points) > 1:
        return True
    return all(
        _point_held([check for check in checks if point_of(check) == point], row)
        for point in points
    )


def _point_held(checks: Sequence[DonenessCheck], row: SafetyRule) -> bool:
    """Whether the last readings at one point, none far from the next, were held so long."""
    last = first = checks[-1].at.timestamp()
    for check in reversed(checks):
        at = check.at.timestamp()
        if check.internal is None or check.internal < row.celsius or first - at > PROBED_AGAIN:
            break
        first = at
    return last - first >= max(row.hold, AT_LEAST)


def _colder(checks: Sequence[DonenessCheck], last: _Round, least: float) -> DonenessCheck | None:
    """Return the last reading of a point that was too cold then, before the last round."""
    named: dict[str, DonenessCheck] = {}
    for check in checks:
        if check.point.strip():
            named[check.point.strip().casefold()] = check
    old = (c for c in named.values() if c.at.timestamp() < last.at - ONE_ROUND)
    return next((c for c in old if c.internal is not None and c.internal < least), None)
