"""The card of the day in the real window: worked out, typed into, moved by keys, locked."""

from datetime import UTC, datetime, timedelta
from typing import cast

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from pitjournal.domain.day.schedule import StepKind, is_open
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.times.moments import show_time
from pitjournal.domain.treatment import Seasoning
from pitjournal.journal.commands.records import Add, Change, Remove
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.plan.schedule import ScheduleCard
from pitjournal.ui.plan.step_panel import StepPanel
from pitjournal.ui.window import Window
from tests.builders import add_comparison
from tests.ui.conftest import Opener

ZONE = "America/Chicago"


def open_plan(window: Window) -> tuple[ScheduleCard, str]:
    command = add_comparison()
    window.desk.journal.do(command)
    window.go("cook", command.cook.id, "plan")
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, PlanPage)
    return place.current.schedule, command.cook.id


def work_out(qtbot: QtBot, card: ScheduleCard) -> None:
    card.serves.line.setText("18:00")
    card.serves.line.setModified(True)
    card.serves.commit()
    qtbot.mouseClick(card.begin, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bool(card.steps.steps.lines), timeout=20_000)


def clock(window: Window, cook_id: str, kind: str) -> str:
    whole = window.desk.journal.whole(cook_id)
    step = next(e for e in whole.events if e.kind == kind)
    return show_time(step.planned_at, ZONE)


def choose(card: ScheduleCard, text: str) -> int:
    place = next(n for n, line in enumerate(card.steps.steps.lines) if line.text == text)
    card.steps.setCurrentIndex(card.steps.steps.index(place))
    return place


def type_time(qtbot: QtBot, card: ScheduleCard, text: str) -> None:
    """Type into the chosen line as a cook does: a digit opens its field."""
    qtbot.keyClick(card.steps, text[0])
    field = card.steps.viewport().findChildren(QLineEdit)[-1]
    qtbot.keyClicks(field, text[1:])
    with qtbot.waitSignal(card.steps.itemDelegate().commitData):
        qtbot.keyClick(field, Qt.Key.Key_Return)


def test_that_a_day_is_worked_out_and_typed_into(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    card, cook_id = open_plan(window)
    starts_at = window.desk.journal.whole(cook_id).cook.starts_at
    window.desk.clock = lambda: starts_at
    assert not card.steps.isVisibleTo(card)
    work_out(qtbot, card)
    assert clock(window, cook_id, StepKind.TASTE) == "18:00"
    assert card.chance.text() in {"89 %", "90 %", "91 %"}
    assert "no source" in card.sources.text()
    before = clock(window, cook_id, EventKind.LIT)
    choose(card, "On")
    type_time(qtbot, card, "11:00")
    assert clock(window, cook_id, EventKind.ON) == "11:00"
    assert clock(window, cook_id, EventKind.LIT) == "10:15" != before
    assert clock(window, cook_id, StepKind.TASTE) == "18:00"
    assert card.steps.chosen is not None
    assert card.steps.chosen.text == "On"
    window.desk.bridge.undo()
    assert clock(window, cook_id, EventKind.LIT) == before


def test_that_a_time_that_is_not_understood_stays_to_be_mended(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    card, cook_id = open_plan(window)
    work_out(qtbot, card)
    before = clock(window, cook_id, EventKind.ON)
    choose(card, "On")
    type_time(qtbot, card, "25 o'clock")
    assert "is not a time" in card.problem.text()
    assert clock(window, cook_id, EventKind.ON) == before
    qtbot.waitUntil(
        lambda: any(
            field.text() == "25 o'clock" for field in card.steps.viewport().findChildren(QLineEdit)
        )
    )


def test_that_keys_move_lock_and_take_away(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    card, cook_id = open_plan(window)
    work_out(qtbot, card)
    wrap = clock(window, cook_id, EventKind.WRAP)
    on = clock(window, cook_id, EventKind.ON)
    choose(card, "On")
    qtbot.keyClick(card.steps, Qt.Key.Key_L)
    choose(card, "Wrap")
    qtbot.keyClick(card.steps, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    earlier = datetime.strptime(wrap, "%H:%M").replace(tzinfo=UTC) - timedelta(minutes=5)
    assert clock(window, cook_id, EventKind.WRAP) == earlier.strftime("%H:%M")
    assert clock(window, cook_id, EventKind.ON) == on
    choose(card, "Start probing, every 15 min")
    qtbot.keyClick(card.steps, Qt.Key.Key_Delete)
    kinds = {e.kind for e in window.desk.journal.find(Event) if is_open(e)}
    assert StepKind.PROBE not in kinds
    assert "locked" in card.steps.accessibleDescription()


def test_that_a_day_is_told_in_words_and_as_a_table(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    card, _ = open_plan(window)
    work_out(qtbot, card)
    assert ", taste 18:00." in card.ribbon.sentence()
    rows = {row[0]: row for row in card.ribbon.table()[1:]}
    assert rows["taste"] == ["taste", "all", "18:00", "not yet"]
    assert rows["inject"][1] == "Injected"
    for theme_size in ((1024, 700), (1280, 800)):
        window.resize(*theme_size)
        window.grab()


def test_that_a_step_of_ones_own_is_added_and_moves_with_its_cut(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    card, cook_id = open_plan(window)
    work_out(qtbot, card)
    card.add_step()
    panel = window.findChild(StepPanel)
    assert panel is not None
    panel.add()
    assert "Say what is done" in panel.what.error.text()
    panel.what.line.setText("refuel")
    panel.add()
    assert "Say when" in panel.when.error.text()
    panel.when.line.setText("13:30")
    panel.when.line.setModified(True)
    panel.add()
    assert clock(window, cook_id, "refuel") == "13:30"
    on = clock(window, cook_id, EventKind.ON)
    choose(card, "Refuel")
    qtbot.keyClick(card.steps, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert clock(window, cook_id, "refuel") == "13:25"
    assert clock(window, cook_id, EventKind.ON) != on


def test_that_slots_stay_with_the_cooker_and_too_few_are_said(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    card, cook_id = open_plan(window)
    plan = cast("PlanPage", cast("CookPlace", window.place).current)
    assert not plan.slots.isVisibleTo(plan)
    for field, text in ((plan.cooker, "the drum"), (plan.slots, "6"), (plan.across, "2")):
        field.line.setText(text)
        field.line.setModified(True)
        field.commit()
    work_out(qtbot, card)
    assert "9 pieces are on, and the drum has 6 slots" in card.troubles.text()
    whole = window.desk.journal.whole(cook_id)
    assert whole.cooker is not None
    assert dict(whole.cooker.details) == {"slots": "6", "across": "2"}
    plan.slots.line.setText("0")
    plan.slots.line.setModified(True)
    plan.slots.commit()
    assert plan.slots.error.text() == "At least one."


def test_that_the_plan_drives_the_bench_and_shows_what_was_done(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    card, cook_id = open_plan(window)
    work_out(qtbot, card)
    whole = window.desk.journal.whole(cook_id)
    on = next(e for e in whole.events if e.kind == EventKind.ON)
    now = on.planned_at
    assert now is not None
    window.desk.clock = lambda: now + timedelta(minutes=3)
    window.go("cook", cook_id, "bench")
    bench = cast("BenchPage", cast("CookPlace", window.place).current)
    assert bench.due.due.heading.startswith("Trim and weigh")
    qtbot.mouseClick(bench.taps["on"], Qt.MouseButton.LeftButton)
    # Meat that is on needs no trimming any more: the wrap is next.
    qtbot.waitUntil(lambda: bench.due.due.heading.startswith("Wrap"))
    window.go("cook", cook_id, "plan")
    assert show_time(now, ZONE) not in {line.clock for line in card.steps.steps.lines}
    line = next(line for line in card.steps.steps.lines if line.text.startswith("On"))
    assert line.text == f"On, planned for {show_time(now, ZONE)}"
    assert line.clock == show_time(now + timedelta(minutes=3), ZONE)
    assert line.done
    assert line.spoken.endswith("done")
    assert not window.desk.journal.whole(cook_id).happened(EventKind.OFF)


def test_that_a_plan_made_too_late_says_so_and_its_chance_goes_by_the_true_time(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    card, cook_id = open_plan(window)
    whole = window.desk.journal.whole(cook_id)
    window.desk.clock = lambda: whole.cook.starts_at
    work_out(qtbot, card)
    assert "should have been on" not in card.troubles.text()
    window.desk.clock = lambda: whole.cook.starts_at + timedelta(hours=7)  # 14:00
    choose(card, "Wrap")
    qtbot.keyClick(card.steps, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert "all 9 should have been on at 11:40" in card.troubles.text()
    choose(card, "On")
    type_time(qtbot, card, "14:00")
    assert "should have been on" not in card.troubles.text()
    # The fire is not lit: 45 min later than that is the soonest.
    assert "the fire should have been lit at 13:15" in card.troubles.text()
    assert card.chance.text() == "under 1 %"
    (lit,) = (e for e in window.desk.journal.find(Event) if e.kind == EventKind.LIT)
    burning = {"happened_at": whole.cook.starts_at + timedelta(hours=6)}
    window.desk.journal.do(Change(Event, lit.id, burning, "Log lit"))
    # Four hours less 5 min of rest and 36 of slicing: 199 min of a range of 180 to 360, which is
    # 1.17 standard deviations below its middle on the logarithm: 12 % by the normal table.
    qtbot.waitUntil(lambda: card.chance.text() == "12 %")
    assert clock(window, cook_id, StepKind.TASTE) == "18:00"


def test_that_rub_added_later_asks_to_join_the_day(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    card, cook_id = open_plan(window)
    journal = window.desk.journal
    for layer in journal.whole(cook_id).seasonings:
        window.desk.bridge.do(Remove(Seasoning, layer.id, "Remove"))
    work_out(qtbot, card)
    assert not card.join.isVisibleTo(card)
    assert StepKind.RUB not in {e.kind for e in journal.whole(cook_id).events}
    rub = Seasoning(
        cook_id=cook_id, position=0, rub="red rub", set_time=40 * 60.0, side="back first"
    )
    window.desk.bridge.do(Add((rub,), "Add rub"))
    qtbot.waitUntil(lambda: card.join.isVisibleTo(card))
    assert "Rub: red rub, back first, 40 min (all 9): new, at " in card.join.lines.text()
    qtbot.mouseClick(card.join.yes, Qt.MouseButton.LeftButton)
    whole = journal.whole(cook_id)
    step = next(e for e in whole.events if e.kind == StepKind.RUB)
    on = next(e for e in whole.events if e.kind == EventKind.ON)
    assert on.planned_at is not None
    assert step.planned_at == on.planned_at - timedelta(minutes=40)
    assert not card.join.isVisibleTo(card)
    # Another layer asks for more time, and "not now" asks no more.
    more = Seasoning(cook_id=cook_id, position=1, rub="gold rub", set_time=20 * 60.0)
    window.desk.bridge.do(Add((more,), "Add rub"))
    qtbot.waitUntil(lambda: card.join.isVisibleTo(card))
    qtbot.mouseClick(card.join.no, Qt.MouseButton.LeftButton)
    assert not card.join.isVisibleTo(card)
    assert next(e for e in journal.whole(cook_id).events if e.id == step.id) == step


def test_that_working_out_again_says_what_it_would_change_and_keeps_what_was_made_by_hand(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    card, cook_id = open_plan(window)
    work_out(qtbot, card)
    journal = window.desk.journal
    whole = journal.whole(cook_id)
    on = next(e for e in whole.events if e.kind == EventKind.ON)
    assert on.planned_at is not None
    spritz = Event(
        cook_id=cook_id,
        kind=EventKind.SPRITZ,
        happened_at=None,
        entered_at=window.desk.now(),
        planned_at=on.planned_at + timedelta(hours=1),
    )
    window.desk.bridge.do(Add((spritz,), "Plan spritz"))
    qtbot.mouseClick(card.work, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: card.change.isVisibleTo(card))
    assert "nothing would change" in card.change.heading.text()
    choose(card, "On")
    type_time(qtbot, card, "10:00")
    before = journal.whole(cook_id).events
    qtbot.mouseClick(card.work, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: card.change.yes.isVisibleTo(card))
    first = show_time(on.planned_at, ZONE)
    assert f"On (all 9): 10:00 → {first}" in card.change.lines.text()
    assert journal.whole(cook_id).events == before  # said first, done only when told
    qtbot.mouseClick(card.change.yes, Qt.MouseButton.LeftButton)
    assert clock(window, cook_id, EventKind.ON) == first
    kept = next(e for e in journal.whole(cook_id).events if e.id == spritz.id)
    assert kept.planned_at == on.planned_at + timedelta(hours=1)  # an hour after the meat, still


def test_that_a_day_that_moves_meat_on_from_what_was_typed_says_so(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    card, cook_id = open_plan(window)
    before = window.desk.journal.whole(cook_id).cook.starts_at
    work_out(qtbot, card)
    after = window.desk.journal.whole(cook_id).cook.starts_at
    assert after != before
    said = card.change.heading.text()
    assert said.startswith("Meat on was ")
    assert show_time(before, ZONE) in said
    assert show_time(after, ZONE) in said
    assert card.change.isVisibleTo(card)
    assert not card.change.yes.isVisibleTo(card)
