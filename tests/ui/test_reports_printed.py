"""What a class sheet, a season and a card are once they are printed, as other software reads them."""

import io
from dataclasses import replace

import pytest
from PIL import Image
from pypdf import PdfReader
from pytestqt.qtbot import QtBot

from pitjournal.files.summary.posted import SIZES, Shape
from pitjournal.files.summary.report import Report, ReportPart
from pitjournal.ui.printing.printed import card_of, pdf_of_report
from tests.files.summary.sample import a_summary
from tests.files.summary.test_posted import A_CHART


def read(report: Report, paper: str = "a4") -> PdfReader:
    return PdfReader(io.BytesIO(pdf_of_report(report, paper)[0]))


def words_of(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def a_sheet(steps: int) -> Report:
    lines = tuple(f"Step {n}: turn each piece, and look at the fire." for n in range(steps))
    return Report("A sheet", "Class sheet", parts=(ReportPart("Method", steps=lines),))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_that_a_class_sheet_is_one_page_while_it_can_be_read(qtbot: QtBot, paper: str) -> None:
    del qtbot
    plain, sheet = a_sheet(55), replace(a_sheet(55), one_page=True)
    assert len(read(plain, paper).pages) == 2
    reader = read(sheet, paper)
    assert len(reader.pages) == 1
    assert all(f"Step {n}:" in words_of(reader) for n in range(55))
    assert len(read(replace(a_sheet(300), one_page=True), paper).pages) > 1  # none is lost


def test_that_a_report_has_a_title_and_its_fonts_inside(qtbot: QtBot) -> None:
    """ISO 32000-1, 9.8: a font descriptor with a FontFile is embedded."""
    del qtbot
    report = Report("A season", "2026", parts=(ReportPart("Found", plate=A_CHART),))
    reader = read(report)
    assert reader.metadata is not None
    assert reader.metadata.title == "A season"
    fonts = [
        font.get_object()
        for page in reader.pages
        for font in page["/Resources"]["/Font"].values()  # type: ignore[index]
    ]
    assert fonts
    for font in fonts:
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(inner["/FontDescriptor"])
    assert not any(page.images for page in reader.pages)  # plates are lines, not dots
    assert "More tender" in words_of(reader) or "Injected" in words_of(reader)


def test_that_a_heading_stays_with_the_plate_below_its_lines(qtbot: QtBot) -> None:
    del qtbot
    parts = tuple(
        ReportPart(f"Question {n}", under="cook 1", warns=("But they came later.",), plate=A_CHART)
        for n in range(12)
    )
    for page in read(Report("A season", "2026", parts=parts)).pages:
        text = page.extract_text()
        assert text.count("Question ") == text.count("against left alone")


@pytest.mark.parametrize("shape", Shape)
def test_that_a_card_is_as_many_dots_as_its_shape_says(qtbot: QtBot, shape: Shape) -> None:
    del qtbot
    with Image.open(io.BytesIO(card_of(replace(a_summary(), plate=A_CHART), shape))) as card:
        assert card.format == "PNG"
        assert card.size == SIZES[shape]
        assert len(card.convert("RGB").getcolors(1 << 24) or ()) > 20  # something is on it
