"""A cook planned for Saturday and lit on Monday, as a cook does when the weather turns."""

from dataclasses import replace
from datetime import timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.times.moments import show_day
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.records import Change
from tests.builders import NOON, add_comparison, an_event
from tests.ui.bench.clock import Clock, bench_of
from tests.ui.conftest import Opener

LEFT = Qt.MouseButton.LeftButton
DAYS = timedelta(days=5)


def test_that_a_cook_begun_on_another_day_takes_that_day_with_its_plan_in_one_step(
    qtbot: QtBot, open_window: Opener
) -> None:
    window, clock = open_window(), Clock()
    clock.wind(window)
    journal, command = window.desk.journal, add_comparison()
    journal.do(command)
    cook_id = command.cook.id
    journal.do(Change(Cook, cook_id, {"starts_at": NOON + DAYS, "serve_at": NOON + 2 * DAYS}, "S"))
    for kind, hours in ((EventKind.LIT, -1), (EventKind.ROTATE, 3)):
        at = NOON + DAYS + timedelta(hours=hours)
        step = replace(an_event(cook_id, kind), happened_at=None, planned_at=at)
        journal.do(LogEvent(step, "Plan"))
    window.go("cook", cook_id, "bench")
    bench = bench_of(window)
    qtbot.mouseClick(bench.taps["lit"], LEFT)
    cook = journal.whole(cook_id).cook
    assert cook.status is CookStatus.RUNNING
    assert cook.starts_at == NOON + timedelta(hours=1)  # as long after the fire as planned
    rotate = next(e for e in journal.find(Event) if e.kind == EventKind.ROTATE)
    assert rotate.planned_at == NOON + timedelta(hours=4)
    day = show_day(NOON, cook.zone)
    assert f"Cook moved to {day}" in bench.bar.text.text()
    assert any(day in label.text() for label in window.findChildren(QLabel))
    window.desk.bridge.undo()
    cook = journal.whole(cook_id).cook
    assert (cook.status, cook.starts_at) == (CookStatus.PLANNED, NOON + DAYS)
    assert cook.serve_at == NOON + 2 * DAYS
