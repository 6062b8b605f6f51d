"""Jobs that outlive who asked for them, and panels that outlive their turn."""

import errno
import os
import sqlite3
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.errors import JournalError
from pitjournal.journal import watched_folder
from pitjournal.journal.commands.bench import Choose
from pitjournal.journal.jobs import Job, Jobs, Progress
from pitjournal.ui.bridge import is_there
from pitjournal.ui.findings.share_panel import SharePanel
from pitjournal.ui.follow import FOLDER
from pitjournal.ui.look.parts.overlay import Overlay, open_alone, panels_over, put_away_all
from pitjournal.ui.panels import PANELS
from pitjournal.ui.trends.filter_panel import FilterPanel
from pitjournal.ui.window import Window
from tests.builders import NOON
from tests.journal.test_probe_files import HOURS, a_log, attach, logged_cook
from tests.ui.conftest import Opener

ASKED_IN_SETTINGS = {"probe file", "demonstration"}
"""Names that open a file dialogue or a journal, and no panel."""


class Held:
    """Jobs that end only when they are let go, whatever became of who asked."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.begun: list[str] = []
        self._go = threading.Event()
        start = Jobs.start

        def held(jobs: Jobs, label: str, work: Callable[[Progress], object]) -> Job[object]:
            self.begun.append(label)

            def later(progress: Progress) -> object:
                self._go.wait(30)
                return work(progress)

            return start(jobs, label, later)

        monkeypatch.setattr(Jobs, "start", held)

    def let_go(self) -> None:
        """Let them end."""
        self._go.set()


@pytest.fixture
def held(monkeypatch: pytest.MonkeyPatch) -> Iterator[Held]:
    jobs = Held(monkeypatch)
    yield jobs
    jobs.let_go()


@pytest.fixture
def window(open_window: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Window:
    monkeypatch.setattr(Path, "home", lambda: tmp_path)  # where a summary is written
    window = open_window("light", "us")
    cook_id = logged_cook(window.desk.journal)
    attach(window.desk.journal, cook_id, a_log(NOON, HOURS))
    window.go("cook", cook_id, "bench")
    return window


def settled(qtbot: QtBot, window: Window) -> None:
    """Wait until no job is waited for."""
    qtbot.waitUntil(lambda: not window.desk.bridge._waits, timeout=20_000)


def cook_of(window: Window) -> str:
    return window.desk.journal.cooks.page()[0].id


@pytest.mark.parametrize("name", sorted(set(PANELS) - ASKED_IN_SETTINGS))
def test_that_a_panel_closed_while_its_job_runs_is_no_fault(
    window: Window, qtbot: QtBot, held: Held, name: str
) -> None:
    window.go(name, cook_of(window))
    panel = window.panel
    assert panel is not None
    write = getattr(panel, "write", None)
    if write is not None:
        write.click()
    panel.close_panel()
    held.let_go()
    settled(qtbot, window)
    assert not window._bugs


def test_that_the_panels_that_ask_a_job_were_caught_while_it_ran(
    window: Window, qtbot: QtBot, held: Held
) -> None:
    for name, label in (("share", "Write the summary"), ("what traces say", "Read the trace")):
        window.go(name, cook_of(window))
        panel = window.panel
        assert panel is not None
        if isinstance(panel, SharePanel):
            panel.write.click()
        assert label in held.begun
    put_away_all(window)
    held.let_go()
    settled(qtbot, window)
    assert not window._bugs


def test_that_a_filter_closed_while_all_cooks_are_read_is_no_fault(
    window: Window, qtbot: QtBot, held: Held, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(window.desk, "reads_at_once", lambda *_: False)
    panel = FilterPanel(window, window.desk, lambda _where: None)
    open_alone(panel)
    assert held.begun[-1] == "Read all the cooks"
    panel.close_panel()
    held.let_go()
    settled(qtbot, window)
    assert not window._bugs


def test_that_nobody_is_called_for_who_is_gone_or_put_away(
    window: Window, qtbot: QtBot, held: Held
) -> None:
    told: list[object] = []
    panel, child = Overlay(window, "One"), QLabel("inside")
    panel.body.addWidget(child)
    panel.open_panel()
    gone = QWidget()
    bridge = window.desk.bridge
    jobs = [
        bridge.run("a", lambda _: 1, told.append, asker=asker, ended=lambda: told.append("ended"))
        for asker in (panel, child, gone)
    ]
    kept = bridge.run("b", lambda _: 2, told.append, asker=window.desk)
    panel.close_panel()
    assert not is_there(child)
    gone.deleteLater()
    cancelled = [job.progress._cancelled for job in jobs]  # beside them the window has its own
    qtbot.waitUntil(lambda: all(one.is_set() for one in cancelled), timeout=20_000)
    assert not kept.progress._cancelled.is_set()
    held.let_go()
    qtbot.waitUntil(kept.future.done, timeout=20_000)
    settled(qtbot, window)
    assert told == [2]


def test_that_a_job_ends_for_who_asked_also_by_a_fault(window: Window, qtbot: QtBot) -> None:
    told: list[str] = []

    def fault(_progress: Progress) -> None:
        raise ZeroDivisionError

    def refusal(_progress: Progress) -> None:
        raise JournalError("No.")

    with qtbot.captureExceptions() as faults:
        for work in (fault, refusal):
            window.desk.bridge.run(
                "a",
                work,
                lambda _: told.append("done"),
                told.append,
                asker=window,
                ended=lambda: told.append("ended"),
            )
            settled(qtbot, window)
    assert told == ["ended", "ended", "No."]
    assert [kind for kind, *_ in faults] == [ZeroDivisionError]


def test_that_a_full_disk_stops_what_goes_on_by_itself_without_a_fault_and_is_said_once(
    window: Window, qtbot: QtBot
) -> None:
    bridge, told, back = window.desk.bridge, list[str](), list[str]()
    bridge.told.connect(told.append)
    bridge.withdrawn.connect(back.append)
    full = sqlite3.OperationalError("database or disk is full")
    full.sqlite_errorcode = sqlite3.SQLITE_FULL  # as SQLite itself raises it
    refusals = (full, OSError(errno.ENOSPC, os.strerror(errno.ENOSPC)))

    def write(_progress: Progress) -> None:
        if wanted is not None:
            raise wanted

    wanted: Exception | None
    for wanted in refusals:
        for label in ("Work out", "Read ahead"):
            bridge.run(label, write, lambda _: None, asker=window, quiet=True)
            settled(qtbot, window)
        window.show_bug(type(wanted), wanted, None)
    assert told == [
        (
            "The disk is full. What goes on by itself is tried again. "
            "Make room on the disk and try again."
        )
    ]
    assert panels_over(window) == []
    wanted = None
    for label in ("Work out", "Read ahead"):
        bridge.run(label, write, lambda _: None, asker=window, quiet=True)
        settled(qtbot, window)
    assert back == told


def test_that_an_old_panel_that_dies_late_does_not_clear_its_successor(
    window: Window, qtbot: QtBot
) -> None:
    first, second = Overlay(window, "First"), Overlay(window, "Second")
    gone: list[bool] = []
    first.destroyed.connect(lambda *_: gone.append(True))
    window._open(first)
    window._open(second)
    qtbot.waitUntil(lambda: bool(gone), timeout=5000)
    assert window.panel is second
    second.close_panel()
    qtbot.waitUntil(lambda: window.panel is None, timeout=5000)


def test_that_a_look_at_what_comes_in_is_taken_up_again_after_a_fault(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    follow, looks = window.desk.follow, []

    def fault(*_: object) -> None:
        looks.append(1)
        raise ZeroDivisionError

    monkeypatch.setattr(watched_folder, "take_in", fault)
    qtbot.waitUntil(follow._timer.isActive)  # it begins once the window is painted
    follow.stop()  # its own clock looks between
    window.desk.journal.do(Choose(FOLDER, "/nowhere", "Watch"))
    settled(qtbot, window)
    with qtbot.captureExceptions():
        for _ in range(3):
            follow.look()
            assert follow._busy
            settled(qtbot, window)
            assert not follow._busy
    assert len(looks) == 3


def test_that_a_summary_is_written_though_its_panel_is_closed_meanwhile(
    window: Window, qtbot: QtBot, held: Held, tmp_path: Path
) -> None:
    window.go("share", cook_of(window))
    panel = window.panel
    assert isinstance(panel, SharePanel)
    target = tmp_path / "summary.html"
    panel.target.setText(str(target))
    told: list[str] = []
    window.desk.bridge.told.connect(told.append)
    qtbot.mouseClick(panel.write, Qt.MouseButton.LeftButton)
    qtbot.keyClick(panel, Qt.Key.Key_Escape)
    assert window.panel is None
    held.let_go()
    settled(qtbot, window)
    assert told == [f"Written to {target}"]
    assert target.stat().st_size > 1000
