"""A cook's summary as PDF: text, tables and charts, against Qt drawing the same charts alone.

The peer is Qt's own PDF writer and nothing else: the same drawings, each on a page, without a word
of ours. What is measured is processor time. Without photos the file may have 500 kB.
"""

import io
import time
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory

from pypdf import PdfReader
from PySide6.QtCore import QBuffer, QIODevice, QRectF
from PySide6.QtGui import QPainter, QPdfWriter

from pitjournal.files.summary import Choice, Summary, charts_of
from pitjournal.files.summary.plate_svg import plate_chart
from pitjournal.journal.demonstration import make_demonstration
from pitjournal.journal.sharing import whole_summary
from pitjournal.ui.printing.pages import drawing_of, load_fonts, page_layout
from pitjournal.ui.printing.printed import pdf_of
from pitjournal.units import UnitSystem
from tests.benchmarks.measure import Measurement, alternately, rounds
from tests.benchmarks.page_switch import application

LIMIT = 3.0
LARGEST = 500_000
"""Bytes that the file may have."""

COOK = "Three ways with nine racks"
DPI = 300


def bare(drawings: list[str]) -> bytes:
    """Return drawings as a PDF by Qt alone, one a page."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(DPI)
    writer.setPageLayout(page_layout("a4"))
    painter = QPainter(writer)
    for place, svg in enumerate(drawings):
        if place:
            writer.newPage()
        drawn = drawing_of(svg)
        high = drawn.defaultSize().height() * writer.width() / drawn.defaultSize().width()
        drawn.render(painter, QRectF(0, 0, writer.width(), high))
    painter.end()
    return bytes(buffer.data().data())


def the_summary(folder: Path) -> Summary:
    """Return the summary of the demonstration's widest comparison."""
    with closing(make_demonstration(folder)) as journal:
        cook_id = journal.cooks.find(COOK)
        return whole_summary(journal, cook_id, Choice(), UnitSystem.US)


def run() -> Measurement:
    """Measure it."""
    application()
    load_fonts()
    with TemporaryDirectory() as name:
        summary = the_summary(Path(name) / "journal")
    assert summary.plate is not None
    drawings = [plate_chart(summary.plate), *(svg for _, svg in charts_of(summary))]
    made = pdf_of(summary, "a4")[0]
    assert len(made) <= LARGEST, f"the file has {len(made) / 1e3:.0f} kB"
    assert len(PdfReader(io.BytesIO(bare(drawings))).pages) == len(drawings) > 2
    took = alternately(
        lambda: pdf_of(summary, "a4"), lambda: bare(drawings), rounds(9), time.process_time
    )
    return Measurement("summary-pdf", *took, LIMIT)
