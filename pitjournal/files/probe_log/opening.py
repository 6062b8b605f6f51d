"""From bytes to a table and its layout: every way of reading is tried and scored."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from pitjournal.files.probe_log.columns import Layout, find_layout
from pitjournal.files.probe_log.decimals import with_decimal_commas
from pitjournal.files.probe_log.tables.decode import decode, not_a_log
from pitjournal.files.probe_log.tables.pairs import pairs_table
from pitjournal.files.probe_log.tables.records import holds_records, records_table
from pitjournal.files.probe_log.tables.sheets import (
    DAYS_TO_1904,
    days_from_1904,
    is_workbook,
    sheet_tables,
)
from pitjournal.files.probe_log.tables.table import (
    BLANK,
    DELIMITERS,
    LONGEST_LINE,
    Lines,
    Table,
    TextTable,
    lines_of,
    sample_of,
    squeezed,
)
from pitjournal.files.probe_log.targets import without_targets
from pitjournal.files.probe_log.times.stamps import DAY

_NEARLY_ALL = 1.05
"""A reading with heads that accounts for nearly all rows; no other can do better."""


@dataclass(frozen=True)
class Opened:
    """A file's rows and where everything stands in them."""

    table: Table
    layout: Layout
    encoding: str


def opened(data: bytes, name: str) -> Opened:
    """Return a file's rows by the reading that accounts for most of them.

    Raises
    ------
    JournalError
        If none does; one line that says why.
    """
    if is_workbook(data):
        found = _best(list(sheet_tables(data, name)), "binary", name)
        return _from_1904(found) if days_from_1904(data) else found
    if _is_one_long_line(data):
        raise _too_long(name)
    text = decode(data, name)
    if holds_records(text.data):
        records = records_table(text.data, name)
        if records is not None:
            return _best([records], text.encoding, name)
    lines = lines_of(text.data)
    if int((lines.ends - lines.starts).max()) > LONGEST_LINE:
        raise _too_long(name)
    named = pairs_table(lines)
    pairs = None if named is None else without_targets(named)
    layout = None if pairs is None else find_layout(sample_of(pairs), pairs.context)
    if pairs is not None and layout is not None:
        return Opened(pairs, layout, text.encoding)
    return _text(lines, text.encoding, name)


def _from_1904(found: Opened) -> Opened:
    """Return a sheet whose counted days, where its times are such, begin in 1904."""
    clock = found.layout.clock
    if clock.kind != "serial":
        return found
    later = replace(clock, shift=clock.shift + DAYS_TO_1904 * DAY)
    return replace(found, layout=replace(found.layout, clock=later))


def _best(tables: Sequence[Table], encoding: str, name: str) -> Opened:
    plain = map(without_targets, tables)
    found = [(table, find_layout(sample_of(table), table.context)) for table in plain]
    known = [(table, layout) for table, layout in found if layout is not None]
    if not known:
        raise _no_columns(name)
    # Of sheets that are read equally well the longest is the log.
    table, layout = max(known, key=lambda pair: (round(pair[1].score, 1), len(pair[0])))
    return Opened(table, layout, encoding)


def _text(lines: Lines, encoding: str, name: str) -> Opened:
    best: tuple[float, str, Layout] | None = None
    for delimiter in DELIMITERS:
        table = without_targets(TextTable(lines, delimiter))
        layout = find_layout(sample_of(table))
        # A single blank stands within times and names more often than between cells.
        score = 0.0 if layout is None else layout.score * (0.9 if delimiter == BLANK else 1.0)
        # What is left of a reading and its target may be a row that was split at a wrong mark,
        # unless heads stand over what is left; at blanks those are split as wrongly.
        headed = delimiter != BLANK and layout is not None and any(layout.heads)
        score *= 1.0 if isinstance(table, TextTable) or headed else 0.8
        if layout is not None and (best is None or score > best[0]):
            best = (score, delimiter, layout)
        if best is not None and best[0] > _NEARLY_ALL:
            break
    if best is None:
        raise _no_columns(name)
    _, delimiter, layout = best
    data, plain = squeezed(lines.data, delimiter)
    if data is not lines.data:
        cut = lines.cut
        lines = lines_of(data)
        lines = Lines(lines.data, lines.starts, lines.ends, cut)
    whole = TextTable(lines, plain)
    split = with_decimal_commas(whole, layout) if delimiter == "," else None
    return (
        _best([split], encoding, name)
        if split
        else Opened(without_targets(whole), layout, encoding)
    )


def _is_one_long_line(data: bytes) -> bool:
    """Whether a text that is no JSON has no line end for longer than any row would take."""
    begin = data[:8].lstrip(b"\xef\xbb\xbf\xff\xfe\0 \t\r\n")
    reach = 4 * LONGEST_LINE
    return (
        len(data) > reach
        and begin[:1] not in {b"{", b"["}
        and data.find(b"\n", 0, reach) < 0
        and data.find(b"\r", 0, reach) < 0
    )


def _too_long(name: str) -> Exception:
    return not_a_log(name, "a line is longer than any row")


def _no_columns(name: str) -> Exception:
    return not_a_log(name, "no column of times beside columns of temperatures was found")
