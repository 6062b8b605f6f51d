"""The first half of a three-arm cook: ``python -m tests.window.first_half JOURNAL``.

It plans, lights, puts the meat on and sets an alarm, says "ready", and goes on tapping until
someone kills it. Each further line is the id of an event whose tick was seen.
"""

import os
import sys
from datetime import timedelta
from pathlib import Path
from typing import cast

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.journal import Changes
from pitjournal.journal.preferences import Preferences
from pitjournal.ui.bench.alarms.alarm_panel import AlarmPanel
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.start import Shell
from tests.ui.bench.clock import Clock
from tests.window.test_first_cook import LEFT, Hand, plan_it


def main(folder: Path) -> None:
    """Plan and cook until killed."""
    application = QApplication(["pitjournal"])
    shell = Shell(application, Preferences(theme="light", units="us"))
    sys.excepthook = sys.__excepthook__
    shell.open(str(folder), new=True)
    window = shell.window
    assert window is not None
    clock = Clock()
    clock.wind(window)
    hands = cast("QtBot", QTest)  # its clicks and keys are those of the bot
    hand = Hand(hands, window)
    plan_it(hand, hands, window)
    bench = cast("BenchPage", hand.page("Bench"))
    for name, minutes in (("lit", 60), ("on", 30), ("spritz", 5)):
        QTest.mouseClick(bench.taps[name], LEFT)
        clock.pass_minutes(window, minutes)
    QTest.mouseClick(bench.alarm_tap, LEFT)
    panel = window.findChild(AlarmPanel)
    assert panel is not None
    tap = next(
        t for t in panel.taps if (t.text(), t.accessibleDescription()) == ("Spritz", "+ 45 min")
    )
    QTest.mouseClick(tap, LEFT)
    saved: list[str] = []

    def heard(changes: Changes) -> None:
        saved.extend(sorted(changes.ids))

    window.desk.bridge.changed.connect(heard)
    os.write(1, b"ready\n")
    while True:
        saved.clear()
        bench.bar.put_away()
        clock.now += timedelta(seconds=1)
        QTest.mouseClick(bench.taps["lid"], LEFT)
        application.processEvents()
        if bench.bar.tick.isVisible():
            os.write(1, f"{' '.join(saved)}\n".encode())


if __name__ == "__main__":
    main(Path(sys.argv[1]))
