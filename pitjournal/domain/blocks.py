"""How worked-out values lie together: some cooks to a block, a column to a variable.

A column is bytes, so that it goes to the disk and into an array as it is: numbers are
little-endian 64-bit floats, unknown is NaN; texts and yes/no are little-endian 32-bit codes
of names, unknown is −1. A column that is not there is unknown throughout.
"""

import math
import struct
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

Name = str | bool
Value = float | str | bool | None
Key = tuple[str, str]
"""Level, "cook" or "piece", and catalogue key."""

COOK, PIECE = "cook", "piece"
NUMBER, CODE = 8, 4
"""Bytes of a value."""

_NAN = struct.pack("<d", float("nan"))
_NO_CODE = struct.pack("<i", -1)


@dataclass(frozen=True)
class Column:
    """One variable over a block; where a value is a number its code is −1, and the other way."""

    numbers: bytes = b""
    codes: bytes = b""
    names: tuple[Name, ...] = ()

    def is_sound(self, lines: int) -> bool:
        """Whether it has a value for each of so many lines, and a name for each code."""
        if len(self.numbers) not in {0, NUMBER * lines} or len(self.codes) not in {0, CODE * lines}:
            return False
        codes = set(_codes(self.codes))
        return not codes or (min(codes) >= -1 and max(codes) < len(self.names))


@dataclass(frozen=True)
class Head:
    """The cooks of a block, and how many pieces each has; one without any has a line too."""

    cooks: tuple[str, ...]
    pieces: tuple[int, ...]

    def lines(self, level: str) -> int:
        """Return how many values a column of a level has."""
        return len(self.cooks) if level == COOK else self._lines

    @cached_property
    def _lines(self) -> int:
        return sum(max(1, own) for own in self.pieces)  # asked for each column of each block

    @property
    def is_sound(self) -> bool:
        """Whether there is a count of pieces for each cook, each with a name once."""
        return (
            len(self.cooks) == len(self.pieces) == len(set(self.cooks))
            and all(type(cook) is str for cook in self.cooks)
            and all(type(count) is int and count >= 0 for count in self.pieces)
        )


@dataclass(frozen=True)
class Block:
    """Some cooks with their pieces and values.

    Attributes
    ----------
    cooks
        Their ids.
    pieces
        The ids of each cook's pieces. A cook without any still has one line of its own.
    columns
        By level and key: a value a cook, or a value a line.
    """

    cooks: tuple[str, ...] = ()
    pieces: tuple[tuple[str, ...], ...] = ()
    columns: Mapping[Key, Column] = field(default_factory=dict)

    @property
    def counts(self) -> tuple[int, ...]:
        """How many lines each cook has."""
        return tuple(max(1, len(own)) for own in self.pieces)

    @property
    def head(self) -> Head:
        """What the lines are of."""
        return Head(self.cooks, tuple(len(own) for own in self.pieces))

    def part(self, start: int, stop: int) -> "Block":
        """Return the cooks from `start` up to `stop` as a block of their own."""
        counts = self.counts
        lines = sum(counts[:start]), sum(counts[:stop])
        bounds = {COOK: (start, stop), PIECE: lines}
        return Block(
            self.cooks[start:stop],
            self.pieces[start:stop],
            {
                key: Column(
                    column.numbers[bounds[key[0]][0] * NUMBER : bounds[key[0]][1] * NUMBER],
                    column.codes[bounds[key[0]][0] * CODE : bounds[key[0]][1] * CODE],
                    column.names,
                )
                for key, column in self.columns.items()
            },
        )

    def without(self, cook_id: str) -> "Block":
        """Return the block without a cook."""
        if cook_id not in self.cooks:
            return self
        place = self.cooks.index(cook_id)
        return joined([self.part(0, place), self.part(place + 1, len(self.cooks))])

    def with_cook(self, fresh: "Block") -> "Block":
        """Return the block with one cook's values in place of its old ones, or at the end."""
        (cook_id,) = fresh.cooks
        if cook_id not in self.cooks:
            return joined([self, fresh])
        place = self.cooks.index(cook_id)
        return joined([self.part(0, place), fresh, self.part(place + 1, len(self.cooks))])


def joined(blocks: Sequence[Block]) -> Block:
    """Return the cooks of several blocks as one."""
    keys = dict.fromkeys(key for block in blocks for key in block.columns)
    sizes = [{COOK: len(block.cooks), PIECE: sum(block.counts)} for block in blocks]
    columns = {}
    for key in keys:
        parts = [
            (block.columns.get(key, Column()), size[key[0]])
            for block, size in zip(blocks, sizes, strict=True)
        ]
        column = _joined_columns(parts)
        if column.numbers or column.codes:
            columns[key] = column
    return Block(
        tuple(cook for block in blocks for cook in block.cooks),
        tuple(own for block in blocks for own in block.pieces),
        columns,
    )


def _joined_columns(parts: Sequence[tuple[Column, int]]) -> Column:
    numbers = b"".join(column.numbers or _NAN * size for column, size in parts)
    if numbers == _NAN * (len(numbers) // NUMBER):
        numbers = b""
    if not any(column.codes for column, _ in parts):
        return Column(numbers)
    names: dict[tuple[type, Name], int] = {}
    codes: list[int] = []
    for column, size in parts:
        table = [names.setdefault((type(name), name), len(names)) for name in column.names]
        own = _codes(column.codes or _NO_CODE * size)
        same = table == list(range(len(table)))
        codes += own if same else [table[code] if code >= 0 else -1 for code in own]
    used = sorted(set(codes) - {-1})
    if len(used) < len(names):  # a name goes with the last value that had it
        places = {code: place for place, code in enumerate(used)} | {-1: -1}
        codes = [places[code] for code in codes]
        known = list(names)
        names = {known[code]: place for place, code in enumerate(used)}
    return _column(numbers, codes, names)


def _column(numbers: bytes, codes: Sequence[int], names: Iterable[tuple[type, Name]]) -> Column:
    known = tuple(name for _, name in names)
    return Column(numbers, struct.pack(f"<{len(codes)}i", *codes) if known else b"", known)


def _codes(data: bytes) -> tuple[int, ...]:
    return struct.unpack(f"<{len(data) // CODE}i", data)


def block_of(
    cook_id: str, cook: Mapping[str, Value], pieces: Mapping[str, Mapping[str, Value]]
) -> Block:
    """Return one cook's values as a block."""
    columns: dict[Key, Column] = {}
    for level, lines in ((COOK, [cook]), (PIECE, list(pieces.values()) or [{}])):
        for key, values in _known(lines).items():
            columns[level, key] = _column_of(values)
    return Block((cook_id,), (tuple(pieces),), columns)


def _known(lines: Sequence[Mapping[str, Value]]) -> dict[str, list[Value]]:
    """Return the values of each line by key, for every key that some line knows."""
    found: dict[str, list[Value]] = {}
    for place, line in enumerate(lines):
        for key, value in line.items():
            if value is not None:
                found.setdefault(key, [None] * len(lines))[place] = value
    return found


def _column_of(values: Sequence[Value]) -> Column:
    numbers: list[float] = []
    codes: list[int] = []
    names: dict[tuple[type, Name], int] = {}
    for value in values:
        if isinstance(value, str | bool):
            name = value if isinstance(value, bool) else str(value)
            codes.append(names.setdefault((type(name), name), len(names)))
        else:
            codes.append(-1)
        numbers.append(math.nan if value is None or codes[-1] >= 0 else float(value))
    unknown = all(map(math.isnan, numbers))
    return _column(b"" if unknown else struct.pack(f"<{len(numbers)}d", *numbers), codes, names)


def values_in(block: Block) -> dict[str, tuple[dict[str, Value], dict[str, dict[str, Value]]]]:
    """Return each cook's known values, and those of each of its pieces, by key."""
    lines = {COOK: len(block.cooks), PIECE: sum(block.counts)}
    found: dict[str, list[dict[str, Value]]] = {
        level: [{} for _ in range(count)] for level, count in lines.items()
    }
    for (level, key), column in block.columns.items():
        for place, value in enumerate(_values(column, lines[level])):
            if value is not None:
                found[level][place][key] = value
    result = {}
    start = 0
    for place, (cook_id, own) in enumerate(zip(block.cooks, block.pieces, strict=True)):
        pieces = dict(zip(own, found[PIECE][start : start + len(own)], strict=True))
        result[cook_id] = found[COOK][place], pieces
        start += max(1, len(own))
    return result


def _values(column: Column, size: int) -> list[Value]:
    found: list[Value] = [None] * size
    if column.numbers:
        numbers = struct.unpack(f"<{size}d", column.numbers)
        found = [None if math.isnan(number) else number for number in numbers]
    if column.codes:
        for place, code in enumerate(_codes(column.codes)):
            if code >= 0:
                found[place] = column.names[code]
    return found
