"""From text to rows of cells: which delimiter, records or lines."""

import csv
import io
import json
import re
from collections import Counter
from dataclasses import dataclass, field

from pitjournal.files.probe_log.cells import reading, unit_named
from pitjournal.files.probe_log.decode import LONGEST_LINE, not_a_log
from pitjournal.files.probe_log.report import Rejected
from pitjournal.files.probe_log.times import any_time

_BLANKS = re.compile(r"\s{2,}")
DELIMITERS = (",", ";", "\t", "|", "  ", " ")


@dataclass(frozen=True)
class Row:
    """A line's number, from 1, and its cells."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """The rows of a file; `cut` says that its last line has no end."""

    rows: list[Row]
    delimiter: str
    cut: bool = False
    records: bool = False
    rejected: list[Rejected] = field(default_factory=list)


def table_of(text: str, name: str) -> Table:
    """Return the rows of the best reading.

    Raises
    ------
    JournalError
        If no reading gives rows.
    """
    if text.lstrip("\ufeff \r\n\t")[:1] in {"{", "["}:
        found = _records(text, name)
        if found is not None:
            return found
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if max(map(len, lines)) > LONGEST_LINE:
        raise not_a_log(name, "a line is longer than any row")
    cut = bool(lines[-1].strip())
    best = max(DELIMITERS, key=lambda delimiter: _score(lines, delimiter))
    if not _score(lines, best):
        raise not_a_log(name, "no columns of readings were found")
    return Table(list(_rows(lines, best)), best, cut)


def _rows(lines: list[str], delimiter: str) -> list[Row]:
    return [
        Row(number, split(line, delimiter)) for number, line in enumerate(lines, 1) if line.strip()
    ]


def split(line: str, delimiter: str) -> tuple[str, ...]:
    """Return a line's cells."""
    if delimiter == "  ":
        cells = _BLANKS.split(line.strip())
    elif delimiter == " ":
        cells = line.split()
    elif '"' in line:
        cells = next(csv.reader(io.StringIO(line), delimiter=delimiter), [])
    else:
        cells = line.split(delimiter)
    cells = [cell.strip() for cell in cells]
    if delimiter == "|" and len(cells) > 2 and not cells[0] and not cells[-1]:
        cells = cells[1:-1]
    return tuple(cells)


def _score(lines: list[str], delimiter: str) -> float:
    """Count the lines of the commonest width that hold readings, over all cells."""
    tried = lines[:60] + lines[60 :: max(1, len(lines) // 200)]
    rows = [split(line, delimiter) for line in tried if line.strip()]
    widths = Counter(len(row) for row in rows if len(row) > 1)
    if not widths:
        return 0.0
    width = widths.most_common(1)[0][0]
    good, values = 0.0, 0
    for row in rows:
        if len(row) != width:
            continue
        readable = [any_time(cell) or reading(cell)[2] or bool(unit_named(cell)) for cell in row]
        values += any(reading(cell)[0] is not None for cell in row[1:])
        if sum(readable) >= 0.5 * width:
            good += sum(readable) / width
    if values < 2 or values < 0.1 * len(rows):
        return 0.0
    return good / len(rows) * (1.0 - 0.2 * (delimiter == " "))


def _records(text: str, name: str) -> Table | None:
    """Read JSON: an array of records, one in an object, or a record a line."""
    try:
        found = json.loads(text)
    except (ValueError, RecursionError):
        return _record_lines(text, name)
    if isinstance(found, dict):
        lists = [part for part in found.values() if isinstance(part, list)]
        found = max(lists, key=len, default=[found])
    if not isinstance(found, list):
        return None
    records = [(place, item) for place, item in enumerate(found, 1)]
    return _from_records(records, [])


def _record_lines(text: str, name: str) -> Table:
    records: list[tuple[int, object]] = []
    rejected: list[Rejected] = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        try:
            records.append((number, json.loads(line)))
        except (ValueError, RecursionError):
            rejected.append(Rejected(number, "the record is cut off or damaged"))
    if len(records) < 2:
        raise not_a_log(name, "its records are damaged")
    return _from_records(records, rejected)


def _from_records(records: list[tuple[int, object]], rejected: list[Rejected]) -> Table:
    flat: list[tuple[int, dict[str, str]]] = []
    for number, record in records:
        if isinstance(record, dict):
            flat.append((number, _flat(record)))
        else:
            rejected.append(Rejected(number, "it is no record"))
    heads = tuple(dict.fromkeys(key for _, record in flat for key in record))
    rows = [Row(0, heads)]
    rows += [Row(number, tuple(record.get(key, "") for key in heads)) for number, record in flat]
    return Table(rows, "json", cut=False, records=True, rejected=rejected)


def _flat(record: dict[str, object], before: str = "") -> dict[str, str]:
    found: dict[str, str] = {}
    for key, value in record.items():
        if isinstance(value, dict):
            found |= _flat(value, f"{before}{key}.")
        elif value is None or isinstance(value, str | int | float):
            found[f"{before}{key}"] = "" if value is None else str(value)
    return found


def sheet_rows(data: bytes, name: str) -> Table:
    """Read the largest sheet of an XLSX or ODS workbook as rows of text.

    Raises
    ------
    JournalError
        If the workbook is damaged or empty.
    """
    import fastexcel  # noqa: PLC0415 - only for workbooks

    try:
        book = fastexcel.read_excel(data)
        sheets = [
            book.load_sheet(sheet, header_row=None, dtypes="string").to_polars()
            for sheet in book.sheet_names
        ]
    except Exception as error:
        raise not_a_log(name, "the workbook is damaged") from error
    if not sheets:
        raise not_a_log(name, "the workbook is empty")
    largest = max(sheets, key=lambda sheet: sheet.height * sheet.width)
    rows = [
        Row(number, tuple(str(cell or "").strip() for cell in row))
        for number, row in enumerate(largest.iter_rows(), 1)
        if any(row)
    ]
    return Table(rows, "sheet")
