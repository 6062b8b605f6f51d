"""A clock that was set while a cook runs is said once, in a window on no screen."""

from datetime import datetime, timedelta

import pytest
from PySide6.QtWidgets import QLabel

from pitjournal.domain.event import Event, EventKind
from pitjournal.ui import clock_watch
from pitjournal.ui.clock_watch import ClockPanel
from pitjournal.ui.window import Window
from tests.journal.test_steady_clock import Computer
from tests.ui.bench.clock import Clock, bench_of, bench_on
from tests.ui.conftest import Opener

HOUR = timedelta(hours=1)


def at_the_bench(open_window: Opener) -> tuple[Window, Computer]:
    """Open a running cook under a computer whose clock can be set."""
    window, computer = open_window(), Computer()
    bench = bench_on(window, Clock())
    window.desk.steady = computer.clock()
    window.desk.clock = window.desk.steady.now
    assert bench.whole is not None
    return window, computer


def panel_of(window: Window) -> ClockPanel | None:
    return window.findChild(ClockPanel)


def test_that_what_is_logged_keeps_its_order_and_is_moved_together(open_window: Opener) -> None:
    window, computer = at_the_bench(open_window)
    bench = bench_of(window)
    computer.pass_by(600)
    bench.log(EventKind.SPRITZ)
    computer.wall -= HOUR
    computer.pass_by(600)
    bench.log(EventKind.WRAP)

    def times() -> list[datetime]:
        kinds = (EventKind.SPRITZ, EventKind.WRAP)
        found = [window.desk.journal.find(Event, kind=kind)[0].happened_at for kind in kinds]
        return [moment for moment in found if moment is not None]

    spritz, wrap = times()
    assert wrap - spritz == timedelta(minutes=10)
    window._look_at_clock()
    panel = panel_of(window)
    assert panel is not None
    assert "set back by 1 h" in " ".join(w.text() for w in panel.findChildren(QLabel))
    panel.mend.click()
    assert times() == [spritz - HOUR, wrap - HOUR]
    assert window.desk.now() == computer.wall
    window.desk.bridge.undo()
    assert times() == [spritz, wrap]


def test_that_it_is_said_once_and_the_old_clock_can_be_kept(open_window: Opener) -> None:
    window, computer = at_the_bench(open_window)
    computer.wall += 3 * HOUR
    window._look_at_clock()
    panel = panel_of(window)
    assert panel is not None
    panel.keep.click()
    before = window.desk.now()
    computer.pass_by(60)
    window._look_at_clock()
    assert not any(p.isVisible() for p in window.findChildren(ClockPanel))
    assert window.desk.now() - before == timedelta(minutes=1)


def test_that_another_zone_is_said_once(
    open_window: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    window, _ = at_the_bench(open_window)
    said: list[str] = []
    window.desk.bridge.told.connect(said.append)
    monkeypatch.setattr(clock_watch, "local_zone", lambda: "Europe/Lisbon")
    window._look_at_clock()
    window._look_at_clock()
    assert len(said) == 1
    assert "Europe/Lisbon" in said[0]
