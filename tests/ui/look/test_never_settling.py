"""What scrolls bears what it holds: also what asks for another size at each size it has."""

import pytest
from PySide6.QtCore import QSize
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.ui.look.parts.reflow import NARROW, WIDE, Reflow
from pitjournal.ui.look.parts.scroll import DEEPEST, scroll
from pitjournal.ui.look.parts.words import column
from pitjournal.ui.page import scrolled

BREAK = 1080


def card(least: int) -> QWidget:
    made = QWidget()
    layout = QVBoxLayout(made)
    label = QLabel("a word without end")
    label.setMinimumWidth(least)
    layout.addWidget(label)
    return made


@pytest.mark.parametrize("width", [700, 1000, 1120, 1140, 1200, 2600])
@pytest.mark.parametrize("least", [10, BREAK + 20, 2400])
def test_that_cards_settle_whatever_one_of_them_asks_for(
    qtbot: QtBot, width: int, least: int
) -> None:
    one, other = card(10), card(least)
    cards = Reflow(
        {one: (0, 0, 1, 8), other: (0, 8, 1, 4)},
        {one: (0, 0, 1, 12), other: (1, 0, 1, 12)},
        BREAK,
    )
    area = scrolled(column(cards), "cards")
    qtbot.addWidget(area)
    area.resize(width, 700)
    area.show()
    qtbot.waitExposed(area)
    laid = cards.laid
    for _ in range(3):
        area.resize(width, 701)
        area.resize(width, 700)
    assert cards.laid == laid
    if least < BREAK:
        assert laid == (WIDE if area.room(cards) >= BREAK else NARROW)


class Restless(QWidget):
    """Asks for more where it has little, and for little where it has more."""

    asked = 0

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - as Qt names it
        """Return another size than it has."""
        self.asked += 1
        return QSize(10 if self.width() > 900 else 1000, 10)


def test_that_what_never_settles_does_not_end_the_program(qtbot: QtBot) -> None:
    restless = Restless()
    area = scroll(restless, "restless", sideways=True)
    qtbot.addWidget(area)
    area.resize(500, 300)
    area.show()
    qtbot.waitExposed(area)
    before = restless.asked
    restless.updateGeometry()
    qtbot.waitUntil(lambda: restless.asked > before)
    assert restless.asked < before + 1000 * DEEPEST
