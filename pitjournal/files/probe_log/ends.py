"""The end of a file: a last row that is cut off, and a footer that is no row."""

from collections.abc import Iterator, Sequence

from pitjournal.files.probe_log.cells import is_mark, reading
from pitjournal.files.probe_log.columns import Layout
from pitjournal.files.probe_log.tables.cuts import is_begun
from pitjournal.files.probe_log.tables.table import Row, Table

_MODELS = 40


def _above(table: Table, layout: Layout, place: int) -> Iterator[tuple[str, ...]]:
    """Return the rows of the layout's width not far above a place."""
    for other in range(max(0, place - _MODELS), place):
        if len(cells := table.cells(other)) == layout.width:
            yield cells


def is_last(table: Table, place: int) -> bool:
    """Whether a place is that of a last line without an end."""
    return table.cut and place == len(table) - 1


def needed_columns(layout: Layout) -> set[int]:
    """Return the columns without which a row cannot be read."""
    extra = (layout.name_column, *layout.unit_columns.values())
    return {*layout.clock.columns, *layout.readings, *(p for p in extra if p is not None)}


def is_cut(table: Table, layout: Layout, row: Row) -> bool:
    """Whether the last cell of a last line without an end is unlike those above it."""
    last = len(row.cells) - 1
    if not is_last(table, row.place) or last not in needed_columns(layout):
        return False
    above = [cells[last] for cells in _above(table, layout, row.place)]
    return _looks_cut(row.cells[last], above)


def _looks_cut(last: str, above: Sequence[str]) -> bool:
    if len(last) > 1 and reading(last).state == "missing" and is_mark(last):
        return False
    if not above or _shape(last) not in {_shape(cell) for cell in above}:
        return bool(above)
    value, before = reading(last).value, reading(above[-1]).value
    if len(last) >= min(map(len, above[-3:])) or value is None or before is None:
        return value is None and len(last) < min(map(len, above))
    # One more digit would have brought it nearer to the reading before it.
    fuller = min(abs(10 * value + digit - before) for digit in range(10))
    return "." not in last and "," not in last and fuller < abs(value - before)


def begins_like(table: Table, layout: Layout, row: Row, last: int) -> bool:
    """Whether the first cell of a row below the last one is like the beginning of a row's."""
    if last < 0 or not row.cells:
        return True
    models = [cells[0] for cells in _above(table, layout, last + 1)]
    return not models or any(is_begun(row.cells[0], model) for model in models)


def _shape(cell: str) -> str:
    """Return a cell with each run of digits as one 0."""
    shape = ""
    for char in cell:
        if not char.isdecimal():
            shape += char
        elif not shape.endswith("0"):
            shape += "0"
    return shape
