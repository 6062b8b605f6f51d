"""What is made ahead: loaded by the worker, made in turns of its own, in order, once."""

import threading

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCompleter
from pytestqt.qtbot import QtBot

from pitjournal.ui.cook.place import PAGES, CookPlace
from pitjournal.ui.later import Ahead, Later
from pitjournal.ui.look.parts.fields import TextField
from pitjournal.ui.page import Page
from pitjournal.ui.plan.page import ARMS, PIECES, PlanPage
from pitjournal.ui.shelf.page import ShelfPage
from pitjournal.ui.window import AHEAD
from tests.ui.conftest import Opener


def test_that_things_are_loaded_by_the_worker_and_done_in_the_window_in_order(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    ahead, mine = Ahead(window.desk.bridge, window), threading.get_ident()
    seen: list[tuple[str, bool]] = []

    def note(what: str) -> None:
        seen.append((what, threading.get_ident() == mine))

    left = ["b2", "b1"]

    def again() -> bool:
        note(left.pop())
        return bool(left)

    ahead.add(lambda: note("load a"), lambda: note("a"))
    ahead.add(lambda: note("load b"), again)
    ahead.start(0)
    assert not seen
    qtbot.waitUntil(lambda: ahead.over, timeout=60_000)
    assert seen == [
        ("load a", False),
        ("a", True),
        ("load b", False),
        ("b1", True),
        ("load b", False),
        ("b2", True),
    ]


def test_that_nothing_more_is_made_once_it_is_stopped(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    ahead = Ahead(window.desk.bridge, window)
    done: list[str] = []
    ahead.add(lambda: None, lambda: done.append("a"))
    ahead.start(0)
    ahead.stop()
    qtbot.waitUntil(lambda: not window.desk.bridge.waits, timeout=60_000)
    assert ahead.over
    assert not done


def test_that_a_page_is_found_once_it_is_needed(open_window: Opener) -> None:
    found: list[str] = []

    def find() -> type[ShelfPage]:
        found.append("found")
        return ShelfPage

    later = Later(find)
    assert not found
    later.load()
    assert found == ["found"]
    assert isinstance(later(open_window().desk), ShelfPage)


def test_that_every_place_is_made_ahead_and_shown_as_one_made_when_gone_to(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    qtbot.waitUntil(lambda: window.ahead.over and not window.desk.bridge.waits, timeout=60_000)
    assert {"cooks", "cook", *AHEAD} <= window._places.keys()
    place = window._places["cook"]
    assert isinstance(place, CookPlace)
    assert place._pages.keys() == {name for name, _ in PAGES}
    plan = place._pages["plan"]
    assert isinstance(plan, PlanPage)
    assert (len(plan.arms.rows.rows), len(plan.pieces.rows.rows)) == (ARMS, PIECES)
    assert not any(row.isVisibleTo(plan) for row in (*plan.arms.rows.rows, *plan.pieces.rows.rows))
    before: dict[str, Page] = dict(window._places)
    for name in AHEAD:
        window.go(name)
        assert window.place is before[name]


@pytest.mark.qt_log_ignore("This plugin does not support")  # a popup that no screen shows
@pytest.mark.usefixtures("qapp")
def test_that_a_field_completes_from_its_first_key_on(qtbot: QtBot) -> None:
    field = TextField("Cut", lambda *_: "", used=("brisket", "back ribs"))
    qtbot.addWidget(field)
    field.show()
    field.offer(("brisket", "beef ribs"))
    assert field.line.completer() is None
    field.line.setFocus()
    qtbot.keyClick(field.line, Qt.Key.Key_B)
    completer: QCompleter = field.line.completer()
    assert completer.completionPrefix() == "b"
    assert completer.completionCount() == 2
    qtbot.keyClick(field.line, Qt.Key.Key_R)
    assert completer.completionPrefix() == "br"
    assert completer.currentCompletion() == "brisket"
    field.offer(("brioche",))
    assert field.line.completer() is completer
    qtbot.keyClick(field.line, Qt.Key.Key_I)
    assert completer.currentCompletion() == "brioche"
