"""The ribbon of a plan in the real window: dragged, walked and moved by keys, undone."""

from datetime import timedelta

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from pitjournal.domain.day.schedule import is_open
from pitjournal.domain.event import Event, EventKind
from pitjournal.ui.look.theme import look
from pitjournal.ui.plan.movable_ribbon import MovableRibbon
from pitjournal.ui.plan.schedule import ScheduleCard
from pitjournal.ui.window import Window
from tests.ui.clipped import faults_in
from tests.ui.conftest import Opener
from tests.ui.plan.test_schedule import clock, open_plan, work_out


def planned(window: Window, qtbot: QtBot) -> tuple[ScheduleCard, MovableRibbon, str]:
    window.resize(1280, 800)
    window.show()
    card, cook_id = open_plan(window)
    work_out(qtbot, card)
    return card, card.ribbon, cook_id


def spot(ribbon: MovableRibbon, kind: str) -> QPoint:
    """Return where the mark of a kind is taken hold of."""
    place = next(n for n, mark in enumerate(ribbon.ribbon.marks) if mark.kind == kind)
    handle = next(one for one in ribbon.picture().handles if one.mark == place)
    return QPoint(round(handle.x), round((handle.top + handle.bottom) / 2))


def drag(ribbon: MovableRibbon, start: QPoint, end: QPoint, *, let_go: bool = True) -> None:
    QTest.mousePress(ribbon, Qt.MouseButton.LeftButton, pos=start)
    for share in (0.3, 0.7, 1.0):
        at = start + (end - start) * share
        move = QMouseEvent(
            QMouseEvent.Type.MouseMove,
            at.toPointF(),
            ribbon.mapToGlobal(at).toPointF(),
            Qt.MouseButton.NoButton,
            Qt.MouseButton.LeftButton,
            Qt.KeyboardModifier.NoModifier,
        )
        ribbon.mouseMoveEvent(move)
    if let_go:
        QTest.mouseRelease(ribbon, Qt.MouseButton.LeftButton, pos=end)


def test_that_a_step_is_dragged_by_five_minutes_and_undone(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    _, ribbon, cook_id = planned(window, qtbot)
    before = clock(window, cook_id, EventKind.WRAP)
    start = spot(ribbon, EventKind.WRAP)
    axis = ribbon.axis()
    mark = next(m for m in ribbon.ribbon.marks if m.kind == EventKind.WRAP)
    end = QPoint(round(axis.at(mark.at + 1800.0)), start.y())
    drag(ribbon, start, end)
    (wrap,) = (e for e in window.desk.journal.find(Event) if e.kind == EventKind.WRAP)
    assert wrap.planned_at is not None
    moved = wrap.planned_at.timestamp() - mark.at
    assert abs(moved - 1800.0) <= 300.0
    assert wrap.planned_at.timestamp() % 300.0 == 0.0
    assert clock(window, cook_id, EventKind.WRAP) != before
    window.desk.bridge.undo()
    assert clock(window, cook_id, EventKind.WRAP) == before


def test_that_a_drag_shows_what_would_move_and_escape_leaves_all_as_it_was(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    _, ribbon, cook_id = planned(window, qtbot)
    before, shown = clock(window, cook_id, EventKind.ON), ribbon.ribbon
    start = spot(ribbon, EventKind.ON)
    drag(ribbon, start, start + QPoint(60, 0), let_go=False)
    assert ribbon.ribbon != shown  # the rest of the day has moved with it
    ribbon.grab()
    qtbot.keyClick(ribbon, Qt.Key.Key_Escape)
    assert ribbon.ribbon == shown
    assert clock(window, cook_id, EventKind.ON) == before


def test_that_keys_walk_move_lock_type_and_take_away(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    card, ribbon, cook_id = planned(window, qtbot)
    ribbon.setFocus()
    while ribbon.mark is None or ribbon.mark.kind != EventKind.WRAP:
        qtbot.keyClick(ribbon, Qt.Key.Key_Right)
    assert card.steps.chosen is not None
    assert card.steps.chosen.text.startswith("Wrap")  # one choice in both pictures of the day
    at = ribbon.mark.at
    qtbot.keyClick(ribbon, Qt.Key.Key_Right, Qt.KeyboardModifier.AltModifier)
    qtbot.keyClick(ribbon, Qt.Key.Key_Right, Qt.KeyboardModifier.AltModifier)
    mark = ribbon.mark
    assert mark is not None
    assert mark.at == at + 600.0
    window.desk.bridge.undo()  # nudging one step is one step to undo
    assert clock(window, cook_id, EventKind.WRAP) != ""
    assert ribbon.mark is not None
    assert ribbon.mark.at == at
    qtbot.keyClick(ribbon, Qt.Key.Key_L)
    (wrap,) = (e for e in window.desk.journal.find(Event) if e.kind == EventKind.WRAP)
    assert wrap.locked
    start = spot(ribbon, EventKind.WRAP)
    drag(ribbon, start, start + QPoint(80, 0))
    (same,) = (e for e in window.desk.journal.find(Event) if e.kind == EventKind.WRAP)
    assert same.planned_at == wrap.planned_at  # a locked step is not dragged by a slip
    ribbon.setFocus()
    qtbot.keyClick(ribbon, Qt.Key.Key_Delete)
    kinds = {e.kind for e in window.desk.journal.find(Event) if is_open(e)}
    assert EventKind.WRAP not in kinds


def test_that_the_ribbon_says_the_chances_and_has_words_whole_in_every_look(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    card, ribbon, _ = planned(window, qtbot)
    qtbot.waitUntil(lambda: ribbon.ribbon.fan is not None, timeout=20_000)
    fan = ribbon.ribbon.fan
    assert fan is not None
    assert fan.early < fan.likely < fan.late
    assert "in 80 of 100 such cooks" in ribbon.sentence()
    on = next(m for m in ribbon.ribbon.marks if m.kind == EventKind.ON)
    # Ribs take 3 to 6 hours by the trade's range (common practice, no source): usual 4 h 30.
    assert timedelta(seconds=fan.likely - on.at) == timedelta(hours=4, minutes=30)
    for theme in ("light", "night", "sun"):
        look().choose(theme)
        for size in ((1280, 800), (1024, 700)):
            window.resize(*size)
            assert faults_in(ribbon) == []
    look().choose("light")
    assert card.ribbon.isVisible()
