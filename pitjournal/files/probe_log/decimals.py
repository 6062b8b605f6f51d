"""Rows whose readings a decimal comma cut in two, because the comma also stands between cells."""

import itertools
from collections.abc import Sequence

from pitjournal.files.probe_log.above import is_heads, is_units_row
from pitjournal.files.probe_log.asides import no_temperature
from pitjournal.files.probe_log.columns import Layout
from pitjournal.files.probe_log.heads import split_unit, without_comment
from pitjournal.files.probe_log.tables.table import RowTable, TextTable

_LOOK_BACK = 4
_ROWS = 60
_NEARLY_ALL = 0.8
_RESTLESS = 5
"""Decimals of two digits go up and down by more than this from row to row; readings do not."""


def with_decimal_commas(table: TextTable, layout: Layout) -> RowTable | None:
    """Return rows whose readings are whole again; None where none was cut.

    They were where the rows have as many cells more than the heads as there are columns of
    temperatures, and each is two whole numbers; or, without heads, where the second number of
    every pair is a single digit.
    """
    places = range(layout.first, min(len(table), layout.first + _ROWS))
    rows = [cells for place in places if len(cells := table.cells(place)) == layout.width]
    begin = max(layout.clock.columns) + 1
    if len(rows) < 2 or begin >= layout.width:
        return None
    if all(layout.heads):
        return None
    columns = list(zip(*rows, strict=True))
    heads = _heads(table, layout)
    cut = _by_heads(columns, heads, layout) if heads else _by_pairs(columns, begin)
    if not cut or not all(_are_halves(columns[place], columns[place + 1]) for place in cut):
        return None
    found = [
        _joined(cells, cut) if len(cells) == layout.width and not _is_words(cells) else cells
        for cells in map(table.cells, range(len(table)))
    ]
    return RowTable(found, range(1, len(found) + 1), cut=table.cut)


def _heads(table: TextTable, layout: Layout) -> tuple[str, ...]:
    """Return the nearest heads above the rows that are fewer than the rows' cells."""
    for place in range(layout.first - 1, max(-1, layout.first - 1 - _LOOK_BACK), -1):
        cells = without_comment(table.cells(place))
        while cells and not cells[-1]:
            cells = cells[:-1]
        if cells and not is_units_row(cells) and is_heads(cells):
            return cells if len(cells) < layout.width else ()
    return ()


def _by_heads(
    columns: Sequence[Sequence[str]], heads: tuple[str, ...], layout: Layout
) -> list[int]:
    """Return the places of the first halves of readings, where heads say how many were cut."""
    width, clock = len(columns), layout.clock.columns
    for joined in range(len(clock)):  # a date and a time may have one head
        cuts = width - len(heads) - joined
        behind = width - max(clock) - 1 - cuts
        if cuts < 1 or not 0 < behind <= len(heads):
            continue
        cut, place = [], max(clock) + 1
        for head in heads[-behind:]:
            if no_temperature(head, split_unit(head)[1], heads):
                place += 1
            else:
                cut.append(place)
                place += 2
        if place == width and len(cut) == cuts:
            return cut
    return []


def _by_pairs(columns: Sequence[Sequence[str]], begin: int) -> list[int]:
    """Return the same without heads: where the second of every two is a single digit."""
    cut = list(range(begin, len(columns) - 1, 2))
    if (len(columns) - begin) % 2:
        return []
    single = all(len(cell) == 1 for place in cut for cell in columns[place + 1])
    return cut if single else []


def _are_halves(wholes: Sequence[str], parts: Sequence[str]) -> bool:
    """Whether two columns are the halves of decimals, and the second no reading of its own."""
    pairs = [
        (whole, part)
        for whole, part in zip(wholes, parts, strict=True)
        if whole.lstrip("+-").isdecimal() and part.isdecimal()
    ]
    digits = {len(part) for _, part in pairs}
    if len(pairs) < _NEARLY_ALL * len(wholes) or len(digits) != 1:
        return False
    steps = [abs(int(b) - int(a)) for (_, a), (_, b) in itertools.pairwise(pairs)]
    return digits == {1} or sum(steps) > _RESTLESS * len(steps)


def _is_words(cells: Sequence[str]) -> bool:
    return not any(char.isdecimal() for cell in cells[1:] for char in cell)


def _joined(cells: tuple[str, ...], cut: Sequence[int]) -> tuple[str, ...]:
    """Return a row's cells with the halves of readings as one; damaged ones as they are."""
    found: list[str] = []
    place = 0
    while place < len(cells):
        if place in cut:
            found.append(f"{cells[place]},{cells[place + 1]}")
            place += 1
        else:
            found.append(cells[place])
        place += 1
    return tuple(found)
