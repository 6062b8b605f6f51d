"""What is no table of cooks, or means harm: refused in one line, or kept as text."""

import io
import zipfile
from collections.abc import Mapping

import openpyxl
import pytest

from pitjournal.errors import JournalError
from pitjournal.files.old_cooks import read_old_cooks


def _workbook(cells: Mapping[str, object]) -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for place, value in cells.items():
        sheet[place] = value
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _bomb(part: str = "xl/worksheets/sheet1.xml") -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", "<Types/>")
        archive.writestr("xl/workbook.xml", "<workbook/>")
        archive.writestr(part, b"<row/>" * 50_000_000)
    return out.getvalue()


HOSTILE = {
    "nothing": b"",
    "blanks": b"  \n\t\n \r\n",
    "nuls": b"\0" * 4000,
    "a picture": b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20,
    "a page": b"<!doctype html><html><body><table><tr><td>brisket</td></tr></table></body></html>",
    "a locked workbook": b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 2000,
    "a damaged workbook": b"PK\x03\x04" + b"xl/workbook.xml" + b"\x07" * 3000,
    "another archive": b"PK\x03\x04" + b"holiday.txt" + b"\0" * 500,
    "a letter": b"Dear Sir,\n\nthank you for the ribs, they were good.\n\nYours\n",
    "a list of people": b"Name,Street,City\nA,1 Road,Here\nB,2 Road,There\n",
    "a bank statement": b"Date,Payee,Amount\n2021-01-02,Shop,-12.30\n2021-01-03,Shop,-4.00\n",
    "a probe's log": b"time,pit (F),meat (F)\n2021-01-02 10:00,225,41\n2021-01-02 10:01,226,42\n",
    "heads alone": b"Date,Cut,Weight (lb),Pit (F)\n",
    "a shopping list": b"Date,Item,Price\n2021-01-02,pork butt,12.50\n2021-01-03,pork butt,9\n",
    "brackets without end": b"[" * 100_000,
    "a note as long as a book": b'Date,Cut,Hours,Notes\n2021-03-01,brisket,12,"'
    + b"x" * 5_000_000
    + b'"\n',
    "rows without end": b"Date,Cut,Hours\n" + b"2021-03-01,brisket,12\n" * 300_000,
    "a far corner": _workbook({"A1": "Date", "B1": "Cut", "C1": "Hours", "XFD1048576": "x"}),
}


@pytest.mark.parametrize("what", HOSTILE)
def test_that_what_is_no_table_is_refused_in_one_line(what: str) -> None:
    with pytest.raises(JournalError) as refused:
        read_old_cooks(HOSTILE[what], "file.csv")
    assert "\n" not in str(refused.value)
    assert refused.value.hint


@pytest.mark.parametrize("part", ["xl/worksheets/sheet1.xml", "xl/sharedStrings.xml"])
def test_that_a_bomb_is_refused_before_it_goes_off(part: str) -> None:
    with pytest.raises(JournalError, match="unpacks to more"):
        read_old_cooks(_bomb(part), "bomb.xlsx")


def test_that_what_looks_like_code_is_kept_as_text() -> None:
    odd = ['=HYPERLINK("http://x")', "<script>alert(1)</script>", "../../etc", "'; DROP TABLE cook"]
    rows = [
        f'2021-03-0{at + 1},brisket,12,"{text.replace(chr(34), chr(34) * 2)}"'
        for at, text in enumerate(odd)
    ]
    got = read_old_cooks("\n".join(["Date,Cut,Hours,Notes", *rows]).encode(), "old.csv")
    assert [cook.values["notes"] for cook in got.cooks] == odd


def test_that_formulas_without_values_are_not_recorded() -> None:
    cells = {
        "A1": "Date",
        "B1": "Cut",
        "C1": "Hours",
        "A2": "2021-03-04",
        "B2": "brisket",
        "C2": "=A9*2",
    }
    (cook,) = read_old_cooks(_workbook(cells), "old.xlsx").cooks
    assert "time_on" not in cook.values


def test_that_figures_without_end_are_no_figures_and_are_not_lost() -> None:
    rows = [f"2021-03-01,brisket,{'9' * 5000}", "2021-03-02,pork butt,11", "2021-03-03,butt,1/2"]
    got = read_old_cooks("\n".join(["Date,Cut,Hours", *rows]).encode(), "old.csv")
    assert [cook.values.get("time_on") for cook in got.cooks] == [None, 660, 30]
    assert got.cooks[0].others["Hours"] == "9" * 5000
