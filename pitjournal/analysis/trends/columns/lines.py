"""One variable over the lines of all blocks, and how a changed block takes its place there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from pitjournal.domain.blocks import COOK, PIECE, Column, Head

Floats = NDArray[np.float64]
Codes = NDArray[np.int32]
Counts = NDArray[np.int64]
Columns = Mapping[str, Column]
"""One block's columns of a variable, by level."""

NOT_KNOWN = -1


class Shape:
    """How many cooks and lines some blocks have.

    Attributes
    ----------
    cooks_in
        Of each block.
    counts
        How many lines each cook has.
    pieces
        How many of them are pieces: all, or none of the one line of a cook without pieces.
    ends
        Where each block's lines begin, and after the last where they end.
    """

    def __init__(self, heads: Sequence[Head]) -> None:
        self.cooks_in = np.array([len(head.cooks) for head in heads], dtype=np.int64)
        self.pieces: Counts = np.array(
            list(chain.from_iterable(head.pieces for head in heads)), dtype=np.int64
        )
        self.counts: Counts = np.maximum(self.pieces, 1)
        starts = np.concatenate([[0], np.cumsum(self.counts)])
        self.ends: Counts = starts[np.concatenate([[0], np.cumsum(self.cooks_in)])]

    @cached_property
    def lines_in(self) -> Counts:
        """How many lines each block has."""
        return np.diff(self.ends)


@dataclass(frozen=True)
class Lines:
    """A variable's values line by line: a number, or a code of a name, or neither."""

    numbers: Floats
    codes: Codes
    names: list[str]

    def with_block(self, start: int, stop: int, fresh: "Lines") -> "Lines":
        """Return the lines with others from `start` up to `stop`, whose codes are of one sort.

        `fresh` has the names of these lines, and perhaps more after them.

        Parameters
        ----------
        start
            The first line that is replaced.
        stop
            The line after the last that is replaced.
        fresh
            Columns of the lines that replace them.
        """
        numbers = np.concatenate([self.numbers[:start], fresh.numbers, self.numbers[stop:]])
        codes = np.concatenate([self.codes[:start], fresh.codes, self.codes[stop:]])
        gone = set(self.codes[start:stop].tolist()) - {*fresh.codes.tolist(), NOT_KNOWN}
        found = Lines(numbers, codes, fresh.names)
        return found if all((codes == code).any() for code in gone) else found._used()

    def _used(self) -> "Lines":
        """Return the lines without the names that none of them has."""
        counts = np.bincount(self.codes[self.codes >= 0], minlength=len(self.names))
        table = np.append(np.cumsum(counts > 0) - 1, NOT_KNOWN).astype(np.int32)
        names = [name for name, count in zip(self.names, counts.tolist(), strict=True) if count]
        return Lines(self.numbers, table[self.codes], names)


def lines_of(found: Sequence[Columns], shape: Shape, known: Sequence[str] = ()) -> Lines:
    """Return a variable's lines from its columns in each block.

    What is known of the piece itself goes before what is known of its cook.

    Parameters
    ----------
    found
        The columns of each block.
    shape
        The shape of those blocks.
    known
        Names whose codes are given already.
    """
    size = int(shape.ends[-1])
    numbers, codes = np.full(size, np.nan), np.full(size, NOT_KNOWN, dtype=np.int32)
    names = {name: code for code, name in enumerate(known)}
    for level, sizes in ((COOK, shape.cooks_in), (PIECE, shape.lines_in)):
        columns = [block.get(level) for block in found]
        if not any(columns):
            continue
        own, texts = _numbers(columns, sizes), _texts(columns, sizes, names)
        if level == COOK:
            own, texts = np.repeat(own, shape.counts), np.repeat(texts, shape.counts)
        there = np.isfinite(own) | (texts != NOT_KNOWN)
        numbers, codes = np.where(there, own, numbers), np.where(there, texts, codes)
    return Lines(numbers, codes, list(names))


def _numbers(columns: Sequence[Column | None], sizes: Counts) -> Floats:
    parts = [
        np.frombuffer(column.numbers, dtype="<f8")
        if column is not None and column.numbers
        else np.full(size, np.nan)
        for column, size in zip(columns, sizes.tolist(), strict=True)
    ]
    return np.concatenate(parts, dtype=np.float64)


def _texts(columns: Sequence[Column | None], sizes: Counts, names: dict[str, int]) -> Codes:
    """Return codes of the names of all blocks; names that are new are added to `names`."""
    table: list[int] = []
    parts = []
    for column, size in zip(columns, sizes.tolist(), strict=True):
        if column is None or not column.codes:
            parts.append(np.full(size, NOT_KNOWN, dtype=np.int32))
            continue
        codes = np.frombuffer(column.codes, dtype="<i4")
        parts.append(np.where(codes == NOT_KNOWN, NOT_KNOWN, codes + len(table)))
        table += [names.setdefault(_text(name), len(names)) for name in column.names]
    codes = np.concatenate(parts, dtype=np.int32)
    found: Codes = np.array([*table, NOT_KNOWN], dtype=np.int32)[codes]  # −1 takes the last
    return found


def _text(name: str | bool) -> str:
    return ("yes" if name else "no") if isinstance(name, bool) else name
