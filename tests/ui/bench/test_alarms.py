"""Alarms at the bench, with a clock of our own: set in two taps, rung until they are heard."""

import sys
from collections.abc import Callable
from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.domain.alarm import RING_EVERY, Alarm, AlarmState
from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.treatment import FuelLoad, FuelStage
from pitjournal.journal.commands.bench import CheckDoneness, FinishCook
from pitjournal.journal.commands.records import Add
from pitjournal.ui import alarm_sound
from pitjournal.ui.bench.alarms.alarm_panel import AlarmPanel
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.fuel_panel import FuelPanel
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.window import Window
from tests.ui.bench.clock import Clock, bench_of, bench_on
from tests.ui.conftest import Opener

LEFT = Qt.MouseButton.LeftButton


def set_alarm(qtbot: QtBot, window: Window, bench: BenchPage, text: str, below: str) -> None:
    """Set an alarm as a cook does: two taps."""
    qtbot.mouseClick(bench.alarm_tap, LEFT)
    panel = window.findChild(AlarmPanel)
    assert panel is not None
    tap = next(t for t in panel.taps if t.text() == text and below in t.accessibleDescription())
    qtbot.mouseClick(tap, LEFT)


@pytest.fixture
def beeps(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    found: list[int] = []
    monkeypatch.setattr(QApplication, "beep", lambda: found.append(1))
    monkeypatch.setitem(sys.modules, "PySide6.QtMultimedia", None)
    monkeypatch.setattr(alarm_sound, "which", lambda _name: None)
    return found


def test_that_two_taps_set_an_alarm_that_rings_until_it_is_heard(
    qtbot: QtBot, open_window: Opener, beeps: list[int]
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    set_alarm(qtbot, window, bench, "20 min", "")
    alarm = window.desk.journal.find(Alarm)[0]
    assert alarm.at == clock.now + timedelta(minutes=20)
    assert not bench.alarm.isVisible()
    clock.pass_minutes(window, 20)
    assert bench.alarm.isVisible()
    assert "20 min are over" in bench.alarm.said.accessibleName()
    assert len(beeps) == 1
    clock.pass_seconds(window, RING_EVERY)
    assert len(beeps) == 2  # nobody answers, so it sounds again
    window.go("shelf")
    assert window.rail.running.accessibleName().startswith("alarm: 20 min")
    clock.pass_seconds(window, RING_EVERY)
    assert len(beeps) == 3
    qtbot.mouseClick(window.rail.running, LEFT)
    assert bench_of(window) is bench
    qtbot.mouseClick(bench.alarm.hear, LEFT)
    clock.pass_minutes(window, 5)
    assert len(beeps) == 3
    assert "Heard, not done" in bench.alarm.said.accessibleName()
    qtbot.mouseClick(bench.alarm.done, LEFT)
    assert not bench.alarm.isVisible()


def test_that_an_alarm_after_the_last_spritz_is_done_by_spritzing(
    qtbot: QtBot, open_window: Opener, beeps: list[int]
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    bench.taps["spritz"].click()
    set_alarm(qtbot, window, bench, "Spritz", "45 min")
    clock.pass_minutes(window, 46)
    assert beeps
    assert bench.alarm.done.text() == "Spritz"
    qtbot.mouseClick(bench.alarm.done, LEFT)
    journal = window.desk.journal
    assert len([e for e in journal.find(Event) if e.kind == EventKind.SPRITZ]) == 2
    assert not bench.alarm.isVisible()
    clock.pass_minutes(window, 46)
    assert bench.alarm.isVisible()  # it waits for the next one too


def test_that_an_alarm_put_off_comes_back(
    qtbot: QtBot, open_window: Opener, beeps: list[int]
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    set_alarm(qtbot, window, bench, "5 min", "")
    clock.pass_minutes(window, 6)
    qtbot.mouseClick(bench.alarm.later, LEFT)
    assert not bench.alarm.isVisible()
    clock.pass_minutes(window, 9)
    assert len(beeps) == 1
    clock.pass_minutes(window, 1)
    assert len(beeps) == 2
    assert bench.alarm.isVisible()


def test_that_a_probed_piece_calls_for_the_wrap(
    qtbot: QtBot, open_window: Opener, beeps: list[int]
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    set_alarm(qtbot, window, bench, "Wrap", "160 °F")
    assert bench.whole is not None
    assert len(window.desk.journal.find(Alarm)) == len(bench.whole.pieces)
    clock.pass_minutes(window, 90)
    assert not beeps
    piece = bench.whole.pieces[1]
    check = DonenessCheck(
        cook_id=piece.cook_id, piece_id=piece.id, at=clock.now, internal=(161 - 32) / 1.8
    )
    window.desk.journal.do(CheckDoneness(check))
    clock.pass_seconds(window, 1)
    assert bench.alarm.said.accessibleName() == f"{piece.label}: wrap: 160 °F reached"
    qtbot.mouseClick(bench.alarm.done, LEFT)
    wrap = next(e for e in window.desk.journal.find(Event) if e.kind == EventKind.WRAP)
    assert wrap.pieces == (piece.id,)


def test_that_to_answer_a_call_to_probe_opens_the_probe_panel(
    qtbot: QtBot, open_window: Opener, beeps: list[int]
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    set_alarm(qtbot, window, bench, "Probe", "180 °F")
    assert bench.whole is not None
    piece = bench.whole.pieces[2]
    check = DonenessCheck(
        cook_id=piece.cook_id, piece_id=piece.id, at=clock.now, internal=(182 - 32) / 1.8
    )
    window.desk.journal.do(CheckDoneness(check))
    clock.pass_seconds(window, 1)
    assert beeps
    qtbot.mouseClick(bench.alarm.done, LEFT)
    panel = window.findChild(FeelPanel)
    assert panel is not None
    assert panel.pieces.values() == (piece.id,)
    assert not bench.alarm.isVisible()


def test_that_a_call_to_refuel_opens_the_fuel_and_is_done_by_weighing_some(
    qtbot: QtBot, open_window: Opener, beeps: list[int]
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    assert bench.whole is not None
    cook_id = bench.whole.cook.id
    load = FuelLoad(cook_id=cook_id, stage=FuelStage.IN, fuel="lump", mass=900.0, at=clock.now)
    window.desk.journal.do(Add((load,), "Fuel"))
    set_alarm(qtbot, window, bench, "Refuel", "1 h")
    assert bench.alarm_tap.accessibleDescription() == "08:00"
    clock.pass_minutes(window, 61)
    assert beeps
    assert bench.alarm.done.text() == "Fuel"
    qtbot.mouseClick(bench.alarm.done, LEFT)
    assert window.findChild(FuelPanel) is not None
    assert not bench.alarm.isVisible()


def test_that_an_overdue_alarm_shows_at_once_after_a_restart(
    qtbot: QtBot, open_window: Opener, beeps: list[int], reopen: Callable[[Window], Window]
) -> None:
    window, clock = open_window(), Clock()
    set_alarm(qtbot, window, bench_on(window, clock), "5 min", "")
    again = reopen(window)
    clock.now += timedelta(hours=9)
    clock.wind(again)
    again.desk.watch.look()
    assert [called.state for called in again.desk.watch.called] == [AlarmState.RINGING]
    assert again.rail.running.accessibleName().startswith("alarm:")
    assert beeps


def test_that_a_time_and_a_temperature_of_ones_own_can_be_set(
    qtbot: QtBot, open_window: Opener
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    qtbot.mouseClick(bench.alarm_tap, LEFT)
    panel = window.findChild(AlarmPanel)
    assert panel is not None
    panel._set_time()
    assert "at what time" in panel.time.error.text()
    qtbot.keyClicks(panel.what, "turn in box 2")
    qtbot.keyClicks(panel.time.line, "in 40 min")
    panel._set_time()
    qtbot.waitUntil(lambda: window.findChild(AlarmPanel) is None)
    qtbot.mouseClick(bench.alarm_tap, LEFT)
    panel = window.findChild(AlarmPanel)
    assert panel is not None
    panel._set_level()
    assert "which temperature" in panel.level.error.text()
    panel.probe.choose("pit")
    panel.side.choose("under")
    qtbot.keyClicks(panel.level.line, "225F")
    panel._set_level()
    own, pit = window.desk.journal.find(Alarm)
    assert (own.words, own.at) == ("turn in box 2", clock.now + timedelta(minutes=40))
    assert (pit.words, pit.high) == ("Pit under 225 °F", None)
    assert pit.low == pytest.approx((225 - 32) / 1.8)


def test_that_a_cook_that_is_over_rings_no_more(
    qtbot: QtBot, open_window: Opener, beeps: list[int]
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    set_alarm(qtbot, window, bench, "5 min", "")
    assert bench.whole is not None
    window.desk.journal.do(FinishCook(bench.whole.cook.id))
    clock.pass_minutes(window, 10)
    assert not beeps
    assert not window.desk.watch.called


def test_that_a_clock_set_back_does_not_silence_what_rings(
    qtbot: QtBot, open_window: Opener, beeps: list[int]
) -> None:
    window, clock = open_window(), Clock()
    set_alarm(qtbot, window, bench_on(window, clock), "5 min", "")
    clock.pass_minutes(window, 300)
    assert len(beeps) == 1
    clock.pass_minutes(window, -60)
    assert len(beeps) == 2


def test_that_an_alarm_can_be_taken_away(qtbot: QtBot, open_window: Opener) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    set_alarm(qtbot, window, bench, "5 min", "")
    qtbot.mouseClick(bench.alarm_tap, LEFT)
    panel = window.findChild(AlarmPanel)
    assert panel is not None
    panel._remover(window.desk.watch.of_cook(window.desk.journal.find(Alarm)[0].cook_id)[0])()
    assert not window.desk.journal.find(Alarm)
    window.desk.bridge.undo()
    assert window.desk.journal.find(Alarm)
