"""What is printed is looked at first: each page as the printer has it, and printed as it was seen."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pitjournal.files.summary.report import Report, ReportPart
from pitjournal.ui.printing.print_panel import PrintPanel
from pitjournal.ui.printing.printed import Sheets, pdf_of_report, sheets_of_report

LINES = tuple(f"Step {n}: turn each piece, and look at the fire." for n in range(120))
REPORT = Report("A sheet", "Class sheet", parts=(ReportPart("Method", steps=LINES),))


@pytest.fixture
def panel(qtbot: QtBot) -> Iterator[PrintPanel]:
    over = QWidget()
    qtbot.addWidget(over)
    over.resize(1024, 700)
    over.show()
    made = PrintPanel(over, sheets_of_report(REPORT), "a4")
    made.open_panel()
    yield made
    made.close_panel()


def test_that_one_leafs_through_as_many_pages_as_there_are(panel: PrintPanel) -> None:
    pages = pdf_of_report(REPORT, "a4")[1]
    assert panel.view.pageCount() == pages > 2
    assert panel.where.text() == f"Page 1 of {pages}"
    assert not panel.before.isEnabled()
    panel.after.click()
    assert panel.where.text() == f"Page 2 of {pages}"
    for _ in range(pages - 2):
        panel.after.click()
    assert panel.where.text() == f"Page {pages} of {pages}"
    assert not panel.after.isEnabled()
    panel.before.click()
    assert panel.view.currentPage() == pages - 1


@pytest.mark.parametrize(("paper", "size"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_that_what_is_printed_is_what_a_pdf_has(
    qtbot: QtBot, tmp_path: Path, paper: str, size: tuple[int, int]
) -> None:
    """ISO 216: A4 is 210 × 297 mm; ANSI/ASME Y14.1: letter is 8.5 × 11 in; 72 points an inch."""
    over = QWidget()
    qtbot.addWidget(over)
    printer = PrintPanel(over, sheets_of_report(REPORT), paper).printer
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    count = sheets_of_report(REPORT).paint(printer)
    reader = PdfReader(tmp_path / "printed.pdf")
    assert len(reader.pages) == count == pdf_of_report(REPORT, paper)[1]
    box = reader.pages[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == size
    text = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    assert all(f"Step {n}:" in text for n in range(120))


def test_that_one_page_stays_one(qtbot: QtBot) -> None:
    over = QWidget()
    qtbot.addWidget(over)
    parts = (ReportPart("Method", steps=LINES[:55]),)
    one: Sheets = sheets_of_report(replace(REPORT, parts=parts, one_page=True))
    panel = PrintPanel(over, one, "letter")
    panel.open_panel()
    assert panel.view.pageCount() == 1
