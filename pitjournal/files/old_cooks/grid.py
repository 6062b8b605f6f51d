"""From bytes to sheets of text cells, within limits."""

import csv
import io
import re
import zipfile
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from pitjournal.errors import JournalError
from pitjournal.files.probe_log.tables.decode import decode
from pitjournal.files.probe_log.tables.sheets import (
    day_nought,
    days_from_1904,
    is_workbook,
)

if TYPE_CHECKING:
    from fastexcel import ExcelReader

LARGEST = 64_000_000
"""Bytes of a file: ten years of cooks are well below one million."""

MOST_CELLS = 4_000_000
WIDEST = 400
LONGEST = 200_000
LONGEST_LINE = 60_000
LONGEST_CELL = 200_000
DELIMITERS = ",;\t|"

_MARKUP = re.compile(r"<\s*(?:!doctype|html|\?xml|svg|head|body|table)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Sheet:
    """A sheet: its name and its rows of cells, each row as long as it is written."""

    name: str
    rows: tuple[tuple[str, ...], ...]


def not_a_table(name: str, why: str, hint: str = "") -> JournalError:
    """Return the one line that refuses a file."""
    return JournalError(
        f"{name} is not a table of cooks that can be read: {why}.",
        hint or "Save it from your spreadsheet as CSV or XLSX, one row a cook, and try again.",
    )


def sheets_of(data: bytes, name: str) -> list[Sheet]:
    """Return the sheets of a file that hold anything.

    Raises
    ------
    JournalError
        If it is no table, is damaged, or is larger than any table of cooks.
    """
    if not data.strip(b"\0 \t\r\n"):
        raise not_a_table(name, "it is empty")
    if len(data) > LARGEST:
        raise not_a_table(name, "it is larger than any table of cooks")
    if data.startswith(b"PK"):
        sheets = list(_workbook(data, name))
    elif data.startswith(b"\xd0\xcf\x11\xe0"):
        raise not_a_table(
            name, "it is locked with a password, or of an old kind", "Save it as XLSX or CSV."
        )
    else:
        sheets = [Sheet("", _text_rows(data, name))]
    kept = [sheet for sheet in sheets if any(any(row) for row in sheet.rows)]
    if not kept:
        raise not_a_table(name, "it is empty")
    return kept


def _workbook(data: bytes, name: str) -> Iterator[Sheet]:
    if not is_workbook(data):
        raise not_a_table(name, "it is no workbook")
    try:
        refuse_far_cells(data, name)
        yield from _loaded(data)
    except JournalError:
        raise
    except Exception:  # noqa: BLE001 - whatever the libraries meet in damaged bytes
        raise not_a_table(name, "the workbook is damaged") from None


def _loaded(data: bytes) -> Iterator[Sheet]:
    import fastexcel  # noqa: PLC0415 - only for workbooks

    book, from_1904 = fastexcel.read_excel(data), days_from_1904(data)
    for title in book.sheet_names:
        loaded = book.load_sheet(title, header_row=None, dtypes="string", skip_rows=0)
        rows = loaded.to_polars().rows()
        lengths = _lengths(book, title, len(rows))
        yield Sheet(
            title,
            tuple(
                tuple(
                    _shown(cell, from_1904=from_1904) or lengths.get((down, across), "")
                    for across, cell in enumerate(row)
                )
                for down, row in enumerate(rows)
            ),
        )


def _lengths(book: "ExcelReader", title: str, rows: int) -> dict[tuple[int, int], str]:
    """Return the cells that hold a length of time, which are not given as text."""
    table = book.load_sheet(title, header_row=None, dtypes="duration", skip_rows=0).to_polars()
    if table.height != rows:
        return {}
    found = {}
    for across, column in enumerate(table.iter_columns()):
        for down, length in enumerate(column):
            if length is not None:
                minutes, seconds = divmod(round(length.total_seconds()), 60)
                found[down, across] = f"{minutes // 60}:{minutes % 60:02d}:{seconds:02d}"
    return found


_MOMENT = re.compile(r"^(\d{4})-(\d\d)-(\d\d) (\d\d):(\d\d):(\d\d)(?:\.\d+)?$")


def _shown(cell: object, *, from_1904: bool) -> str:
    """Return a cell as its spreadsheet would show it: days without midnight, times without days."""
    text = "" if cell is None else str(cell).strip()
    found = _MOMENT.match(text)
    if not found:
        return text.removesuffix(".0") if re.fullmatch(r"-?\d+\.0", text) else text
    year, month, day, hour, minute, second = (int(part) for part in found.groups())
    if year < 1906:  # a spreadsheet counts days from the last of 1899: a length of time
        days = max(0, (date(year, month, day) - day_nought(from_1904=from_1904)).days)
        return f"{24 * days + hour}:{minute:02d}:{second:02d}"
    midnight = (hour, minute, second) == (0, 0, 0)
    return text[:10] if midnight else f"{text[:10]} {hour:02d}:{minute:02d}"


def _text_rows(data: bytes, name: str) -> tuple[tuple[str, ...], ...]:
    try:
        text = decode(data, name).data.decode("utf-8", errors="replace")
    except JournalError:
        raise not_a_table(name, "it holds no text") from None
    if _MARKUP.search(text[:2000]):
        raise not_a_table(name, "it is a page, not a table")
    if text.count("\ufffd") > 0.02 * len(text):
        raise not_a_table(name, "it holds no text")
    lines = text.split("\n")
    if len(lines) > LONGEST:
        raise not_a_table(name, "it is larger than any table of cooks")
    if '"' not in text and max(map(len, lines)) > LONGEST_LINE:
        raise not_a_table(name, "one line is longer than any row of a table")
    try:
        rows = _rows_of(text, lines)
    except csv.Error:
        raise not_a_table(name, "a cell holds more than any note") from None
    if sum(map(len, rows)) > MOST_CELLS or len(rows) > LONGEST:
        raise not_a_table(name, "it is larger than any table of cooks")
    if max(map(len, rows), default=0) > WIDEST:
        raise not_a_table(name, "it has more columns than any table of cooks")
    return tuple(rows)


def _rows_of(text: str, lines: Sequence[str]) -> list[tuple[str, ...]]:
    """Return the rows, split at the sign that splits them most evenly, or at the one named."""
    if lines and re.fullmatch(r"\"?sep=(.)\"?", lines[0].strip(), re.IGNORECASE):
        rows = _split("\n".join(["", *lines[1:]]), lines[0].strip().strip('"')[4])
    else:
        rows = max((_split(text, mark) for mark in DELIMITERS), key=_evenness)
    return [_without_rules(row) for row in rows]


def _split(text: str, delimiter: str) -> list[tuple[str, ...]]:
    """Return rows by RFC 4180; where a quote is left open, each line is taken for itself."""
    csv.field_size_limit(LONGEST_CELL)

    def read(quoting: int) -> list[tuple[str, ...]]:
        reader = csv.reader(
            io.StringIO(text, newline=""),
            delimiter=delimiter,
            quoting=quoting,  # type: ignore[arg-type]
            skipinitialspace=True,
        )
        return [tuple(_cell(cell) for cell in row) for row in reader]

    if '"' not in text:
        return read(csv.QUOTE_NONE)
    rows = read(csv.QUOTE_MINIMAL)
    left_open = bool(rows) and any("\n" in cell for cell in rows[-1]) and text.count('"') % 2 == 1
    if left_open or any(cell.count("\n") > 20 for row in rows for cell in row):
        return [tuple(cell.strip('"') for cell in row) for row in read(csv.QUOTE_NONE)]
    return rows


def _cell(cell: str) -> str:
    return " ".join(cell.replace("\0", "").split()) if "\n" not in cell else cell.strip()


def _without_rules(row: tuple[str, ...]) -> tuple[str, ...]:
    """Return a row without the rules of a table drawn with signs (``|---|---|``)."""
    return () if row and all(re.fullmatch(r":?[-=+]{2,}:?|", cell) for cell in row) else row


def _evenness(rows: Sequence[tuple[str, ...]]) -> tuple[float, int]:
    """Return how alike the rows are in width, the wider the better: what a delimiter is chosen by."""
    widths = Counter(len(row) for row in rows if any(row))
    widths.pop(1, None)
    if not widths:
        return 0.0, 0
    width, count = max(widths.items(), key=lambda item: item[1] * (item[0] - 1) ** 0.5)
    return count / max(1, sum(1 for row in rows if any(row))) * (width - 1) ** 0.25, width


_REFERENCE = re.compile(rb'<(?:\w+:)?c [^>]*?\br="([A-Z]{1,3})(\d{1,7})"')
_OPEN_DOCUMENT = "content.xml"


def refuse_far_cells(data: bytes, name: str) -> None:
    """Refuse a workbook that would become a grid far larger than what it holds.

    Raises
    ------
    JournalError
        If a cell stands so far out that the empty ones between would fill the memory, or if a
        sheet unpacks to more than any table of cooks.
    """
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        for part in archive.infolist():
            if part.filename.endswith(".xml") and part.file_size > 4 * LARGEST:
                raise not_a_table(name, "it unpacks to more than any table of cooks")
            office = re.fullmatch(r"xl/worksheets/[^/]+\.xml", part.filename)
            if not office and part.filename != _OPEN_DOCUMENT:
                continue
            content = archive.read(part)
            across, down = _extent(content) if office else _open_document_extent(content)
            if across * down > MOST_CELLS:
                raise not_a_table(
                    name,
                    f"a cell stands far outside the table (row {down}, column {across})",
                    "Clear that cell in your spreadsheet and save again.",
                )


def _extent(content: bytes) -> tuple[int, int]:
    cells = _REFERENCE.findall(content)
    across = max((_column_number(letters) for letters, _ in cells), default=0)
    return across, max((int(row) for _, row in cells), default=0)


def _open_document_extent(content: bytes) -> tuple[int, int]:
    """Return how far the cells that hold anything reach, by the largest sheet."""
    across, down, most = 0, 0, (0, 0)
    row, wide = 0, 0
    for tag, attributes in re.findall(rb"<table:(table|table-row|table-cell)\b([^>]*)>", content):
        if tag == b"table":
            row, across, down = 0, 0, 0
        elif tag == b"table-row":
            row, wide = row + _repeated(attributes, b"rows"), 0
        else:
            wide += _repeated(attributes, b"columns")
            if b"value-type" in attributes or b"formula" in attributes:
                across, down = max(across, wide), row
                most = max(most, (across, down), key=lambda size: size[0] * size[1])
    return most


def _repeated(attributes: bytes, what: bytes) -> int:
    found = re.search(rb"number-" + what + rb'-repeated="(\d{1,9})"', attributes)
    return int(found[1]) if found else 1


def _column_number(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = 26 * number + letter - 64
    return number
