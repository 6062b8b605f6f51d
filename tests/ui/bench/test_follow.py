"""Files that come in by themselves, at the bench: read on, shown, and seen by the alarms."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pitjournal.domain.alarm import Alarm, AlarmKind, Watched
from pitjournal.domain.event import EventKind, Photo
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.journal import following
from pitjournal.journal.commands.bench import LogEvent, SetAlarms
from pitjournal.store.attachments import Attachments
from pitjournal.store.faults import NotSavedError
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.bench.probes.follow_panel import FollowPanel
from pitjournal.ui.bench.probes.probe_panel import ProbePanel
from pitjournal.ui.window import Window
from tests.builders import NOON, an_event
from tests.journal.test_following import text
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.conftest import Opener

LEFT = Qt.MouseButton.LeftButton


def followed(qtbot: QtBot, window: Window, bench: BenchPage, path: Path) -> None:
    """Follow a new file as a cook does: choose it, keep what was understood of it."""
    bench.opens.follow()
    panel = window.findChild(FollowPanel)
    assert panel is not None
    panel.follow_new(path)
    qtbot.waitUntil(lambda: window.findChild(ProbePanel) is not None, timeout=20_000)
    probe = window.findChild(ProbePanel)
    assert probe is not None
    assert bench.whole is not None
    probe.put(1, bench.whole.pieces[0].id)
    qtbot.mouseClick(probe.keep, LEFT)
    journal = window.desk.journal
    qtbot.waitUntil(
        lambda: [kept.follows for kept in journal.find(ProbeFile)] == [str(path)], timeout=20_000
    )


def look(qtbot: QtBot, window: Window, count: int) -> None:
    """Look at the file until so many readings were seen."""
    follow = window.desk.follow

    def seen() -> bool:
        follow._not_before = 0.0
        sizes = {s.times.size for read in follow.reads.values() for s in read.readings.values()}
        if sizes == {count} and not follow._busy:  # else it reads while the test goes on
            return True
        follow.look()
        return False

    qtbot.waitUntil(seen, timeout=20_000)


def test_that_a_growing_file_is_followed_to_the_piece_the_chart_and_the_alarm(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window, clock = open_window(), Clock(NOON + timedelta(minutes=10))
    bench = bench_on(window, clock)
    path = tmp_path / "live.csv"
    path.write_text(text(10), encoding="utf-8")
    followed(qtbot, window, bench, path)
    assert bench.whole is not None
    piece = bench.whole.pieces[0]
    alarm = Alarm(
        cook_id=piece.cook_id,
        kind=AlarmKind.REACHES,
        words="Start probing",
        set_at=clock.now,
        watched=Watched.PIECE,
        piece_id=piece.id,
        high=(100.0 - 32) / 1.8,
    )
    window.desk.journal.do(SetAlarms((alarm,), "Alarm"))
    look(qtbot, window, 10)
    card = bench.pieces.cards[0]
    assert "49 °F" in card.accessibleName()  # 40 + 9
    assert "live" in card.accessibleName()
    assert "pit 250 °F" in bench.fire.heading.text()
    clock.pass_minutes(window, 60)
    assert "live" not in card.accessibleName()  # nothing was read for an hour
    path.write_text(text(71), encoding="utf-8")
    look(qtbot, window, 71)
    assert "110 °F" in card.accessibleName()
    assert bench.alarm.isVisible()
    assert bench.alarm.said.accessibleName() == f"{piece.label}: start probing"
    assert {trace.count for trace in window.desk.journal.find(Trace)} == {10}
    bench._finish()
    assert {trace.count for trace in window.desk.journal.find(Trace)} == {71}


def test_that_a_closed_window_has_kept_what_was_followed(
    qtbot: QtBot, open_window: Opener, tmp_path: Path, reopen: Callable[[Window], Window]
) -> None:
    window, clock = open_window(), Clock(NOON + timedelta(minutes=10))
    bench = bench_on(window, clock)
    path = tmp_path / "live.csv"
    path.write_text(text(10), encoding="utf-8")
    followed(qtbot, window, bench, path)
    path.write_text(text(33), encoding="utf-8")
    look(qtbot, window, 33)
    again = reopen(window)
    assert {trace.count for trace in again.desk.journal.find(Trace)} == {33}
    assert again.desk.journal.find(ProbeFile)[0].follows == str(path)  # and is followed on
    path.write_text(text(44), encoding="utf-8")
    clock.wind(again)
    look(qtbot, again, 44)


def test_that_a_file_that_is_gone_is_said_once(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window, clock = open_window(), Clock(NOON + timedelta(minutes=10))
    bench = bench_on(window, clock)
    path = tmp_path / "live.csv"
    path.write_text(text(10), encoding="utf-8")
    followed(qtbot, window, bench, path)
    look(qtbot, window, 10)
    said: list[str] = []
    window.desk.bridge.refused.connect(said.append)
    path.unlink()

    def gone() -> bool:
        window.desk.follow._not_before = 0.0
        window.desk.follow.look()
        return bool(said)

    qtbot.waitUntil(gone, timeout=20_000)
    qtbot.waitUntil(lambda: not window.desk.follow._busy, timeout=20_000)
    gone()
    qtbot.waitUntil(lambda: not window.desk.follow._busy, timeout=20_000)
    assert len(said) == 1
    assert "live.csv is gone" in said[0]
    bench.opens.follow()
    panel = window.findChild(FollowPanel)
    assert panel is not None
    panel._stopper(window.desk.journal.find(ProbeFile)[0])()
    assert not window.desk.journal.find(ProbeFile)[0].follows
    assert not window.desk.follow.reads


def test_that_pictures_of_a_watched_folder_join_the_running_cook(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window, clock = open_window(), Clock(datetime.now(UTC))
    bench = bench_on(window, clock)
    folder = tmp_path / "camera"
    bench.opens.follow()
    panel = window.findChild(FollowPanel)
    assert panel is not None
    panel.folder.setText(str(folder))
    panel.watch()
    assert "no such folder" in panel.problem.text()
    folder.mkdir()
    panel.watch()
    assert window.desk.follow.folder == str(folder)
    Image.new("RGB", (64, 48), "#884422").save(folder / "rack.jpg")

    def there() -> bool:
        window.desk.follow._not_before = 0.0
        window.desk.follow.look()
        return bool(window.desk.journal.find(Photo))

    qtbot.waitUntil(there, timeout=20_000)
    assert "1 taken in" in panel.taken.text()
    panel._stop()
    assert not window.desk.follow.folder


def test_that_a_probe_that_falls_silent_is_told_and_rings_until_it_is_back(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window, clock = open_window(), Clock(NOON + timedelta(minutes=10))
    bench = bench_on(window, clock)
    path = tmp_path / "live.csv"
    path.write_text(text(10), encoding="utf-8")
    followed(qtbot, window, bench, path)
    look(qtbot, window, 10)
    rung: list[bool] = []
    window.desk.watch.rang.connect(lambda: rung.append(True))
    clock.pass_minutes(window, 3)
    assert bench.follow.text() == "Last read 3 min ago"
    assert not rung
    clock.pass_minutes(window, 3)
    assert bench.alarm.isVisible()
    assert bench.alarm.said.accessibleName() == "Nothing new from live.csv"
    assert "last read at" in bench.alarm.why.accessibleName()
    assert rung == [True]
    qtbot.mouseClick(bench.alarm.hear, LEFT)
    clock.pass_minutes(window, 1)
    assert rung == [True]
    assert "Heard, not done" in bench.alarm.said.accessibleName()
    path.write_text(text(20), encoding="utf-8")
    look(qtbot, window, 20)
    clock.pass_minutes(window, 0)
    assert not bench.alarm.isVisible()
    assert bench.follow.text() == "Last read just now"
    clock.pass_minutes(window, 30)
    assert len(rung) == 2  # it fell silent anew


def test_that_a_probe_may_fall_silent_once_all_meat_is_off(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window, clock = open_window(), Clock(NOON + timedelta(minutes=10))
    bench = bench_on(window, clock)
    path = tmp_path / "live.csv"
    path.write_text(text(10), encoding="utf-8")
    followed(qtbot, window, bench, path)
    look(qtbot, window, 10)
    assert bench.whole is not None
    ids = [piece.id for piece in bench.whole.pieces]
    off = an_event(bench.whole.cook.id, EventKind.OFF, minutes=11, pieces=ids)
    window.desk.bridge.do(LogEvent(off, "Log off"))
    clock.pass_minutes(window, 60)
    assert not bench.alarm.isVisible()


def test_that_a_full_disk_stops_neither_reading_nor_showing(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window, clock = open_window(), Clock(NOON + timedelta(minutes=10))
    bench = bench_on(window, clock)
    path = tmp_path / "live.csv"
    path.write_text(text(10), encoding="utf-8")
    followed(qtbot, window, bench, path)
    look(qtbot, window, 10)
    full = pytest.MonkeyPatch()

    def refuse(*_: object) -> str:
        raise NotSavedError("The disk is full.", "Make room.")

    full.setattr(Attachments, "keep", refuse)
    for minutes in (30, 95, 160):  # over an hour each: it wants to be kept
        clock.now = NOON + timedelta(minutes=minutes)
        path.write_text(text(minutes), encoding="utf-8")
        look(qtbot, window, minutes)
    (problem,) = {read.problem for read in window.desk.follow.reads.values()}
    assert "read on and shown, and not kept yet" in problem
    path.write_text(text(161), encoding="utf-8")
    look(qtbot, window, 161)  # that it grows on is no reason to say so again, or no more
    assert {read.problem for read in window.desk.follow.reads.values()} == {problem}
    assert bench.bar.full.isVisible()  # the line has no room for it
    assert bench.bar.full.text.text() == problem
    assert {trace.count for trace in window.desk.journal.find(Trace)} == {10}
    full.undo()
    clock.now += timedelta(minutes=2)
    path.write_text(text(162), encoding="utf-8")
    look(qtbot, window, 162)
    qtbot.waitUntil(
        lambda: min(trace.count for trace in window.desk.journal.find(Trace)) >= 160, timeout=20_000
    )
    assert not any(read.problem for read in window.desk.follow.reads.values())
    assert not bench.bar.full.isVisible()


def test_that_a_fault_in_one_file_leaves_the_others_read_on(
    qtbot: QtBot, open_window: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window, clock = open_window(), Clock(NOON + timedelta(minutes=10))
    bench = bench_on(window, clock)
    path = tmp_path / "live.csv"
    path.write_text(text(10), encoding="utf-8")
    followed(qtbot, window, bench, path)
    look(qtbot, window, 10)
    read_on = following.read_on
    faults: list[int] = []

    def fault(*told: Any) -> following.Read:
        if not faults:
            faults.append(1)
            raise ZeroDivisionError
        return read_on(*told)

    monkeypatch.setattr(following, "read_on", fault)
    path.write_text(text(20), encoding="utf-8")
    look(qtbot, window, 20)
    assert faults
