"""Bringing old cooks along in the window: nothing before Keep, all in one step, asked once."""

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QPushButton, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook
from pitjournal.domain.piece import Weighing
from pitjournal.files.old_cooks import ColumnAnswer
from pitjournal.ui.cook.place import over_line
from pitjournal.ui.old_cooks.page import BringPage
from pitjournal.ui.window import Window
from tests.ui.conftest import Opener

TABLE = """Date,Meat,Weight,Pit (F),Hours,Song
3/14/2021,brisket,12,250,12.5,one
4/20/2021,pork butt,8,250,11,two
5/30/2021,pork butt,9,225,14,three
Total,,29,,37.5,
"""

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")
"""A popup that no screen shows."""


@pytest.fixture
def table(tmp_path: Path) -> Path:
    """Return a table of three cooks whose weights have no unit."""
    path = tmp_path / "old.csv"
    path.write_text(TABLE, encoding="utf-8")
    return path


def opened(window: Window, qtbot: QtBot, table: Path) -> BringPage:
    window.go("old cooks")
    page = window.place
    assert isinstance(page, BringPage)
    page.open_file(table)
    qtbot.waitUntil(lambda: page.read is not None and bool(page.rows), timeout=20_000)
    return page


def answer(page: BringPage, qtbot: QtBot, head: str, said: ColumnAnswer) -> None:
    before = page.read
    row = next(one for one in page.rows if one.column.header == head)
    row.answered.emit(row.column.letter, said)
    qtbot.waitUntil(lambda: page.read is not before, timeout=20_000)


def test_that_a_table_is_shown_and_nothing_is_kept_yet(
    open_window: Opener, qtbot: QtBot, table: Path
) -> None:
    window = open_window()
    page = opened(window, qtbot, table)
    assert page.header.title.accessibleName() == "3 cooks read, one thing to look at"
    assert [row.column.header for row in page.rows if row.column.uncertain] == ["Weight"]
    assert page.keep.text() == "Keep 3 cooks, 1 unsettled"
    assert window.desk.journal.cooks.count() == 0


def test_that_what_is_settled_by_keys_is_read_so(
    open_window: Opener, qtbot: QtBot, table: Path
) -> None:
    window = open_window()
    window.show()
    page = opened(window, qtbot, table)
    page.settle_next()
    row = next(one for one in page.rows if one.column.uncertain)
    kilos = next(
        chip
        for chip in row.question.findChildren(QWidget)
        if chip.accessibleName().startswith("kg")
    )
    before = page.read
    kilos.setFocus()
    qtbot.keyClick(kilos, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: page.read is not before, timeout=20_000)
    assert page.read is not None
    assert not page.read.old.questions
    assert page.read.old.cooks[0].values["mass_on"] == pytest.approx(12_000)  # g, by definition


def test_that_cooks_are_kept_in_one_step_and_say_where_they_come_from(
    open_window: Opener, qtbot: QtBot, table: Path
) -> None:
    window = open_window()
    page = opened(window, qtbot, table)
    answer(page, qtbot, "Weight", ColumnAnswer(unit="lb"))
    qtbot.mouseClick(page.keep, Qt.MouseButton.LeftButton)
    journal = window.desk.journal
    assert journal.cooks.count() == 3
    # 12 lb by the international pound of 0.45359237 kg
    assert max(one.mass or 0 for one in journal.find(Weighing)) == pytest.approx(5443.108)
    cook = journal.find(Cook)[0]
    assert "brought along from old.csv" in over_line(journal.whole(cook.id), window.desk.system)
    window.desk.bridge.undo()
    assert journal.cooks.count() == 0
    assert not journal.find(Weighing)


def test_that_the_same_table_again_is_neither_asked_nor_added_twice(
    open_window: Opener, qtbot: QtBot, table: Path
) -> None:
    window = open_window()
    page = opened(window, qtbot, table)
    answer(page, qtbot, "Weight", ColumnAnswer(unit="kg"))
    qtbot.mouseClick(page.keep, Qt.MouseButton.LeftButton)
    page = opened(window, qtbot, table)
    qtbot.waitUntil(lambda: page.keep.text() == "All are kept already", timeout=20_000)
    assert not page.keep.isEnabled()
    table.write_text(TABLE.replace("Total", "6/12/2021,brisket,11,250,12,four\nTotal"))
    page = opened(window, qtbot, table)
    qtbot.waitUntil(lambda: page.keep.text() == "Keep 1 cook", timeout=20_000)


def test_that_a_column_becomes_what_the_cook_says(
    open_window: Opener, qtbot: QtBot, table: Path
) -> None:
    page = opened(open_window(), qtbot, table)
    answer(page, qtbot, "Song", ColumnAnswer(variable="title"))
    assert page.read is not None
    assert [cook.title for cook in page.read.old.cooks] == ["one", "two", "three"]


def test_that_a_dropped_page_is_refused_in_a_line_and_the_table_stays(
    open_window: Opener, qtbot: QtBot, tmp_path: Path, table: Path
) -> None:
    window = open_window()
    page = opened(window, qtbot, table)
    saved = tmp_path / "saved.xls"
    saved.write_text("<html><table><tr><td>brisket</td></tr></table></html>")
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(saved))])
    page.dropEvent(
        QDropEvent(
            QPointF(QPoint(20, 20)),
            Qt.DropAction.CopyAction,
            data,
            Qt.MouseButton.LeftButton,
            Qt.KeyboardModifier.NoModifier,
        )
    )
    qtbot.waitUntil(lambda: "not a table of cooks" in page.problem.text(), timeout=20_000)
    assert window.desk.journal.cooks.count() == 0


@pytest.mark.parametrize("place", ["cooks", "trends"])
def test_that_an_empty_page_offers_it(open_window: Opener, qtbot: QtBot, place: str) -> None:
    window = open_window()
    window.show()
    window.go(place)
    offered = next(
        one
        for one in window.place.findChildren(QPushButton)
        if one.text() == "Bring old cooks along" and one.isVisible()
    )
    qtbot.mouseClick(offered, Qt.MouseButton.LeftButton)
    assert isinstance(window.place, BringPage)


def test_that_what_is_not_settled_is_kept_as_a_note_and_no_figure(
    open_window: Opener, qtbot: QtBot, table: Path
) -> None:
    window = open_window()
    page = opened(window, qtbot, table)
    qtbot.mouseClick(page.keep, Qt.MouseButton.LeftButton)
    journal = window.desk.journal
    assert journal.cooks.count() == 3
    assert not journal.find(Weighing)
    assert any("Weight: 12" in cook.note for cook in journal.find(Cook))
    page = opened(window, qtbot, table)
    answer(page, qtbot, "Weight", ColumnAnswer(unit="lb"))
    assert page.keep.text() == "All are kept already"


def test_that_dates_that_can_be_read_two_ways_must_be_settled_first(
    open_window: Opener, qtbot: QtBot, table: Path
) -> None:
    table.write_text(
        "Date,Meat,Hours\n3/4/2021,brisket,12\n5/6/2021,pork butt,11\n2/1/2021,butt,9\n"
    )
    page = opened(open_window(), qtbot, table)
    assert not page.keep.isEnabled()
    answer(page, qtbot, "Date", ColumnAnswer(day_first=True))
    assert page.keep.isEnabled()
    assert page.read is not None
    assert [str(one.date) for one in page.read.old.cooks] == [
        "2021-04-03",
        "2021-06-05",
        "2021-01-02",
    ]


def test_that_a_table_without_heads_is_asked_in_plain_words(
    open_window: Opener, qtbot: QtBot, table: Path
) -> None:
    table.write_text("3/14/2021,brisket,12 lb,12.5 h\n4/20/2021,pork butt,8 lb,11 h\n")
    page = opened(open_window(), qtbot, table)
    assert all(row.column.uncertain for row in page.rows)
    said = " ".join(row.said.text() for row in page.rows)
    assert "“weight on”" in said
    assert "_" not in said
