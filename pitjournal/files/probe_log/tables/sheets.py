"""Workbooks: sheets of XLSX and ODS as rows of text."""

import io
import re
import struct
import zipfile
from collections.abc import Iterator

from pitjournal.files.probe_log.tables.decode import not_a_log
from pitjournal.files.probe_log.tables.table import RowTable

_LARGEST = 400_000_000
"""Bytes that a workbook may unpack to."""
_NO_DATE = re.compile(r"^(1899-12-3[01]|190[0-5]-\d\d-\d\d) (\d\d):(\d\d):(\d\d(?:\.\d+)?)$")

_DATE = re.compile(r"^\d{4}-\d\d-\d\d ")
_MIDNIGHT = " 00:00:00"


def is_workbook(data: bytes) -> bool:
    """Whether bytes are a workbook of sheets."""
    return data.startswith(b"PK\x03\x04") and (
        b"xl/" in data or b"opendocument.spreadsheet" in data[:400]
    )


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
    for rows in sheets:
        columns = [
            _days_only([_plain(cell) for cell in column]) for column in zip(*rows, strict=True)
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


def _plain(cell: object) -> str:
    """Return a cell's text; a time without a date as hours and minutes since midnight."""
    text = "" if cell is None else str(cell).strip()
    found = _NO_DATE.match(text)
    if not found:
        return text
    from datetime import date  # noqa: PLC0415 - with the workbook only

    # A spreadsheet counts days from the last of 1899.
    days = max(0, (date.fromisoformat(found[1]) - date(1899, 12, 31)).days)
    return f"{24 * days + int(found[2]):02d}:{found[3]}:{found[4]}"
