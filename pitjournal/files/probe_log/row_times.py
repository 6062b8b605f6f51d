"""Times of all rows at once, by the shapes that they have."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pitjournal.files.probe_log.columns import Layout
from pitjournal.files.probe_log.tables.table import TextTable
from pitjournal.files.probe_log.times.shapes import (
    Shape,
    is_loose,
    matching,
    offset_in,
    read_by,
    shape_of,
)

_LONGEST = 48
"""Bytes of a time; a longer one is read by itself."""
_SHAPES = 60
_PART = 1 << 14
"""Rows looked at together, so that their bytes stay near the processor."""
_RUNS = 20_000
"""Runs, or rows without a shape, after which the rest is read row by row."""

Mask = NDArray[np.bool_]
Bytes = NDArray[np.uint8]


@dataclass
class RowTimes:
    """What rows' times say (see `stamps.Moment`), and which rows have one; shape (n,) each."""

    dates: NDArray[np.int64]
    loose: Mask
    seconds: NDArray[np.float64]
    offsets: NDArray[np.float64]
    known: Mask


def row_times(table: TextTable, layout: Layout, rows: int) -> RowTimes | None:
    """Return the times of so many rows from the first one on.

    None where the time's cells do not stand side by side. A clock of plain numbers is read
    with the other columns: then rows that are not blank are known, and their seconds 0.
    """
    clock = layout.clock
    starts = table.lines.starts[layout.first : layout.first + rows]
    found = RowTimes(
        np.zeros(rows, dtype=np.int64),
        np.zeros(rows, dtype=np.bool_),
        np.zeros(rows),
        np.full(rows, np.nan),
        np.zeros(rows, dtype=np.bool_),
    )
    if clock.form == "number":
        found.known = table.lines.ends[layout.first : layout.first + rows] > starts
        return found
    first, last = clock.columns[0], clock.columns[-1]
    if clock.columns != tuple(range(first, last + 1)) or clock.form == "parts":
        return None
    if first:
        starts = _nth_cells(table, starts, first)
    _Learner(table, layout, starts).fill(found)
    return found


def _nth_cells(table: TextTable, starts: NDArray[np.int64], nth: int) -> NDArray[np.int64]:
    """Return where the nth cell of each line begins, or the line where it has no such cell."""
    marks = delimiters_in(table)
    place = np.searchsorted(marks, starts) + nth - 1
    at = marks[np.minimum(place, marks.size - 1)] + 1
    ends = np.append(starts[1:], table.lines.ends[-1])
    return np.where((place < marks.size) & (at > starts) & (at < ends), at, starts)


def delimiters_in(table: TextTable) -> NDArray[np.intp]:
    """Return where all delimiters stand."""
    buffer = np.frombuffer(table.lines.data, dtype=np.uint8)
    return np.flatnonzero(buffer == ord(table.delimiter))


class _Learner:
    """Reads times run by run: rows one after another whose times have one shape.

    A new shape is learnt from the first row that has none of the known ones.
    """

    def __init__(self, table: TextTable, layout: Layout, starts: NDArray[np.int64]) -> None:
        self._clock, self._delimiter = layout.clock, table.delimiter.encode()
        self._span = layout.clock.columns[-1] - layout.clock.columns[0] + 1
        self._shapes: list[Shape] = []
        buffer = np.frombuffer(table.lines.data, dtype=np.uint8)
        window = self._window(buffer, starts)
        # Rows so near the end that a window would not fit are read by themselves.
        self._starts = starts[: int(np.searchsorted(starts, buffer.size - window))]
        self._view = np.lib.stride_tricks.sliding_window_view(buffer, window)
        self._cells = np.empty((0, window), dtype=np.uint8)
        self._runs = self._unread = 0

    def _window(self, buffer: Bytes, starts: NDArray[np.int64]) -> int:
        places = starts[:: max(1, starts.size // 100)].tolist()
        raws = (self._until(buffer[place : place + _LONGEST].tobytes()) for place in places)
        longest = max((len(raw) for raw in raws if raw is not None), default=_LONGEST)
        return min(-(-(longest + 2) // 8) * 8, _LONGEST, buffer.size // 8 * 8)

    def _until(self, raw: bytes) -> bytes | None:
        """Return the bytes up to and with what ends the time's cells."""
        end, line = -1, raw.find(b"\n")
        for _ in range(self._span):
            end = raw.find(self._delimiter, end + 1)
            if end < 0 or 0 <= line < end:
                return raw[: line + 1] if line >= 0 else None
        return raw[: end + 1]

    def fill(self, found: RowTimes) -> None:
        """Fill in the times of all rows that have one of the shapes that are learnt."""
        for low in range(0, self._starts.size, _PART):
            self._cells = self._view[self._starts[low : low + _PART]]
            self._fill_part(found, low)

    def _fill_part(self, found: RowTimes, low: int) -> None:
        place, count = 0, self._cells.shape[0]
        while place < count and max(self._runs, self._unread) < _RUNS:
            shape = self._known(place) or self._learnt(place)
            if shape is None:
                self._unread += 1
                place += 1
                continue
            self._runs += 1
            stop = self._reach(place, shape)
            times = read_by(self._cells[place:stop], shape, self._clock)
            rows = slice(low + place, low + stop)
            found.dates[rows] = times.dates
            found.seconds[rows] = times.seconds
            found.offsets[rows] = offset_in(shape)
            found.loose[rows] = is_loose(shape, self._clock)
            found.known[rows] = times.valid
            place = stop

    def _fits(self, low: int, high: int, shape: Shape) -> Mask:
        return matching(self._cells[low:high], shape)

    def _known(self, place: int) -> Shape | None:
        """Return the shape of a row among those that are known."""
        for shape in self._shapes:
            if self._fits(place, place + 1, shape)[0]:
                return shape
        return None

    def _reach(self, place: int, shape: Shape) -> int:
        """Return the first place behind a run of rows of one shape."""
        size, count = 256, self._cells.shape[0]
        while place < count:
            fits = self._fits(place, place + size, shape)
            if not fits.all():
                return place + int(np.argmin(fits))
            place += fits.size
            size *= 4
        return place

    def _learnt(self, place: int) -> Shape | None:
        """Return the shape of a row's time, if it reads as the clock does; it is known then."""
        raw = self._until(self._cells[place].tobytes())
        if raw is None or len(self._shapes) >= _SHAPES:
            return None
        shape = shape_of(raw, self._clock, self._delimiter)
        if shape is None or not self._is_true(place, raw, shape):
            return None
        self._shapes.append(shape)
        return shape

    def _is_true(self, place: int, raw: bytes, shape: Shape) -> bool:
        """Whether a shape reads its own row as the clock does."""
        parts = raw[:-1].decode("ascii").split(self._delimiter.decode())
        cells = [part.strip().strip('"').strip() for part in parts]
        columns = self._clock.columns
        if len(cells) != len(columns):
            return False
        moment = self._clock.read(["" for _ in range(columns[0])] + cells)
        cell = self._cells[place][None, :]
        if moment is None or not matching(cell, shape)[0]:
            return False
        times = read_by(cell, shape, self._clock)
        return bool(
            times.valid[0]
            and times.dates[0] == moment.date
            and times.seconds[0] == moment.seconds
            and is_loose(shape, self._clock) == moment.loose
            and np.array_equal([offset_in(shape)], [moment.offset], equal_nan=True)
        )
