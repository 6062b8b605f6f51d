"""Rows in bulk: those that look as most do, read by columns; the others are left for one by one."""

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from pitjournal.files.probe_log.body import NOWHERE, Body
from pitjournal.files.probe_log.cells import SENTINELS, SENTINELS_OF_PARTS, reading
from pitjournal.files.probe_log.columns import Layout
from pitjournal.files.probe_log.row_times import RowTimes, delimiters_in, row_times
from pitjournal.files.probe_log.rows import channel_of, is_other_kind, is_unnamed
from pitjournal.files.probe_log.tables.table import TextTable
from pitjournal.files.probe_log.units import UNITS, unit_named

if TYPE_CHECKING:
    import polars as pl

MANY_ROWS = 400
"""Below this many rows one by one is as fast."""

_PART = 1 << 18
"""Bytes looked at together, so that they stay near the processor."""


def read_bulk(table: TextTable, layout: Layout, least: int = MANY_ROWS) -> Body | None:
    """Read the rows that look as most do; None where that is not worth the while.

    A row is taken only if reading it by itself gives the same.
    """
    rows = len(table) - layout.first - int(table.cut)
    if rows < max(least, 2) or len(table.delimiter) != 1 or layout.clock.carried:
        return None
    if layout.unit_columns and layout.unit_column is None:
        return None
    told = _Parsing(layout, table.delimiter, _seen(table, layout), b'"' in table.lines.data)
    # Numbers are parsed while times are read: neither holds the other up.
    with ThreadPoolExecutor(max_workers=1) as beside:
        parsing = beside.submit(_numbers, table, layout, told)
        times = row_times(table, layout, rows)
        frame = parsing.result()
    if times is None or int(times.known.sum()) < least:
        return None
    return _read_cells(table, told, times, frame)


def _data(table: TextTable, layout: Layout) -> memoryview:
    """Return the lines from the first row on, without a last one that has no end."""
    low = int(table.lines.starts[layout.first])
    last = len(table) - 1 - int(table.cut)
    return memoryview(table.lines.data)[low : int(table.lines.ends[last]) + 1]


def _numbers(table: TextTable, layout: Layout, told: "_Parsing") -> "pl.DataFrame | None":
    """Parse all lines' readings as numbers; None where there is one that is none."""
    import polars as pl  # noqa: PLC0415 - only for long files

    try:
        if table.cut:
            return told.numbers(bytes(_data(table, layout)), 0)
        return told.numbers(table.lines.data, layout.first)
    except pl.exceptions.PolarsError:
        return None


def _read_cells(
    table: TextTable, told: "_Parsing", times: RowTimes, frame: "pl.DataFrame | None"
) -> Body | None:
    """Return the rows that have a time and as many cells as they should.

    `frame` holds their readings, if every line is such a row.
    """
    import polars as pl  # noqa: PLC0415 - polars, when first needed

    layout, data = told.layout, _data(table, told.layout)
    ends = table.lines.ends[layout.first : layout.first + times.known.size]
    whole = frame is not None and frame.height == ends.size and bool(times.known.all())
    if whole and frame is not None and _is_even(frame, data, table, layout):
        return _body(frame, np.arange(ends.size), times, layout)
    right = times.known & (_cell_counts(table, layout, ends) == layout.width)
    if not right.any():
        return None
    lengths = np.diff(ends, prepend=int(table.lines.starts[layout.first]) - 1)
    kept = np.frombuffer(data, dtype=np.uint8)[np.repeat(right, lengths)].tobytes()
    try:
        frame = told.texts(kept)
    except pl.exceptions.PolarsError:
        return None
    rows = np.flatnonzero(right)
    return _body(frame, rows, times, layout) if frame.height == rows.size else None


def _cell_counts(table: TextTable, layout: Layout, ends: NDArray[np.int64]) -> NDArray[np.intp]:
    marks = delimiters_in(table)
    starts = table.lines.starts[layout.first : layout.first + ends.size]
    return np.searchsorted(marks, ends) - np.searchsorted(marks, starts) + 1


def _is_even(frame: "pl.DataFrame", data: memoryview, table: TextTable, layout: Layout) -> bool:
    """Whether every row has its last cell, and all together no more cells than they should."""
    if frame[f"c{layout.width - 1}"].null_count():
        return False
    buffer, mark = np.frombuffer(data, dtype=np.uint8), ord(table.delimiter)
    parts = (buffer[low : low + _PART] for low in range(0, buffer.size, _PART))
    count = sum(int(np.count_nonzero(part == mark)) for part in parts)
    return count == frame.height * (layout.width - 1)


@dataclass(frozen=True)
class _Seen:
    """What a few rows show: marks for none as they are written, and decimal commas."""

    marks: list[str]
    comma: bool


def _seen(table: TextTable, layout: Layout) -> _Seen:
    places = np.linspace(layout.first, len(table) - 1, 100).astype(int).tolist()
    rows = [cells for place in places if len(cells := table.cells(place)) == layout.width]
    texts = {cells[column] for cells in rows for column in layout.readings}
    marks = {text for text in texts if reading(text).value is None}
    marks = {
        text
        for text in marks
        if not any(map(str.isdigit, text)) and reading(text).state == "missing"
    }
    return _Seen(sorted(marks | {""}), any("," in text for text in texts))


@dataclass(frozen=True)
class _Parsing:
    """How lines are parsed into columns."""

    layout: Layout
    delimiter: str
    seen: _Seen
    quoted: bool

    def numbers(self, data: bytes, skipped: int) -> "pl.DataFrame":
        """Parse readings as numbers; an error where one is none and no known mark."""
        return self._parse(data, skipped, numbers=True)

    def texts(self, data: bytes) -> "pl.DataFrame":
        """Parse all as text."""
        return self._parse(data, 0, numbers=False)

    def _parse(self, data: bytes, skipped: int, *, numbers: bool) -> "pl.DataFrame":
        import polars as pl  # noqa: PLC0415 - polars, when first needed

        layout = self.layout
        number = {*layout.readings} if numbers else set()
        clock = layout.clock.columns if layout.clock.form == "number" else ()
        texts = [p for p in (layout.name_column, layout.unit_column) if p is not None]
        return pl.read_csv(
            data,
            has_header=False,
            skip_lines=skipped,
            separator=self.delimiter,
            quote_char='"' if self.quoted else None,
            schema={
                f"c{place}": pl.Float64 if place in number else pl.String
                for place in range(layout.width)
            },
            columns=sorted({*layout.readings, *clock, *texts, layout.width - 1}),
            null_values=self.seen.marks if numbers else None,
            decimal_comma=self.seen.comma and numbers and self.delimiter != ",",
        )


def _body(frame: "pl.DataFrame", rows: NDArray[np.intp], times: RowTimes, layout: Layout) -> Body:
    """Return the rows that can be read, as arrays."""
    count = rows.size
    values = np.empty((count, len(layout.readings)), order="F")
    units = np.zeros((count, len(layout.readings)), dtype=np.int8, order="F")
    good = np.ones(count, dtype=np.bool_)
    for order, place in enumerate(layout.readings):
        column = frame[f"c{place}"]
        if column.dtype.is_numeric():
            values[:, order] = column.to_numpy()
        else:
            values[:, order], units[:, order], readable = _by_text(column, parts=layout.parts)
            good &= readable
    _without_sentinels(values, parts=layout.parts)
    seconds = times.seconds[rows]
    if layout.clock.form == "number":
        seconds = _elapsed_seconds(frame[f"c{layout.clock.columns[0]}"], layout)
        good &= ~np.isnan(seconds)
    names, codes, by_row, known = _channels(frame, layout)
    good &= known
    units = np.where(units == 0, by_row[:, None], units) if by_row.any() else units
    others = by_row == NOWHERE
    if others.any():
        values[others], units[others] = np.nan, NOWHERE
    body = Body(
        rows.astype(np.int64) + layout.first,
        times.dates[rows],
        times.loose[rows],
        seconds,
        times.offsets[rows],
        values,
        units,
        codes,
        names,
    )
    return body if good.all() else body.only(good)


def _without_sentinels(values: NDArray[np.float64], *, parts: bool) -> None:
    """Put NaN where a number stands for none."""
    sentinels = list(SENTINELS_OF_PARTS if parts else SENTINELS)
    for column in values.T:
        odd = np.flatnonzero(~((column > -120.0) & (column < 900.0)))
        if odd.size:
            found = column[odd]
            found[np.isin(found, sentinels) | np.isinf(found)] = np.nan
            column[odd] = found


def _mapped(column: "pl.Series", found: dict[str, list[object]]) -> "pl.DataFrame":
    """Return for each text of a column what was found for it."""
    import polars as pl  # noqa: PLC0415 - polars, when first needed

    return (
        column.rename("text")
        .to_frame()
        .join(pl.DataFrame(found), on="text", how="left", maintain_order="left")
    )


def _by_text(
    column: "pl.Series", *, parts: bool
) -> tuple[NDArray[np.float64], NDArray[np.int8], NDArray[np.bool_]]:
    """Read each different text of a column once; return values, units, and which can be read."""
    column = column.fill_null("")
    texts = column.unique().to_list()
    cells = [reading(text, parts=parts) for text in texts]
    frame = _mapped(
        column,
        {
            "text": texts,
            "value": [np.nan if cell.value is None else cell.value for cell in cells],
            "unit": [UNITS.index(cell.unit) for cell in cells],
            "good": [cell.state in {"value", "missing"} for cell in cells],
        },
    )
    return (
        frame["value"].to_numpy(),
        frame["unit"].to_numpy().astype(np.int8),
        frame["good"].to_numpy(),
    )


def _elapsed_seconds(column: "pl.Series", layout: Layout) -> NDArray[np.float64]:
    """Return seconds from a column of plain numbers, NaN where one is none."""
    import polars as pl  # noqa: PLC0415 - polars, when first needed

    clock = layout.clock
    plain = column.str.strip_chars().str.replace(",", ".", literal=True)
    plain = plain.set(plain.str.contains(r"[^0-9.+-]").fill_null(value=True), None)
    numbers = plain.cast(pl.Float64, strict=False).to_numpy()
    seconds = np.asarray(numbers * clock.factor + clock.shift)
    if clock.kind in {"utc", "serial"}:
        seconds[~((seconds > 6.0e8) & (seconds < 4.2e9))] = np.nan
    return seconds


def _channels(
    frame: "pl.DataFrame", layout: Layout
) -> tuple[tuple[str, ...], NDArray[np.int32], NDArray[np.int8], NDArray[np.bool_]]:
    """Return channel names, each row's place in them, its unit, and which rows say theirs."""
    count = frame.height
    columns = [p for p in (layout.name_column, layout.unit_column) if p is not None]
    if not columns:
        zero = np.zeros(count, dtype=np.int32)
        return ("",), zero, np.zeros(count, dtype=np.int8), np.ones(count, dtype=np.bool_)
    parts = [frame[f"c{place}"].fill_null("").str.strip_chars() for place in columns]
    both = parts[0] if len(parts) == 1 else parts[0] + "\0" + parts[1]
    texts = both.unique(maintain_order=True).to_list()
    rows = [_cells_of(layout, columns, text.split("\0")) for text in texts]
    channels = [channel_of(layout, cells) for cells in rows]
    names = tuple(dict.fromkeys(channels))
    unit = layout.unit_column
    found = _mapped(
        both,
        {
            "text": texts,
            "code": [names.index(channel) for channel in channels],
            "unit": [
                NOWHERE
                if is_other_kind(layout, cells)
                else UNITS.index(unit_named(cells[unit]) if unit is not None else "")
                for cells in rows
            ],
            "known": [
                not is_unnamed(layout, cells) or is_other_kind(layout, cells) for cells in rows
            ],
        },
    )
    return (
        names,
        found["code"].to_numpy().astype(np.int32),
        found["unit"].to_numpy().astype(np.int8),
        found["known"].to_numpy(),
    )


def _cells_of(layout: Layout, columns: Sequence[int], texts: Sequence[str]) -> list[str]:
    cells = [""] * layout.width
    for place, text in zip(columns, texts, strict=True):
        cells[place] = text
    return cells
