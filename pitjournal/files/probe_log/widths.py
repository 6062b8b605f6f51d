"""Rows with fewer or more cells than most: a probe that came or went, blanks left off the end."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from pitjournal.files.probe_log.above import is_heads
from pitjournal.files.probe_log.columns import Layout
from pitjournal.files.probe_log.heads import split_unit

ABSENT = "\0"
"""The cell of a channel that a part of the file does not have."""


def _bare(head: str) -> str:
    return split_unit(head)[0].casefold()


@dataclass
class Widths:
    """Brings rows of another width to the layout's.

    Heads of another width say which columns follow, when they name nothing that the layout
    does not know. Without such heads shorter rows are taken for ones whose last cells are
    blank, when the file has many of them.
    """

    layout: Layout
    _columns: dict[int, dict[int, int]] = field(default_factory=dict)

    def heads(self, cells: Sequence[str]) -> tuple[str, ...] | None:
        """Take in a row of heads of another width; return all heads as they hold from here."""
        layout = self.layout
        if not any(layout.heads) or not is_heads(cells):
            return None
        known = {_bare(head): place for place, head in enumerate(layout.heads) if head}
        names = [_bare(cell) for cell in cells]
        clock = [_bare(layout.heads[place]) for place in layout.clock.columns]
        if len(set(names)) < len(names) or not all(name in known for name in names):
            return None
        if not all(name in names for name in clock):
            return None
        columns = {place: known[name] for place, name in enumerate(names)}
        self._columns[len(cells)] = columns
        heads = list(layout.heads)
        for place, own in columns.items():
            heads[own] = cells[place]
        return tuple(heads)

    def brought(self, cells: tuple[str, ...]) -> tuple[str, ...] | None:
        """Return a row of the layout's width, or None where its cells cannot be told."""
        width = self.layout.width
        columns = self._columns.get(len(cells))
        if columns is not None:
            found = [ABSENT] * width
            for place, own in columns.items():
                found[own] = cells[place]
            return tuple(found)
        if len(cells) < width and len(cells) in self.layout.shorter:
            return (*cells, *("" for _ in range(width - len(cells))))
        return None
