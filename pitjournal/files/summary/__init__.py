"""A cook as a page for someone else: what it says, as HTML, CSV, or ready for print."""

from pitjournal.files.summary.content import Choice, Detail, PrivatePart, Summary
from pitjournal.files.summary.html import charts_of, to_html, to_print
from pitjournal.files.summary.table_file import to_csv

__all__ = [
    "Choice",
    "Detail",
    "PrivatePart",
    "Summary",
    "charts_of",
    "to_csv",
    "to_html",
    "to_print",
]
