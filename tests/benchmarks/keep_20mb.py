"""A probe file of 20 MB: its preview, an answer on its unit, keeping it; the longest turn.

The file names no unit, so that the preview asks for it. What is measured is the processor time
of the window's thread in one turn of the event loop; the limit is the peer.
"""

import os
import tempfile
from contextlib import closing
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QApplication

from pitjournal.domain.trace import ProbeFile
from pitjournal.files.apart import close
from pitjournal.journal import open_journal
from pitjournal.ui.bench.probes.probe_panel import ProbePanel, read_and_show
from pitjournal.ui.window import Window
from tests.benchmarks.measure import Measurement
from tests.benchmarks.page_switch import application, our_window
from tests.benchmarks.probe_import import write
from tests.benchmarks.turns import MOST, Turns, visit_all
from tests.builders import add_comparison

LIMIT = 1.0


def _bare(path: Path) -> None:
    """Take the units out of the head of a file."""
    data = path.read_bytes()
    head, rest = data.split(b"\n", 1)
    path.write_bytes(head.replace(b" (F)", b"") + b"\n" + rest)


def _walk(window: Window, turns: Turns, cook_id: str, path: Path) -> None:
    """Read the file, answer on its unit twice, and keep it, as a cook does."""
    turns.do("choose", lambda: read_and_show(window.desk, window, cook_id, path))
    turns.until("preview", lambda: window.findChild(ProbePanel))
    panel = window.findChild(ProbePanel)
    assert panel is not None
    turns.do("preview painted", QApplication.processEvents)
    for unit in ("degC", "degF"):
        turns.do("answer", partial(panel.units.chosen.emit, unit))
        turns.until("answer", panel.keep.isEnabled)
        assert {channel.unit_in_file for channel in panel.log.channels} == {unit}
    piece = window.desk.journal.whole(cook_id).pieces[0]
    for place in range(len(panel.log.channels)):
        panel.put(place, piece.id)
    turns.do("keep", panel.keep.click)
    turns.until("kept", lambda: window.desk.journal.find(ProbeFile))
    ends = window.desk.journal.jobs.start("wait", lambda _: None)
    turns.until("bench", ends.future.done)
    for _ in range(20):  # the chart of the bench, once its traces are read
        turns.do("bench painted", QApplication.processEvents)


def run() -> Measurement:
    """Measure the longest turn from the choice of the file to its chart on the bench."""
    application()
    with tempfile.TemporaryDirectory() as name:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        path = Path(name) / "long.csv"
        write(path)
        _bare(path)
        command = add_comparison()
        with closing(open_journal(Path(name) / "journal", new=True)) as journal:
            journal.do(command)
        window = our_window(Path(name) / "journal")
        visit_all(window, command.cook.id)
        turns = Turns()
        _walk(window, turns, command.cook.id, path)
        window.close()
        close()
    return Measurement("keep-20MB", turns.longest, MOST, LIMIT)
