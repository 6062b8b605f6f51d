"""A window on a journal of invented cooks, on no screen."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.journal.preferences import Preferences
from pitjournal.ui.start import Shell
from pitjournal.ui.window import Window

Opener = Callable[..., Window]


@pytest.fixture
def open_window(qtbot: QtBot, tmp_path: Path) -> Iterator[Opener]:
    """Open a window on a new journal; `theme` and `units` as a cook prefers."""
    del qtbot  # makes the application
    application = cast("QApplication", QApplication.instance())
    shells: list[Shell] = []

    def opener(theme: str = "light", units: str = "us") -> Window:
        shell = Shell(application, Preferences(theme=theme, units=units))
        shells.append(shell)
        shell.open(str(tmp_path / "journal"), new=True)
        assert shell.window is not None
        return shell.window

    yield opener
    for shell in shells:
        if shell.window is not None:
            shell.window.close()
            shell.window.deleteLater()


@pytest.fixture
def reopen(tmp_path: Path) -> Iterator[Callable[[Window], Window]]:
    """Close a window and open its journal in a new one, as after a restart."""
    shells: list[Shell] = []

    def again(window: Window) -> Window:
        window.close()
        shell = Shell(cast("QApplication", QApplication.instance()), Preferences(theme="light"))
        shells.append(shell)
        shell.open(str(tmp_path / "journal"))
        assert shell.window is not None
        return shell.window

    yield again
    for shell in shells:
        if shell.window is not None:
            shell.window.close()
            shell.window.deleteLater()
