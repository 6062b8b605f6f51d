"""A window on no screen for a script, driven by an event loop as a cook's is."""

import sys
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QApplication

from pitjournal.journal.preferences import Preferences
from pitjournal.ui.start import Shell
from pitjournal.ui.window import Window


def open_window(folder: Path, *, new: bool = False) -> tuple[Shell, Window]:
    """Open a journal in a window; faults end the script."""
    application = QApplication.instance() or QApplication(["pitjournal"])
    assert isinstance(application, QApplication)
    shell = Shell(application, Preferences(theme="light"))
    sys.excepthook = sys.__excepthook__
    shell.open(str(folder), new=new)
    assert shell.window is not None
    return shell, shell.window


def run_for(milliseconds: int) -> None:
    """Let the event loop run, and workers with it."""
    loop = QEventLoop()
    QTimer.singleShot(milliseconds, loop.quit)
    loop.exec()


def run_until(done: Callable[[], bool], milliseconds: int) -> bool:
    """Let the event loop run until something holds; return whether it does in time."""
    loop, tries = QEventLoop(), QTimer(interval=20)
    tries.timeout.connect(lambda: loop.quit() if done() else None)
    QTimer.singleShot(milliseconds, loop.quit)
    tries.start()
    loop.exec()
    tries.stop()
    return done()
