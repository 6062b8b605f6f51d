"""What every mark is made of: a cook's mean of its pieces, within each group."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.columns.grouping import Grouped, Places
from pitjournal.analysis.trends.columns.lines import Codes, Floats
from pitjournal.analysis.trends.columns.row_selection import SelectedRows


@dataclass(frozen=True, eq=False)
class CookMeans:
    """A row for each cook in each group, or for each of its pieces, sorted by group.

    Attributes
    ----------
    values
        Its mean of the measure there, storage unit, shape (n,).
    groups
        The place in `keys` of each cell's group, shape (n,).
    cooks
        The code of each cell's cook in the frame, shape (n,).
    keys
        The groups: the names of their choices.
    pieces
        How many pieces each cell rests on, shape (n,); none where its cook has none.
    """

    values: Floats
    groups: Places
    cooks: Codes
    keys: tuple[tuple[str, ...], ...]
    pieces: Places
    _lines: Places
    _inverse: Places

    @property
    def size(self) -> int:
        """How many there are."""
        return self.values.size

    def means(self, numbers: Floats) -> Floats:
        """Return each cell's mean of another column of the frame, NaN where none is known."""
        there = numbers[self._lines]
        sound = np.isfinite(there)
        counts = np.bincount(self._inverse[sound], minlength=self.size)
        sums = np.bincount(self._inverse[sound], weights=there[sound], minlength=self.size)
        return np.asarray(np.where(counts > 0, sums / np.maximum(counts, 1), np.nan))

    def firsts(self, codes: Codes) -> Codes:
        """Return each cell's first code of another column of the frame."""
        found = np.full(self.size, -1, dtype=np.int32)
        found[self._inverse[::-1]] = codes[self._lines[::-1]]
        return found


def cook_means_of(
    frame: Frame, rows: SelectedRows, use: Sequence[int] | None = None, *, each_piece: bool = False
) -> CookMeans:
    """Return the cells of the lines that count.

    Parameters
    ----------
    frame, rows
        The values of all cooks in columns, and which of its lines count.
    use
        Which grouping variables part the cells; all of them if not given.
    each_piece
        Whether each piece is a cell of its own, and not a part of its cook's mean.
    """
    parting = [rows.groups[place] for place in (range(len(rows.groups)) if use is None else use)]
    combined = np.zeros(rows.lines.size, dtype=np.int64)
    for one in parting:
        combined = combined * max(len(one.names), 1) + one.codes
    owners = rows.lines if each_piece else frame.cooks[rows.lines].astype(np.int64)
    base = int(owners.max()) + 1 if owners.size else 1
    cells, inverse = np.unique(combined * base + owners, return_inverse=True)
    own = cells % base
    counts = np.bincount(inverse, minlength=cells.size)
    sums = np.bincount(inverse, weights=rows.values[rows.lines], minlength=cells.size)
    group_codes, groups = np.unique(cells // base, return_inverse=True)
    return CookMeans(
        sums / np.maximum(counts, 1),
        groups,
        frame.cooks[own] if each_piece else own.astype(np.int32),
        tuple(_key(code, parting) for code in group_codes.tolist()),
        np.bincount(inverse[frame.pieces[rows.lines]], minlength=cells.size),
        rows.lines,
        inverse,
    )


def _key(code: int, parting: Sequence[Grouped]) -> tuple[str, ...]:
    parts = []
    for one in reversed(parting):
        code, spot = divmod(code, max(len(one.names), 1))
        parts.append(one.names[spot])
    return tuple(reversed(parts))
