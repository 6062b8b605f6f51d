"""Whether a piece reached an end point all through: the lowest point measured last decides."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from pitjournal.analysis.derived import Readings, samples_of
from pitjournal.analysis.safety.states import Seen, State
from pitjournal.analysis.traces.features import LONGEST_GAP, Array, longest_gap, ordered
from pitjournal.domain.event import DonenessCheck, EventKind
from pitjournal.domain.meat import JudgedAs
from pitjournal.domain.piece import Piece
from pitjournal.domain.safety_tables import SafetyRule, safety_rules
from pitjournal.domain.trace import Sits
from pitjournal.domain.whole_cook import WholeCook

ONE_ROUND = 180.0
"""Readings within this of the last one are points of one round, s."""

AT_THE_END = LONGEST_GAP
"""What was measured no longer than this before coming off was measured last, s."""

AT_ONCE = "fc-cook-nonintact-alt-158"
"""The row of the Food Code's chart at which no time is asked."""

_ROWS: Mapping[JudgedAs, tuple[str, ...]] = {
    JudgedAs.WHOLE: ("fc-cook-intact",),
    JudgedAs.SEAFOOD: ("fc-cook-intact",),
    JudgedAs.NON_INTACT: (
        "fc-cook-nonintact",
        AT_ONCE,
        "fc-cook-nonintact-alt-150",
        "fc-cook-nonintact-alt-145",
    ),
    JudgedAs.GROUND: ("fsis-consumer-ground",),
    JudgedAs.STUFFED: ("fc-cook-poultry",),
    JudgedAs.GAME: ("fc-cook-wild-game",),
    JudgedAs.POULTRY: ("fc-cook-poultry",),
    JudgedAs.GROUND_UNSAID: ("fc-cook-poultry",),
    JudgedAs.UNKNOWN: ("fc-cook-poultry",),
}


def rows_of(judged: JudgedAs) -> tuple[SafetyRule, ...]:
    """Return the rows of a rule, any of which counts; the first is the one it is named by."""
    rules = safety_rules()
    return tuple(rules[key] for key in _ROWS[judged])


def asked(rule: SafetyRule) -> str:
    """Return what a row asks: "155 °F (68 °C) for 17 s"."""
    hold = f" for {rule.hold:g} s" if rule.hold else ""
    return f"{rule.value:g} °F ({rule.celsius:.0f} °C){hold}"


def seen(whole: WholeCook, readings: Readings, piece: Piece, rows: Sequence[SafetyRule]) -> Seen:
    """Return what is known of one piece.

    Parameters
    ----------
    whole, readings
        The cook, and its traces' readings.
    piece
        Which.
    rows
        Rows of the published table that count alike.

    Returns
    -------
    Seen
        Reached where what was measured held a row at every point; not reached where a point
        measured last was below all rows; else unknown.
    """
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    found = [*_by_traces(whole, readings, piece, rows, off), *_by_hand(whole, piece, rows, off)]
    if not found:
        return Seen(State.UNKNOWN, "not probed")
    low = next((one for one in found if one.state is State.NOT_REACHED), None)
    colder = next((one for one in found if one.why.startswith("colder")), None)
    good = next((one for one in found if one.state is State.REACHED), None)
    return low or colder or good or found[0]


def _by_traces(
    whole: WholeCook,
    readings: Readings,
    piece: Piece,
    rows: Sequence[SafetyRule],
    off: float | None,
) -> Iterator[Seen]:
    """Yield what each trace in a piece says."""
    on = whole.moment_of(EventKind.ON, piece)
    for trace in whole.traces:
        if trace.piece_id != piece.id or trace.sits is not Sits.MEAT:
            continue
        samples = samples_of(trace, readings)
        if samples is None:
            continue
        times, values = ordered(samples)
        inside = (times >= (on or times.min(initial=0.0))) & (times <= (off or float("inf")))
        times, values = times[inside], values[inside]
        if times.size:
            yield _trace(times, values, rows, off)


def _trace(times: Array, values: Array, rows: Sequence[SafetyRule], off: float | None) -> Seen:
    from pitjournal.science.lethality import longest_hold  # noqa: PLC0415 - when first needed

    holds = [
        longest_hold(times, values, row.celsius, longest_gap=LONGEST_GAP + 1.0) for row in rows
    ]
    if any(
        held is not None and 0 < held >= row.hold for held, row in zip(holds, rows, strict=True)
    ):
        return Seen(State.REACHED)
    if off is None:
        return Seen(State.UNKNOWN, "not off yet")
    if times[-1] < off - AT_THE_END:
        return Seen(State.UNKNOWN, "the trace ends before it came off")
    touched = any(held is not None for held in holds)
    if touched and longest_gap(times, times[0], times[-1]) > LONGEST_GAP:
        return Seen(State.UNKNOWN, "a gap in the trace hides it")
    return Seen(State.NOT_REACHED, "not held so long" if touched else "")


@dataclass(frozen=True)
class _Round:
    """Points measured together: when, and the lowest, °C."""

    at: float
    lowest: float
    points: int


def _by_hand(
    whole: WholeCook, piece: Piece, rows: Sequence[SafetyRule], off: float | None
) -> Iterator[Seen]:
    """Yield what the probing by hand says; nothing without any."""
    checks = [check for check in whole.checks_of(piece) if check.internal is not None]
    if not checks:
        return
    rounds = _rounds(checks)
    last, least = rounds[-1], min(row.celsius for row in rows)
    if last.lowest < least:
        if off is not None and last.at >= off - AT_THE_END:
            yield Seen(State.NOT_REACHED)
        else:
            yield Seen(State.UNKNOWN, "last probed well before it came off")
        return
    point = _colder(checks, last, least)
    if point:
        yield Seen(State.UNKNOWN, f"colder where it was not probed again ({point})")
    elif any(_held(rounds, row) for row in rows):
        yield Seen(State.REACHED)
    else:
        one = len(checks) == 1
        yield Seen(State.UNKNOWN, "one reading at one point" if one else "not seen held")


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
            group[-1].at.timestamp(),
            min(check.internal for check in group if check.internal is not None),
            len(group),
        )
        for group in groups
    ]


def _again(check: DonenessCheck, group: Sequence[DonenessCheck]) -> bool:
    """Whether a named point was measured in a round already."""
    point = check.point.strip().casefold()
    return bool(point) and any(point == other.point.strip().casefold() for other in group)


def _held(rounds: Sequence[_Round], row: SafetyRule) -> bool:
    """Whether the last rounds in a row were at a row's temperature for its time.

    Several points at a temperature that asks no time are enough; one reading never is.
    """
    first = rounds[-1]
    for one in reversed(rounds):
        if one.lowest < row.celsius:
            break
        first = one
    if rounds[-1].lowest < row.celsius:
        return False
    span = rounds[-1].at - first.at
    return (span > 0 and span >= row.hold) or (not row.hold and rounds[-1].points > 1)


def _colder(checks: Sequence[DonenessCheck], last: _Round, least: float) -> str:
    """Return a named point that was too cold when it was last measured, before the last round."""
    named: dict[str, DonenessCheck] = {}
    for check in checks:
        if check.point.strip():
            named[check.point.strip().casefold()] = check
    old = (c for c in named.values() if c.at.timestamp() < last.at - ONE_ROUND)
    return next((c.point.strip() for c in old if c.internal is not None and c.internal < least), "")
