"""A new cook that was begun is offered again: after a kill, after something else, until started."""

from collections.abc import Callable
from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.journal import open_journal
from pitjournal.store.drafts import FILE_NAME, Drafts
from pitjournal.ui.look.parts.pauses import AT_LATEST
from pitjournal.ui.plan.new_cook import NewCookPage
from pitjournal.ui.window import Window
from tests.builders import add_comparison
from tests.ui.conftest import Opener
from tests.ui.plan.test_new_cook import chip, new_cook, type_into


def begun(qtbot: QtBot, page: NewCookPage) -> None:
    """Begin a comparison, as a cook would."""
    type_into(page.question, "Does needling pay?")
    chip(qtbot, page.ways, "injected")
    chip(qtbot, page.ways, "needled")
    type_into(page.cut, "back ribs")
    chip(qtbot, page.count, "5")
    type_into(page.set_point, "250-275")
    type_into(page.when, "Saturday 9:00")
    page.set_point.line.setText("hot")
    page.set_point.line.setModified(True)
    page.set_point.commit()


def test_that_typing_is_kept_within_three_seconds_without_leaving_the_field(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    window.show()
    page = new_cook(window)
    page.question.line.setFocus()
    QTest.keyClicks(page.question.line, "Does foil pay")
    folder = window.desk.journal.folder

    def kept() -> list[str]:  # as another start would read it, from the disk
        return [one["lines"]["question"] for one in Drafts(folder / FILE_NAME).all()]

    qtbot.waitUntil(lambda: kept() == ["Does foil pay"], timeout=AT_LATEST + 500)
    assert window.desk.journal.steps() == (None, None)  # no step that undo would take back


def test_that_all_of_it_stands_there_again_after_a_restart(
    qtbot: QtBot, open_window: Opener, reopen: Callable[[Window], Window]
) -> None:
    window = open_window()
    page = new_cook(window)
    begun(qtbot, page)
    starts, seed = page.starts_at, page.seed
    page.begun.keep()
    window = reopen(window)
    page = new_cook(window)
    assert page.question.line.text() == ""
    assert "“Does needling pay?”" in page.begun.says.text()
    qtbot.mouseClick(page.begun.go_on, Qt.MouseButton.LeftButton)
    assert page.begun.isHidden()
    assert page.question.line.text() == "Does needling pay?"
    assert window.focusWidget() is page.question.line  # Enter again leaves nothing
    assert page.what.ways().treatments == (TreatmentKind.NONE, TreatmentKind.NEEDLED)
    assert page.count.values() == (5,)
    assert (page.starts_at, page.seed) == (starts, seed)
    assert (page.set_point.line.text(), page.set_point.is_wrong) == ("hot", True)
    type_into(page.set_point, "250")
    qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)
    assert len(window.desk.journal.find(Arm)) == 2
    assert window.desk.journal.find(Cook)[0].starts_at == starts
    assert not window.desk.journal.drafts.all()


def test_that_beginning_something_else_writes_over_nothing(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    window.desk.journal.do(add_comparison())
    page = new_cook(window)
    begun(qtbot, page)
    page.start_from(window.desk.journal.find(Cook)[0].id)  # "again" on another cook's Plan
    type_into(page.question, "The same again")
    page.begun.keep()
    titles = [one["title"] for one in window.desk.journal.drafts.all()]
    assert titles == ["Does needling pay?", "The same again"]
    assert "“Does needling pay?”" in page.begun.says.text()
    qtbot.mouseClick(page.begun.go_on, Qt.MouseButton.LeftButton)
    assert page.cut.line.text() == "back ribs"
    assert "“The same again”" in page.begun.says.text()
    qtbot.mouseClick(page.begun.forget, Qt.MouseButton.LeftButton)
    assert page.begun.isHidden()
    assert len(window.desk.journal.drafts.all()) == 1
    assert page.question.line.text() == "Does needling pay?"


def test_that_a_day_that_has_passed_is_tomorrows(
    qtbot: QtBot, open_window: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = open_window()
    page = new_cook(window)
    type_into(page.cut, "brisket")
    type_into(page.when, "tomorrow 6:30")
    page.begun.begin_anew()
    later = window.desk.now() + timedelta(days=9)
    monkeypatch.setattr(window.desk, "clock", lambda: later)
    page.clear()
    qtbot.mouseClick(page.begun.go_on, Qt.MouseButton.LeftButton)
    assert timedelta(0) < page.starts_at - later < timedelta(days=2)
    assert page.when.line.text().endswith("06:30")


def test_that_a_journal_only_read_keeps_no_draft_and_says_no_fault(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    folder = window.desk.journal.folder
    page = new_cook(window)
    begun(qtbot, page)
    page.begun.keep()
    with_second = open_journal(folder, read_only=True)
    assert with_second.read_only
    assert len(with_second.drafts.all()) == 1
    with_second.close()


def test_that_a_strange_or_damaged_file_of_drafts_harms_nothing(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    path = window.desk.journal.folder / "drafts.json"
    page = new_cook(window)
    odd = (
        '{"id": "x", "lines": {"cut": 7, "when": "??", "nothing": "a"}, "choices": {"count": [99],'
    )
    odd += '"things": "wrap"}, "starts": 5, "seed": "no", "like": "gone", "sort": [], "at": 3}'
    for text in ("", "[]", "{", '{"drafts": 3}', '{"drafts": [1, {"id": 2}]}'):
        path.write_text(text, encoding="utf-8")
        page.begun.offer()
        assert page.begun.isHidden()
    path.write_text(f'{{"drafts": [{odd}]}}', encoding="utf-8")
    page.begun.offer()
    qtbot.mouseClick(page.begun.go_on, Qt.MouseButton.LeftButton)
    assert page.cut.line.text() == ""
    assert page.draft().blocks >= 1
