import io
import re
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from unicodedata import normalize

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader
from pypdf.generic import StreamObject
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from pitjournal.errors import JournalError
from pitjournal.files.summary import Summary
from pitjournal.files.summary.content import SummaryPhoto
from pitjournal.files.summary.printed import JpegPhoto, with_photos, without_clock
from pitjournal.files.writing import write_bytes
from pitjournal.ui.printing.pages import load_fonts
from pitjournal.ui.printing.printed import pdf_of, png_of
from tests.files.summary.sample import a_summary, pieces

MM = 72 / 25.4


def write_pdf(summary: Summary, path: Path, *, paper: str = "a4") -> int:
    data, count = pdf_of(summary, paper)
    write_bytes(path, data)
    return count


def write_png(summary: Summary, path: Path, *, paper: str = "a4") -> int:
    data, count = png_of(summary, paper)
    write_bytes(path, data)
    return count


def words_of_pages(path: Path) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(path).pages]


def words_of(path: Path) -> str:
    return " ".join(words_of_pages(path))


def words_in(summary: Summary) -> list[str]:
    """Return words that a print of it must have, from every part of it."""
    return [
        summary.title,
        *summary.words,
        *summary.protects,
        *summary.notes,
        *(photo.caption for photo in summary.photos),
        *(value for _, value in summary.facts),
        *(table.title for table in (*summary.tables, summary.pieces)),
        *(caution.source for caution in summary.cautions),
        summary.deference,
    ]


def test_that_the_words_and_numbers_can_be_read_again(qtbot: QtBot, tmp_path: Path) -> None:
    del qtbot
    summary = a_summary()
    write_pdf(summary, tmp_path / "cook.pdf")
    text = words_of(tmp_path / "cook.pdf")
    numbers = list(summary.pieces.columns[2].cells)
    assert re.findall(r"1\.\d\d", text)[-9:] == numbers
    assert all(words in text for words in words_in(summary))


def test_that_charts_are_lines_not_dots(qtbot: QtBot, tmp_path: Path) -> None:
    del qtbot
    write_pdf(replace(a_summary(), photos=()), tmp_path / "cook.pdf")
    reader = PdfReader(tmp_path / "cook.pdf")
    assert not any(page.images for page in reader.pages)
    text = words_of(tmp_path / "cook.pdf")
    assert "hours since the first piece went on" in text
    assert "no difference" in normalize("NFKC", text)  # a face may join the two f


LONG = (
    "appearance",
    "tenderness",
    "overcompensated",
    "juiciness",
    "shoulderblade",
    "thickness",
    "supplier",
    "refrigerated",
    "temperature",
    "unwrapped",
)


def test_that_no_word_is_broken_and_no_photo_cut_by_the_end_of_a_page(
    qtbot: QtBot, tmp_path: Path
) -> None:
    del qtbot
    summary = a_summary(rows=len(LONG))
    first, plain = summary.pieces.columns[0], summary.pieces.columns[2]
    columns = [
        replace(plain, label=word, unit="", numbers=None, cells=LONG[n:] + LONG[:n])
        for n, word in enumerate(LONG)
    ]
    photos = []
    for number, high in enumerate((1400, 600, 1400, 600, 600, 1400, 900)):
        out = io.BytesIO()
        Image.new("RGB", (900, high), (number, 80, 20)).save(out, "JPEG")
        photos.append(SummaryPhoto("and so on " * number, "image/jpeg", out.getvalue()))
    summary = replace(
        summary,
        pieces=replace(summary.pieces, columns=(first, *columns)),
        photos=tuple(photos),
    )
    write_pdf(summary, tmp_path / "cook.pdf")
    text = words_of(tmp_path / "cook.pdf").casefold().split()
    for word in LONG:
        assert text.count(word) >= len(LONG) + 1, word  # in each column, and over one
    # One that goes over the end of a page would be drawn on both.
    assert sum(len(page.images) for page in PdfReader(tmp_path / "cook.pdf").pages) == len(photos)


@pytest.mark.parametrize(("paper", "wide", "high"), [("a4", 210, 297), ("letter", 215.9, 279.4)])
def test_that_the_paper_is_the_one_chosen(
    qtbot: QtBot, tmp_path: Path, paper: str, wide: float, high: float
) -> None:
    # ISO 216: A4 is 210 by 297 mm. ANSI/ASME Y14.1: letter is 8.5 by 11 in.
    del qtbot
    write_pdf(a_summary(), tmp_path / "cook.pdf", paper=paper)
    box = PdfReader(tmp_path / "cook.pdf").pages[0].mediabox
    assert float(box.width) == pytest.approx(wide * MM, abs=1)
    assert float(box.height) == pytest.approx(high * MM, abs=1)


def test_that_each_page_has_its_number_and_the_table_its_head(qtbot: QtBot, tmp_path: Path) -> None:
    del qtbot
    count = write_pdf(a_summary(rows=120), tmp_path / "cook.pdf")
    pages = words_of_pages(tmp_path / "cook.pdf")
    assert len(pages) == count >= 4
    for number, words in enumerate(pages, start=1):
        assert f"Page {number} of {count}" in words
    assert "On, kg" in pages[3]


def test_that_a_heading_is_never_left_alone_at_the_foot(qtbot: QtBot, tmp_path: Path) -> None:
    del qtbot
    for rows in range(9, 40, 4):
        summary = replace(a_summary(), pieces=pieces(rows))
        write_pdf(summary, tmp_path / "cook.pdf")
        text = words_of(tmp_path / "cook.pdf")
        assert all(words in text for words in words_in(summary))
        for page in PdfReader(tmp_path / "cook.pdf").pages:
            lines = [line for line in page.extract_text().splitlines() if line.strip()]
            body = [line for line in lines if not line.startswith("Page ")]
            assert body[-1] not in {"Arms", "The cook", "Notes", "Safety facts", "Each piece"}


def test_that_a_picture_is_the_first_page(qtbot: QtBot, tmp_path: Path) -> None:
    del qtbot
    write_png(a_summary(), tmp_path / "cook.png", paper="a4")
    image = QImage(str(tmp_path / "cook.png"))
    assert image.height() / image.width() == pytest.approx(297 / 210, abs=0.01)
    colours = {
        image.pixel(x, y) & 0xFFFFFF
        for x in range(0, image.width(), 2)
        for y in range(0, image.height(), 2)
    }
    assert {0xFFFFFF, 0x0067A6, 0xC44E00} <= colours  # paper, and two arms


@pytest.mark.parametrize("write", [write_pdf, write_png])
def test_that_an_unwritable_place_is_told(qtbot: QtBot, tmp_path: Path, write: object) -> None:
    del qtbot
    assert callable(write)
    with pytest.raises(JournalError, match="cannot be written"):
        write(a_summary(), tmp_path / "nowhere" / "cook.pdf")
    assert list(tmp_path.iterdir()) == []


def test_that_a_file_tells_the_day_it_was_written_and_no_clock(
    qtbot: QtBot, tmp_path: Path
) -> None:
    del qtbot
    path = tmp_path / "cook.pdf"
    write_pdf(a_summary(), path)
    about = PdfReader(path).metadata
    assert about is not None
    for key in ("/CreationDate", "/ModDate"):
        assert re.fullmatch(r"D:\d{8}000000(Z|\+00'00')", str(about[key]))
    assert set(about) <= {
        "/Title",
        "/Creator",
        "/Author",
        "/Producer",
        "/CreationDate",
        "/ModDate",
        "/Trapped",
    }
    assert str(about["/Title"]) == a_summary().title
    assert not str(about["/Author"])
    written = path.read_bytes()
    assert not re.search(rb"Date=\"[-\d]+T(?!00:00:00)", written)
    assert str(Path.home()).encode() not in written


@pytest.mark.parametrize(
    ("said", "kept"),
    [
        (b"(D:20261130142233+05'30')", b"(D:20261130000000+00'00')"),
        (b"(D:20261130142233Z)", b"(D:20261130000000Z)"),
        (b'Date="2026-11-30T14:22:33-06:00"', b'Date="2026-11-30T00:00:00+00:00"'),
    ],
)
def test_that_neither_clock_nor_zone_is_told_and_nothing_moves(said: bytes, kept: bytes) -> None:
    assert without_clock(b"a" + said + b"b") == b"a" + kept + b"b"
    assert len(said) == len(kept)


def photographs(count: int) -> tuple[SummaryPhoto, ...]:
    """Return noisy pictures (seeded), each another: the hardest there are to pack."""
    lot = np.random.default_rng(4)
    photos = []
    for number in range(count):
        out = io.BytesIO()
        pixels = lot.integers(0, 255, (36, 48, 3), dtype=np.uint8)
        Image.fromarray(pixels).resize((480, 360)).save(out, "JPEG", quality=60)
        photos.append(SummaryPhoto(f"photo {number}", "image/jpeg", out.getvalue()))
    return tuple(photos)


def test_that_a_file_holds_photos_byte_for_byte_and_every_reader_finds_its_parts(
    qtbot: QtBot, tmp_path: Path
) -> None:
    del qtbot
    photos = photographs(7)
    summary = replace(a_summary(rows=120), photos=photos)
    write_pdf(summary, tmp_path / "cook.pdf")
    reader = PdfReader(tmp_path / "cook.pdf", strict=True)
    objects = [reader.get_object(number) for number in range(1, len(reader.xref[0]) + 1)]
    streams = [one._data for one in objects if isinstance(one, StreamObject) and "/Width" in one]
    assert streams == [photo.data for photo in photos]
    text = words_of(tmp_path / "cook.pdf")
    assert all(words in text for words in words_in(summary))


def test_that_a_file_without_just_these_photos_stays_as_it_is(qtbot: QtBot) -> None:
    del qtbot
    pdf, _ = pdf_of(replace(a_summary(), photos=photographs(2)), "a4")
    for wrong in ([], [JpegPhoto(b"x", 480, 360)], [JpegPhoto(b"x", 480, 361)] * 2):
        assert with_photos(pdf, wrong) == pdf
    longer = JpegPhoto(b"x" * 10_000_000, 480, 360)
    assert with_photos(pdf, [longer, longer]) == pdf


def test_that_a_summary_printed_on_another_thread_is_the_same(qtbot: QtBot) -> None:
    del qtbot
    load_fonts()
    summary = replace(a_summary(rows=120), photos=photographs(3))
    here = pdf_of(summary, "letter")
    far: list[float] = []
    with ThreadPoolExecutor(1) as pool:
        there = pool.submit(pdf_of, summary, "letter", far.append).result()
    assert there[1] == here[1] == len(far)
    assert far[-1] == 1.0
    pages = [
        [page.extract_text() for page in PdfReader(io.BytesIO(data)).pages]
        for data, _ in (here, there)
    ]
    assert pages[0] == pages[1]
