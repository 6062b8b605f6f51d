"""What a cook in a hurry types and taps: keys that lead on, taps that bounce, words that miss."""

from datetime import timedelta
from functools import partial
from typing import cast

import pytest
from PySide6.QtCore import QEvent, QObject, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.analysis.trade_words import noun_of, number_of
from pitjournal.domain.event import DonenessCheck
from pitjournal.domain.piece import Stage
from pitjournal.journal.commands.bench import Weigh
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.panels import WeighPanel
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.cooks.page import CooksPage
from pitjournal.ui.look.parts.buttons import Tap
from pitjournal.ui.look.parts.window_panels import FindBox
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.plan.pieces import PieceRow
from pitjournal.ui.trends.page import TrendsPage
from pitjournal.ui.window import Window
from tests.builders import add_comparison
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.conftest import Opener
from tests.ui.invented import with_cooks

LEFT = Qt.MouseButton.LeftButton
ENTER = Qt.Key.Key_Return


def plan_of(window: Window) -> PlanPage:
    command = add_comparison()
    window.desk.journal.do(command)
    window.go("cook", command.cook.id, "plan")
    return cast("PlanPage", cast("CookPlace", window.place).current)


def ready(line: QLineEdit) -> bool:
    return not line.text() or line.hasSelectedText()


def has_focus(window: Window, widget: QWidget) -> bool:
    return window.focusWidget() is widget


def test_that_enter_and_the_arrows_lead_from_weight_to_weight_and_typing_replaces(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window(units="metric")
    plan = plan_of(window)
    window.activateWindow()
    first, second = (cast("PieceRow", row).weights[1].line for row in plan.pieces.rows.rows[:2])
    first.setFocus()
    for keys, line, key, value in (
        ("1.5 kg", first, ENTER, 1500.0),
        ("1.6 kg", second, Qt.Key.Key_Up, 1600.0),
    ):
        qtbot.waitUntil(partial(ready, line))
        qtbot.keyClicks(line, keys)
        qtbot.keyClick(line, key)
        field = next(
            weight
            for row in plan.pieces.rows.rows
            for weight in cast("PieceRow", row).weights
            if weight.line is line
        )
        assert field.value == value
    assert has_focus(window, first)
    qtbot.waitUntil(first.hasSelectedText)
    qtbot.keyClicks(first, "1700 g")
    qtbot.keyClick(first, Qt.Key.Key_Down)
    assert first.text() == "1700 g"
    assert has_focus(window, second)


def test_that_a_refused_weight_says_which_unit_it_took(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    whole = bench.whole
    assert whole is not None
    window.desk.journal.do(
        Weigh(whole.cook.id, whole.pieces[0].id, Stage.TRIMMED, 1400.0, None, {}, "Weigh")
    )
    qtbot.mouseClick(bench.taps["weigh"], LEFT)
    panel = window.findChild(WeighPanel)
    assert panel is not None
    line = panel.fields[0].line
    line.setFocus()
    line.selectAll()
    qtbot.keyClicks(line, "900")
    qtbot.keyClick(line, ENTER)
    said = panel.fields[0].error.text().replace("\N{NO-BREAK SPACE}", " ")
    assert "“900” was taken as 900 lb" in said
    assert line.text() == "900"
    assert has_focus(window, panel.fields[1].line)
    window.desk.journal.do(
        Weigh(whole.cook.id, whole.pieces[0].id, Stage.OFF, 942.2, None, {}, "Weigh")
    )
    said = panel._lines[whole.pieces[0].id].text()
    assert said.endswith("yield\N{NO-BREAK SPACE}67.3\N{NO-BREAK SPACE}%")


def test_that_a_finger_that_bounces_three_times_taps_once(qtbot: QtBot) -> None:
    tap = Tap("Spritz")
    qtbot.addWidget(tap)
    tap.show()
    taps: list[bool] = []
    tap.clicked.connect(lambda *_: taps.append(True))
    for at in (10_000, 10_150, 10_300, 10_450, 12_000):
        second = at == 10_150
        kinds = (
            QEvent.Type.MouseButtonDblClick if second else QEvent.Type.MouseButtonPress,
            QEvent.Type.MouseButtonRelease,
        )
        for kind in kinds:
            place = QPointF(20, 20)
            event = QMouseEvent(kind, place, place, LEFT, LEFT, Qt.KeyboardModifier.NoModifier)
            event.setTimestamp(at)
            QApplication.sendEvent(tap, event)
        if at == 10_450:
            assert len(taps) == 1
    assert len(taps) == 2


def test_that_what_is_called_by_no_letters_is_said(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    window._find_box()  # as Ctrl+K does
    box = cast("FindBox", window.panel)
    qtbot.keyClicks(box.line, "zzzz")
    assert not box.list.isVisibleTo(box)
    assert box.none.isVisibleTo(box)
    assert box.none.text().startswith("Nothing is called that")
    qtbot.keyClick(box.line, ENTER)
    assert window.panel is box
    box.line.clear()
    assert box.list.isVisibleTo(box)
    assert not box.none.isVisibleTo(box)


def test_that_enter_opens_the_cook_that_is_marked_after_the_start(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    with_cooks(window)
    window.go("cooks")
    page = window.place
    assert isinstance(page, CooksPage)
    assert page.list.currentIndex().isValid()
    focus = window.focusWidget()
    qtbot.keyClick(focus if focus is not None else window, ENTER)
    assert isinstance(window.place, CookPlace)


def test_that_an_unknown_question_leaves_what_can_be_asked_in_sight(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    with_cooks(window)
    window.go("trends")
    page = window.place
    assert isinstance(page, TrendsPage)
    line = page.ask_line.line
    line.setText("why was it dry")
    qtbot.keyClick(line, ENTER)
    assert page.unasked.isVisibleTo(page)
    assert line.text() == "why was it dry"
    line.setText("yield by cut")
    qtbot.keyClick(line, ENTER)
    assert not page.unasked.isVisibleTo(page)


def test_that_a_question_cleared_by_a_key_comes_back(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    with_cooks(window)
    window.go("trends")
    page = window.place
    assert isinstance(page, TrendsPage)
    line = page.ask_line.line
    line.setFocus()
    asked, units = line.text(), window.desk.preferences.units
    assert asked
    control = Qt.KeyboardModifier.ControlModifier
    qtbot.keyClick(line, Qt.Key.Key_U, control)
    assert window.desk.preferences.units == units
    qtbot.keyClick(line, Qt.Key.Key_Z, control)
    assert line.text() == asked


def test_that_pieces_are_called_what_the_trade_calls_them() -> None:
    """Common practice, no source: short ribs are sold as plates and as single bones."""
    assert number_of(3, noun_of(["beef short ribs"])) == "three pieces"
    assert number_of(3, noun_of(["pork belly"])) == "three bellies"
    assert number_of(3, noun_of(["back ribs"])) == "three racks"


def pressed(widget: QObject, key: Qt.Key, at: int, *kinds: QEvent.Type) -> None:
    """Press a digit at a time, ms, as a keyboard does."""
    for kind in kinds or (QEvent.Type.ShortcutOverride,):
        event = QKeyEvent(kind, key, Qt.KeyboardModifier.NoModifier, chr(key))
        event.setTimestamp(at)
        QApplication.sendEvent(widget, event)


def test_that_a_digit_that_bounces_is_one_tap(open_window: Opener) -> None:
    window = open_window()
    ran: list[int] = []
    run = window._unless_bounced(lambda: ran.append(1))
    for at in (1_000, 1_090, 1_180, 3_000, 3_900):
        pressed(window, Qt.Key.Key_2, at)
        run()
    assert len(ran) == 3  # two of the first three bounced
    pressed(window, Qt.Key.Key_3, 3_950)
    run()
    assert len(ran) == 4  # another key is another tap


def test_that_a_feel_that_bounces_is_neither_the_next_pieces_feel_nor_its_temperature(
    open_window: Opener,
) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    bench.opens.feel()
    panel = window.findChild(FeelPanel)
    assert panel is not None
    key = QEvent.Type.KeyPress
    pressed(panel, Qt.Key.Key_4, 5_000, key)
    pressed(panel, Qt.Key.Key_4, 5_100, key)
    pressed(panel.internal.line, Qt.Key.Key_4, 5_180, key)
    assert [check.feel for check in window.desk.journal.find(DonenessCheck)] == [4]
    assert panel.internal.line.text() == ""
    for at, digit in ((5_500, Qt.Key.Key_4), (5_600, Qt.Key.Key_4), (5_700, Qt.Key.Key_5)):
        pressed(panel.internal.line, digit, at, key)
    assert panel.internal.line.text() == "445"  # what is typed at leisure stays


def test_that_digits_that_ran_together_are_no_temperature_of_meat(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window("light", "us")
    clock = Clock()
    bench = bench_on(window, clock)
    clock.now += timedelta(hours=4)  # meat that has only just gone on is not so hot: that is asked
    bench.opens.feel()
    panel = window.findChild(FeelPanel)
    assert panel is not None
    qtbot.keyClicks(panel.internal.line, "1652")  # 165.2 without its point
    qtbot.mouseClick(panel.taps[3], LEFT)
    assert not window.desk.journal.find(DonenessCheck)
    assert panel.internal.error.text().startswith("No meat is hotter than 300 °F (150 °C) inside.")
    assert panel.internal.error.text().endswith(
        "“1652” was taken as 1652 °F: type the unit with it."
    )
    assert panel.internal.line.text() == "1652"  # stays as it was typed, to be mended
    panel.internal.line.selectAll()
    qtbot.keyClicks(panel.internal.line, "165.2")
    qtbot.mouseClick(panel.taps[3], LEFT)
    (check,) = window.desk.journal.find(DonenessCheck)
    assert check.internal == pytest.approx((165.2 - 32) / 1.8)  # by definition of the scales
