"""What a cook can show, on the plan: a curve, and the two numbers a cook may say."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.plan.power import PowerCard
from tests.builders import add_comparison
from tests.ui.conftest import Opener


def type_into(qtbot: QtBot, card: PowerCard, name: str, text: str) -> None:
    field = card.worth if name == "worth" else card.guess
    assert field is not None
    field.line.setFocus()
    field.line.clear()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def test_that_a_guess_and_what_is_worth_knowing_draw_the_curve(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    command = add_comparison()
    window.desk.journal.do(command)
    window.go("cook", command.cook.id, "plan")
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, PlanPage)
    card = place.current.power
    qtbot.waitUntil(lambda: "Three packs" in card.view.words.text(), timeout=20_000)
    assert "as large as the spread of the differences within packs" in card.view.words.text()
    type_into(qtbot, card, "worth", "2")
    type_into(qtbot, card, "guess", "1")
    # Five pairs are needed at two standard deviations (Cohen 1988).
    wanted = "five packs would find it 8 times in 10"
    qtbot.waitUntil(lambda: wanted in card.view.words.text().casefold(), timeout=20_000)
    cook = window.desk.journal.find(Cook)[0]
    assert cook.worth_knowing == pytest.approx(2.0)
    assert cook.spread_guess == pytest.approx(1.0)
    type_into(qtbot, card, "guess", "-1")
    assert card.guess is not None
    assert "more than nothing" in card.guess.error.text()
