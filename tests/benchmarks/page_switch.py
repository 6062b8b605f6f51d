"""Turning between pages of a large journal, against a bare window with as many widgets."""

import os
import tempfile
from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QApplication, QGridLayout, QLineEdit, QStackedWidget, QWidget

from pitjournal.journal.preferences import Preferences
from pitjournal.ui.start import Shell
from pitjournal.ui.window import Window
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement, alternately, rounds

LIMIT = 2.0
ROUNDS = rounds(25)
COOKS = 10_000


def application() -> QApplication:
    """Return the one application."""
    found = QApplication.instance() or QApplication(["benchmark"])
    assert isinstance(found, QApplication)
    return found


def our_window(folder: Path) -> Window:
    """Open the window on a journal, away from anybody's preferences."""
    shell = Shell(application(), Preferences(theme="light"))
    shell.open(str(folder))
    assert shell.window is not None
    shell.window.resize(1280, 800)
    return shell.window


def bare_window(widgets: int) -> tuple[QStackedWidget, list[QLineEdit]]:
    """Return two pages with so many fields in all, in the same style."""
    stack = QStackedWidget()
    fields = []
    for _ in range(2):
        page = QWidget()
        grid = QGridLayout(page)
        for number in range(widgets // 2):
            field = QLineEdit(f"{number}")
            fields.append(field)
            grid.addWidget(field, number // 12, number % 12)
        stack.addWidget(page)
    stack.resize(1280, 800)
    stack.show()
    return stack, fields


def run() -> Measurement:
    """Measure a turn to another page until it is painted."""
    with tempfile.TemporaryDirectory() as name:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        window = our_window(large_journal(COOKS))
        cook_id = window.desk.journal.cooks.page("", 0, 1)[0].id
        stops: list[Callable[[], None]] = [
            lambda: window.go("cook", cook_id, "plan"),
            lambda: window.go("cooks"),
            lambda: window.go("cook", cook_id, "bench"),
            lambda: window.go("shelf"),
        ]
        for stop in stops:
            stop()
            application().processEvents()
        count = sum(1 for widget in window.findChildren(QWidget) if widget.isVisibleTo(window))
        window.go("cook", cook_id, "plan")
        count = max(count, sum(1 for w in window.findChildren(QWidget) if w.isVisibleTo(window)))
        stack, _ = bare_window(2 * count)
        place = [0, 0]

        def ours() -> None:
            place[0] = (place[0] + 1) % len(stops)
            stops[place[0]]()
            application().processEvents()

        def peer() -> None:
            place[1] = 1 - place[1]
            stack.setCurrentIndex(place[1])
            application().processEvents()

        measured = alternately(ours, peer, ROUNDS)
        window.close()
        stack.close()
    return Measurement("page-switch", *measured, LIMIT)
