"""The line a question is typed in: what is typed stays, and an error has no answer beside it."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.domain.piece import Piece
from pitjournal.journal.commands.records import AddCook
from pitjournal.ui.look.theme import look
from pitjournal.ui.trends.page import TrendsPage
from tests.builders import a_cook
from tests.ui.conftest import Opener

ENTER = Qt.Key.Key_Return

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")
"""A popup that no screen shows."""


@pytest.fixture
def page(open_window: Opener, qtbot: QtBot) -> TrendsPage:
    """Return Trends over a brisket and a brisket flat."""
    window = open_window()
    for number, cut in enumerate(("brisket flat", "brisket point", "brisket")):
        cook = a_cook(f"Cook {number}", place="yard")
        piece = Piece(cook_id=cook.id, position=0, label="A", cut=cut, thickness_1=0.05)
        window.desk.journal.do(AddCook(cook, (piece,)))
    window.go("trends")
    found = window.place
    assert isinstance(found, TrendsPage)
    qtbot.waitUntil(lambda: found.answer is not None, timeout=20_000)
    return found


def typed(qtbot: QtBot, page: TrendsPage, text: str) -> QWidget:
    """Type a sentence; return what the next key goes to."""
    page.ask_line.line.clear()
    qtbot.keyClicks(page.ask_line.line, text)
    completer = page.ask_line.line.completer()
    assert completer is not None
    popup = completer.popup()
    return popup if popup is not None and popup.isVisible() else page.ask_line.line


@pytest.mark.parametrize("cut", ["brisket", "brisk"])
def test_that_enter_keeps_what_was_typed(qtbot: QtBot, page: TrendsPage, cut: str) -> None:
    text = f"thickness by cut where cut is {cut}"
    qtbot.keyClick(typed(qtbot, page, text), ENTER)
    assert page.ask_line.line.text() == text
    assert page.question == Question("thickness", (By("cut"),), (Where("cut", Sign.IS, (cut,)),))


def test_that_another_word_of_the_trade_stays_as_it_was_typed(
    qtbot: QtBot, page: TrendsPage
) -> None:
    qtbot.keyClick(typed(qtbot, page, "thickness by location"), ENTER)
    assert page.question == Question("thickness", (By("place"),))
    assert page.ask_line.line.text() == "thickness by location"


def test_that_one_that_was_walked_to_is_taken(qtbot: QtBot, page: TrendsPage) -> None:
    popup = typed(qtbot, page, "thickness by cut where cut is brisket")
    if popup is page.ask_line.line:
        pytest.skip("nothing is offered where no popup can be shown")
    qtbot.keyClick(popup, Qt.Key.Key_Down)
    offered = page.ask_line.line.text()
    qtbot.keyClick(popup, ENTER)
    assert page.ask_line.line.text() == offered


def test_that_an_error_takes_the_old_answer_away(qtbot: QtBot, page: TrendsPage) -> None:
    answers = page.answer_card
    for wrong in ("thickness by cutt", "cut by cut"):
        qtbot.keyClick(typed(qtbot, page, wrong), ENTER)
        assert page.ask_line.problem.text()
        assert not answers.isVisibleTo(page)
        assert page.ask_line.line.text() == wrong
        qtbot.keyClick(typed(qtbot, page, "thickness by cut"), ENTER)
        assert page.ask_line.problem.text() == ""
        assert answers.isVisibleTo(page)


def test_that_the_colours_of_a_sentence_leave_what_is_typed_and_where_as_it_is(
    qtbot: QtBot, page: TrendsPage
) -> None:
    line = page.ask_line.line
    typed(qtbot, page, "thickness by ct")
    line.setCursorPosition(14)
    qtbot.keyClicks(line, "u")
    assert line.text() == "thickness by cut"
    assert line.cursorPosition() == 15
    line.undo()
    assert line.text() != "thickness by cut"


def test_that_what_is_asked_for_stands_out_and_what_holds_it_together_steps_back(
    page: TrendsPage,
) -> None:
    line = page.ask_line.line
    line.setText("thickness")
    asked = inked(line)
    line.setText("by")
    assert asked > 50
    assert inked(line) == 0


def inked(line: QWidget) -> int:
    """Return how many pixels have the full ink."""
    image, ink = line.grab().toImage(), QColor(look().theme.ink)
    return sum(
        image.pixelColor(x, y) == ink for x in range(8, 200) for y in range(8, image.height() - 8)
    )
