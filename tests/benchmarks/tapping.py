"""Tap at the bench as fast as it goes: ``python -m tests.benchmarks.tapping JOURNAL``.

Each line is the id of an event whose tick was seen, written only after it was painted. The
process goes on until it is killed.
"""

import itertools
import os
import sys
from pathlib import Path

from PySide6.QtWidgets import QApplication

from pitjournal.journal import Changes
from pitjournal.journal.preferences import Preferences
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.start import Shell

TAPS = ("lid", "flip", "spritz", "wrap")


def main(folder: Path) -> None:
    """Tap until someone ends it."""
    application = QApplication(["pitjournal"])
    shell = Shell(application, Preferences(theme="light"))
    sys.excepthook = sys.__excepthook__
    shell.open(str(folder))
    shell.resume()
    window = shell.window
    assert window is not None
    assert isinstance(window.place, CookPlace)
    bench = window.place.current
    assert isinstance(bench, BenchPage)
    saved: list[str] = []

    def heard(changes: Changes) -> None:
        saved.extend(sorted(changes.ids))

    window.desk.bridge.changed.connect(heard)
    for name in itertools.cycle(TAPS):
        saved.clear()
        bench.bar.put_away()
        bench.taps[name].click()
        application.processEvents()
        if bench.bar.tick.isVisible():
            os.write(1, f"{' '.join(saved)}\n".encode())


if __name__ == "__main__":
    main(Path(sys.argv[1]))
