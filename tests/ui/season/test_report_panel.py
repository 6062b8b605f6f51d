"""A season, chosen cooks, a class sheet and a card are written from the window."""

from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pitjournal.domain.contest import Contest
from pitjournal.domain.cook import Cook
from pitjournal.files.bundle.content import SUFFIX
from pitjournal.files.summary import PrivatePart
from pitjournal.files.summary.posted import SIZES, Shape
from pitjournal.journal.commands.records import Add, Change
from pitjournal.ui.cooks.page import CooksPage
from pitjournal.ui.findings.share_extras import CLASS
from pitjournal.ui.findings.share_panel import SharePanel
from pitjournal.ui.season.page import SeasonPage
from pitjournal.ui.season.report_panel import ReportPanel
from pitjournal.ui.summary_formats import PICTURE
from pitjournal.ui.window import Window
from tests.builders import NOON, add_comparison
from tests.ui.conftest import Opener


@pytest.fixture
def window(open_window: Opener) -> Window:
    """Return a window on a journal with two comparisons, a cost, and a contest."""
    made = open_window()
    journal = made.desk.journal
    for title in ("Does injecting change the bite?", "Does it again?"):
        journal.do(add_comparison(title))
    cook = min(journal.find(Cook), key=lambda one: one.number)
    journal.do(Change(Cook, cook.id, {"cost": 87.65}))
    contest = Contest(name="Spring", starts_at=NOON, zone="UTC", place="Upper Field", paid=150.25)
    journal.do(Add((contest,), "A contest"))
    return made


def panel_of(window: Window) -> ReportPanel:
    return window.findChildren(ReportPanel)[-1]


def written(qtbot: QtBot, panel: ReportPanel | SharePanel, target: Path) -> Path:
    panel.target.setText(str(target))
    qtbot.mouseClick(panel.write, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(target.exists, timeout=20_000)
    return target


def test_that_a_season_is_written_with_what_was_chosen(
    window: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    window.go("season")
    page = window.place
    assert isinstance(page, SeasonPage)
    qtbot.mouseClick(page.report, Qt.MouseButton.LeftButton)
    panel = panel_of(window)
    assert "costs and prizes" in panel.stays.text()
    assert "where contests were" in panel.stays.text()
    panel.parts.choose(PrivatePart.COSTS)
    panel.parts.chosen.emit(PrivatePart.COSTS)
    assert "costs and prizes" in panel.leaves.text()
    page_of = written(qtbot, panel, tmp_path / "season.html").read_text(encoding="utf-8")
    assert "87.65" in page_of
    assert "Upper Field" not in page_of


def test_that_what_is_no_format_is_said_on_the_panel(window: Window, qtbot: QtBot) -> None:
    window.go("season")
    page = window.place
    assert isinstance(page, SeasonPage)
    page.write_report()
    panel = panel_of(window)
    panel.target.setText("season.docx")
    qtbot.mouseClick(panel.write, Qt.MouseButton.LeftButton)
    assert "could be anything" in panel.problem.text()
    panel.form.choose(".html")
    panel.form.chosen.emit(".html")
    assert panel.target.text().endswith("season.html")


def test_that_chosen_cooks_are_reported_on(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    window.go("cooks")
    page = window.place
    assert isinstance(page, CooksPage)
    page.choose()
    assert not page.report.isEnabled()
    page.list_all()
    assert page.report.isEnabled()
    qtbot.mouseClick(page.report, Qt.MouseButton.LeftButton)
    target = written(qtbot, panel_of(window), tmp_path / "cooks.pdf")
    text = " ".join(" ".join(one.extract_text().split()) for one in PdfReader(target).pages)
    assert "2 cooks, what they showed" in text


def shared(window: Window, sort: str) -> SharePanel:
    cook = min(window.desk.journal.find(Cook), key=lambda one: one.number)
    panel = SharePanel(window.desk, window, cook.id)
    panel.open_panel()
    panel.form.choose(sort)
    panel.form.chosen.emit(sort)
    return panel


def test_that_a_class_sheet_asks_for_how_many(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    panel = shared(window, CLASS)
    assert panel.extras.pieces.isVisibleTo(panel)
    assert not panel.parts.isVisibleTo(panel)  # of these none ever leaves with a sheet
    panel.extras.pieces.setText("many")
    panel.target.setText(str(tmp_path / "sheet.html"))
    qtbot.mouseClick(panel.write, Qt.MouseButton.LeftButton)
    assert "A class of “many” pieces cannot be." in panel.problem.text()
    panel.extras.pieces.setText("30")
    page = written(qtbot, panel, tmp_path / "sheet.html").read_text(encoding="utf-8")
    assert "For 30 pieces of each arm" in page


def test_that_a_picture_has_the_shape_that_was_chosen(
    window: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    panel = shared(window, PICTURE)
    assert panel.extras.shape.isVisibleTo(panel)
    assert not panel.extras.pieces.isVisibleTo(panel)
    panel.extras.shape.choose(Shape.TALL)
    target = written(qtbot, panel, tmp_path / "card.png")
    with Image.open(target) as card:
        assert card.size == SIZES[Shape.TALL]


def test_that_clock_times_leave_with_data_only_where_they_are_chosen(window: Window) -> None:
    panel = shared(window, SUFFIX)
    assert "clock times" in panel.stays.text()
    assert "clock times" not in panel.leaves.text()
    panel.parts.choose(PrivatePart.TIMES)
    panel.parts.chosen.emit(PrivatePart.TIMES)
    assert "clock times" in panel.leaves.text()
    assert "clock times" not in panel.stays.text()
