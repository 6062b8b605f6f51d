"""Rows of cells: of text by a delimiter, of records, or of a sheet."""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

LONGEST_LINE = 20_000
"""Bytes; no logger writes a longer row."""

RUNS, BLANK = "  ", " "
DELIMITERS = (",", ";", "\t", "|", RUNS, BLANK)

_RUNS = re.compile(r"[ \t\u00a0]{2,}")
_FIRST, _SPREAD, _LAST = 60, 60, 20
_GOLDEN = 0.618_033_988_75


class Row(NamedTuple):
    """A row's place in its table, and its cells."""

    place: int
    cells: tuple[str, ...]


class Unread(NamedTuple):
    """A row that could not be made into cells: its line, from 1, and why."""

    line: int
    reason: str


class Table(Protocol):
    """Rows of cells, asked for one by one.

    `context` are words that stand outside the rows; `records` says that a cell is empty where
    a record has no such key.
    """

    context: tuple[str, ...]
    unread: list[Unread]
    records: bool

    @property
    def cut(self) -> bool:
        """Whether the last line has no end."""
        ...

    def __len__(self) -> int: ...

    def cells(self, place: int) -> tuple[str, ...]:
        """Return a row's cells; none for a blank line."""
        ...

    def line(self, place: int) -> int:
        """Return the number of a row's line, from 1."""
        ...


@dataclass(frozen=True)
class Lines:
    """The lines of a text: its bytes, each line ended by LF, and where each begins and ends."""

    data: bytes
    starts: NDArray[np.int64]
    ends: NDArray[np.int64]
    cut: bool

    def __len__(self) -> int:
        return int(self.starts.size)

    def text(self, place: int) -> str:
        """Return a line without its end."""
        piece = self.data[self.starts[place] : self.ends[place]]
        return piece.decode("utf-8", errors="replace")


def lines_of(data: bytes) -> Lines:
    """Return the lines of UTF-8 text with LF line ends."""
    cut = not data.endswith(b"\n")
    data = data + b"\n" if cut else data
    ends = np.flatnonzero(np.frombuffer(data, dtype=np.uint8) == ord("\n")).astype(np.int64)
    starts = np.empty_like(ends)
    starts[0] = 0
    starts[1:] = ends[:-1] + 1
    return Lines(data, starts, ends, cut)


@dataclass
class TextTable:
    """Lines split at a delimiter."""

    lines: Lines
    delimiter: str
    context: tuple[str, ...] = ()
    unread: list[Unread] = field(default_factory=list)
    records: bool = False

    @property
    def cut(self) -> bool:
        """Whether the last line has no end."""
        return self.lines.cut

    def __len__(self) -> int:
        return len(self.lines)

    def cells(self, place: int) -> tuple[str, ...]:
        """Return a line's cells."""
        return split(self.lines.text(place), self.delimiter)

    def line(self, place: int) -> int:
        """Return the number of a line, from 1."""
        return place + 1


@dataclass
class RowTable:
    """Rows that were never text: of records or of a sheet."""

    rows: Sequence[tuple[str, ...]]
    numbers: Sequence[int]
    context: tuple[str, ...] = ()
    unread: list[Unread] = field(default_factory=list)
    cut: bool = False
    records: bool = False

    def __len__(self) -> int:
        return len(self.rows)

    def cells(self, place: int) -> tuple[str, ...]:
        """Return a row's cells."""
        return self.rows[place]

    def line(self, place: int) -> int:
        """Return a row's number in the file, from 1."""
        return self.numbers[place]


def split(line: str, delimiter: str) -> tuple[str, ...]:
    """Return a line's cells; none for a blank line."""
    if not line.strip():
        return ()
    if delimiter == RUNS:
        cells: Iterable[str] = _RUNS.split(line.strip())
    elif delimiter == BLANK:
        cells = line.strip().replace("\u00a0", " ").split(" ")
        cells = [cell for cell in cells if cell]
    elif '"' in line:
        try:
            cells = next(csv.reader(io.StringIO(line), delimiter=delimiter), [])
        except csv.Error:
            cells = line.split(delimiter)
    else:
        cells = line.split(delimiter)
    found = [cell.strip() for cell in cells]
    if delimiter == "|" and len(found) > 2 and not found[0] and not found[-1]:
        found = found[1:-1]
    return tuple(found)


def sampled(count: int) -> list[int]:
    """Return places at the beginning, spread over the whole, and at the end, of so many."""
    places = set(range(min(_FIRST, count))) | set(range(max(0, count - _LAST), count))
    # Steps of the golden ratio never keep time with what comes again in a file.
    places |= {int(count * (step * _GOLDEN % 1.0)) for step in range(_SPREAD)}
    return sorted(places)


def sample_of(table: Table) -> list[Row]:
    """Return the rows at the sampled places that are not blank."""
    found = (Row(place, table.cells(place)) for place in sampled(len(table)))
    return [row for row in found if any(row.cells)]


def squeezed(data: bytes, delimiter: str) -> tuple[bytes, str]:
    """Return text whose runs of blanks (or padded bars) are one plain delimiter, and that one."""
    if delimiter in {RUNS, BLANK}:
        data = re.sub(rb"(?m)^[ \t]+|[ \t]+$", b"", data.replace(b"\xc2\xa0", b" "))
        least = rb"[ \t]{2,}" if delimiter == RUNS else rb" +"
        return re.sub(least, b"\t", data), "\t"
    if delimiter == "|":
        data = re.sub(rb"[ \t]*\|[ \t]*", b"|", data)
        if data.count(b"\n|") * 2 > data.count(b"\n") and data.count(b"|\n") * 2 > data.count(
            b"\n"
        ):
            data = re.sub(rb"(?m)^\||\|$", b"", data)
    return data, delimiter
