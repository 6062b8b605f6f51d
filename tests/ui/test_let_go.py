"""What is closed is let go of: a window holds some megabytes of objects that hold each other."""

import weakref
from collections.abc import Callable
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook
from pitjournal.journal.preferences import Preferences
from pitjournal.ui.start import PAGES, Shell
from pitjournal.ui.window import Window
from tests.builders import add_comparison


def walk(window: Window) -> None:
    """Go to all pages of a cook, and to some places."""
    window.desk.bridge.do(add_comparison())
    cook = window.desk.journal.find(Cook)[0]
    for page in PAGES:
        window.go("cook", cook.id, page)
    for place in ("cooks", "new cook", "trends", "shelf"):
        window.go(place)


def another(shell: Shell, folder: Path) -> None:
    shell.open(str(folder), new=True)


def the_same(shell: Shell, folder: Path) -> None:
    del folder
    assert shell.window is not None
    shell.window.desk.moving.emit(str(shell.window.desk.journal.folder), "")


@pytest.mark.parametrize("then", [another, the_same])
def test_that_nothing_stays_of_a_window_whose_journal_is_closed(
    qtbot: QtBot, tmp_path: Path, then: Callable[[Shell, Path], None]
) -> None:
    shell = Shell(cast("QApplication", QApplication.instance()), Preferences(theme="light"))
    another(shell, tmp_path / "journal")
    window = shell.window
    assert window is not None
    walk(window)
    qtbot.waitUntil(lambda: shell.window is not None and shell.window.ahead.over, timeout=60_000)
    kept = [weakref.ref(one) for one in (window, window.desk, window.desk.journal, window.place)]
    del window
    then(shell, tmp_path / "other")
    assert shell.window is not None
    qtbot.waitUntil(lambda: all(one() is None for one in kept), timeout=30_000)
    shell.window.close()
    shell.window.deleteLater()
