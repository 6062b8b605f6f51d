"""The values of all cooks in columns: a line a piece, with its cook's values beside."""

from collections.abc import Callable, Collection, Sequence
from functools import cached_property
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.trends.columns.lines import (
    NOT_KNOWN,
    Codes,
    Columns,
    Floats,
    Lines,
    Shape,
    lines_of,
)
from pitjournal.domain.blocks import COOK, PIECE, Block, Head

Days = NDArray[np.datetime64]
Read = Callable[[str], Sequence[Columns]]
"""Gives a variable's columns of each block."""

Pieces = Callable[[], list[str]]
"""Gives the piece id of each line; "" where the cook has no piece."""

Having = Callable[[str], Collection[str]]
"""Gives the ids of the cooks that have some words in their titles and notes."""


class Frame:
    """All pieces and cooks, as they were when it was made.

    A cook without pieces has one line of its own, so that its own values count. A column is
    read when it is first asked for, and kept.

    Parameters
    ----------
    heads
        What the lines of each block are of.
    read
        Gives a variable's columns of each of those blocks.
    pieces
        Gives the piece of each line.
    having
        Gives the cooks that have some words.
    shape
        The shape of those blocks, where it is known already.
    """

    def __init__(
        self,
        heads: Sequence[Head],
        read: Read,
        pieces: Pieces,
        having: Having,
        shape: Shape | None = None,
    ) -> None:
        self._heads, self._read, self._pieces = heads, read, pieces
        self._having = having
        self._shape = shape or Shape(heads)
        self._lines: dict[str, Lines] = {}
        self._floats: dict[str, Floats] = {}
        self._texts: dict[str, tuple[Codes, list[str]]] = {}
        self._days: dict[str, Days] = {}
        self._found: dict[str, NDArray[np.bool_]] = {}

    def with_block(self, place: int, head: Head, read: Read, pieces: Pieces) -> "Frame":
        """Return a frame that differs in one block only; the columns read so far go along.

        Parameters
        ----------
        place
            The number of the block.
        head
            Of the block.
        read
            Gives a variable's columns of each block.
        pieces
            Gives the piece id of each line.
        """
        heads = [*self._heads[:place], head, *self._heads[place + 1 :]]
        same = head == self._heads[place]  # values changed, and no cook or piece came or went
        found = Frame(heads, read, pieces, self._having, self._shape if same else None)
        if same:
            found.cook_names, found.cooks, found.pieces = self.cook_names, self.cooks, self.pieces
        start, stop = self._shape.ends[place : place + 2].tolist()
        shape = Shape([head])
        for key, lines in list(self._lines.items()):
            fresh = lines_of(read(key)[place : place + 1], shape, lines.names)
            found._lines[key] = lines.with_block(start, stop, fresh)
        return found

    @property
    def blocks(self) -> int:
        """How many blocks there are."""
        return len(self._heads)

    @property
    def size(self) -> int:
        """How many lines there are."""
        return int(self._shape.ends[-1])

    @cached_property
    def cook_names(self) -> list[str]:
        """The cook id of each code."""
        return list(chain.from_iterable(head.cooks for head in self._heads))

    @cached_property
    def cooks(self) -> Codes:
        """The cook of each line as a code, shape (n,); the lines of a cook lie together."""
        counts = self._shape.counts
        return np.repeat(np.arange(counts.size, dtype=np.int32), counts)

    @cached_property
    def pieces(self) -> NDArray[np.bool_]:
        """Whether each line is a piece, and not only its cook, shape (n,)."""
        return np.repeat(self._shape.pieces > 0, self._shape.counts)

    @cached_property
    def cook_ids(self) -> list[str]:
        """The cook of each line."""
        return [self.cook_names[code] for code in self.cooks.tolist()]

    @cached_property
    def piece_ids(self) -> list[str]:
        """The piece of each line; "" where the cook has none."""
        return self._pieces()

    def numbers(self, key: str) -> Floats:
        """Return a variable's numbers (yes is 1), NaN where it is not known, shape (n,)."""
        if key not in self._floats:
            lines = self._read_once(key)
            numbers = lines.numbers
            if "yes" in lines.names:
                told = lines.codes != NOT_KNOWN
                numbers = np.where(told, lines.codes == lines.names.index("yes"), numbers)
            elif "no" in lines.names:
                numbers = np.where(lines.codes == lines.names.index("no"), 0.0, numbers)
            self._floats[key] = numbers
        return self._floats[key]

    def choices(self, key: str) -> tuple[Codes, list[str]]:
        """Return a variable's texts as codes and names; −1 where it is not known."""
        if key not in self._texts:
            lines = self._read_once(key)
            numbers = not lines.names and np.isfinite(lines.numbers).any()
            self._texts[key] = _spelled(lines.numbers) if numbers else (lines.codes, lines.names)
        return self._texts[key]

    def days(self, key: str) -> Days:
        """Return the day of each line's time, "not a time" where it is not known, shape (n,)."""
        if key not in self._days:
            codes, names = self.choices(key)
            days = np.array([*(name[:10] for name in names), "NaT"], dtype="datetime64[D]")
            self._days[key] = days[codes]  # −1 takes the last
        return self._days[key]

    def having(self, words: str) -> NDArray[np.bool_]:
        """Return the lines whose cook has all these words in its titles and notes, shape (n,)."""
        if words not in self._found:
            there = self._having(words)
            of_cooks = np.array([name in there for name in self.cook_names], dtype=bool)
            self._found[words] = of_cooks[self.cooks]
        return self._found[words]

    def _read_once(self, key: str) -> Lines:
        if key not in self._lines:
            self._lines[key] = lines_of(self._read(key), self._shape)
        return self._lines[key]


def _spelled(numbers: Floats) -> tuple[Codes, list[str]]:
    """Return numbers as texts, for a number that is used as a choice."""
    known = np.isfinite(numbers)
    distinct, places = np.unique(numbers[known], return_inverse=True)
    names: dict[str, int] = {}
    table = np.array([names.setdefault(f"{v:g}", len(names)) for v in distinct.tolist()])
    codes = np.full(numbers.size, NOT_KNOWN, dtype=np.int32)
    codes[known] = table[places]
    return codes, list(names)


def columns_of(block: Block, key: str) -> Columns:
    """Return a variable's columns of a block by level."""
    levels = (COOK, PIECE)
    return {level: block.columns[level, key] for level in levels if (level, key) in block.columns}
