"""Pieces that were measured colder than the rule for their meat asks, in words for every page.

Nothing is judged here: what is not reached, or not known after a cold reading, is what the end
points say. A piece that nobody measured is not named.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from math import floor

from pitjournal.analysis.safety.coldest import Logs
from pitjournal.analysis.safety.end_points import asked, in_both, rows_of, seen
from pitjournal.analysis.safety.states import State
from pitjournal.analysis.traces.readings import Readings
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.cuts.meat import JudgedAs
from pitjournal.domain.event import EventKind
from pitjournal.domain.judged import judged
from pitjournal.domain.piece import Piece
from pitjournal.domain.safety_tables import SafetyRule
from pitjournal.domain.times.moments import show_moment, show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from pitjournal.units.figures import figure, trimmed
from pitjournal.units.first_letter import capital


@dataclass(frozen=True)
class Below:
    """A piece that was measured colder than its rule asks.

    Attributes
    ----------
    piece_id, label
        Which piece.
    rule, asks
        What its meat is judged as, and the row that rule is named by.
    state
        Not reached; or unknown, where what was measured was colder but not at the end.
    level, at
        What was measured, °C, and when; None where it was hot enough, but not for so long.
    off
        Whether it is off, or the cook is done.
    """

    piece_id: str
    label: str
    rule: JudgedAs
    asks: SafetyRule
    state: State
    level: float | None
    at: datetime | None
    off: bool

    def shortly(self, system: UnitSystem, zone: str, now: datetime) -> tuple[str, ...]:
        """Return it in one line, ever shorter: "165 °F not reached: 151 °F at 13:20".

        Parameters
        ----------
        system
            The units of the words.
        zone
            Of the cook, IANA.
        now
            The time, aware: a reading of another day is said with its day.
        """
        said = f"{_asks_in(self.asks, system)} {self.state}"
        if self.level is None or self.at is None:
            return (f"{said}: not held so long", said)
        last = "" if self.state is State.NOT_REACHED else "last "
        measured = f"{said}: {last}{_in(self.level, system)}"
        return (f"{measured} at {show_moment(self.at, zone, now)}", measured, said)


def below_of(whole: WholeCook, readings: Readings) -> tuple[Below, ...]:
    """Return the pieces of a cook that were measured colder than their rule asks.

    Parameters
    ----------
    whole
        The cook, with all its records.
    readings
        Gives a trace's samples.
    """
    logs_of = Logs(whole, readings)
    found = (_below(logs_of, piece) for piece in whole.pieces if _measured(whole, piece))
    return tuple(one for one in found if one is not None)


def _measured(whole: WholeCook, piece: Piece) -> bool:
    return whole.meat_trace(piece) is not None or bool(whole.checks_of(piece))


def _below(logs_of: Logs, piece: Piece) -> Below | None:
    whole, rule = logs_of.whole, judged(logs_of.whole, piece).rule
    known = seen(logs_of, piece, rule)
    if known.state is State.REACHED or (known.state is State.UNKNOWN and known.level is None):
        return None
    off = whole.last(EventKind.OFF, piece) is not None or whole.cook.status is CookStatus.DONE
    at = None if known.at is None else datetime.fromtimestamp(known.at, UTC)
    row = rows_of(rule)[0]
    return Below(piece.id, piece.label, rule, row, known.state, known.level, at, off)


def sentences(found: Sequence[Below], zone: str) -> tuple[str, ...]:
    """Return what is asked of the meat that is off and was measured colder, with its source.

    Parameters
    ----------
    found
        The pieces.
    zone
        Of the cook, IANA.
    """
    by_rule: dict[JudgedAs, list[Below]] = {}
    for one in found:
        if one.off:
            by_rule.setdefault(one.rule, []).append(one)
    return tuple(_sentence(rule, ones, zone) for rule, ones in by_rule.items())


def _sentence(rule: JudgedAs, found: Sequence[Below], zone: str) -> str:
    parts = []
    for state, before in ((State.NOT_REACHED, ""), (State.UNKNOWN, "last ")):
        pieces = [_piece(one, before, zone) for one in found if one.state is state]
        if pieces:
            parts.append(f"{state} in {_listed(pieces)}")
    row = found[0].asks
    said = f"{capital(str(rule))}, {asked(row)} all through: {', '.join(parts)}"
    return f"{said} ({row.citation})."


def _piece(one: Below, before: str, zone: str) -> str:
    if one.level is None or one.at is None:
        return f"{one.label} (not held so long)"
    return f"{one.label} ({before}{in_both(one.level)} at {show_time(one.at, zone)})"


def _listed(said: Sequence[str]) -> str:
    *first, last = said
    return f"{', '.join(first)} and {last}" if first else last


def _asks_in(row: SafetyRule, system: UnitSystem) -> str:
    metric = system is UnitSystem.METRIC
    level = f"{figure(row.celsius)} °C" if metric else f"{trimmed(row.value)} °F"
    return f"{level} for {trimmed(row.hold)} s" if row.hold else level


def _in(celsius: float, system: UnitSystem) -> str:
    """Return a temperature in the cook's units; no colder one reads as the limit."""
    metric = system is UnitSystem.METRIC
    value = celsius if metric else celsius * 1.8 + 32
    return f"{trimmed(floor(value * 10 + 1e-6) / 10, 4)} °{'C' if metric else 'F'}"
