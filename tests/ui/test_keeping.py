"""A journal that does not open, one that goes away, its backups: what the window does then."""

import shutil
import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.records import AddCook
from pitjournal.journal.jobs import Progress
from pitjournal.journal.preferences import Preferences
from pitjournal.store import copies
from pitjournal.store.faults import NotSavedError
from pitjournal.ui.keeping.rescue import RescueWindow
from pitjournal.ui.keeping.restore_panel import RestorePanel
from pitjournal.ui.keeping.unsaved import UnsavedPanel
from pitjournal.ui.start import Shell, _open_last
from pitjournal.ui.window import Window
from tests.builders import a_cook
from tests.journal.test_checks import a_journal as a_journal_with_files
from tests.ui.conftest import Opener


@pytest.fixture
def shell(qtbot: QtBot) -> Iterator[Shell]:
    del qtbot
    made = Shell(cast("QApplication", QApplication.instance()), Preferences(theme="light"))
    yield made
    for window in (made.window, made.rescue):
        if window is not None:
            if isinstance(window, Window):
                window.desk.bridge.drop_unsaved()
            window.close()
            window.deleteLater()


def a_journal(folder: Path, *names: str) -> None:
    with closing(open_journal(folder, new=not folder.exists())) as journal:
        for name in names or ("First",):
            journal.do(AddCook(a_cook(name)))
        journal.backups.make("close")


def opened(shell: Shell, folder: Path) -> Window:
    """Make a journal with one cook, and return the window it is open in."""
    a_journal(folder)
    shell.open(str(folder))
    assert shell.window is not None
    return shell.window


def close_with_a_cook_unsaved(window: Window, folder: Path) -> None:
    """Take the folder away, begin a cook that cannot be saved, and try to close."""
    shutil.rmtree(folder)
    window.desk.bridge.do(AddCook(a_cook("Second")))
    window.close()


def titles(shell: Shell) -> list[str]:
    """Return the cooks of the journal that is open now."""
    assert shell.window is not None
    return [cook.title for cook in shell.window.desk.journal.find(Cook)]


def texts(window: QWidget) -> str:
    return "\n".join(
        str(widget.property("text"))
        for widget in window.findChildren(QWidget)
        if widget.property("text") and widget.isVisibleTo(window)
    )


def press(window: QWidget, text: str) -> None:
    found = [
        one
        for one in window.findChildren(QAbstractButton)
        if text in one.text() and one.isVisibleTo(window)
    ]
    assert found, texts(window)
    found[0].click()


def start(shell: Shell, folder: Path) -> RescueWindow:
    """Start with this journal as the last one; it does not open."""
    _open_last(shell, Preferences(last_journal=str(folder)), None)
    assert shell.window is None
    assert shell.rescue is not None
    assert shell.rescue.isVisible()
    return shell.rescue


def zeroes(path: Path) -> None:
    path.write_bytes(b"\0" * 9000)


def newer(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("UPDATE schema_version SET major = 99")


def other(path: Path) -> None:
    path.unlink()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE songs (name TEXT)")


def cut(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:8192])


@pytest.mark.parametrize(
    ("damage", "said"),
    [
        (zeroes, "is not a journal, or its beginning is destroyed"),
        (newer, "made by a newer Pitjournal"),
        (other, "another program made it"),
        (cut, "damaged"),
        (lambda path: path.write_bytes(b""), "is empty"),
        (lambda path: path.unlink(), "There is no journal"),
        (lambda path: shutil.rmtree(path.parent), "There is no journal"),
    ],
)
def test_that_a_last_journal_that_does_not_open_is_told_and_nothing_is_made_in_its_place(
    shell: Shell, tmp_path: Path, damage: Callable[[Path], object], said: str
) -> None:
    folder = tmp_path / "cooks"
    a_journal(folder)
    damage(folder / "journal.sqlite")
    before = sorted(path.name for path in tmp_path.rglob("*"))
    rescue = start(shell, folder)
    assert said in texts(rescue)
    assert "Try again" in texts(rescue)
    assert "Open another folder" in texts(rescue)
    assert sorted(path.name for path in tmp_path.rglob("*") if path.name != ".in-use") == [
        name for name in before if name != ".in-use"
    ]


def test_that_a_damaged_journal_is_restored_from_the_window(
    qtbot: QtBot, shell: Shell, tmp_path: Path
) -> None:
    folder = tmp_path / "cooks"
    a_journal(folder, "First", "Second")
    zeroes(folder / "journal.sqlite")
    rescue = start(shell, folder)
    assert rescue.backups is not None
    rescue.backups.buttons[0].click()
    qtbot.waitUntil(lambda: "is whole and has 2 cooks" in texts(rescue))
    press(rescue, "Restore this one")
    qtbot.waitUntil(lambda: shell.window is not None, timeout=20_000)
    assert titles(shell) == ["First", "Second"]
    assert shell.rescue is None
    aside = list((folder / "backups").glob("aside-*/journal.sqlite"))
    assert [path.read_bytes() for path in aside] == [b"\0" * 9000]


def test_that_what_can_be_read_is_saved_from_the_window(
    qtbot: QtBot, shell: Shell, tmp_path: Path
) -> None:
    folder = tmp_path / "cooks"
    a_journal(folder)
    data = bytearray((folder / "journal.sqlite").read_bytes())
    data[100:4096] = b"\xff" * 3996
    (folder / "journal.sqlite").write_bytes(data)
    rescue = start(shell, folder)
    press(rescue, "Save what can be read")
    qtbot.waitUntil(lambda: shell.window is not None or rescue.shown.isVisible(), timeout=20_000)
    if shell.window is None:
        rescue.shown.click()
    assert titles(shell) == ["First"]
    assert shell.window is not None
    assert shell.window.desk.journal.folder == tmp_path / "cooks salvaged"


def test_that_a_folder_that_is_back_opens_at_the_next_try(shell: Shell, tmp_path: Path) -> None:
    folder = tmp_path / "cooks"
    a_journal(folder)
    folder.rename(tmp_path / "away")
    rescue = start(shell, folder)
    press(rescue, "Try again")
    assert "There is no journal" in rescue.problem.text()
    (tmp_path / "away").rename(folder)
    press(rescue, "Try again")
    assert shell.window is not None


def test_that_closing_after_a_change_makes_a_backup_and_without_one_none(
    open_window: Opener, reopen: Callable[[Window], Window], tmp_path: Path
) -> None:
    window = open_window()
    window.desk.journal.do(AddCook(a_cook("First")))
    window = reopen(window)
    (made,) = copies.kept(tmp_path / "journal" / "backups")
    assert (made.why, copies.look_into(made.path).cooks) == ("close", 1)
    reopen(window)
    assert copies.kept(tmp_path / "journal" / "backups") == [made]


def test_that_a_backup_of_the_hour_is_made_quietly(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window = open_window()
    window.desk.journal.do(AddCook(a_cook("First")))
    window.desk._backing_up.look()
    qtbot.waitUntil(lambda: len(copies.kept(tmp_path / "journal" / "backups")) == 1)
    assert not window.bar.isVisible()


def test_that_a_backup_that_cannot_be_made_is_told_once(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window = open_window()
    window.desk.journal.do(AddCook(a_cook("First")))
    (tmp_path / "journal" / "backups").write_bytes(b"in the way")
    said: list[str] = []
    window.desk.bridge.told.connect(said.append)
    for _ in range(2):
        window.desk._backing_up.look()
        waiting = window.desk.bridge._waits[-1]
        with qtbot.waitSignal(waiting.destroyed):
            pass
    assert len(said) == 1
    assert "This hour's backup could not be made" in said[0]


def test_that_a_backup_is_restored_from_the_settings(
    qtbot: QtBot, shell: Shell, tmp_path: Path
) -> None:
    folder = tmp_path / "cooks"
    a_journal(folder)
    shell.open(str(folder))
    assert shell.window is not None
    shell.window.desk.journal.do(AddCook(a_cook("A mistake")))
    shell.window.go("settings")
    press(shell.window, "Restore a backup")
    panel = shell.window.panel
    assert isinstance(panel, RestorePanel)
    panel.list.buttons[0].click()
    qtbot.waitUntil(panel.list.restore.isVisible)
    assert "1 cook of today is not in it: cook 2 “A mistake”." in texts(panel)
    before = shell.window
    panel.list.restore.click()
    qtbot.waitUntil(lambda: shell.window is not before)
    assert titles(shell) == ["First"]
    assert "Restored" in shell.window.bar.text.text()
    assert "before-restore" in {copy.why for copy in copies.kept(folder / "backups")}


def test_that_a_journal_whose_folder_went_away_is_kept_elsewhere_with_what_waits(
    qtbot: QtBot, shell: Shell, tmp_path: Path
) -> None:
    folder = tmp_path / "cooks"
    window = opened(shell, folder)
    close_with_a_cook_unsaved(window, folder)
    assert "was moved or is gone" in window.bar.text.text()
    assert window.isVisible()
    panel = window.panel
    assert isinstance(panel, UnsavedPanel)
    assert "Start a cook" in texts(panel)
    panel.keep_in(tmp_path / "elsewhere")
    qtbot.waitUntil(lambda: shell.window is not window)
    assert shell.window is not None
    journal = shell.window.desk.journal
    assert journal.folder == tmp_path / "elsewhere"
    assert [cook.title for cook in journal.find(Cook)] == ["First", "Second"]
    assert not folder.exists()


def test_that_keeping_elsewhere_leaves_the_window_free_and_can_be_stopped(
    qtbot: QtBot, shell: Shell, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "cooks"
    window = opened(shell, folder)
    close_with_a_cook_unsaved(window, folder)
    panel = window.panel
    assert isinstance(panel, UnsavedPanel)
    go_on = threading.Event()

    def long(_journal: Journal, _folder: Path, progress: Progress) -> str:
        while True:
            progress.report(0.4, "photo or log 4 of 10")
            go_on.wait(0.01)

    monkeypatch.setattr(Journal, "keep_elsewhere", long)
    panel.keep_in(tmp_path / "elsewhere")
    qtbot.waitUntil(lambda: panel.progress.value() == 40)
    assert "photo or log 4 of 10" in texts(panel)
    assert not panel.lose.isVisible()  # nothing can be lost meanwhile
    press(panel, "Stop")
    qtbot.waitUntil(panel.keep.isVisible)
    assert "Stopped. Nothing was left there" in panel.problem.text()
    monkeypatch.undo()
    panel.keep_in(tmp_path / "elsewhere")
    qtbot.waitUntil(lambda: shell.window is not window)
    assert shell.window is not None
    assert len(shell.window.desk.journal.find(Cook)) == 2


def test_that_the_window_closes_where_the_cook_gives_up_what_waits(
    shell: Shell, tmp_path: Path
) -> None:
    folder = tmp_path / "cooks"
    window = opened(shell, folder)
    close_with_a_cook_unsaved(window, folder)
    assert window.panel is not None
    press(window.panel, "Close and lose these")
    assert not window.isVisible()
    assert not folder.exists()


def test_that_a_folder_that_is_back_saves_what_waits(shell: Shell, tmp_path: Path) -> None:
    folder = tmp_path / "cooks"
    a_journal(folder)
    shell.open(str(folder))
    assert shell.window is not None
    bridge = shell.window.desk.bridge
    folder.rename(tmp_path / "away")
    for name in ("Second", "Third"):
        bridge.do(AddCook(a_cook(name)))
    bridge.save_unsaved()
    assert [*bridge.unsaved] == ["Start a cook"] * 2
    assert not folder.exists()
    (tmp_path / "away").rename(folder)
    bridge.save_unsaved()
    assert [*bridge.unsaved] == []
    with closing(open_journal(folder, read_only=True)) as journal:
        assert [cook.title for cook in journal.find(Cook)] == ["First", "Second", "Third"]


def test_that_a_journal_damaged_under_the_window_is_called_so_and_saved_elsewhere(
    qtbot: QtBot, shell: Shell, tmp_path: Path
) -> None:
    folder = tmp_path / "cooks"
    a_journal(folder, *(f"Cook {number}" for number in range(40)))
    shell.open(str(folder))
    window = shell.window
    assert window is not None
    path = folder / "journal.sqlite"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    data = bytearray(path.read_bytes())
    for place in range(8192, len(data), 4096 * 3):
        data[place : place + 40] = b"\xff" * 40
    path.write_bytes(data)
    window.desk.bridge.do(AddCook(a_cook("At the bench")))
    assert "database is damaged" in window.desk.bridge.why
    assert "Another program" not in window.bar.text.text()
    assert [*window.desk.bridge.unsaved] == ["Start a cook"]
    window.close()
    panel = window.panel
    assert isinstance(panel, UnsavedPanel)
    assert "save what can be read elsewhere" in texts(panel)
    panel.keep_in(tmp_path / "elsewhere")
    qtbot.waitUntil(lambda: shell.window is not window)
    assert shell.window is not None
    journal = shell.window.desk.journal
    assert journal.folder == tmp_path / "elsewhere"
    assert "At the bench" in [cook.title for cook in journal.find(Cook)]
    assert len(journal.find(Cook)) > 1
    assert str(tmp_path / "elsewhere") in shell.window.bar.accessibleName()
    assert [*shell.window.desk.bridge.unsaved] == []


def test_that_photos_that_went_with_the_folder_are_told_when_it_is_kept_elsewhere(
    qtbot: QtBot, shell: Shell, tmp_path: Path
) -> None:
    folder = tmp_path / "cooks"
    a_journal_with_files(folder)
    shell.open(str(folder))
    window = shell.window
    assert window is not None
    close_with_a_cook_unsaved(window, folder)
    panel = window.panel
    assert isinstance(panel, UnsavedPanel)
    panel.keep_in(tmp_path / "elsewhere")
    qtbot.waitUntil(lambda: shell.window is not window)
    assert shell.window is not None
    said = shell.window.bar.accessibleName()
    assert said.startswith("2 photos and logs are gone")  # before a path, which may be long
    assert str(tmp_path / "elsewhere") in said


def test_that_a_backup_that_failed_at_closing_is_told_at_the_next_start_and_made_then(
    qtbot: QtBot,
    open_window: Opener,
    reopen: Callable[[Window], Window],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def full(*_: object) -> None:
        raise NotSavedError("The backup could not be written. The disk is full.", "Make room.")

    window = open_window()
    window.desk.journal.do(AddCook(a_cook("First")))
    with monkeypatch.context() as patch:
        patch.setattr(copies, "keep", full)
        window = reopen(window)
    told = "No backup could be made when the journal was closed last"
    qtbot.waitUntil(lambda: told in window.bar.accessibleName())
    window.desk._backing_up.look()
    backups = window.desk.journal.backups
    qtbot.waitUntil(lambda: not backups.missed)
    assert len(copies.kept(tmp_path / "journal" / "backups")) == 1


def test_that_saving_what_can_be_read_comes_first_and_says_how_much(
    qtbot: QtBot, shell: Shell, tmp_path: Path
) -> None:
    folder = tmp_path / "cooks"
    a_journal(folder)
    with closing(open_journal(folder)) as journal:
        journal.do(AddCook(a_cook("After the backup")))
    data = bytearray((folder / "journal.sqlite").read_bytes())
    data[:4096] = b"\0" * 4096
    (folder / "journal.sqlite").write_bytes(data)
    rescue = start(shell, folder)
    qtbot.waitUntil(lambda: "2 cooks can still be read" in rescue.prospect.text())
    assert "The newest backup has 1 cook." in rescue.prospect.text()
    shown = texts(rescue)
    assert shown.index("Save what can be read") < shown.index("Restore a backup")


def test_that_saving_is_not_offered_where_nothing_can_be_read(
    qtbot: QtBot, shell: Shell, tmp_path: Path
) -> None:
    folder = tmp_path / "cooks"
    a_journal(folder)
    other(folder / "journal.sqlite")
    rescue = start(shell, folder)
    assert rescue.saving is not None
    qtbot.waitUntil(rescue.saving.isHidden)
    assert "Restore a backup" in texts(rescue)


def test_that_how_the_program_ended_last_time_is_told_once(
    qtbot: QtBot, shell: Shell, tmp_path: Path
) -> None:
    for name in ("one", "two"):
        a_journal(tmp_path / name)
    shell.to_tell = "Last time the system ended the program."
    shell.open(str(tmp_path / "one"))
    window = shell.window
    assert window is not None
    qtbot.waitUntil(lambda: "Last time the system ended" in window.bar.accessibleName())
    shell.open(str(tmp_path / "two"))
    qtbot.waitUntil(lambda: shell.window is not window)
    assert shell.window is not None
    assert "Last time" not in shell.window.bar.accessibleName()
