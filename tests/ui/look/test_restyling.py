"""What is seen has the new colours at once, what is hidden when it is shown, by its pixels."""

from collections.abc import Callable
from functools import partial

import pytest
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.look import restyling
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.theme import look
from pitjournal.ui.look.tokens import LIGHT, NIGHT, SUN
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.window import Window
from tests.builders import add_comparison
from tests.ui.conftest import Opener


@pytest.fixture
def window(open_window: Opener, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> Window:
    """Return a window in which only what is seen is restyled, however few widgets there are."""
    monkeypatch.setattr(restyling, "FEW", 0)
    found = open_window()
    command = add_comparison()
    found.desk.journal.do(command)
    qtbot.waitUntil(lambda: found.ahead.over and not found.desk.bridge.waits, timeout=60_000)
    for page in ("plan", "bench", "tasting", "findings"):
        found.go("cook", command.cook.id, page)
    return found


def ground(window: Window) -> set[str]:
    """Return the colours at the edges of the page, of the rail, and between."""
    QApplication.processEvents()
    picture = window.grab().toImage()
    high = picture.height() - 4
    return {
        QColor(picture.pixelColor(x, high)).name()
        for x in (window.rail.width() + 2, picture.width() - 3)
    }


def test_that_pages_panels_and_what_is_around_them_change_with_the_theme(window: Window) -> None:
    cook_id = window.desk.journal.cooks.page("", 0, 1)[0].id
    going: tuple[Callable[[], object], ...] = (
        *(partial(window.go, name) for name in ("trends", "shelf", "new cook", "cooks")),
        partial(window.go, "cook", cook_id, "findings"),
    )
    for theme in (NIGHT, SUN, LIGHT, NIGHT):
        look().choose(theme.name)
        for go in going:
            go()
            assert ground(window) == {theme.paper.casefold()}
            rail = window.rail.grab().toImage()
            assert QColor(rail.pixelColor(3, 3)).name() == theme.rail.casefold()


def test_that_a_hidden_page_waits_and_a_panel_that_opens_does_not(window: Window) -> None:
    window.go("cooks")
    shelf = window._places["shelf"]
    before = shelf.styleSheet()
    look().choose("night")
    assert window.cooks.styleSheet() != before
    assert shelf.styleSheet() == before
    window.open_panel("settings")
    panel = window.panel
    assert isinstance(panel, Overlay)
    QApplication.processEvents()
    inside = panel.grab().toImage()
    assert QColor(inside.pixelColor(30, panel.height() // 2)).name() == NIGHT.card.casefold()
    window.go("shelf")
    assert shelf.styleSheet() == window.cooks.styleSheet()


def test_that_another_text_size_dresses_all_and_leaves_no_sheet_of_its_own(window: Window) -> None:
    window.go("cooks")
    look().choose("night")
    assert window.cooks.styleSheet()
    look().choose_text("125")
    try:
        own = [part for part in window.findChildren(QWidget) if part.styleSheet()]
        assert {part.styleSheet() for part in own} <= {"background: transparent;"}
        assert ground(window) == {NIGHT.paper.casefold()}
    finally:
        look().choose_text("100")


def test_that_the_head_of_a_cook_made_after_a_change_of_theme_wears_it(
    open_window: Opener, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(restyling, "FEW", 0)
    window = open_window()
    assert not window.findChildren(CookPlace)
    look().choose(NIGHT.name)  # the application keeps the sheet that it began with
    command = add_comparison()
    window.desk.journal.do(command)
    qtbot.waitUntil(lambda: window.ahead.over and not window.desk.bridge.waits, timeout=60_000)
    window.go("cook", command.cook.id, "findings")
    QApplication.processEvents()
    title = next(
        label
        for label in window.place.findChildren(QLabel)
        if label.text() == command.cook.title and label.isVisible()
    )
    assert title.palette().windowText().color().name() == NIGHT.ink.casefold()


def test_that_a_page_of_many_fields_is_restyled_card_by_card_and_wholly(
    window: Window, qtbot: QtBot
) -> None:
    cook_id = window.desk.journal.cooks.page("", 0, 1)[0].id
    window.go("cook", cook_id, "bench")
    window.resize(1024, 420)
    look().choose("night")
    window.go("cook", cook_id, "plan")
    place = window.place
    assert isinstance(place, CookPlace)
    page = place.current
    assert isinstance(page, PlanPage)
    assert look().restyling.waits, "what lies below is left for later"
    qtbot.waitUntil(lambda: not look().restyling.waits)
    inks = {NIGHT.ink.casefold(), NIGHT.quiet.casefold()}
    for card in (page.schedule, page.question, page.arms, page.pieces, page.own):
        for part in card.findChildren(QLineEdit):
            assert part.palette().base().color().name() == NIGHT.card.casefold()
        for label in card.findChildren(QLabel):
            if label.text() and label.property("role") != "error":
                assert label.palette().windowText().color().name() in inks, label.text()
    made = page.pieces._make_row()
    page.pieces.rows._layout.addWidget(made)
    assert made.label.line.palette().base().color().name() == NIGHT.card.casefold()
    for card in (page.pieces, page.arms):
        grabbed = card.grab().toImage()
        assert QColor(grabbed.pixelColor(grabbed.width() // 2, 6)).name() == NIGHT.card.casefold()
