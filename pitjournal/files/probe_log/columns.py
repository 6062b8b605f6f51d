"""Which rows and columns hold what: heads, times, readings, names, units."""

import itertools
import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from pitjournal.files.probe_log.cells import reading, split_unit, unit_named
from pitjournal.files.probe_log.table import Row
from pitjournal.files.probe_log.times import (
    EPOCHS,
    any_time,
    read_elapsed_clock,
    read_number,
    read_stamp,
    read_time_of_day,
    serial_day,
)

_NO_TEMPERATURE = re.compile(
    r"batt|akku|signal|rssi|wifi|fan|blower|alarm|hum|\brh\b|%|volt|\bmv\b|damper|valve|count|"
    r"\bindex\b|\bidx\b|record|\brow\b|\bno\.?\b|^#$|sample|status|state|error|flag|mode|lid|"
    r"duty|output|pressure|hpa|wind|lux|note|comment|event|\bseq",
    re.IGNORECASE,
)
_ELAPSED = re.compile(
    r"elapsed|runtime|run time|duration|since|dauer|\bt\s*[\[(]?(s|sec|min)\b", re.IGNORECASE
)
_TIME_HEAD = re.compile(
    r"time|zeit|date|datum|clock|stamp|elapsed|recorded|\bts\b|ts_|minute|second|^t$", re.IGNORECASE
)
_MINUTES = re.compile(r"min", re.IGNORECASE)
_HOURS = re.compile(r"\bh(ou)?rs?\b|[\[(_]h[\])]?$", re.IGNORECASE)
_UNIT_HEAD = re.compile(r"unit|einheit|scale", re.IGNORECASE)
_NAME_HEAD = re.compile(
    r"probe|channel|sensor|name|kanal|series|where|\bch\b|label|source", re.IGNORECASE
)

SHARE = 0.6
"""A column is of a kind when this share of its cells can be read as it."""


@dataclass(frozen=True)
class Clock:
    """How times are read: from which columns, as what."""

    kind: str
    columns: tuple[int, ...]
    read: Callable[[str], float | None] | None = None


@dataclass(frozen=True)
class Layout:
    """Where everything is.

    Attributes
    ----------
    width
        Cells in a row of readings.
    heads
        Column heads, empty where the file has none.
    clock
        How times are read.
    readings
        Columns of temperatures.
    name_column, unit_column
        In a long file, the columns of channel names and of units.
    """

    width: int
    heads: tuple[str, ...]
    clock: Clock
    readings: tuple[int, ...]
    name_column: int | None = None
    unit_column: int | None = None


def no_temperature(head: str) -> bool:
    """Whether a column's head says that it is no temperature."""
    return bool(_NO_TEMPERATURE.search(head.replace("_", " ")))


def _share(cells: Sequence[str], read: Callable[[str], object | None]) -> float:
    filled = [cell for cell in cells if cell]
    return sum(read(cell) is not None for cell in filled) / len(filled) if filled else 0.0


def find_layout(rows: Sequence[Row]) -> Layout | None:
    """Return the layout that reads most of the rows, or None."""
    widths = Counter(len(row.cells) for row in rows)
    for width, count in widths.most_common(3):
        if width < 2 or count < 2:
            continue
        found = _with_width(rows, width)
        if found is not None:
            return found
    return None


def _with_width(rows: Sequence[Row], width: int) -> Layout | None:
    same = [row.cells for row in rows if len(row.cells) == width]
    place, heads = _heads(same, width)
    below = same[place + 1 :]
    tried = below[:200] + below[200 :: max(1, len(below) // 200)]
    if not tried:
        return None
    columns = list(zip(*tried, strict=True))
    clock = find_clock(columns, heads)
    if clock is None:
        return None
    rest = [place for place in range(width) if place not in clock.columns]
    numbers = [
        place
        for place in rest
        if not no_temperature(heads[place])
        and not _UNIT_HEAD.search(heads[place])
        and not _TIME_HEAD.search(heads[place])
        and _readable(columns[place])
    ]
    units = [p for p in rest if _share(columns[p], lambda cell: unit_named(cell) or None) >= SHARE]
    names = [place for place in rest if place not in units and _names(columns[place], heads[place])]
    unit = units[0] if units else None
    if names and numbers:
        values = [place for place in numbers if place not in names]
        if len(values) == 1:
            return Layout(width, heads, clock, (values[0],), names[0], unit)
    readings = tuple(place for place in numbers if place not in units)
    if not readings:
        return None
    return Layout(width, heads, clock, readings, None, unit)


def _readable(cells: Sequence[str]) -> bool:
    found = [reading(cell) for cell in cells]
    values = sum(value is not None for value, _, _ in found)
    return values > 0 and sum(ok for _, _, ok in found) >= 0.8 * len(found)


def _names(cells: Sequence[str], head: str) -> bool:
    """Whether a column names the channel of its row: few words that come again and again."""
    different = set(cells)
    if not 1 <= len(different) <= min(64, max(1, len(cells) // 3)) or "" in different:
        return False
    words = sum(not reading(cell)[2] for cell in cells)
    if words >= 0.9 * len(cells):
        return len(different) > 1 or bool(_NAME_HEAD.search(head))
    return bool(_NAME_HEAD.search(head)) and len(different) > 1 and len(cells) >= 2 * len(different)


def _heads(rows: Sequence[tuple[str, ...]], width: int) -> tuple[int, tuple[str, ...]]:
    """Return the last row of words above the first row with a time, and its place (or −1)."""
    heads, at = ("",) * width, -1
    for place, row in enumerate(rows[:40]):
        words = sum(bool(cell) and not reading(cell)[2] and not any_time(cell) for cell in row)
        if words >= max(1, len(row) - 1) and not any(map(unit_named, row)):
            heads, at = row, place
        if words == 0 and any(any_time(cell) or reading(cell)[0] is not None for cell in row):
            break
    return at, heads


def find_clock(columns: Sequence[Sequence[str]], heads: Sequence[str]) -> Clock | None:
    """Return how the rows' times are read; absolute times win over elapsed ones."""
    stamps = [p for p, cells in enumerate(columns) if _share(cells, read_stamp) >= SHARE]
    days = [p for p, cells in enumerate(columns) if _share(cells, read_time_of_day) >= SHARE]
    for place in stamps:
        with_clock = any(stamp and stamp.seconds for stamp in map(read_stamp, columns[place]))
        others = [other for other in days if other != place]
        if not with_clock and others:
            return Clock("date and time", (place, others[0]))
        if with_clock or len(columns[place]) < 3:
            return Clock("stamp", (place,))
    for place, cells in enumerate(columns[:4]):
        for read in (*EPOCHS, *((serial_day,) if _TIME_HEAD.search(heads[place]) else ())):
            if _share(cells, read) >= 0.9 and _rising(cells, read):
                return Clock("utc" if read in EPOCHS else "serial", (place,), read)
    if days and not _ELAPSED.search(heads[days[0]]):
        first = columns[days[0]][0]
        if read_elapsed_clock(first) != 0.0 or len(columns[days[0]]) < 3:
            return Clock("time of day", (days[0],))
    return _elapsed(columns, heads)


def _rising(cells: Sequence[str], read: Callable[[str], float | None]) -> bool:
    values = [value for value in map(read, cells) if value is not None]
    return sum(b >= a for a, b in itertools.pairwise(values)) >= 0.9 * (len(values) - 1)


def _elapsed(columns: Sequence[Sequence[str]], heads: Sequence[str]) -> Clock | None:
    for place, cells in enumerate(columns[:4]):
        if _share(cells, read_elapsed_clock) >= SHARE and any(":" in cell for cell in cells):
            return Clock("elapsed", (place,), read_elapsed_clock)
    for place, cells in enumerate(columns[:4]):
        named = _TIME_HEAD.search(heads[place]) or _ELAPSED.search(heads[place])
        if named and _share(cells, read_number) >= 0.9 and _rising(cells, read_number):
            return Clock("elapsed", (place,), _counted(heads[place], cells))
    return None


def _counted(head: str, cells: Sequence[str]) -> Callable[[str], float | None]:
    factor = 1.0
    if _HOURS.search(head):
        factor = 3600.0
    elif _MINUTES.search(head) or (not re.search("s", head, re.IGNORECASE) and _tenths(cells)):
        factor = 60.0

    def read(text: str) -> float | None:
        number = read_number(text)
        return None if number is None else number * factor

    return read


def _tenths(cells: Sequence[str]) -> bool:
    return any("." in cell or "," in cell for cell in cells)


def column_name(head: str, place: int) -> tuple[str, str]:
    """Return a channel's name and the unit in its head."""
    name, unit = split_unit(head)
    return name or f"Channel {place}", unit
