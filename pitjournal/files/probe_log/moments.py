"""From what rows say of their time to seconds: days and months, midnights, zones, damage."""

import re
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime

import numpy as np
from numpy.typing import NDArray

from pitjournal.domain.times.moments import date_words, stamp_words
from pitjournal.errors import JournalError
from pitjournal.files.probe_log.body import Body
from pitjournal.files.probe_log.columns import Layout
from pitjournal.files.probe_log.report import ELAPSED, LOCAL, ReadOptions
from pitjournal.files.probe_log.row_dates import (
    Beside,
    day_of,
    days_of,
    reads_day_first,
    with_years,
    year_above,
)
from pitjournal.files.probe_log.tables.decode import not_a_log
from pitjournal.files.probe_log.times.beside import date_in
from pitjournal.files.probe_log.times.clock import Clock
from pitjournal.files.probe_log.times.order import out_of_order
from pitjournal.files.probe_log.times.stamps import DAY, Moment
from pitjournal.files.probe_log.times.zones import zoned
from pitjournal.units.figures import trimmed

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

SET_BACK = 3 * 3600.0
"""A time of day that goes back by less than this is a clock set back, else a new day, s."""

COUNTED_IN = {"s": (1.0, "seconds"), "min": (60.0, "minutes"), "h": (3600.0, "hours")}
"""Seconds in what a logger counts from its start, and its name."""

_YEAR = re.compile(r"(?<!\d)(?:19|20)\d\d(?![\d:])")

NO_DATE = "there is no such date"
NO_FIT = "its time does not fit the rows before and after it"
MIXED = "it is the only kind of row with, or without, an offset from UTC"


@dataclass
class Timed:
    """Rows' times, and the rows that have none.

    Attributes
    ----------
    seconds
        See `report.Channel.times_s`; NaN for refused rows.
    zone
        "UTC", "offset", "local", "elapsed" or the name of a zone.
    refused
        Reasons by the row's place in the body.
    notes
        Words by kind.
    """

    seconds: Floats
    zone: str
    refused: dict[int, str] = field(default_factory=dict)
    notes: dict[str, str] = field(default_factory=dict)

    def refuse(self, rows: Mask, why: str) -> None:
        """Refuse rows that have a time so far."""
        for place in np.flatnonzero(rows & ~np.isnan(self.seconds)).tolist():
            self.refused[place] = why
        self.seconds[rows] = np.nan


def timed(body: Body, layout: Layout, beside: Beside, options: ReadOptions) -> Timed:
    """Return the rows' times.

    Parameters
    ----------
    body
        The rows as read, the oldest first.
    layout
        How times were read.
    beside
        What stands beside them.
    options
        What the cook says where the file leaves it open.
    """
    clock, notes = layout.clock, dict[str, str]()
    if clock.guessed and options.counted:
        factor, words = COUNTED_IN[options.counted]
        body = replace(body, seconds=body.seconds / clock.factor * factor)
        clock = replace(clock, factor=factor, guessed="")
        notes["elapsed_told"] = f"Its times are counted in {words}, as was said."
    if clock.kind == "stamp":
        found = _stamped(body, clock, options, beside)
    elif clock.carried:
        found = _carried(body, clock, options, beside)
    elif clock.kind == "day":
        found = _of_day(body, options, beside)
    else:
        zone = {"utc": "UTC", "serial": LOCAL}.get(clock.kind, ELAPSED)
        found = Timed(_snapped(body.seconds, clock), zone)
        found.refuse(_misfits(body, found.seconds, beside), NO_FIT)
    found.notes |= notes
    if clock.guessed:
        found.notes["elapsed_guessed"] = (
            f"The file does not say in what it counts time; read as {clock.guessed}."
        )
    if clock.every:
        found.notes["interval_from_preamble"] = (
            f"The rows are numbered; the file says that one is taken every {trimmed(clock.every)} s."
        )
    if clock.kind == "elapsed":
        _from_start(found, beside.context, options)
    _note_steps_back(found, body)
    if found.zone == LOCAL and options.timezone is not None:
        found.seconds, words = zoned(found.seconds, options.timezone)
        found.zone = options.timezone
        if words:
            found.notes["clock_not_changed"] = words
    return found


def _note_steps_back(found: Timed, body: Body) -> None:
    back = 0
    for code in range(len(body.names)):
        rows = body.codes == code if len(body.names) > 1 else slice(None)
        seconds = found.seconds[rows]
        back = max(back, int((np.diff(seconds[~np.isnan(seconds)]) < 0).sum()))
    if back:
        found.notes["clock_back"] = (
            f"The clock goes back {back} time{'s' * (back > 1)}: an hour repeated in autumn, "
            "or a clock that was set back. The rows are kept in the file's order."
        )


def is_newest_first(body: Body) -> bool:
    """Whether the rows run backwards."""
    rough = body.dates * 1.0e5 + body.seconds
    steps = np.diff(rough)
    return steps.size > 2 and float((steps < 0).mean()) > 0.6


def _misfits(body: Body, seconds: Floats, beside: Beside, period: float = np.inf) -> Mask:
    """Return which rows' times do not fit, each channel of a long file by itself."""
    out = np.zeros(body.count, dtype=np.bool_)
    slots = np.arange(body.count, dtype=np.float64)
    if beside.unread.size and len(body.names) == 1:
        ahead = np.searchsorted(beside.unread, body.places)
        slots += ahead if ahead[0] <= ahead[-1] else -ahead
    for code in range(len(body.names)):
        rows = ~np.isnan(seconds)
        if len(body.names) > 1:
            rows &= body.codes == code
        places = np.flatnonzero(rows)
        values = body.values[places] if places.size != body.count else body.values
        here = slots[places] if len(body.names) == 1 else np.arange(places.size, dtype=np.float64)
        out[places] = out_of_order(seconds[places], values, here, period)
    return out


def _snapped(seconds: Floats, clock: Clock) -> Floats:
    """Return counted times on whole seconds, where the digits that are written allow it.

    A minute in days, 0.000694, or twenty seconds in minutes, 0.333, cannot be written in full.
    """
    if clock.form != "number" or clock.factor in {1.0, 1e-3, 1e-6, 1e-9}:
        return seconds.copy()
    written = clock.factor * 10.0**-clock.digits
    for unit in (60.0, 1.0) if written > 1.0 else (1.0,):
        whole = np.round(seconds / unit) * unit
        near = np.abs(seconds - whole) <= max(0.51 * written, 2e-3)
        if near.mean() >= 0.9:
            return whole
    return np.round(seconds, 3)


# dates


def _stamped(body: Body, clock: Clock, options: ReadOptions, beside: Beside) -> Timed:
    notes: dict[str, str] = {}
    if clock.year_unsure:
        notes["ambiguous_date"] = (
            f"Which number is the year cannot be told; read with it {'first' if clock.year_first else 'last'}."
        )
    day_first = reads_day_first(body, clock, options, notes)
    dates = body.dates
    if clock.yearless:
        dates = with_years(body, beside, day_first=day_first)
    days = days_of(dates, body.loose, day_first=day_first)
    found = Timed(days * DAY + body.seconds, LOCAL, notes=notes)
    found.refused = dict.fromkeys(np.flatnonzero(np.isnan(days)).tolist(), NO_DATE)
    zoned = ~np.isnan(body.offsets)
    usual = bool(zoned.mean() > 0.5)
    found.refuse(zoned != usual, MIXED)
    if usual:
        found.seconds -= body.offsets
        offset = clock.numbered or np.any(body.offsets[zoned])
        found.zone = "offset" if offset else "UTC"
    found.refuse(_misfits(body, found.seconds, beside), NO_FIT)
    if clock.yearless and year_above(beside) is None:
        found.zone = ELAPSED
        known = found.seconds[~np.isnan(found.seconds)]
        found.seconds -= known[0] if known.size else 0.0
        found.notes["no_year"] = "The file says no year; times count from its first row."
    return found


def _of_day(body: Body, options: ReadOptions, beside: Beside) -> Timed:
    found = Timed(body.seconds.copy(), LOCAL)
    found.refuse(_misfits(body, found.seconds, beside, DAY), NO_FIT)
    for code in range(len(body.names)):
        rows = ~np.isnan(found.seconds)
        if len(body.names) > 1:
            rows &= body.codes == code
        found.seconds[rows] = _unrolled(found.seconds[rows])
    known = ~np.isnan(found.seconds)
    if not known.any():
        return found
    seconds = found.seconds[known]
    start = date_in(beside.context)
    if start is None:
        found.notes["no_date"] = "The file says no date; times count from its first row."
        found.zone = ELAPSED
        found.seconds[known] = seconds - seconds[0]
        return found
    moment, started = start
    base = _base(moment, options, found.notes, beside.name)
    if started and moment.seconds and seconds[0] < moment.seconds - SET_BACK:
        base += DAY
    words = datetime.fromtimestamp(base, UTC)
    found.notes["date_from_preamble"] = (
        f"The rows have no date; they count on from {date_words(words)} at the top of the file."
    )
    found.seconds[known] = base + seconds
    return found


def _carried(body: Body, clock: Clock, options: ReadOptions, beside: Beside) -> Timed:
    """Return the times of rows whose date stands only where a day begins.

    From row to row the clock goes on over midnight by itself; what a date adds is which day it
    is, and that holds from one gap to the next. A date that does not agree with the others
    between two gaps is damage.
    """
    found = Timed(body.seconds.copy(), LOCAL)
    found.refuse(_misfits(body, found.seconds, beside, DAY), NO_FIT)
    known = np.flatnonzero(~np.isnan(found.seconds))
    if not known.size:
        return found
    seconds = _unrolled(found.seconds[known])
    marks = np.flatnonzero(body.dates[known] > 0)
    if not marks.size:
        raise not_a_log(beside.name, "none of its dates can be read")
    dated = body.only(known[marks])
    days = days_of(
        dated.dates,
        dated.loose,
        day_first=reads_day_first(dated, clock, options, found.notes),
    )
    steps = np.abs(np.diff(seconds))
    usual = float(np.median(steps)) if steps.size else 0.0
    spans = np.concatenate(([0], np.cumsum(steps > max(4.0 * usual, 1.0))))
    ahead = days - np.floor(seconds[marks] / DAY)
    base, refused = np.nan, np.zeros(body.count, dtype=np.bool_)
    for span in range(int(spans[-1]) + 1):
        rows = np.flatnonzero(spans == span)
        here = spans[marks] == span
        told = ahead[here & ~np.isnan(ahead)]
        if told.size:
            numbers, counts = np.unique(told, return_counts=True)
            # Of dates that do not agree none is believed unless most are for it.
            most = np.flatnonzero(counts == counts.max())
            base = float(numbers[most[0]]) if most.size == 1 else np.nan
        elif rows[0] and _may_be_another_day(seconds[rows[0] - 1], seconds[rows[0]]):
            base = np.nan
        wrong = marks[:0] if np.isnan(base) else marks[here & (ahead != base)]
        refused[known[wrong]] = True
        found.seconds[known[rows]] = seconds[rows] + base * DAY
    found.refuse(refused, NO_FIT)
    undated = np.isnan(found.seconds[known])
    found.refused |= {
        int(row): "no date stands above it"
        for row in known[undated].tolist()
        if row not in found.refused
    }
    found.notes["date_carried"] = (
        "A date stands only where a day begins; it holds for the rows below it."
    )
    return found


def _may_be_another_day(before: float, after: float) -> bool:
    """Whether a day may have begun in a gap, whose date is lost then."""
    return bool(before // DAY != after // DAY or abs(after - before) > SET_BACK)


def _unrolled(seconds: Floats) -> Floats:
    """Carry times of day over midnight.

    Back by little is a clock set back, by much a new day; onward by nearly a day is a clock
    that was set back over midnight.
    """
    steps = np.diff(seconds)
    days = np.cumsum((steps < -SET_BACK).astype(int) - (steps > DAY - SET_BACK).astype(int))
    return np.concatenate((seconds[:1], seconds[1:] + DAY * days))


def _base(moment: Moment, options: ReadOptions, notes: dict[str, str], name: str) -> float:
    """Return the midnight before a moment, s since 1970."""
    month_first = day_of(moment.date, swap=False)
    day_first = day_of(moment.date, swap=moment.loose)
    if np.isnan(month_first) and np.isnan(day_first):
        raise not_a_log(name, "its date does not exist")
    if moment.loose and not np.isnan(month_first) and not np.isnan(day_first):
        if options.day_first is None and month_first != day_first:
            notes["ambiguous_date"] = (
                "Day and month cannot be told apart; read with the month first."
            )
        return DAY * (day_first if options.day_first else month_first)
    return DAY * (day_first if np.isnan(month_first) else month_first)


def _from_start(found: Timed, context: list[str], options: ReadOptions) -> None:
    """Count elapsed times from a start that the file names with its time of day."""
    start = date_in(context)
    if start is None or not start[1] or not start[0].seconds:
        return
    try:
        base = _base(start[0], options, found.notes, "")
    except JournalError:
        return
    found.seconds = found.seconds + base + start[0].seconds
    found.zone = LOCAL
    words = datetime.fromtimestamp(base + start[0].seconds, UTC)
    found.notes["start_from_preamble"] = (
        f"Times count from {stamp_words(words)} at the top of the file."
    )
