"""The lists panel, and the card on paper."""

from pathlib import Path
from typing import cast

from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from pitjournal.ui.plan.card import PACK, PREPARE
from pitjournal.ui.plan.lists_panel import ListsPanel
from pitjournal.ui.plan.page import PlanPage
from tests.ui.conftest import Opener
from tests.ui.plan.test_schedule import open_plan, work_out


def test_that_the_day_and_its_lists_are_printed(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window = open_window()
    card, _ = open_plan(window)
    work_out(qtbot, card)
    page = cast("PlanPage", window.place.current)  # type: ignore[attr-defined]
    page.show_lists()
    panel = window.findChild(ListsPanel)
    assert panel is not None
    assert panel.shown.lines[0] == "9 × St. Louis ribs, in 3 packs of 3"
    panel.which.choose(PREPARE)
    panel._show()
    assert any("Trim and weigh (all 9)" in line for line in panel.shown.lines)
    panel.which.choose(PACK)
    panel._copy()
    assert QGuiApplication.clipboard().text() == panel.shown.text
    panel.target.setText(str(tmp_path / "day.txt"))
    qtbot.mouseClick(panel.print, Qt.MouseButton.LeftButton)
    assert panel.problem.text() == "End it in .pdf."
    panel.target.setText(str(tmp_path / "no such folder" / "day.pdf"))
    qtbot.mouseClick(panel.print, Qt.MouseButton.LeftButton)
    problem = panel.problem
    qtbot.waitUntil(lambda: "cannot be written" in problem.text(), timeout=20_000)
    qtbot.waitUntil(panel.print.isEnabled)
    panel.target.setText(str(tmp_path / "day.pdf"))
    qtbot.mouseClick(panel.calendar, Qt.MouseButton.LeftButton)
    qtbot.waitUntil((tmp_path / "day.ics").exists, timeout=20_000)
    calendar = (tmp_path / "day.ics").read_text(encoding="utf-8")
    assert "SUMMARY:Off when right (all 9)\n" in calendar
    assert calendar.count("BEGIN:VEVENT") == calendar.count("BEGIN:VALARM") > 5
    qtbot.waitUntil(lambda: not window.findChildren(ListsPanel), timeout=20_000)
    page.show_lists()
    panel = window.findChild(ListsPanel)
    assert panel is not None
    target = tmp_path / "day.pdf"
    panel.target.setText(str(target))
    qtbot.mouseClick(panel.print, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(target.exists, timeout=20_000)
    text = " ".join(" ".join(p.extract_text() for p in PdfReader(target).pages).split())
    for words in (
        "Does injecting change the bite?",
        "18:00",
        "Off when right",
        "To pack",
        "pack 2",
    ):
        assert words in text, words
