"""What cannot be read, and what another program left in the journal, is said where it counts."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook
from pitjournal.domain.event import EventKind
from pitjournal.journal import open_journal
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.queries.left_out import left_out_words
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.window import Window
from tests.builders import add_comparison, an_event
from tests.ui.conftest import Opener

EVIL = "CREATE TRIGGER evil AFTER INSERT ON event BEGIN DELETE FROM note; END"


def change(folder: Path, words: str) -> None:
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection, connection:
        connection.execute(words)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with closing(open_journal(tmp_path / "journal", new=True)) as journal:
        for title in ("First", "Second"):
            journal.do(add_comparison(title))
    return tmp_path / "journal"


def settings_of(window: Window) -> str:
    window.go("settings")
    panel = window.panel
    assert panel is not None
    return " ".join(label.text() for label in panel.findChildren(QLabel))


def test_that_a_plan_says_which_cooks_it_could_not_ask(
    folder: Path, open_window: Opener, qtbot: QtBot
) -> None:
    change(folder, "UPDATE cook SET starts_at = 'not a time' WHERE title = 'First'")
    window = open_window()
    cook = window.desk.journal.find(Cook)[0]
    window.go("cook", cook.id, "plan")
    plan = window.place.findChild(PlanPage)
    assert plan is not None
    qtbot.waitUntil(lambda: "cannot be read is left out" in plan.schedule.sources.text())
    assert left_out_words(window.desk.journal) == "1 cook that cannot be read is left out."


def test_that_what_acts_by_itself_is_said_to_be_taken_out_at_the_opening(
    folder: Path, open_window: Opener, qtbot: QtBot
) -> None:
    change(folder, EVIL)
    window = open_window()
    qtbot.waitUntil(lambda: "the trigger evil" in window.bar.accessibleName())
    assert "the trigger evil" in settings_of(window)


def test_that_it_is_said_once_when_it_is_put_in_while_the_journal_is_open(
    folder: Path, open_window: Opener
) -> None:
    window = open_window()
    bridge, told = window.desk.bridge, list[str]()
    bridge.told.connect(told.append)
    change(folder, EVIL)
    cook = window.desk.journal.find(Cook)[0]
    for _ in range(2):
        bridge.do(LogEvent(an_event(cook.id, EventKind.LID), "Lid"))
    assert len([said for said in told if "the trigger evil" in said]) == 1
