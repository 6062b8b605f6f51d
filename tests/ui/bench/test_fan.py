"""The forecast at the bench: a fan in the chart, a hump on the ribbon, worked out by a job."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from pitjournal.analysis.bench.alarms import AlarmNow
from pitjournal.domain.alarm import Alarm, AlarmKind, AlarmState
from pitjournal.domain.event import Event, EventKind
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.ui.bench.ahead_panel import AheadPanel
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.charts.trace.fans import TraceFan
from pitjournal.ui.look.parts.overlay import panels_over
from pitjournal.ui.window import Window
from tests.benchmarks.cook_simulator import house, simulate
from tests.benchmarks.simulated import Cooks
from tests.builders import NOON
from tests.ui.bench.clock import Clock, bench_of
from tests.ui.bench.test_alarms import LEFT, set_alarm
from tests.ui.conftest import Opener
from tests.under_way import under_way


@pytest.fixture(scope="module")
def ribs() -> Cooks:
    return simulate(house(4, "St. Louis ribs"), 1, 4, 7.0)


def bench_at(window: Window, ribs: Cooks, minutes: int) -> tuple[BenchPage, Clock]:
    """Go to the bench of a rack that has been on for so long."""
    clock = Clock(NOON + timedelta(minutes=minutes))
    clock.wind(window)
    cook = under_way(window.desk.journal, ribs, minutes)
    window.go("cook", cook.id, "bench")
    return bench_of(window), clock


def set_before_off(qtbot: QtBot, window: Window, bench: BenchPage) -> Alarm:
    """Set an alarm half an hour before it comes off, and wait for what the forecast says."""
    set_alarm(qtbot, window, bench, "Comes off", "30 min before")
    (alarm,) = window.desk.journal.find(Alarm)
    qtbot.waitUntil(lambda: bool(window.desk.forecasts.found(alarm.cook_id)), timeout=30_000)
    return alarm


def _seconds(at: datetime | None) -> float:
    assert at is not None
    return at.timestamp()


def _fan(bench: BenchPage) -> TraceFan | None:
    return bench.chart.chart.fan


def test_that_the_fan_opens_from_the_last_reading_to_the_target_on_chart_and_ribbon(
    qtbot: QtBot, open_window: Opener, ribs: Cooks
) -> None:
    window = open_window()
    bench, clock = bench_at(window, ribs, 100)
    assert _fan(bench) is None  # nothing waits for it
    qtbot.waitUntil(lambda: bench.chart.chart.fan is not None, timeout=30_000)
    (off,) = window.desk.forecasts.found(bench.shown.cook.id if bench.shown else "")
    fan = _fan(bench)
    assert fan is not None
    assert fan.start[0] == pytest.approx((clock.now - timedelta(minutes=1)).timestamp())
    last = fan.steps[-1]
    assert last.likely == pytest.approx(_seconds(off.likely), abs=120)
    assert last.nine[0] <= last.half[0] <= last.likely <= last.half[1] <= last.nine[1]
    # all of it can be seen, and it is told to those who cannot see it
    span = bench.chart.chart.span()
    assert span is not None
    assert span[1] >= last.half[1]
    assert "Ahead: 1 at" in bench.chart.chart.sentence()
    assert bench.chart.chart.table()[-1][0].startswith("1 ahead")
    qtbot.waitUntil(lambda: bench.day.ribbon.ribbon.fan is not None)
    hump = bench.day.ribbon.picture().hump
    assert hump is not None
    assert hump.inner
    assert hump.y > 10  # its words are whole: beside it, there is no room over it
    assert hump.inner[0][0] >= hump.points[0][0]
    assert "in 90" in bench.day.ribbon.sentence()
    clock.pass_seconds(window, 1)
    (card,) = bench.pieces.cards
    assert "most likely" in card.accessibleName()


def test_that_a_forecast_that_is_refused_gives_its_reason_and_no_fan(
    qtbot: QtBot, open_window: Opener, ribs: Cooks
) -> None:
    bench, _clock = bench_at(open_window(), ribs, 8)
    qtbot.waitUntil(lambda: "ten minutes" in bench.day.ahead.accessibleName(), timeout=30_000)
    assert bench.chart.chart.fan is None
    assert bench.day.ribbon.ribbon.fan is None
    (card,) = bench.pieces.cards
    before = card.geometry()
    bench._tick()
    assert "under ten minutes of readings" in card.accessibleName()
    assert card.geometry() == before  # no card moves under a finger


def test_that_the_fan_goes_away_with_the_meat(
    qtbot: QtBot, open_window: Opener, ribs: Cooks
) -> None:
    window = open_window()
    bench, clock = bench_at(window, ribs, 100)
    qtbot.waitUntil(lambda: bench.chart.chart.fan is not None, timeout=30_000)
    assert bench.shown is not None
    off = Event(
        cook_id=bench.shown.cook.id,
        kind=EventKind.OFF,
        happened_at=clock.now,
        entered_at=clock.now,
        pieces=(bench.shown.pieces[0].id,),
    )
    window.desk.journal.do(LogEvent(off, "Log off"))
    clock.pass_minutes(window, 2)
    qtbot.waitUntil(lambda: bench.chart.chart.fan is None, timeout=30_000)
    clock.pass_seconds(window, 1)
    qtbot.waitUntil(lambda: bench.day.ribbon.ribbon.fan is None)


def test_that_a_forecast_is_worked_out_once_a_minute(
    qtbot: QtBot, open_window: Opener, ribs: Cooks
) -> None:
    window = open_window()
    bench, clock = bench_at(window, ribs, 100)
    qtbot.waitUntil(lambda: bench.chart.chart.fan is not None, timeout=30_000)
    told: list[str] = []
    window.desk.forecasts.changed.connect(told.append)
    clock.pass_seconds(window, 30)
    assert not window.desk.forecasts._busy
    clock.pass_seconds(window, 31)
    assert window.desk.forecasts._busy
    qtbot.waitUntil(lambda: bool(told), timeout=30_000)


def test_that_an_alarm_before_it_comes_off_follows_the_forecast_and_rings_once(
    qtbot: QtBot, open_window: Opener, ribs: Cooks
) -> None:
    window = open_window()
    bench, clock = bench_at(window, ribs, 100)
    alarm = set_before_off(qtbot, window, bench)
    assert alarm.kind is AlarmKind.BEFORE_OFF
    forecasts, watch = window.desk.forecasts, window.desk.watch
    (off,) = forecasts.found(alarm.cook_id)
    assert off.likely is not None

    def now() -> AlarmNow:
        (one,) = watch.of_cook(alarm.cook_id)
        return one

    assert now().due == off.likely - timedelta(minutes=30)
    # the forecast moves an hour on: so does the alarm
    later = replace(off, likely=off.likely + timedelta(hours=1))
    forecasts._known[alarm.cook_id] = (later,), None
    watch.look()
    assert now().due == off.likely + timedelta(minutes=30)
    # it is a quarter of an hour away: it rings, and says what it rests on
    forecasts._known[alarm.cook_id] = (
        (replace(off, likely=clock.now + timedelta(minutes=15)),),
        None,
    )
    watch.look()
    assert now().state is AlarmState.RINGING
    assert "before it comes off" in bench.alarm.said.accessibleName()
    assert "h of readings" in bench.alarm.why.accessibleName()
    # it goes on ringing though the forecast moves away, and once heard it never rings again
    forecasts._known[alarm.cook_id] = (later,), None
    watch.look()
    assert now().state is AlarmState.RINGING
    qtbot.mouseClick(bench.alarm.hear, LEFT)
    assert now().state is AlarmState.HEARD
    forecasts._known[alarm.cook_id] = (replace(off, likely=clock.now + timedelta(minutes=5)),), None
    watch.look()
    assert now().state is AlarmState.HEARD


def test_that_an_alarm_before_it_comes_off_without_a_forecast_is_not_known(
    qtbot: QtBot, open_window: Opener, ribs: Cooks
) -> None:
    window = open_window()
    bench, _clock = bench_at(window, ribs, 8)
    alarm = set_before_off(qtbot, window, bench)
    (one,) = window.desk.watch.of_cook(alarm.cook_id)
    assert one.state is AlarmState.UNKNOWN
    assert one.due is None


def test_that_the_panel_tells_the_times_what_they_rest_on_and_what_a_change_would_do(
    qtbot: QtBot, open_window: Opener, ribs: Cooks
) -> None:
    window = open_window()
    bench, clock = bench_at(window, ribs, 100)
    qtbot.waitUntil(lambda: _fan(bench) is not None, timeout=30_000)
    clock.pass_seconds(window, 1)
    qtbot.mouseClick(bench.day.what_if, LEFT)
    (panel,) = window.findChildren(AheadPanel)
    said = " ".join(label.text() for label in panel.findChildren(QLabel))
    for words in ("Most likely", "Nine in ten", "h of readings", "hotter", "earlier"):
        assert words in said
    assert panel.changes.isVisible()
    panel.close_panel()
    qtbot.mouseClick(bench.off, LEFT)
    assert panels_over(window)


def test_that_the_panel_says_why_there_is_no_forecast(
    qtbot: QtBot, open_window: Opener, ribs: Cooks
) -> None:
    bench, _clock = bench_at(open_window(), ribs, 8)
    qtbot.waitUntil(lambda: "ten minutes" in bench.day.ahead.accessibleName(), timeout=30_000)
    bench.opens.ahead()
    (panel,) = bench.window().findChildren(AheadPanel)
    assert "under ten minutes" in panel.told.text()
    assert not panel.changes.isVisible()
