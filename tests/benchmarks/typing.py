"""From a key to its paint in a field of the plan, against a bare window with as many fields."""

import os
import tempfile
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QWidget

from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement, alternately, rounds
from tests.benchmarks.page_switch import application, bare_window, our_window

LIMIT = 2.0
ROUNDS = rounds(60)


def run() -> Measurement:
    """Measure one key."""
    with tempfile.TemporaryDirectory() as name:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        window = our_window(large_journal(10_000))
        cook_id = window.desk.journal.cooks.page("", 0, 1)[0].id
        window.go("cook", cook_id, "plan")
        application().processEvents()
        mine = next(f for f in window.findChildren(QLineEdit) if f.accessibleName() == "Title")
        count = sum(1 for widget in window.findChildren(QWidget) if widget.isVisibleTo(window))
        stack, fields = bare_window(2 * count)

        def press(field: QLineEdit) -> None:
            QTest.keyClick(field, Qt.Key.Key_A)
            application().processEvents()

        measured = alternately(lambda: press(mine), lambda: press(fields[0]), ROUNDS)
        window.close()
        stack.close()
    return Measurement("typing", *measured, LIMIT)
