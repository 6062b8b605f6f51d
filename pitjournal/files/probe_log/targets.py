"""Cells that hold a reading and its target, as "240/250": only the reading is read."""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from pitjournal.files.probe_log.cells import NUMBER, reading
from pitjournal.files.probe_log.tables.table import Row, Table, Unread, sample_of
from pitjournal.files.probe_log.times.stamps import any_time
from pitjournal.files.probe_log.units import unit_named

_PAIR = re.compile(
    rf"^(?P<read>{NUMBER}[^\d/|>→⇒@(\[:;]{{0,14}}?|[^\d\s/][^\d/|>→⇒@(\[:;]{{0,14}}?|n/[ac]|)\s*"
    rf"(?:/|\||:|;|→|⇒|@|[-=]*>|\b(?:of|von|de|set|vs\.?|sp|target|soll|ziel|goal)\b|\bsp(?=\d)|[(\[])\s*"
    rf"(?:(?:set|target|soll|ziel|goal|sp|→|⇒|[-=]*>)\s*[:=]?\s*)?(?P<target>{NUMBER}[^\d]{{0,14}}|[^\d/|]{{0,14}})$",
    re.IGNORECASE,
)
_SHARE = 0.6
_FEW = 0.3


def without_target(cell: str) -> str | None:
    """Return the reading of a cell that holds its target too; None where it is no such cell."""
    found = _PAIR.match(cell)
    if found is None or unit_named(cell) or not any(char.isdecimal() for char in cell):
        return None
    read, target = found["read"].strip(), found["target"].strip(" )]")
    states = {reading(read).state, reading(target).state}
    if "bad" in states or states in ({"missing"}, {"word"}):
        return None
    unit = reading(target).unit
    return (
        f"{read} {unit}"
        if unit and reading(read).value is not None and not reading(read).unit
        else read
    )


def target_columns(sample: Sequence[Row]) -> tuple[int, ...]:
    """Return columns most of whose cells hold a reading and its target."""
    widths = Counter(len(row.cells) for row in sample if len(row.cells) > 1)
    width = max(widths, key=lambda width: widths[width], default=0)
    # Where a probe came or went, rows are of several widths; those of a preamble are few.
    rows = [row.cells for row in sample if widths[len(row.cells)] > _FEW * widths[width]]
    return tuple(
        place
        for place in range(max(map(len, rows), default=0))
        if _hold_targets([cells[place] for cells in rows if len(cells) > place])
    )


def _hold_targets(cells: Sequence[str]) -> bool:
    """Whether most of a column's cells that say a number say its target too.

    A few dates may be among them: those of lines above a short file's rows.
    """
    told = [cell for cell in cells if reading(cell).state in {"value", "bad"}]
    plain = [cell for cell in told if not any_time(cell)]
    pairs = [cell for cell in plain if without_target(cell) is not None]
    return len(pairs) > max(_SHARE * len(plain), len(told) - len(plain))


@dataclass
class WithoutTargets:
    """A table whose cells of some columns are cut to the reading."""

    table: Table
    columns: tuple[int, ...]

    def __post_init__(self) -> None:
        self.context: tuple[str, ...] = self.table.context
        self.unread: list[Unread] = self.table.unread
        self.records: bool = self.table.records

    @property
    def cut(self) -> bool:
        """Whether the last line has no end."""
        return self.table.cut

    def __len__(self) -> int:
        return len(self.table)

    def cells(self, place: int) -> tuple[str, ...]:
        """Return a row's cells, readings without their targets."""
        cells = list(self.table.cells(place))
        for column in self.columns:
            read = without_target(cells[column]) if column < len(cells) else None
            if read is not None:
                cells[column] = read
        return tuple(cells)

    def line(self, place: int) -> int:
        """Return the number of a row's line, from 1."""
        return self.table.line(place)


def without_targets(table: Table) -> Table:
    """Return a table of readings alone: itself where none has a target beside it."""
    columns = target_columns(sample_of(table))
    return WithoutTargets(table, columns) if columns else table
