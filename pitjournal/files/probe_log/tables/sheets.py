"""Workbooks: sheets of XLSX and ODS as rows of text."""

import io
import re
import struct
import zipfile
from collections.abc import Iterator
from datetime import date

from pitjournal.files.probe_log.tables.decode import not_a_log
from pitjournal.files.probe_log.tables.table import RowTable

_LARGEST = 400_000_000
"""Bytes that a workbook may unpack to."""
_FROM_1904 = re.compile(rb"<(?:\w+:)?workbookPr\b[^>]{0,2000}\bdate1904\s*=\s*[\"'](?:1|true)[\"']")
_WORKBOOK = "xl/workbook.xml"
_BEGINS = 1_000_000
"""Bytes of a workbook's list of sheets that are looked at."""
DAYS_TO_1904 = (date(1904, 1, 1) - date(1899, 12, 30)).days
"""Days from the first day of the usual count to that of the other (ECMA-376-1, 18.17.4.1)."""
_NO_DATE = re.compile(r"^(1899-12-3[01]|190[0-5]-\d\d-\d\d) (\d\d):(\d\d):(\d\d(?:\.\d+)?)$")

_DATE = re.compile(r"^\d{4}-\d\d-\d\d ")
_MIDNIGHT = " 00:00:00"


def is_workbook(data: bytes) -> bool:
    """Whether bytes are a workbook of sheets."""
    return data.startswith(b"PK\x03\x04") and (
        b"xl/" in data or b"opendocument.spreadsheet" in data[:400]
    )


def days_from_1904(data: bytes) -> bool:
    """Whether an XLSX workbook counts its days from 1904 (ECMA-376-1, 18.2.28, `date1904`)."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive, archive.open(_WORKBOOK) as part:
            return _FROM_1904.search(part.read(_BEGINS)) is not None
    except Exception:  # noqa: BLE001 - whatever damaged bytes do; the reader of sheets says so
        return False


def day_nought(*, from_1904: bool) -> date:
    """Return the day that a spreadsheet shows for a time of day alone."""
    return date(1904, 1, 1) if from_1904 else date(1899, 12, 31)


def sheet_tables(data: bytes, name: str) -> Iterator[RowTable]:
    """Return the sheets of an XLSX or ODS workbook.

    Raises
    ------
    JournalError
        If the workbook is damaged or empty.
    """
    import fastexcel  # noqa: PLC0415 - only for workbooks

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            size = sum(part.file_size for part in archive.infolist())
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError, struct.error):
        raise not_a_log(name, "the workbook is damaged") from None
    if size > _LARGEST:
        raise not_a_log(name, "the workbook is larger than any log")
    try:
        book = fastexcel.read_excel(data)
        sheets = [
            book.load_sheet(sheet, header_row=None, dtypes="string").to_polars().rows()
            for sheet in book.sheet_names
        ]
    except MemoryError:
        raise
    except Exception:  # noqa: BLE001 - whatever the library meets in damaged bytes
        raise not_a_log(name, "the workbook is damaged, or larger than any log") from None
    nought = day_nought(from_1904=days_from_1904(data))
    for rows in sheets:
        columns = [
            _days_only([_plain(cell, nought) for cell in column])
            for column in zip(*rows, strict=True)
        ]
        cells = list(zip(*columns, strict=True))
        if cells:
            yield RowTable(cells, range(1, len(cells) + 1))


def _days_only(column: list[str]) -> list[str]:
    """Return a column of dates, each given with midnight, without it."""
    dates = [cell for cell in column if _DATE.match(cell)]
    if len(dates) > 1 and all(cell.endswith(_MIDNIGHT) for cell in dates):
        return [cell.removesuffix(_MIDNIGHT) for cell in column]
    return column


def _plain(cell: object, nought: date) -> str:
    """Return a cell's text; a time without a date as hours and minutes since midnight."""
    text = "" if cell is None else str(cell).strip()
    found = _NO_DATE.match(text)
    if not found:
        return text
    days = max(0, (date.fromisoformat(found[1]) - nought).days)
    return f"{24 * days + int(found[2]):02d}:{found[3]}:{found[4]}"
