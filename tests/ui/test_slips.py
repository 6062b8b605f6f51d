"""Slips that a tap or a key makes easy: another cook's step undone, the next row taken away."""

from datetime import timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QScrollArea
from pytestqt.qtbot import QtBot

from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.records import Add, AddCook
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.look.parts.ask_panel import AskPanel
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.plan.pieces import PieceRow, has_log
from pitjournal.ui.window import Window
from tests.builders import NOON, a_cook, add_comparison, an_event, three_arms
from tests.ui.conftest import Opener

LEFT, Ctrl = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.ControlModifier


def two_cooks(window: Window) -> tuple[str, str]:
    first, second = add_comparison("Wings"), add_comparison("Legs")
    for command in (first, second):
        window.desk.journal.do(command)
    window.desk.journal.do(LogEvent(an_event(first.cook.id, EventKind.LIT), "Log lit"))
    return first.cook.id, second.cook.id


def asked(window: Window) -> AskPanel:
    panel = window.findChild(AskPanel)
    assert panel is not None
    assert panel.isVisible()
    return panel


def test_that_undo_asks_before_it_changes_a_cook_that_is_not_seen(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    wings, legs = two_cooks(window)
    window.go("cook", legs, "plan")
    window.desk.bridge.undo()
    assert "Log lit, in cook 1 · Wings" in " ".join(
        label.text() for label in asked(window).findChildren(type(window.bar.text))
    )
    qtbot.mouseClick(asked(window).leave, LEFT)
    assert window.desk.journal.find(Event)
    qtbot.waitUntil(lambda: window.findChild(AskPanel) is None)
    window.desk.bridge.undo()
    with qtbot.waitSignal(window.desk.bridge.saved) as said:
        qtbot.mouseClick(asked(window).yes, LEFT)
    assert said.args == ["Undid: Log lit (cook 1 · Wings)"]
    assert not window.desk.journal.find(Event)
    window.desk.bridge.redo()
    window.go("cook", wings, "plan")
    window.desk.bridge.undo()  # its own is not asked about
    assert not window.desk.journal.find(Event)


def plan_of(window: Window, cook_id: str) -> PlanPage:
    window.go("cook", cook_id, "plan")
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, PlanPage)
    return place.current


def rows_of(page: PlanPage) -> list[PieceRow]:
    rows = [row for row in page.pieces.rows.rows if not row.isHidden()]
    return [row for row in rows if isinstance(row, PieceRow)]


def test_that_a_piece_with_a_log_is_asked_about_and_the_next_one_is_not_hit(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    cook = a_cook("Three ways")
    window.desk.journal.do(AddCook(cook, three_arms(cook)))
    pieces = window.desk.journal.whole(cook.id).pieces
    check = DonenessCheck(cook_id=cook.id, piece_id=pieces[0].id, at=NOON, internal=66.0)
    window.desk.journal.do(Add((check,), "Log a feel"))
    page = plan_of(window, cook.id)
    first, second, *_ = rows_of(page)
    qtbot.mouseClick(first.away, LEFT)
    panel = asked(window)
    assert "its 1 check" in " ".join(x.text() for x in panel.findChildren(type(window.bar.text)))
    qtbot.mouseClick(panel.leave, LEFT)
    assert len(window.desk.journal.find(Piece)) == len(pieces)
    qtbot.waitUntil(lambda: window.findChild(AskPanel) is None)
    # One of which nothing was recorded goes at once; the second tap of a double one does nothing.
    qtbot.waitUntil(second.away.isEnabled, timeout=3 * QApplication.doubleClickInterval())
    second.away.setFocus()
    qtbot.mouseClick(second.away, LEFT)
    assert len(window.desk.journal.find(Piece)) == len(pieces) - 1
    assert not second.away.hasFocus()
    qtbot.mouseClick(second.away, LEFT)
    assert len(window.desk.journal.find(Piece)) == len(pieces) - 1


def test_that_what_goes_with_a_piece_is_counted() -> None:
    cook = a_cook()
    one, two = (
        Piece(cook_id=cook.id, position=n, label=f"A{n}", cut="wings", arm_id=None) for n in (1, 2)
    )
    own = an_event(cook.id, EventKind.ON, pieces=(one.id,))
    both = an_event(cook.id, EventKind.OFF, pieces=(one.id, two.id))
    checks = tuple(
        DonenessCheck(
            cook_id=cook.id,
            piece_id=one.id,
            at=NOON + timedelta(minutes=n),
        )
        for n in range(2)
    )
    whole = WholeCook(cook=cook, pieces=(one, two), events=(own, both), checks=checks)
    assert has_log(whole, one) == "1 entry, 2 checks"
    assert not has_log(whole, two)


def test_that_a_cook_is_seen_from_its_head_also_after_another_was_seen_from_its_foot(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    wings, legs = two_cooks(window)
    page = plan_of(window, wings)
    bar = next(
        area.verticalScrollBar()
        for area in page.findChildren(QScrollArea)
        if area.accessibleName() == "plan"
    )
    qtbot.waitUntil(lambda: bar.maximum() > 0)
    bar.setValue(bar.maximum())
    plan_of(window, legs)
    qtbot.waitUntil(lambda: bar.value() == 0)
