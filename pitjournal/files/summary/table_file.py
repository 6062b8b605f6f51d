"""A summary's pieces as CSV (RFC 4180), for a spreadsheet."""

import csv
import io

from pitjournal.files.summary.content import Summary, TableColumn

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""Beginnings that a spreadsheet would take for a formula."""


def to_csv(summary: Summary) -> str:
    """Return one line a piece: the unit in the head, bare numbers below, unknown left empty."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    columns = summary.pieces.columns
    writer.writerow([_words(column.head) for column in columns])
    count = max((len(column.cells) for column in columns), default=0)
    for row in range(count):
        writer.writerow([_cell(column, row) for column in columns])
    return out.getvalue()


def _cell(column: TableColumn, row: int) -> str:
    if column.numbers is None:
        return _words(column.cells[row])
    number = column.numbers[row]
    return "" if number is None else f"{number:.10g}"


def _words(text: str) -> str:
    return f"'{text}" if text.startswith(_FORMULA) else text
