"""The pages as a real browser shows them, where the machine has one: narrow, by night, in print.

Nothing is read from outside (W3C Resource Timing lists what a page fetched), nothing makes the page
itself scroll sideways at 360 px (WCAG 2.2, 1.4.10 asks for 320), day and night are told apart.
"""

import html
import io
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from pypdf import PdfReader

from pitjournal.files.summary import to_html
from pitjournal.files.summary.report import Report, ReportPart, report_to_html
from tests.files.summary.sample import a_summary
from tests.files.summary.test_posted import A_CHART

BROWSER = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "chrome"))), "")
LONG = "An endless_name_without_any_place_to_break_it_that_somebody_typed_in_one_word " * 3

pytestmark = pytest.mark.skipif(not BROWSER, reason="this machine has no such browser")

MEASURES = """<script>onload = () => {
  document.title = [...document.querySelectorAll("iframe")].map(one => {
    const page = one.contentDocument, root = page.documentElement;
    const fetched = one.contentWindow.performance.getEntriesByType("resource").length;
    const ground = one.contentWindow.getComputedStyle(page.body).backgroundColor;
    return [root.scrollWidth, root.clientWidth, fetched, ground].join("|");
  }).join(";");
}</script>"""


def pages() -> tuple[str, ...]:
    parts = (
        ReportPart(LONG, under=LONG, warns=(LONG,), plate=A_CHART, facts=((LONG, LONG),)),
        ReportPart("Method", steps=(LONG,), listed=(LONG,), quiet=(LONG,)),
    )
    return to_html(a_summary()), report_to_html(Report(LONG, LONG, parts=parts))


def run(folder: Path, *options: str) -> bytes:
    """Return what the browser says, with nothing of its own done beside."""
    quiet = ("--disable-background-networking", "--disable-component-update", "--no-first-run")
    command = (BROWSER, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", *quiet)
    place = f"--user-data-dir={folder / 'own'}"
    return subprocess.run(
        [*command, place, *options], capture_output=True, check=True, timeout=60
    ).stdout


def measured(folder: Path, *options: str) -> list[list[str]]:
    """Return of each page at 360 px: how wide it is, how wide its window, what it fetched, its ground."""
    frames = "".join(
        f'<iframe style="width:360px;height:800px;border:0" srcdoc="{html.escape(page)}"></iframe>'
        for page in pages()
    )
    wrapper = folder / "frames.html"
    wrapper.write_text(f"<!DOCTYPE html>{MEASURES}{frames}", encoding="utf-8")
    told = run(folder, *options, "--dump-dom", wrapper.as_uri()).decode()
    title = re.search(r"<title>(.*?)</title>", told)
    assert title is not None
    return [one.split("|") for one in html.unescape(title[1]).split(";")]


def test_that_no_page_scrolls_sideways_fetches_or_blinds_at_night(tmp_path: Path) -> None:
    day = measured(tmp_path)
    night = measured(tmp_path, "--blink-settings=preferredColorScheme=0")
    assert len(day) == len(night) == len(pages())
    for wide, window, fetched, _ in (*day, *night):
        assert int(wide) <= int(window) == 360
        assert fetched == "0"
    assert {one[3] for one in day} == {"rgb(245, 240, 230)"}
    assert {one[3] for one in night} == {"rgb(21, 18, 16)"}


def test_that_a_page_prints_whole(tmp_path: Path) -> None:
    page, paper = tmp_path / "page.html", tmp_path / "page.pdf"
    page.write_text(pages()[0], encoding="utf-8")
    run(tmp_path, f"--print-to-pdf={paper}", "--no-pdf-header-footer", page.as_uri())
    reader = PdfReader(io.BytesIO(paper.read_bytes()))
    text = " ".join(" ".join(one.extract_text() for one in reader.pages).split())
    summary = a_summary()
    assert summary.title in text
    for words in (*summary.words, *(label for label, _ in summary.facts)):
        assert " ".join(words.split()) in text
