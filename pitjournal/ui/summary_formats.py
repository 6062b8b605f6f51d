"""What goes out to be read: a cook's summary, a card for posting, a class sheet, a season.

One list of formats for each, for the window and the command line alike. Another one is an entry
here, and the file that makes its bytes.
"""

from collections.abc import Callable
from dataclasses import dataclass

from pitjournal.files.formats import Format
from pitjournal.files.summary import Summary, to_csv, to_html
from pitjournal.files.summary.posted import Shape
from pitjournal.files.summary.report import Report, report_to_html
from pitjournal.files.summary.report_text import report_to_text

PICTURE = ".png"

BYTE_ORDER_MARK = "\N{ZERO WIDTH NO-BREAK SPACE}"
"""Tells a spreadsheet that a table is in UTF-8."""


@dataclass(frozen=True)
class ToWrite:
    """A summary on its way into a file; `report` is told how far it is, 0 to 1.

    `shape` is that of a card; None is a picture as long as it is.
    """

    summary: Summary
    paper: str
    report: Callable[[float], object] = lambda _: None
    shape: Shape | None = None


@dataclass(frozen=True)
class ReportToWrite:
    """A report on its way into a file; `told` is told how far it is, 0 to 1."""

    report: Report
    paper: str
    told: Callable[[float], object] = lambda _: None


def _pdf(given: ToWrite) -> bytes:
    from pitjournal.ui.printing.printed import pdf_of  # noqa: PLC0415 - Qt, where it is printed

    return pdf_of(given.summary, given.paper, given.report)[0]


def _png(given: ToWrite) -> bytes:
    from pitjournal.ui.printing import printed  # noqa: PLC0415 - Qt, where it is printed

    if given.shape is None:
        return printed.picture_of(given.summary, given.paper)
    return printed.card_of(given.summary, given.shape)


def _html(given: ToWrite) -> bytes:
    return to_html(given.summary).encode()


def _csv(given: ToWrite) -> bytes:
    return (BYTE_ORDER_MARK + to_csv(given.summary)).encode()


def _report_pdf(given: ReportToWrite) -> bytes:
    from pitjournal.ui.printing.printed import pdf_of_report  # noqa: PLC0415 - Qt, where printed

    return pdf_of_report(given.report, given.paper, given.told)[0]


def _report_text(given: ReportToWrite) -> bytes:
    return report_to_text(given.report).encode()


def _report_html(given: ReportToWrite) -> bytes:
    return report_to_html(given.report).encode()


SUMMARY_FORMATS: tuple[Format[ToWrite], ...] = (
    Format(".pdf", "PDF", _pdf),
    Format(".html", "one HTML file", _html, (".htm",)),
    Format(".csv", "table (CSV)", _csv),
    Format(PICTURE, "picture", _png),
)
REPORT_FORMATS: tuple[Format[ReportToWrite], ...] = (
    Format(".pdf", "PDF", _report_pdf),
    Format(".html", "one HTML file", _report_html, (".htm",)),
)
"""What a season and a class sheet can be written as."""

HAND_FORMATS: tuple[Format[ReportToWrite], ...] = (
    *REPORT_FORMATS,
    Format(".txt", "plain words", _report_text),
)
"""What the card of one who helps can be written as: a message is read where no page is."""
