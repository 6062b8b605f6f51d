"""Find which columns tell a row's time, by their heads and their cells."""

import itertools
import re
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from pitjournal.files.probe_log.times.clock import Clock
from pitjournal.files.probe_log.times.stamps import (
    DAY,
    any_time,
    decimals,
    has_clock,
    is_year_first,
    read_elapsed,
    read_number,
    read_stamp,
    read_time_of_day,
)
from pitjournal.files.probe_log.units import unit_named

SHARE = 0.6
"""A column is of a kind when this share of its cells can be read as it."""

TIME_HEAD = re.compile(
    r"time|zeit|date|datum|fecha|hora|heure|\bdata\b|hours?\b|stunden?\b|tiempo|dur[ée]e|"
    r"duraci[oó]n|durata|tempo|\bora\b|\btid\b|clock|stamp|recorded|logged|"
    r"\bts\b|epoch|unix|\bt\b|minute|second|\bmin\b|\bsec\b|elapsed|runtime|duration|millis|\butc\b",
    re.IGNORECASE,
)
_ELAPSED_HEAD = re.compile(
    r"elapsed|run\s?time|duration|since|dauer|laufzeit|cook time|relative|timer|écoulé|transcurrid|"
    r"\bt\s*[\[(/]?\s*(s|sec|min|h)\b",
    re.IGNORECASE,
)
_CLOCK_HEAD = re.compile(
    r"time of day|uhrzeit|clock|local|\bhora\b|\bheure\b|\bora\b|klockslag", re.IGNORECASE
)
_DATE_HEAD = re.compile(r"date|datum|fecha|\bdata\b", re.IGNORECASE)
LONGEST_RUN = 400 * 86_400.0
"""No logger counts on for more than a year, s (common practice, no source)."""

COUNTER_HEAD = re.compile(
    r"^\W*(#|n|no|nr|num|number|index|idx|id|count|counter|sample|samples|record|row|"
    r"seq|sequence|entry|lfd|scan)\W*(no|nr|number|#)?\W*$",
    re.IGNORECASE,
)
_MINUTES_FIRST = re.compile(r"\bm{1,2}:s{1,2}|min:s", re.IGNORECASE)
_HALF = re.compile(r"^[ap]\.?\s?m\.?$", re.IGNORECASE)
_DOTTED = re.compile(r"^\D{0,12}\d{1,2}\.\s?\d{1,2}\.")
_NUMBERED = re.compile(r"\d\s*[-+]\d{1,2}(?::?\d{2})?\s*(?:\[.*)?$")
_UNITS_OF_TIME = (
    (1e-3, {"ms", "msec", "msecs", "millis", "milliseconds"}),
    (1.0, {"s", "sec", "secs", "second", "seconds", "sek", "sekunden"}),
    (60.0, {"m", "min", "mins", "minute", "minutes", "minuten"}),
    (3600.0, {"h", "hr", "hrs", "hour", "hours", "std", "stunden"}),
    (DAY, {"d", "day", "days", "tage"}),
)
_EPOCHS = (
    (9.0e8, 4.2e9, 1.0),
    (9.0e11, 4.2e12, 1e-3),
    (9.0e14, 4.2e15, 1e-6),
    (9e17, 4.2e18, 1e-9),
)
_PARTS = (
    r"^y(ea)?r$|jahr",
    r"^mo(nth)?$|monat",
    r"^d(ay)?$|^tag$",
    r"^h(ou)?r?s?$|^hh$|stunde",
    r"^mi(n(ute)?s?)?$|^mm$",
    r"^s(ec(ond)?s?)?$|^ss$|sekunde",
)


Columns = Sequence[Sequence[str]]


def share(cells: Sequence[str], read: Callable[[str], object | None]) -> float:
    """Return the share of the filled cells that can be read."""
    filled = [cell for cell in cells if cell]
    return sum(read(cell) is not None for cell in filled) / len(filled) if filled else 0.0


def find_clock(
    columns: Columns,
    heads: Sequence[str],
    units: Sequence[str],
    *,
    dated: bool,
    every: float | None = None,
) -> Clock | None:
    """Return how rows' times are read; absolute times win over those of a day, and over elapsed.

    Parameters
    ----------
    columns
        Cells of rows across the file, by column.
    heads, units
        The columns' heads and the cells of a units row, as many.
    dated
        Whether a date stands above the rows.
    every
        Seconds from row to row, where that stands above them.
    """
    return (
        _stamps(columns)
        or _parts(columns, heads)
        or _numbers(columns, heads)
        or _carried(columns)
        or _yearless(columns)
        or _clocks(columns, heads, dated=dated)
        or _elapsed_clock(columns, heads, units)
        or _numbered(columns, heads, every)
    )


def _stamps(columns: Columns) -> Clock | None:
    stamps = [p for p, cells in enumerate(columns) if share(cells, read_stamp) >= SHARE]
    whole = [p for p in stamps if sum(map(has_clock, columns[p])) >= SHARE * _filled(columns[p])]
    if whole:
        return _with_zone(columns, min(whole, key=lambda place: not _has_offset(columns[place])))
    days = [
        p
        for p, cells in enumerate(columns)
        if p not in stamps and share(cells, read_time_of_day) >= SHARE
    ]
    for place, day in itertools.product(stamps, days):
        return _date_and_time(columns, place, day)
    for first, second in itertools.pairwise(range(len(columns))):
        joins = [(", ", (first, second)), (" ", (first, second))]
        for join, places in joins:
            clock = Clock("stamp", places, "stamp", join)
            if _reads(clock, columns):
                return _dotted(clock, columns)
    return None


def _filled(cells: Sequence[str]) -> int:
    return sum(bool(cell) for cell in cells)


def _has_offset(cells: Sequence[str]) -> bool:
    found = [moment for cell in cells if (moment := read_stamp(cell)) is not None]
    return sum(moment.offset == moment.offset for moment in found) > len(found) / 2


def _reads(clock: Clock, columns: Columns) -> bool:
    rows = list(zip(*columns, strict=True))
    return sum(clock.read(row) is not None for row in rows) >= SHARE * len(rows)


def _dotted(clock: Clock, columns: Columns) -> Clock:
    texts = [clock.text(row) for row in zip(*columns, strict=True)]
    dotted = sum(_DOTTED.match(text) is not None for text in texts) > len(texts) / 2
    numbered = sum(_NUMBERED.search(text) is not None for text in texts) > len(texts) / 2
    first, sure = is_year_first(texts)
    return replace(clock, dotted=dotted, numbered=numbered, year_first=first, year_unsure=not sure)


def _with_zone(columns: Columns, place: int) -> Clock:
    """Return a clock of one column, with the zone or the half of the day in the one beside it."""
    alone = Clock("stamp", (place,), "stamp")
    if place + 1 < len(columns) and not _has_offset(columns[place]):
        beside = columns[place + 1]
        joined = Clock("stamp", (place, place + 1), "stamp")
        if share(beside, _half_or_zone) >= SHARE and _reads(joined, columns):
            return _dotted(joined, columns)
    return _dotted(alone, columns)


def _half_or_zone(cell: str) -> bool | None:
    if _HALF.match(cell):
        return True
    plain = cell.casefold()
    moment = None if plain.lstrip("+-").isdecimal() else read_stamp(f"2000-01-01 00:00 {cell}")
    return True if moment is not None and moment.offset == moment.offset else None


def _date_and_time(columns: Columns, place: int, day: int) -> Clock | None:
    more = [p for p in (day + 1, day + 2) if p < len(columns) and p != place]
    beside = []
    for other in more:
        if share(columns[other], _half_or_zone) < SHARE:
            break
        beside.append(other)
    for extra in (tuple(beside), ()):
        clock = Clock("stamp", (place, day, *extra), "stamp")
        if _reads(clock, columns):
            return _dotted(clock, columns)
    return None


def _carried(columns: Columns) -> Clock | None:
    """Return a clock of times of day beside dates that stand only where a day begins."""
    days = [p for p, cells in enumerate(columns) if share(cells, read_time_of_day) >= SHARE]
    for place, day in itertools.product(range(len(columns)), days):
        cells = columns[place]
        if place == day or not 0 < _filled(cells) < SHARE * len(cells):
            continue
        if share(cells, read_stamp) >= SHARE and not any(map(has_clock, cells)):
            found = _dotted(Clock("stamp", (place,), "stamp"), columns)
            return replace(found, kind="day", columns=(place, day), form="day", carried=True)
    return None


def _yearless(columns: Columns) -> Clock | None:
    """Return a clock of dates without their year."""
    places: list[tuple[int, ...]] = [(place,) for place in range(len(columns))]
    for columns_of_it in [*places, *itertools.pairwise(range(len(columns)))]:
        clock = Clock("stamp", columns_of_it, "stamp", yearless=True)
        if _reads(clock, columns):
            texts = [clock.text(row) for row in zip(*columns, strict=True)]
            return replace(clock, dotted=sum("." in text for text in texts) > len(texts) / 2)
    return None


def _parts(columns: Columns, heads: Sequence[str]) -> Clock | None:
    """Return a clock of year, month, day, hour, minute (and second) in columns of their own."""
    places: list[int] = []
    for pattern in _PARTS:
        found = [
            place
            for place, head in enumerate(heads)
            if place not in places and re.search(pattern, head.strip(), re.IGNORECASE)
        ]
        if not found:
            break
        places.append(found[0])
    clock = Clock("stamp", tuple(places), "parts")
    return clock if len(places) >= 5 and _reads(clock, columns) else None


def _numbers(columns: Columns, heads: Sequence[str]) -> Clock | None:
    """Return a clock of seconds since 1970, or of a spreadsheet's days."""
    for place, cells in enumerate(columns):
        if share(cells, read_number) < 0.9:
            continue
        values = _values(cells)
        for low, high, factor in _EPOCHS:
            if _within(values, low, high) and _goes_on(values):
                return Clock("utc", (place,), "number", factor=factor, digits=decimals(cells))
        digits = decimals(cells)
        elapsed = _ELAPSED_HEAD.search(heads[place])
        if digits >= 4 and not elapsed and _within(values, 25_569, 80_000) and _goes_on(values):
            # A spreadsheet counts days; day 25,569 is 1 January 1970.
            return Clock(
                "serial", (place,), "number", factor=DAY, shift=-25_569.0 * DAY, digits=digits
            )
    return None


def _values(cells: Sequence[str]) -> list[float]:
    return [value for value in map(read_number, cells) if value is not None]


def _within(values: Sequence[float], low: float, high: float) -> bool:
    """Whether numbers lie in a range; of a few, one may be damaged."""
    outside = sum(not low <= value <= high for value in values)
    return outside <= 0.1 * len(values) or (outside == 1 and len(values) > 3)


def _goes_on(values: Sequence[float]) -> bool:
    """Whether numbers go one way, mostly, and do not stand still."""
    steps = np.diff(values)
    if not steps.size or not np.any(steps):
        return False
    return max(int((steps >= 0).sum()), int((steps <= 0).sum())) >= 0.8 * steps.size


def _clocks(columns: Columns, heads: Sequence[str], *, dated: bool) -> Clock | None:
    """Return a clock of h:mm:ss: a time of day, or time since the start."""
    for place, cells in enumerate(columns):
        day, elapsed = share(cells, read_time_of_day), share(cells, read_elapsed)
        if max(day, elapsed) < SHARE or sum(map(any_time, cells)) < SHARE * _filled(cells):
            continue
        if day >= SHARE and _is_day(cells, heads[place], dated=dated):
            return Clock("day", (place,), "day")
        if elapsed >= SHARE:
            first = _minutes_first(cells, heads[place])
            return Clock("elapsed", (place,), "clock", minutes_first=first)
    return None


def _is_day(cells: Sequence[str], head: str, *, dated: bool) -> bool:
    told = [
        cell
        for cell in cells
        if read_elapsed(cell) is not None or read_time_of_day(cell) is not None
    ]
    # Hours that go on beyond a day do so to the end; one in between is damage.
    ends = [read_time_of_day(cell) for cell in told[-3:]]
    beyond = sum(end is None or end >= DAY for end in ends)
    if _ELAPSED_HEAD.search(head) or beyond >= 2:
        return False
    first = next((found for cell in cells if (found := read_elapsed(cell)) is not None), None)
    return first is None or bool(_CLOCK_HEAD.search(head)) or dated or first >= 600


def _minutes_first(cells: Sequence[str], head: str) -> bool:
    """Whether 12:30 is minutes and seconds: said, or with hours it would be no probe's pace."""
    parts = {cell.count(":") for cell in cells if read_elapsed(cell) is not None}
    if _MINUTES_FIRST.search(head):
        return True
    if 1 not in parts:
        return False
    if 2 in parts:
        return True
    values = [value for cell in cells[:20] if (value := read_elapsed(cell)) is not None]
    steps = np.diff(values)
    return bool(steps.size) and float(np.median(steps)) > 600.0


def _elapsed_clock(columns: Columns, heads: Sequence[str], units: Sequence[str]) -> Clock | None:
    """Return a clock of a plain number of seconds, minutes or hours since the start."""
    for place, cells in enumerate(columns):
        head, values = heads[place], _values(cells)
        if share(cells, read_number) < 0.9 or not _goes_on(values) or COUNTER_HEAD.match(head):
            continue
        if _DATE_HEAD.search(head) and not _ELAPSED_HEAD.search(head):
            continue
        if unit_named(units[place]) or (unit_named(head) and len(head) == 1):
            continue  # a temperature
        named = TIME_HEAD.search(head.replace("_", " ")) or _ELAPSED_HEAD.search(head)
        first_of_all = place == 0 and not head and len(columns) > 1 and _is_pace(values)
        if not (named or first_of_all):
            continue
        factor = factor_named(units[place]) or factor_named(head)
        guessed = ""
        if factor is None:
            factor, guessed = _guess_factor(values, decimals(cells))
        if max(values, default=0.0) * factor > LONGEST_RUN:
            continue  # an epoch that is damaged, and no time since any start
        return Clock(
            "elapsed", (place,), "number", factor=factor, digits=decimals(cells), guessed=guessed
        )
    return None


def _numbered(columns: Columns, heads: Sequence[str], every: float | None) -> Clock | None:
    """Return a clock of rows' numbers, where the time from one to the next stands above them."""
    for place, cells in enumerate(columns):
        head, values = heads[place], _values(cells)
        named = COUNTER_HEAD.match(head) or (place == 0 and not head)
        if not every or not named or share(cells, read_number) < 0.9 or not _goes_on(values):
            continue
        steps = np.diff(values[:20])
        if float(np.median(steps)) == 1.0 and not decimals(cells):
            # So many digits because a number says all of its time.
            return Clock("elapsed", (place,), "number", factor=every, digits=9, every=every)
    return None


def _is_pace(values: Sequence[float]) -> bool:
    """Whether numbers without a head go up steadily, and not one by one as rows are counted."""
    steps = np.diff(values[:20])
    if steps.size < 3 or not bool((np.diff(values) > 0).all()):
        return False
    usual = float(np.median(steps))
    return float(steps.max()) <= 3.0 * usual and usual != 1.0


def factor_named(text: str) -> float | None:
    """Return the seconds in the last unit of time that a text names, or None."""
    words = re.findall(r"[a-zäöü]+", re.sub(r"([a-z])([A-Z])", r"\1 \2", text).casefold())
    for word in reversed(words):
        for factor, names in _UNITS_OF_TIME:
            if word in names:
                return factor
    return None


def _guess_factor(values: Sequence[float], digits: int) -> tuple[float, str]:
    step = float(np.median(np.abs(np.diff(values[:20])))) if len(values) > 1 else 1.0
    if step >= 1000:
        return 1e-3, "thousandths of a second"
    if digits and step < 1 and step * 60 >= 1:
        return 60.0, "minutes"
    return 1.0, "seconds"
