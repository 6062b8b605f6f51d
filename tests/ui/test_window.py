"""The window as a whole: going about, keys, faults, and cooks of every odd shape."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot

from pitjournal.analysis.trends.question import By, Question
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.errors import JournalError
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.records import AddCook, Change
from pitjournal.store.faults import NotSavedError
from pitjournal.ui import choosing
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.look.parts.window_panels import BugPanel, FindBox, KeysPanel
from pitjournal.ui.look.theme import look
from pitjournal.ui.trends.cooks_card import MOST_COOKS
from pitjournal.ui.trends.page import TrendsPage
from pitjournal.ui.window import Window
from tests.builders import a_cook, add_comparison, three_arms
from tests.ui.conftest import Opener

PLACES = ("cooks", "new cook", "season", "trends", "shelf")
PAGES = ("plan", "bench", "tasting", "findings")
CONTROLS = (QAbstractButton, QLineEdit, QPlainTextEdit, QComboBox, QAbstractItemView)


def with_cook(window: Window) -> str:
    """Add a comparison and return its id."""
    command = add_comparison()
    window.desk.journal.do(command)
    return command.cook.id


def everywhere(window: Window, cook_id: str) -> Iterator[str]:
    """Go to every place and every page of a cook."""
    for place in PLACES:
        window.go(place)
        yield place
    for page in PAGES:
        window.go("cook", cook_id, page)
        yield page


def unnamed(window: Window) -> list[str]:
    """Return the controls in sight that assistive technology could not name."""
    found = []
    for widget in window.findChildren(QWidget):
        if not widget.isVisibleTo(window) or not isinstance(widget, CONTROLS):
            continue
        if widget.objectName().startswith("qt_"):  # inner parts of Qt's own
            continue
        interface = QAccessible.queryAccessibleInterface(widget)
        if interface is None or not interface.text(QAccessible.Text.Name).strip():
            found.append(f"{type(widget).__name__} in {type(widget.parent()).__name__}")
    return found


def test_that_every_control_of_every_page_has_a_name(open_window: Opener) -> None:
    window = open_window()
    cook_id = with_cook(window)
    for place in everywhere(window, cook_id):
        assert not unnamed(window), place


class Flashes(QObject):
    """Notes what is shown as a window of its own, beside the one that is meant."""

    def __init__(self, window: Window) -> None:
        super().__init__()
        self.window, self.seen = window, list[str]()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's own
        shown = watched if event.type() is QEvent.Type.Show else None
        if isinstance(shown, QWidget) and shown.isWindow() and shown is not self.window:
            self.seen.append(f"{type(shown).__name__} {shown.accessibleName()}")
        return False


def test_that_no_page_flashes_a_window_of_its_own_when_it_is_made(open_window: Opener) -> None:
    """It would take the keys away from the window it flashes over."""
    window = open_window()
    cook_id = with_cook(window)
    flashes = Flashes(window)
    application = QApplication.instance()
    assert application is not None
    application.installEventFilter(flashes)
    for _place in everywhere(window, cook_id):
        pass
    application.removeEventFilter(flashes)
    assert not flashes.seen


def test_that_every_page_tells_its_keys_and_none_is_told_twice(open_window: Opener) -> None:
    window = open_window()
    cook_id = with_cook(window)
    for place in everywhere(window, cook_id):
        keys = [action.key for action in window.place.actions_here() if action.key]
        assert len(keys) == len(set(keys)), place
    window._show_keys()
    panel = window.findChild(KeysPanel)
    assert panel is not None


def test_that_three_looks_and_both_units_show_every_page(open_window: Opener) -> None:
    window = open_window()
    cook_id = with_cook(window)
    for theme in ("night", "sun", "light"):
        look().choose(theme)
        choosing.other_units(window.desk)
        for _place in everywhere(window, cook_id):
            window.grab()
    assert look().theme.name == "light"


def test_that_a_look_from_a_newer_version_follows_the_system(open_window: Opener) -> None:
    open_window(theme="moonlight")
    assert look().choice == "system"
    assert look().theme.name in {"light", "night"}


@pytest.mark.parametrize(
    ("title", "arms", "pieces"),
    [
        ("W" * 50, 3, 3),
        ("ריבס לשבת", 2, 2),
        ("Ribs 🔥🍖 & <b>bold</b>", 2, 1),
        ("Twelve ways", 12, 1),
        ("Sixty pieces", 2, 30),
        ("", 0, 0),
    ],
)
def test_that_cooks_of_every_shape_show_on_every_page(
    open_window: Opener, title: str, arms: int, pieces: int
) -> None:
    window = open_window()
    cook = a_cook(title or " ", outcome="score.tenderness")
    made = [
        Arm(cook_id=cook.id, position=n, name=f"Way number {n}", control=n == 0)
        for n in range(arms)
    ]
    meat = [
        Piece(
            cook_id=cook.id,
            position=arm.position * pieces + n,
            label=f"{arm.position}.{n}",
            cut="brisket",
            arm_id=arm.id,
            pack=f"pack {n}",
        )
        for arm in made
        for n in range(pieces)
    ]
    window.desk.journal.do(AddCook(cook, (*made, *meat)))
    for size in ((1024, 700), (2560, 1440)):
        window.resize(*size)
        for _place in everywhere(window, cook.id):
            window.grab()
    assert window.width() == 2560  # nothing on a page asks for more width than there is


def test_that_an_empty_journal_offers_three_things(open_window: Opener) -> None:
    window = open_window()
    texts = {b.text() for b in window.findChildren(QAbstractButton) if b.isVisibleTo(window)}
    assert {"Start a cook", "Read a probe file", "Look at the demonstration"} <= texts


def test_that_find_and_do_goes_to_a_cook_by_a_few_letters(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    with_cook(window)
    window._find_box()
    box = window.findChild(FindBox)
    assert box is not None
    qtbot.keyClicks(box.line, "injecting")
    qtbot.keyClick(box.line, Qt.Key.Key_Return)
    assert isinstance(window.place, CookPlace)


def test_that_a_fault_is_shown_once_and_the_window_lives_on(open_window: Opener) -> None:
    window = open_window()

    def fault() -> None:
        raise RuntimeError("a bug")

    for _ in range(2):
        try:
            fault()
        except RuntimeError as error:
            window.show_bug(type(error), error, error.__traceback__)
    assert len(window.findChildren(BugPanel)) == 1
    window.go("shelf")
    assert window.isVisible()


def test_that_all_cooks_behind_a_group_can_be_seen(open_window: Opener) -> None:
    window = open_window()
    for number in range(MOST_COOKS + 2):
        cook = a_cook(f"Cook {number}")
        piece = Piece(cook_id=cook.id, position=0, label="A", cut="back ribs", thickness_1=0.03)
        window.desk.journal.do(AddCook(cook, (piece,)))
    with_cook(window)  # has no thickness
    window.go("trends")
    page = window.place
    assert isinstance(page, TrendsPage)
    page.ask(Question("thickness", (By("cut"),)))
    page.answer_card.table.chosen.emit(0)
    links = page.cooks_card.findChildren(QAbstractButton)
    assert links[-1].text() == "All 22 in the list of cooks"
    links[-1].click()
    assert window.place is window.cooks
    assert window.cooks.model.total == MOST_COOKS + 2
    assert window.cooks.limited.text() == "back ribs"
    window.cooks.limited.click()
    assert window.cooks.model.total == MOST_COOKS + 3


def test_that_what_a_cook_can_mend_is_no_fault(open_window: Opener) -> None:
    window = open_window()
    error = JournalError("The weight cannot be.", "Weigh it again.")
    window.show_bug(JournalError, error, None)
    assert not window.findChildren(BugPanel)
    assert "Weigh it again" in window.bar.text.text()


def test_that_a_tap_on_a_full_disk_is_held_and_saved_later(
    open_window: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = open_window()
    cook_id = with_cook(window)
    window.go("cook", cook_id, "bench")
    bench = window.place
    assert isinstance(bench, CookPlace)
    page = bench.current
    assert isinstance(page, BenchPage)
    journal = window.desk.journal
    real = journal.do

    def full(_command: Command, _initiator: object | None = None) -> object:
        raise NotSavedError("Not saved yet. The disk is full.", "It is kept here: try again.")

    monkeypatch.setattr(journal, "do", full)
    page.taps["lit"].click()
    page.taps["on"].click()
    assert len(window.desk.bridge.unsaved) == 2
    assert "Not saved yet" in page.bar.text.text()
    monkeypatch.setattr(journal, "do", real)
    # The disk is there again, but a field does not jump the queue.
    bridge = window.desk.bridge
    assert not bridge.attempt(Change(Cook, cook_id, {"weather": "rain"}))
    assert len(bridge.unsaved) == 3
    bridge.save_unsaved()
    assert [e.kind for e in journal.find(Event)] == [EventKind.LIT, EventKind.ON]
    assert journal.whole(cook_id).cook.weather == "rain"


def test_that_typing_is_not_overwritten_by_a_change_from_elsewhere(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    cook_id = with_cook(window)
    window.go("cook", cook_id, "plan")
    field = next(
        line for line in window.findChildren(QLineEdit) if line.accessibleName() == "Vents"
    )
    window.activateWindow()
    field.setFocus()
    qtbot.waitUntil(field.hasFocus)
    qtbot.keyClicks(field, "half open")
    window.desk.journal.do(Change(Cook, cook_id, {"weather": "rain"}))
    assert field.text() == "half open"


def test_that_undo_and_redo_walk_by_keys(open_window: Opener) -> None:
    window = open_window()
    cook = a_cook()
    window.desk.journal.do(AddCook(cook, three_arms(cook)))
    window.desk.bridge.undo()
    assert not window.desk.journal.find(Cook)
    window.desk.bridge.redo()
    assert len(window.desk.journal.find(Piece)) == 9


def test_that_keys_of_the_page_rest_while_a_panel_lies_over_it(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    cook_id = with_cook(window)
    window.go("cook", cook_id, "bench")
    place = window.place
    assert isinstance(place, CookPlace)
    page = place.current
    assert isinstance(page, BenchPage)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    page.taps["feel"].click()
    panel = window.findChild(FeelPanel)
    assert panel is not None
    keys = window.windowHandle()
    qtbot.keyClick(keys, Qt.Key.Key_Return)  # from the temperature on to the feel
    qtbot.keyClick(keys, "4")
    journal = window.desk.journal
    assert [check.feel for check in journal.find(DonenessCheck)] == [4]
    qtbot.keyClick(keys, "A")
    qtbot.keyClick(keys, Qt.Key.Key_2, Qt.KeyboardModifier.AltModifier)
    assert not journal.find(Event)
    qtbot.keyClick(keys, Qt.Key.Key_Escape)
    assert window.panel is None
    qtbot.keyClick(keys, "3")
    assert [event.kind for event in journal.find(Event)] == [EventKind.LID]
