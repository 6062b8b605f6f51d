"""What a cook's summary can be written as, for the window and the command line alike.

Another one is an entry here, and the file that makes its bytes.
"""

from collections.abc import Callable
from dataclasses import dataclass

from pitjournal.files.formats import Format
from pitjournal.files.summary import Summary, to_csv, to_html

BYTE_ORDER_MARK = "\N{ZERO WIDTH NO-BREAK SPACE}"
"""Tells a spreadsheet that a table is in UTF-8."""


@dataclass(frozen=True)
class ToWrite:
    """A summary on its way into a file; `report` is told how far it is, 0 to 1."""

    summary: Summary
    paper: str
    report: Callable[[float], object] = lambda _: None


def _pdf(given: ToWrite) -> bytes:
    from pitjournal.ui.printing.printed import pdf_of  # noqa: PLC0415 - Qt, where it is printed

    return pdf_of(given.summary, given.paper, given.report)[0]


def _png(given: ToWrite) -> bytes:
    from pitjournal.ui.printing.printed import picture_of  # noqa: PLC0415 - Qt, where it is printed

    return picture_of(given.summary, given.paper)


def _html(given: ToWrite) -> bytes:
    return to_html(given.summary).encode()


def _csv(given: ToWrite) -> bytes:
    return (BYTE_ORDER_MARK + to_csv(given.summary)).encode()


SUMMARY_FORMATS: tuple[Format[ToWrite], ...] = (
    Format(".pdf", "PDF", _pdf),
    Format(".html", "one HTML file", _html, (".htm",)),
    Format(".csv", "table (CSV)", _csv),
    Format(".png", "picture", _png),
)
