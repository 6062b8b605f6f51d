"""`pitjournal forecast`: when a cook under way will be done, from its trace alone."""

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from pitjournal.cli.output import as_json, line, table
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.cli.past_table import NO_PAST, PastTable, past_cooks
from pitjournal.domain.plausible import INSIDE, LONG, PIECE, PIT, THICK, Limits, refuse
from pitjournal.domain.times.moments import clock_words, hours_words, weekday_words
from pitjournal.errors import JournalError

if TYPE_CHECKING:
    from pitjournal.analysis.forecast.asked import ForecastAsked, Trace, Wrapping
    from pitjournal.analysis.forecast.forecast import Forecast
    from pitjournal.files.probe_log.report import Channel, ProbeLog


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_argument("trace", metavar="TRACE", type=Path)
    parser.add_argument("--meat", metavar="CHANNEL", required=True)
    parser.add_argument("--pit", metavar="CHANNEL", required=True)
    parser.add_argument("--cut", metavar="CUT", required=True)
    parser.add_argument("--cooker", metavar="CLASS", default="")
    parser.add_argument("--weight", metavar="M")
    parser.add_argument("--thickness", metavar="L")
    parser.add_argument("--set", dest="set_point", metavar="TEMP")
    parser.add_argument("--on", metavar="TIME")
    parser.add_argument("--wrap", metavar="TIME-AND-WRAP")
    parser.add_argument("--unwrap", metavar="TIME")
    parser.add_argument("--past", metavar="CSV", type=Path)
    parser.add_argument("--target", metavar="TEMP", action="append", required=True)
    parser.add_units()
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Read the trace, forecast each target, and keep nothing."""
    from pitjournal.analysis.forecast.forecast import forecast, rests_on
    from pitjournal.files import strangers

    log = strangers.probe_log(strangers.file_bytes(arguments.trace), arguments.trace.name)
    clock = _Clock(log, arguments.on)
    asked, told = _asked(arguments, log, clock)
    found = forecast(asked)
    rests = [*rests_on(asked, told.words), *told.left_out]
    if arguments.json:
        as_json(
            {
                "at": clock.iso(clock.end),
                "on": clock.iso(clock.on),
                "forecasts": [_as_json(one) for one in found],
                "rests_on": rests,
            }
        )
    else:
        _tell(found, clock, arguments)
        _tell_more(asked, clock)
        line()
        line(f"Rests on: {'; '.join(rests)}.")
    return 0


def _as_json(one: "Forecast") -> dict[str, object]:
    def minutes(seconds: float | None) -> float | None:
        return None if seconds is None else round(seconds / 60.0, 1)

    return {
        "target_degC": round(one.target, 2),
        "median_min": minutes(one.median),
        "low50": minutes(one.low50),
        "high50": minutes(one.high50),
        "low90": minutes(one.low90),
        "high90": minutes(one.high90),
        "refused": one.refused or None,
    }


def _tell(found: Sequence["Forecast"], clock: "_Clock", arguments: Arguments) -> None:
    from pitjournal.units import Dimension, show

    system = system_of(arguments)
    rows = []
    for one in found:
        target = show(one.target, Dimension.TEMPERATURE, system)
        if one.refused:
            rows.append((target, one.refused, "", ""))
            continue
        half = f"{clock.moment_words(one.low50)} to {clock.moment_words(one.high50)}"
        nine = f"{clock.moment_words(one.low90)} to {clock.moment_words(one.high90)}"
        rows.append((target, clock.moment_words(one.median), half, nine))
    table(("Target", "Most likely", "Half of the chances", "Nine in ten"), rows)


def _tell_more(asked: "ForecastAsked", clock: "_Clock") -> None:
    """Say when the stall lies, and what a change now would do to the first target."""
    from pitjournal.analysis.forecast.fan import fan, stall_ahead
    from pitjournal.analysis.forecast.what_if import what_if

    if not asked.trace.seconds.size:
        return
    stall = stall_ahead(asked, fan(asked))
    changes = what_if(asked)
    if stall is not None or changes:
        line()
    if stall is not None:
        begins = "began" if stall.begun else "begins"
        line(
            f"The stall {begins} at {clock.moment_words(stall.begins)}, ends at {clock.moment_words(stall.ends)}."
        )
    for one in changes:
        minutes = abs(round(one.minutes))
        how = "earlier" if one.minutes < 0 else "later"
        line(f"If {one.change}: {minutes} min {how}.")


# -- what was asked -----------------------------------------------------------------------------


def _asked(
    arguments: Arguments, log: "ProbeLog", clock: "_Clock"
) -> tuple["ForecastAsked", PastTable]:
    from pitjournal.analysis.forecast.asked import ForecastAsked
    from pitjournal.domain.cuts import find_cut

    cut = find_cut(arguments.cut)
    if cut is None:
        raise JournalError(
            f"“{arguments.cut}” is no cut known here.", 'Try: --cut brisket, or --cut "pork butt".'
        )
    told = past_cooks(arguments.past, cut, arguments.cooker) if arguments.past else NO_PAST
    past = told.cooks
    thickness = _length(arguments.thickness)
    if thickness is None:
        known = sorted(cook.thickness for cook in past)
        usual = (cut.thickness.low + cut.thickness.high) / 2.0
        thickness = known[len(known) // 2] if known else usual
    asked = ForecastAsked(
        trace=_trace(log, arguments.meat, arguments.pit, clock),
        form=cut.shape,
        thickness=thickness,
        mass=_mass(arguments.weight),
        set_point=_temperature(arguments.set_point, 190.0, PIT),
        wrapping=_wrapping(arguments.wrap, arguments.unwrap, clock),
        past=past,
        targets=tuple(_target(text) for text in arguments.target),
    )
    return asked, told


def _target(text: str) -> float:
    found = _temperature(text, 110.0, INSIDE)
    if found is None:
        raise JournalError("A target is empty.", "Try: --target 203F")
    return found


def _temperature(text: str | None, fahrenheit_above: float, limits: Limits) -> float | None:
    """Return °C; a bare number above a limit can only be Fahrenheit."""
    from pitjournal.units import Dimension, UnitSystem, parse

    if text is None:
        return None
    bare = re.fullmatch(r"\s*-?\d+(?:[.,]\d+)?\s*", text)
    us = bare and float(text.replace(",", ".")) > fahrenheit_above
    found = parse(text, Dimension.TEMPERATURE, UnitSystem.US if us else UnitSystem.METRIC)
    return refuse(limits, found)


def _mass(text: str | None) -> float | None:
    from pitjournal.units import Dimension, UnitSystem, parse

    if text is None:
        return None
    bare = re.fullmatch(r"\s*\d+(?:\.\d+)?\s*", text)
    grams = bare and float(text) >= 50.0  # nobody means fifty kilograms
    found = float(text) if grams else parse(text, Dimension.MASS, UnitSystem.METRIC)
    return refuse(PIECE, found, some=True)


def _length(text: str | None) -> float | None:
    from pitjournal.units import Dimension, UnitSystem, parse

    if text is None:
        return None
    bare = re.fullmatch(r"\s*\d+(?:\.\d+)?\s*", text)
    found = float(text) / 1000.0 if bare else parse(text, Dimension.LENGTH, UnitSystem.METRIC)
    return refuse(THICK, found, some=True)


def _wrapping(text: str | None, unwrap: str | None, clock: "_Clock") -> "Wrapping | None":
    from pitjournal.analysis.forecast.asked import Wrapping
    from pitjournal.analysis.forecast.pieces import WRAPS

    if not text:
        if unwrap:
            raise JournalError(
                "It comes out of a wrap that it never went into.",
                'Say --wrap too: --wrap "14:05 foil"',
            )
        return None
    when, _, wrap = text.strip().rpartition(" ")
    if wrap.casefold() not in WRAPS or not when:
        raise JournalError(f"“{text}” is no wrap.", 'Try: --wrap "14:05 foil"')
    begun = refuse(LONG, clock.seconds(when))
    until = float("inf") if unwrap is None else refuse(LONG, clock.seconds(unwrap))
    if until <= begun:
        raise JournalError("It comes out of its wrap before it is in it.", "Look at both times.")
    return Wrapping(begun, wrap.casefold(), until)


_TIME_OF_DAY = re.compile(r"([01]?\d|2[0-3]):([0-5]\d)(?::([0-5]\d))?")


class _Clock:
    """The trace's clock: where on and the end lie, in its own seconds."""

    def __init__(self, log: "ProbeLog", on: str | None) -> None:
        times = [channel.times_s for channel in log.channels if channel.count]
        if not times:
            raise JournalError(f"{log.file} holds no readings.", "Name a logger's file.")
        self.elapsed = log.timezone == "elapsed"
        self.zoned = log.timezone not in {"local", "elapsed"}
        self.start = min(float(one.min()) for one in times)
        self.end = max(float(one.max()) for one in times)
        self.on = self.start
        if on is not None:
            self.on = self.start + self.seconds(on)
            refuse(LONG, abs(self.on - self.start))
            if self.on > self.end:
                first, last = (self.moment_words(one - self.on) for one in (self.start, self.end))
                raise JournalError(
                    f"It went on after the last reading: the readings go from {first} to {last}.",
                    "Look at --on, and at the day.",
                )

    def seconds(self, text: str) -> float:
        """Return a moment, s from on: a time of day, a date with it, or a length since on.

        Raises
        ------
        JournalError
            If it is none.
        """
        text = text.strip()
        if found := re.fullmatch(r"\+?(\d+(?:\.\d+)?)\s*(?:m|min|minutes?)?", text):
            return 60.0 * float(found[1])
        if found := re.fullmatch(r"\+?(\d+)\s*h(?:ours?)?\s*(?:(\d+)\s*(?:m|min)?)?", text):
            return 3600.0 * int(found[1]) + 60.0 * int(found[2] or 0)
        if not self.elapsed and (found := _TIME_OF_DAY.fullmatch(text)):
            clock = 3600 * int(found[1]) + 60 * int(found[2]) + int(found[3] or 0)
            return (clock - self.on % 86_400.0) % 86_400.0
        try:
            moment = datetime.fromisoformat(text)
        except ValueError:
            hint = "Try: 14:05, 2026-05-02T14:05, or 3h 42m since it went on."
            raise JournalError(f"“{text}” is no time.", hint) from None
        since = (moment.replace(tzinfo=None) - datetime(1970, 1, 1)).total_seconds()  # noqa: DTZ001 - the clock of the log
        if moment.tzinfo is not None:
            since = moment.timestamp()
        return since - self.on

    def iso(self, seconds: float) -> str | None:
        """Return a moment of the trace's clock as ISO 8601; None for an elapsed one."""
        if self.elapsed:
            return None
        moment = datetime(1970, 1, 1) + timedelta(seconds=round(seconds))  # noqa: DTZ001 - the clock of the log
        return moment.isoformat() + ("+00:00" if self.zoned else "")

    def moment_words(self, after_on: float | None) -> str:
        """Return a moment as a cook reads it."""
        if after_on is None:
            return "not known"
        if self.elapsed:
            return hours_words(after_on)
        moment = datetime(1970, 1, 1) + timedelta(seconds=self.on + after_on)  # noqa: DTZ001 - the clock of the log
        first = datetime(1970, 1, 1) + timedelta(seconds=self.on)  # noqa: DTZ001 - the clock of the log
        day = "" if moment.date() == first.date() else f"{weekday_words(moment)} "
        return f"{day}{clock_words(moment)}"


def _channel(log: "ProbeLog", name: str) -> "Channel":
    wanted = re.sub(r"\s*\([^)]*\)\s*$", "", name.strip()).casefold()
    for channel in log.channels:
        if channel.name.casefold() in {wanted, name.strip().casefold()}:
            return channel
    if name.strip().isdigit() and 1 <= int(name) <= len(log.channels):
        return log.channels[int(name) - 1]
    names = ", ".join(channel.name for channel in log.channels)
    raise JournalError(f"{log.file} has no channel “{name}”.", f"It has: {names}.")


def _trace(log: "ProbeLog", meat: str, pit: str, clock: _Clock) -> "Trace":
    import numpy as np

    from pitjournal.analysis.forecast.asked import Trace

    inside, outside = _channel(log, meat), _channel(log, pit)
    order = np.argsort(inside.times_s, kind="stable")
    times, values = inside.times_s[order] - clock.on, inside.values_c[order]
    kept = times >= -1.0
    times, values = times[kept], values[kept]
    if times.size == 0 or outside.count == 0:
        return Trace(np.array([]), np.array([]), np.array([]))
    along = np.argsort(outside.times_s, kind="stable")
    around = np.interp(times, outside.times_s[along] - clock.on, outside.values_c[along])
    return Trace(np.maximum(times, 0.0), values, around)
