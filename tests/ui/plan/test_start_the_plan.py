"""Start the plan: what is missing is said where it is looked for, and no click is lost."""

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.ui.look.parts import through_list
from pitjournal.ui.plan.new_cook import NewCookPage
from pitjournal.ui.window import Window
from tests.ui.conftest import Opener

LEFT = Qt.MouseButton.LeftButton


def new_cook(window: Window) -> NewCookPage:
    window.show()
    window.go("new cook")
    assert isinstance(window.place, NewCookPage)
    return window.place


@pytest.mark.parametrize("typed", ["", "19 4"])
def test_that_a_cook_without_a_meat_says_in_the_bar_why_it_is_not_started(
    qtbot: QtBot, open_window: Opener, typed: str
) -> None:
    window = open_window()
    page = new_cook(window)
    refused: list[str] = []
    window.desk.bridge.refused.connect(refused.append)
    page.cut.line.setText(typed)
    qtbot.mouseClick(page.start, LEFT)
    assert refused == ["Not started: say what meat it is, such as back ribs."]
    assert "Say what meat it is" in page.cut.error.text()
    assert not window.desk.journal.cooks.page()


def test_that_a_click_beside_an_open_list_of_words_is_not_lost(
    qtbot: QtBot, open_window: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(through_list, "swallows", lambda: True)  # as X11 has it
    window = open_window()
    page = new_cook(window)
    qtbot.keyClicks(page.cut.line, "zz")  # no such word: the list is made, and stays shut
    popup = page.cut.line.completer().popup()
    assert popup is not None
    at = QPointF(page.start.mapToGlobal(page.start.rect().center()))
    press = QMouseEvent(
        QEvent.Type.MouseButtonPress,
        QPointF(popup.mapFromGlobal(at.toPoint())),
        at,
        LEFT,
        LEFT,
        Qt.KeyboardModifier.NoModifier,
    )
    clicked: list[bool] = []
    page.start.clicked.connect(lambda *_: clicked.append(True))
    monkeypatch.setattr(page, "start_plan", lambda: None)
    QApplication.sendEvent(popup, press)
    qtbot.waitUntil(lambda: bool(clicked))
    assert clicked == [True]
