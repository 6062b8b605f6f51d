"""Parts that lie side by side where they fit, and below each other where they do not."""

import pytest
from PySide6.QtWidgets import QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.ui.look.parts.cards import EmptyState
from pitjournal.ui.look.parts.reflow import Beside, Reflow
from pitjournal.ui.look.parts.scroll import scroll


def shown(qtbot: QtBot, widget: QWidget, width: int) -> QWidget:
    """Show it in a page that scrolls, as all that is on a page; return the page."""
    page = scroll(widget, "page")
    qtbot.addWidget(page)
    page.resize(width, 300)
    page.show()
    return page


@pytest.mark.parametrize("right_first", [False, True])
def test_that_two_parts_move_below_each_other_where_one_wants_more_width(
    qtbot: QtBot, *, right_first: bool
) -> None:
    left, right = QLabel("left"), QLabel("right")
    both = Beside(left, right, (1, 2), right_first=right_first)
    page = shown(qtbot, both, 900)
    assert left.y() == right.y()
    assert left.x() < right.x()
    right.setMinimumWidth(890)  # as an answer may be
    qtbot.waitUntil(lambda: left.x() == right.x())
    assert (left.y() < right.y()) is not right_first
    right.setMinimumWidth(100)
    qtbot.waitUntil(lambda: left.x() < right.x())
    assert page.isVisible()


def test_that_cards_stand_one_below_the_other_where_two_do_not_fit(qtbot: QtBot) -> None:
    one, two = QLabel("one"), QLabel("two")
    cards = Reflow({one: (0, 0, 1, 6), two: (0, 6, 1, 6)}, {one: (0, 0, 1, 6), two: (0, 6, 1, 6)})
    page = shown(qtbot, cards, 1000)
    assert one.y() == two.y()
    page.resize(500, 300)
    qtbot.waitUntil(lambda: one.x() == two.x() and one.y() < two.y())


def test_that_no_step_of_an_empty_page_is_cut(qtbot: QtBot) -> None:
    steps = [(f"Do the {word} thing now", lambda: None) for word in ("first", "second", "third")]
    page = EmptyState("Nothing yet", "Begin.", *steps)
    area = shown(qtbot, page, 320)
    assert area.isVisible()
    taps = page.findChildren(QPushButton)
    assert len(taps) == 3
    for tap in taps:
        assert tap.width() >= tap.sizeHint().width()
        assert tap.geometry().right() <= page.width()
