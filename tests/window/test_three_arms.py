"""A three-arm cook that crashes half way: planned, run, killed, resumed and finished.

The first half runs in a process of its own, which is killed while it taps; the second goes on
in a new window on the same journal, under a clock of our own.
"""

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.domain.alarm import AlarmState
from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.log_checks import oddities
from pitjournal.domain.piece import Stage, Weighing
from pitjournal.journal.checks import check_journal
from pitjournal.journal.preferences import Preferences
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.bench.panels import WeighPanel
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.start import Shell
from pitjournal.ui.window import Window
from tests.builders import NOON
from tests.ui.bench.clock import Clock, bench_of
from tests.window.test_first_cook import LEFT, Hand

ROOT = Path(__file__).resolve().parents[2]
POUND = 453.59237
"""g (international yard and pound agreement, 1959)."""


def crashed(folder: Path) -> list[str]:
    """Run the first half and kill it while it taps; return the events whose tick was seen."""
    command = [sys.executable, "-m", "tests.window.first_half", str(folder)]
    environment = {**os.environ, "PITJOURNAL_SETTINGS": str(folder.with_name("settings.json"))}
    with subprocess.Popen(command, cwd=ROOT, env=environment, stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"ready\n"
        time.sleep(1.0)
        process.kill()
        said = process.stdout.read().decode()
    return said[: said.rfind("\n") + 1].split()


@pytest.fixture
def shell(qtbot: QtBot) -> Iterator[Shell]:
    del qtbot  # makes the application
    made = Shell(cast("QApplication", QApplication.instance()), Preferences(theme="light"))
    yield made
    if made.window is not None:
        made.window.close()
        made.window.deleteLater()


def resumed(shell: Shell, folder: Path, clock: Clock) -> Window:
    """Open the journal as a start of the program does, under a clock."""
    shell.open(str(folder))
    window = shell.window
    assert window is not None
    clock.wind(window)
    shell.resume()
    clock.pass_seconds(window, 0)
    return window


def test_that_a_killed_three_arm_cook_is_resumed_and_finished(
    qtbot: QtBot, shell: Shell, tmp_path: Path
) -> None:
    folder = tmp_path / "journal"
    ticked = crashed(folder)
    clock = Clock(NOON + timedelta(hours=3))
    window = resumed(shell, folder, clock)
    journal = window.desk.journal
    assert ticked
    assert set(ticked) <= {event.id for event in journal.find(Event)}
    assert check_journal(journal).held
    bench = bench_of(window)  # the running cook opens on its bench
    assert bench.whole is not None
    assert bench.whole.cook.status is CookStatus.RUNNING
    assert [arm.name for arm in bench.whole.arms] == ["Left alone", "Injected", "Needled"]
    spritz_again(qtbot, window, bench, clock)
    wrap_one_arm(qtbot, bench, clock, window)
    probe_all(qtbot, window, bench, clock)
    take_off_and_weigh(Hand(qtbot, window), bench, clock)
    assert not oddities(journal.whole(bench.whole.cook.id), clock.now)
    qtbot.mouseClick(bench.due.finish, LEFT)
    assert journal.find(Cook)[0].status is CookStatus.DONE
    assert isinstance(window.place, CookPlace)
    assert window.place.page == "tasting"
    assert window.running() is None
    assert not window.desk.watch.called
    assert check_journal(journal).held


def spritz_again(qtbot: QtBot, window: Window, bench: BenchPage, clock: Clock) -> None:
    """Answer the alarm that came due while the program was not running."""
    assert [called.state for called in window.desk.watch.called] == [AlarmState.RINGING]
    assert bench.alarm.isVisible()
    assert "45 min" in bench.alarm.said.accessibleName()
    qtbot.mouseClick(bench.alarm.hear, LEFT)
    assert "Heard, not done" in bench.alarm.said.accessibleName()
    clock.pass_minutes(window, 2)
    qtbot.mouseClick(bench.alarm.done, LEFT)
    spritzes = [e for e in window.desk.journal.find(Event) if e.kind == EventKind.SPRITZ]
    assert [e.happened_at for e in spritzes][-1] == clock.now
    assert len(spritzes) == 2
    assert not bench.alarm.isVisible()


def wrap_one_arm(qtbot: QtBot, bench: BenchPage, clock: Clock, window: Window) -> None:
    assert bench.whole is not None
    injected = next(arm for arm in bench.whole.arms if arm.name == "Injected")
    bench.selector.choose(injected.id)
    qtbot.mouseClick(bench.taps["wrap"], LEFT)
    wrap = next(e for e in window.desk.journal.find(Event) if e.kind == EventKind.WRAP)
    assert set(wrap.pieces) == {p.id for p in bench.whole.pieces if p.arm_id == injected.id}
    bench.selector.choose("all")
    clock.pass_minutes(window, 40)


def probe_all(qtbot: QtBot, window: Window, bench: BenchPage, clock: Clock) -> None:
    qtbot.mouseClick(bench.taps["feel"], LEFT)
    panel = window.findChild(FeelPanel)
    assert panel is not None
    for _ in range(9):
        qtbot.keyClicks(panel.internal.line, "199F")
        qtbot.mouseClick(panel.taps[3], LEFT)
    panel.close_panel()
    checks = window.desk.journal.find(DonenessCheck)
    assert {check.feel for check in checks} == {4}
    assert {check.at for check in checks} == {clock.now}
    clock.pass_seconds(window, 1)
    assert "right" in bench.due.due.heading


def take_off_and_weigh(hand: Hand, bench: BenchPage, clock: Clock) -> None:
    window, journal = hand.window, hand.window.desk.journal
    hand.qtbot.mouseClick(bench.taps["on"], LEFT)  # all are on, so this tap is Off
    clock.pass_minutes(window, 5)
    hand.qtbot.mouseClick(bench.taps["weigh"], LEFT)
    weigh = window.findChild(WeighPanel)
    assert weigh is not None
    for field in weigh.fields:
        hand.type(field, "2 lb 4 oz")
    weigh.close_panel()
    off = [w.mass for w in journal.find(Weighing) if w.stage is Stage.OFF]
    assert off == pytest.approx([2.25 * POUND] * 9)  # 2 lb 4 oz
    clock.pass_seconds(window, 1)
