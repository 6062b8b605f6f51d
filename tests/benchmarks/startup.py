"""From the start of the process to the first painted list of cooks, against a bare window."""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from pitjournal.journal.demonstration import make_demonstration
from tests.benchmarks.measure import Measurement, rounds

LIMIT = 2.0
ROUNDS = rounds(7)
ROOT = Path(__file__).resolve().parents[2]

FIRST_PAINT = """
import sys
from PySide6.QtCore import QEvent, QObject, QTimer
class First(QObject):
    def eventFilter(self, watched, event):
        if event.type() is QEvent.Type.Paint:
            watched.removeEventFilter(self)
            QTimer.singleShot(0, lambda: (print("painted", flush=True), application.exit()))
        return False
"""

OURS = (
    """
from PySide6.QtWidgets import QApplication
application = QApplication(["pitjournal"])
from pitjournal.journal.preferences import Preferences
from pitjournal.ui.start import Shell
"""
    + FIRST_PAINT
    + """
shell = Shell(application, Preferences(theme="light"))
first = First()
shell.open(sys.argv[1])
shell.window.cooks.list.viewport().installEventFilter(first)
application.exec()
"""
)

PEER = (
    """
from PySide6.QtWidgets import QApplication, QMainWindow
application = QApplication(["bare"])
import pyqtgraph
"""
    + FIRST_PAINT
    + """
window = QMainWindow()
plot = pyqtgraph.PlotWidget()
window.setCentralWidget(plot)
first = First()
plot.viewport().installEventFilter(first)
window.resize(1280, 800)
window.show()
application.exec()
"""
)


def until_painted(code: str, folder: Path, environment: dict[str, str]) -> float:
    """Return the seconds from the start of a process to its first paint."""
    start = time.perf_counter()
    with subprocess.Popen(
        [sys.executable, "-c", code, str(folder)],
        cwd=ROOT,
        env=environment,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout is not None
        said = process.stdout.readline()
        taken = time.perf_counter() - start
        process.wait()
    if said.strip() != "painted":
        raise RuntimeError("nothing was painted")
    return taken


def run() -> Measurement:
    """Measure both in turn, after one round that warms the disk."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "demonstration"
        make_demonstration(folder).close()
        environment = {**os.environ, "PITJOURNAL_SETTINGS": str(Path(name) / "settings.json")}
        times: tuple[list[float], list[float]] = ([], [])
        for number in range(ROUNDS + 1):
            for place, code in enumerate((OURS, PEER)):
                taken = until_painted(code, folder, environment)
                if number:
                    times[place].append(taken)
    return Measurement("startup", median(times[0]), median(times[1]), LIMIT)
