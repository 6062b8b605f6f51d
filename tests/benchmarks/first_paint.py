"""From the start of the process to the first painted list of cooks, against a bare window.

What is measured is the processor time of the whole process, user and system, so that other
programs are no fault. The modules are compiled before, as on a cook's computer. The program is
started as its command starts it, but does not go on to the bench of a cook that runs.
"""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from pitjournal.journal.demonstration import make_demonstration
from tests.benchmarks.measure import Measurement, rounds

LIMIT, MOST = 1.7, 0.7
ROUNDS = rounds(9)
ROOT = Path(__file__).resolve().parents[2]

WATCH = """
import json, sys, time
from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QAbstractScrollArea, QApplication
application = QApplication(["pitjournal"])
def painted():
    print(json.dumps([time.process_time(), sorted(sys.modules)]), flush=True)
    application.exit()
class First(QObject):
    def eventFilter(self, watched, event):
        if event.type() is QEvent.Type.Paint:
            area = watched.parent()
            if isinstance(area, QAbstractScrollArea) and watched is area.viewport():
                application.removeEventFilter(self)
                QTimer.singleShot(0, painted)
        return False
first = First()
application.installEventFilter(first)
"""

OURS = (
    WATCH
    + """
from pathlib import Path
import pitjournal.app
from pitjournal.cli.window import open_window
open_window(Path(sys.argv[1]), demonstration=True)
"""
)

PEER = (
    WATCH
    + """
import pyqtgraph
from PySide6.QtWidgets import QMainWindow
window = QMainWindow()
plot = pyqtgraph.PlotWidget()
window.setCentralWidget(plot)
window.resize(1280, 800)
window.show()
application.exec()
"""
)


@dataclass(frozen=True)
class Painted:
    """What it took to the first paint: processor time, s, and the modules that are loaded."""

    seconds: float
    modules: frozenset[str]


def until_painted(code: str, folder: Path, environment: Mapping[str, str]) -> Painted:
    """Start a process and return what it took to its first paint.

    Raises
    ------
    RuntimeError
        If nothing was painted.
    """
    unset = {"PYTHONDONTWRITEBYTECODE"}
    done = subprocess.run(
        [sys.executable, "-c", code, str(folder)],
        cwd=ROOT,
        env={name: value for name, value in environment.items() if name not in unset},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    if done.returncode or not done.stdout:
        raise RuntimeError(f"nothing was painted: {done.stderr}")
    seconds, modules = json.loads(done.stdout)
    return Painted(seconds, frozenset(modules))


def run() -> Measurement:
    """Measure both in turn, after one round that compiles; the best of each."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "demonstration"
        make_demonstration(folder).close()
        environment = {**os.environ, "PITJOURNAL_SETTINGS": str(Path(name) / "settings.json")}
        times: tuple[list[float], list[float]] = ([], [])
        for number in range(ROUNDS + 1):
            for place, code in enumerate((OURS, PEER)):
                painted = until_painted(code, folder, environment)
                if number:
                    times[place].append(painted.seconds)
    return Measurement("first-paint", min(times[0]), min(times[1]), LIMIT, most=MOST)
