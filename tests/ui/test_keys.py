"""Keys as a cook with no mouse uses them: real key presses to the window, nothing called."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from PySide6.QtGui import QWindow
from PySide6.QtWidgets import QApplication, QScrollArea
from pytestqt.qtbot import QtBot

from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.journal.commands.records import AddCook
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.forms import Box
from pitjournal.ui.look.parts.overlay import panels_over, top_panel
from pitjournal.ui.look.parts.reading import Placed, in_reading_order
from pitjournal.ui.look.parts.window_panels import KeysPanel
from pitjournal.ui.panels import SettingsPanel
from pitjournal.ui.window import Window
from tests.builders import a_cook, add_comparison, three_arms
from tests.ui.bench.clock import Clock
from tests.ui.conftest import Opener

Key, Mod = Qt.Key, Qt.KeyboardModifier


def bench_of(qtbot: QtBot, window: Window) -> tuple[BenchPage, QWindow]:
    """Add a comparison, go to its bench, and return that and what takes keys."""
    command = add_comparison()
    window.desk.journal.do(command)
    window.go("cook", command.cook.id, "bench")
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, BenchPage)
    return place.current, window.windowHandle()


def kinds(window: Window) -> list[str]:
    return [e.kind for e in window.desk.journal.find(Event) if e.happened_at is not None]


def focus_name() -> str:
    widget = QApplication.focusWidget()
    return "" if widget is None else widget.accessibleName()


def test_that_turning_a_tab_takes_the_keys_of_the_page_before_away(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    _, keys = bench_of(qtbot, window)
    qtbot.keyClick(keys, "3")
    assert kinds(window) == [EventKind.LID]
    qtbot.keyClick(keys, Key.Key_3, Mod.AltModifier)
    assert isinstance(window.place, CookPlace)
    assert window.place.page == "tasting"
    qtbot.keyClick(keys, "3")
    assert kinds(window) == [EventKind.LID]
    qtbot.keyClick(keys, Key.Key_2, Mod.AltModifier)
    qtbot.keyClick(keys, "4")
    assert kinds(window) == [EventKind.LID, EventKind.FLIP]


def test_that_a_panel_holds_the_focus_and_escape_closes_it_from_anywhere(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench, keys = bench_of(qtbot, window)
    for opener in ("1", "8", "0", "T"):
        qtbot.keyClick(keys, opener)
        for presses in range(1, 60):
            qtbot.keyClick(keys, Key.Key_Tab)
            panel = top_panel(window)
            focus = QApplication.focusWidget()
            assert panel is not None
            assert focus is not None
            assert panel.isAncestorOf(focus), f"{opener}, Tab {presses}: {focus_name()}"
        qtbot.keyClick(keys, Key.Key_Escape)
        assert top_panel(window) is None, opener
    qtbot.keyClick(keys, "1")
    bench.taps["lid"].setFocus()  # a page that looks again may take the focus
    focus = QApplication.focusWidget()
    assert focus is not None
    assert not bench.isAncestorOf(focus)
    focus.clearFocus()
    qtbot.keyClick(keys, Key.Key_Escape)
    assert top_panel(window) is None


def test_that_what_a_panel_covers_takes_no_click(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    bench, keys = bench_of(qtbot, window)
    qtbot.keyClick(keys, "1")
    for name in ("lid", "flip", "lit", "photo", "other"):
        tap = bench.taps[name]
        at = tap.mapTo(window, tap.rect().center())
        qtbot.mouseClick(keys, Qt.MouseButton.LeftButton, pos=at)
    assert not kinds(window)
    assert len(panels_over(window)) == 1


def test_that_single_keys_rest_in_fields_and_can_be_switched_off(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench, keys = bench_of(qtbot, window)
    box = Box(bench)
    box.addItems(["lid", "lit", "3 racks"])
    box.show()
    box.setFocus()
    qtbot.keyClick(keys, "3")
    assert box.currentText() == "3 racks"  # a list finds by what is typed
    assert not kinds(window)
    box.hide()
    qtbot.keyClick(keys, Key.Key_Comma, Mod.ControlModifier)
    panel = top_panel(window)
    assert isinstance(panel, SettingsPanel)
    panel.letters.chosen.emit("off")
    qtbot.keyClick(keys, Key.Key_Escape)
    qtbot.keyClick(keys, "3")
    assert not kinds(window)
    qtbot.keyClick(keys, Key.Key_J, Mod.ControlModifier)  # keys of two stay at work
    assert window.desk.preferences.letters == "off"


def test_that_enter_presses_the_button_that_has_the_focus_once(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench, keys = bench_of(qtbot, window)
    bench.taps["flip"].setFocus()
    qtbot.keyClick(keys, Key.Key_Return)
    assert kinds(window) == [EventKind.FLIP]
    qtbot.keyClick(keys, "1")
    for digit in "195":
        qtbot.keyClick(keys, digit)
    qtbot.keyClick(keys, Key.Key_Return)  # on to the feel, and presses nothing there
    assert not window.desk.journal.find(DonenessCheck)
    qtbot.keyClick(keys, "5")
    check = window.desk.journal.find(DonenessCheck)[0]
    assert check.feel == 5
    assert check.internal == pytest.approx((195 - 32) / 1.8)
    assert focus_name() == "Internal temperature"  # of the next piece
    qtbot.keyClick(keys, Key.Key_Z, Mod.ControlModifier)  # the field has nothing to take back
    assert not window.desk.journal.find(DonenessCheck)
    qtbot.keyClick(keys, "7")
    qtbot.keyClick(keys, Key.Key_Z, Mod.ControlModifier)  # now it has
    assert kinds(window) == [EventKind.FLIP]


def test_that_a_panel_scrolls_by_keys(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    window.resize(1024, 700)
    _, keys = bench_of(qtbot, window)
    qtbot.keyClick(keys, Key.Key_F1)
    panel = window.findChild(KeysPanel)
    assert panel is not None
    areas = panel.findChildren(QScrollArea)
    bar = next(a for a in areas if a.accessibleName() == "Keys").verticalScrollBar()
    assert bar.maximum() > 0
    qtbot.keyClick(keys, Key.Key_PageDown)
    assert bar.value() > 0
    qtbot.keyClick(keys, Key.Key_Home)
    assert bar.value() == 0


def test_that_tab_goes_as_the_page_is_read_also_through_rows_added_later(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    cook = a_cook()
    window.desk.journal.do(AddCook(cook, three_arms(cook)))
    window.go("cook", cook.id, "plan")
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    keys, seen = window.windowHandle(), []
    for _ in range(200):
        qtbot.keyClick(keys, Key.Key_Tab)
        seen.append(focus_name().split(", ")[0])  # a row says which it is
        if seen[-1] == "Notes":
            break
    assert seen.index("Pages of the cook") < seen.index("Title")
    assert seen.index("Title") < seen.index("Name of the arm") < seen.index("Cooker")
    assert seen.index("Cooker") < seen.index("Label") < seen.index("Weight of fuel")
    qtbot.keyClick(keys, Key.Key_2, Mod.AltModifier)
    assert isinstance(window.place, CookPlace)
    tabs = window.place.tabs
    tabs.setFocus()
    assert tabs.tabText(tabs.currentIndex()) == "Bench"
    qtbot.keyClick(keys, Key.Key_Tab)
    qtbot.keyClick(keys, Key.Key_Backtab, Mod.ShiftModifier)
    assert focus_name() == "Pages of the cook"  # all tabs are one stop
    assert (tabs.tabText(tabs.currentIndex()), window.place.page) == ("Bench", "bench")
    qtbot.keyClick(keys, Key.Key_Right)
    assert window.place.page == "tasting"  # arrows turn, as in any row of tabs
    assert QApplication.focusWidget() is tabs


@given(
    st.lists(
        st.tuples(st.integers(0, 400), st.integers(0, 400), st.integers(1, 90), st.integers(1, 90)),
        max_size=12,
    )
)
def test_that_an_order_of_reading_leaves_nothing_out(
    places: list[tuple[int, int, int, int]],
) -> None:
    placed = [Placed(x, y, x + w, y + h, n) for n, (x, y, w, h) in enumerate(places)]
    order = in_reading_order(placed)
    assert sorted(order) == list(range(len(places)))


def test_that_columns_are_read_one_after_the_other_and_rows_before_them() -> None:
    head = Placed(0, 0, 200, 20, "head")
    left = [Placed(0, 30, 90, 60, "left 1"), Placed(0, 70, 90, 200, "left 2")]
    right = Placed(100, 30, 200, 200, "right")
    foot = [Placed(100, 210, 200, 230, "foot 2"), Placed(0, 212, 90, 228, "foot 1")]
    order = in_reading_order([*foot, right, *left, head])
    assert order == ["head", "left 1", "left 2", "right", "foot 1", "foot 2"]


def test_that_a_key_pressed_twice_puts_the_meat_on_and_not_off_again(
    qtbot: QtBot, open_window: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = open_window()
    clock = Clock()
    clock.wind(window)
    bench, keys = bench_of(qtbot, window)
    for _ in range(2):  # at once: the key bounced, and nothing is said
        qtbot.keyClick(keys, "2")
    assert kinds(window) == [EventKind.ON]
    assert "just now" not in bench.bar.accessibleName()
    monkeypatch.setattr(QApplication, "doubleClickInterval", lambda: 0)  # from here on no bounce
    qtbot.keyClick(keys, "2")
    assert kinds(window) == [EventKind.ON]
    assert "just now" in bench.bar.accessibleName()
    clock.pass_seconds(window, 3)
    qtbot.keyClick(keys, "2")
    assert kinds(window) == [EventKind.ON, EventKind.OFF]
