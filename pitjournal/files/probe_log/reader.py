"""Read a probe file: bytes in, a report out."""

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np

from pitjournal.errors import JournalError
from pitjournal.files.probe_log.cells import reading, split_unit, to_celsius, unit_named
from pitjournal.files.probe_log.columns import Layout, column_name, find_layout, no_temperature
from pitjournal.files.probe_log.decode import decode, not_a_log
from pitjournal.files.probe_log.report import (
    ELAPSED,
    LOCAL,
    Channel,
    Note,
    ProbeLog,
    ReadOptions,
    Rejected,
)
from pitjournal.files.probe_log.table import Row, Table, sheet_rows, table_of
from pitjournal.files.probe_log.times import Stamp, date_in, read_stamp, read_time_of_day

_UNIT_WORD = re.compile(
    r"(?:unit|temp|scale|einheit)[^\n]*?(?:\b|°)(?:deg(?:rees)?\.?\s*)?(c|f|k|celsius|fahrenheit|kelvin)\b",
    re.IGNORECASE,
)
DAY = 86_400.0


@dataclass
class _Trail:
    """One channel while it is read."""

    name: str
    unit: str
    times: list[float] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    units: list[str] = field(default_factory=list)
    missing: int = 0


@dataclass(frozen=True)
class _Line:
    """A row of readings with what its time says."""

    row: Row
    stamp: Stamp | None
    seconds: float


def read_probe_log(data: bytes, name: str, options: ReadOptions | None = None) -> ProbeLog:
    """Read a logger's file.

    Parameters
    ----------
    data
        The file's bytes.
    name
        Its name, for the report and the words.
    options
        What the cook says where the file leaves it open.

    Raises
    ------
    JournalError
        If it is no temperature log; one line that says why.
    """
    options = options or ReadOptions()
    if data.startswith(b"PK\x03\x04") and (b"xl/" in data or b"opendocument" in data[:200]):
        encoding, table = "binary", sheet_rows(data, name)
    else:
        text, encoding = decode(data, name)
        table = table_of(text, name)
    layout = find_layout(table.rows)
    if layout is None:
        raise not_a_log(name, "no column of times beside columns of temperatures was found")
    return _Reading(table, layout, name, encoding, options).report()


class _Reading:
    """The second pass, once the layout is known."""

    def __init__(
        self, table: Table, layout: Layout, name: str, encoding: str, options: ReadOptions
    ) -> None:
        self.table = table
        self.layout = layout
        self.name = name
        self.encoding = encoding
        self.options = options
        self.rejected: list[Rejected] = list(table.rejected)
        self.notes: dict[str, str] = {}
        self.trails: dict[str, _Trail] = {}
        self.heads = layout.heads
        self.unit_row: dict[int, str] = {}

    def report(self) -> ProbeLog:
        lines, before = self._lines()
        preamble = [" ".join(row.cells) for row in before]
        times, zone = self._times(lines, preamble)
        known = self._preamble_unit(preamble)
        read = 0
        for line, seconds in zip(lines, times, strict=True):
            if line.stamp is None and np.isnan(line.seconds):
                self._repeated_heads(line.row)
            elif seconds is None:
                self._reject(line.row, "there is no such date or time")
            elif self._take(line.row, seconds):
                read += 1
        trails = [trail for trail in self.trails.values() if trail.values]
        if not trails or not read:
            raise not_a_log(self.name, "it holds no temperatures")
        channels = self._channels(trails, known, zone)
        self._order_notes(times)
        return ProbeLog(
            file=self.name,
            encoding=self.encoding,
            rows_read=read,
            rows_skipped=len(self.rejected),
            timezone=zone,
            channels=channels,
            notes=tuple(Note(kind, text) for kind, text in self.notes.items()),
            rejected=tuple(sorted(self.rejected, key=lambda row: row.line)),
            first_rows=tuple(line.row.cells for line in lines[:8]),
        )

    # rows

    def _lines(self) -> tuple[list[_Line], list[Row]]:
        """Return the rows between the first and the last reading, and what stands before."""
        rows = self.table.rows
        found = [self._line(row) for row in rows]
        good = [place for place, line in enumerate(found) if line is not None]
        if len(good) < 2:
            raise not_a_log(self.name, "fewer than two rows can be read")
        first, last = good[0], good[-1]
        for row in rows[:first]:
            if len(row.cells) == self.layout.width:
                self._units_row(row)
        lines: list[_Line] = []
        for place in range(first, last + 1):
            line = found[place]
            if line is not None:
                lines.append(line)
            elif self._is_heads(rows[place]):
                lines.append(_Line(rows[place], None, float("nan")))
            else:
                self._reject(rows[place], self._why(rows[place]))
        self._after(rows[last + 1 :], rows[last])
        return self._cut_off(lines), rows[:first]

    def _line(self, row: Row) -> _Line | None:
        """Return a row with its time, or None where its time cannot be read."""
        if len(row.cells) != self.layout.width:
            return None
        clock = self.layout.clock
        cells = [row.cells[place] for place in clock.columns]
        if clock.kind == "stamp":
            stamp = read_stamp(cells[0])
            return None if stamp is None else _Line(row, stamp, stamp.seconds)
        if clock.kind == "date and time":
            stamp = read_stamp(f"{cells[0]} {cells[1]}")
            return None if stamp is None else _Line(row, stamp, stamp.seconds)
        read = clock.read or read_time_of_day
        seconds = read(cells[0])
        return None if seconds is None else _Line(row, None, seconds)

    def _why(self, row: Row) -> str:
        if len(row.cells) != self.layout.width:
            return f"it has {len(row.cells)} cells where the others have {self.layout.width}"
        return "its time cannot be read"

    def _after(self, rows: Sequence[Row], last: Row) -> None:
        """Reject what follows the last reading when it begins like one: a cut-off row."""
        for row in rows:
            whole = self.layout.clock.columns[-1] + 1
            padded = (*row.cells[:whole], *("" for _ in range(self.layout.width - whole)))
            if (
                len(row.cells) < self.layout.width
                and self._line(Row(row.line, padded[: self.layout.width])) is not None
            ) or (self.table.cut and row is rows[-1] and row.line == last.line + 1):
                self._reject(row, "the row is cut off")

    def _cut_off(self, lines: list[_Line]) -> list[_Line]:
        """Reject a last line without an end whose last cell is shorter than the one above."""
        if not self.table.cut or len(lines) < 2 or lines[-1].row is not self.table.rows[-1]:
            return lines
        if len(lines[-1].row.cells[-1]) < len(lines[-2].row.cells[-1]):
            self._reject(lines[-1].row, "the row may be cut off")
            return lines[:-1]
        return lines

    def _reject(self, row: Row, reason: str) -> None:
        self.rejected.append(Rejected(row.line, reason))

    def _is_heads(self, row: Row) -> bool:
        if len(row.cells) != self.layout.width or not any(self.heads):
            return False
        bare = [split_unit(cell)[0] for cell in row.cells]
        return bare == [split_unit(cell)[0] for cell in self.heads] or all(
            not cell or unit_named(cell) for cell in row.cells[1:]
        )

    def _units_row(self, row: Row) -> None:
        units = {place: unit_named(row.cells[place]) for place in self.layout.readings}
        if all(units.values()):
            self.unit_row = units

    def _repeated_heads(self, row: Row) -> None:
        """Take new units from heads, or a units row, that come again."""
        self._units_row(row)
        if [split_unit(cell)[0] for cell in row.cells] == [split_unit(c)[0] for c in self.heads]:
            self.heads = row.cells

    # times

    def _times(
        self, lines: Sequence[_Line], preamble: Sequence[str]
    ) -> tuple[list[float | None], str]:
        """Return each row's time (None: no such time), and the zone's name."""
        kind = self.layout.clock.kind
        if kind in {"stamp", "date and time"}:
            return self._stamped(lines)
        seconds: list[float | None] = [
            None if np.isnan(line.seconds) else line.seconds for line in lines
        ]
        if kind == "utc":
            return seconds, "UTC"
        if kind == "serial":
            return self._zoned(seconds), self.options.timezone or LOCAL
        if kind == "elapsed":
            return seconds, ELAPSED
        start = date_in(preamble)
        rolled = _rolled_over(seconds)
        if start is None:
            self.notes["no_date"] = "The file says no date; times count from its first row."
            first = next(value for value in rolled if value is not None)
            return [None if value is None else value - first for value in rolled], ELAPSED
        day_first = self._day_first([start])
        try:
            base = start.instant(day_first=day_first) - start.seconds
        except ValueError:
            raise not_a_log(self.name, "its date does not exist") from None
        local: list[float | None] = [None if value is None else base + value for value in rolled]
        return self._zoned(local), self.options.timezone or LOCAL

    def _stamped(self, lines: Sequence[_Line]) -> tuple[list[float | None], str]:
        stamps = [line.stamp for line in lines if line.stamp is not None]
        day_first = self._day_first(stamps)
        times = [_instant(line.stamp, day_first=day_first) for line in lines]
        offsets = {stamp.offset for stamp in stamps}
        if offsets == {0}:
            return times, "UTC"
        if None not in offsets:
            return times, "offset"
        if len(offsets) > 1:
            times = [
                time if line.stamp is not None and line.stamp.offset is None else None
                for line, time in zip(lines, times, strict=True)
            ]
        return self._zoned(times), self.options.timezone or LOCAL

    def _day_first(self, stamps: Sequence[Stamp]) -> bool:
        """Decide which number is the day: by what is possible, by the cook, by the steps."""
        loose = [stamp for stamp in stamps if not stamp.settled]
        if not loose:
            return False
        first, second = (any(n > 12 for n in numbers) for numbers in _numbers(loose))
        if first != second:
            return first
        if self.options.day_first is not None:
            return self.options.day_first
        spans = [_span(loose, day_first=choice) for choice in (False, True)]
        told = loose[0].dotted or (spans[0] != spans[1] and min(spans) < 4 * DAY <= max(spans))
        if not told and any(stamp.first != stamp.second for stamp in loose):
            self.notes["ambiguous_date"] = (
                "Day and month cannot be told apart; read with the month first."
            )
        return told and (loose[0].dotted or spans[1] < spans[0])

    def _zoned(self, times: list[float | None]) -> list[float | None]:
        """Turn the clock as written into UTC, when the cook named the zone."""
        if self.options.timezone is None:
            return times
        try:
            zone = ZoneInfo(self.options.timezone)
        except (ZoneInfoNotFoundError, ValueError, OSError):
            message = f"“{self.options.timezone}” is no time zone."
            raise JournalError(message, "Name one such as America/Chicago.") from None
        found: list[float | None] = []
        last: float | None = None
        for time in times:
            moment = None if time is None else _in_zone(time, zone, last)
            last = moment if moment is not None else last
            found.append(moment)
        return found

    def _order_notes(self, times: Sequence[float | None]) -> None:
        known = [time for time in times if time is not None]
        back = sum(b < a for a, b in itertools.pairwise(known))
        if back and self.layout.name_column is None:
            self.notes["clock_back"] = (
                f"The clock goes back {back} time{'s' * (back > 1)}: an hour repeated in autumn, "
                "or a clock that was set back. The rows are kept in the file's order."
            )

    # readings

    def _preamble_unit(self, preamble: Sequence[str]) -> str:
        found = [match for line in preamble if (match := _UNIT_WORD.search(line))]
        return unit_named(found[-1][1]) if found else ""

    def _take(self, row: Row, seconds: float) -> bool:
        """Take in a row's readings, all or none."""
        cells = [reading(row.cells[place]) for place in self.layout.readings]
        if not all(ok for _, _, ok in cells):
            bad = next(
                row.cells[place]
                for place, cell in zip(self.layout.readings, cells, strict=True)
                if not cell[2]
            )
            self._reject(row, f"“{bad[:20]}” is no temperature")
            return False
        for place, (value, unit, _) in zip(self.layout.readings, cells, strict=True):
            self._add(row, place, seconds, value, unit)
        return True

    def _add(self, row: Row, place: int, seconds: float, value: float | None, unit: str) -> None:
        name, headed = column_name(self.heads[place], place)
        by_row = ""
        if self.layout.name_column is not None:
            name = row.cells[self.layout.name_column]
            if no_temperature(name):
                return
        if self.layout.unit_column is not None:
            by_row = unit_named(row.cells[self.layout.unit_column])
        found = unit or by_row or headed or self.unit_row.get(place, "")
        trail = self.trails.setdefault(name, _Trail(name, found))
        if value is None:
            trail.missing += 1
            return
        trail.times.append(seconds)
        trail.values.append(value)
        trail.units.append(found)

    def _channels(self, trails: Sequence[_Trail], known: str, zone: str) -> tuple[Channel, ...]:
        guess = ""
        if not known and any(not unit for trail in trails for unit in trail.units):
            guess = guess_unit([value for trail in trails for value in trail.values])
            self.notes["unit_guessed"] = (
                f"The file names no unit; its range says {'°F' if guess == 'degF' else '°C'}."
            )
        channels = []
        for trail in trails:
            units = [unit or known or guess for unit in trail.units]
            if len(set(units)) > 1:
                self.notes["unit_switched"] = (
                    "The unit changes within the file; each row has its own."
                )
            values = [to_celsius(v, unit) for v, unit in zip(trail.values, units, strict=True)]
            channels.append(
                Channel(
                    name=trail.name,
                    unit_in_file=units[0],
                    times_s=np.array(trail.times, dtype=np.float64),
                    values_c=np.array(values, dtype=np.float64),
                    missing=trail.missing,
                    zone=zone,
                )
            )
        return tuple(channels)


def guess_unit(values: Sequence[float]) -> str:
    """Guess °F or °C by range: pits and done meat are far apart on the two scales."""
    array = np.asarray(values)
    high, low = np.percentile(array, 95), np.percentile(array, 2)
    return "degF" if high > 165.0 and low > 28.0 else "degC"


def _numbers(stamps: Sequence[Stamp]) -> tuple[list[int], list[int]]:
    return [stamp.first for stamp in stamps], [stamp.second for stamp in stamps]


def _instant(stamp: Stamp | None, *, day_first: bool) -> float | None:
    if stamp is None:
        return None
    try:
        return stamp.instant(day_first=day_first)
    except (ValueError, OverflowError):
        return None


def _span(stamps: Sequence[Stamp], *, day_first: bool) -> float:
    times = [t for stamp in stamps if (t := _instant(stamp, day_first=day_first)) is not None]
    return max(times) - min(times) if times else float("inf")


def _rolled_over(times: Sequence[float | None]) -> list[float | None]:
    """Carry times of day over midnight: a jump back of more than half a day is a new day."""
    days, last = 0.0, None
    found: list[float | None] = []
    for time in times:
        if time is None:
            found.append(None)
            continue
        if last is not None and time < last - DAY / 2:
            days += DAY
        last = time
        found.append(days + time)
    return found


def _in_zone(time: float, zone: ZoneInfo, last: float | None) -> float:
    """Return UTC seconds; in a repeated hour the reading that goes on from the last row."""
    wall = datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=time)
    local = wall.replace(tzinfo=zone)
    first, second = (local.replace(fold=fold).timestamp() for fold in (0, 1))
    return second if last is not None and first <= last < second else first
