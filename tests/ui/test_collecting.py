"""A window that was closed never dies on the worker's thread."""

import gc
import threading
from pathlib import Path

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QApplication, QWidget
from shiboken6 import isValid

from pitjournal.journal import open_journal
from pitjournal.ui.bridge import Bridge
from pitjournal.ui.collecting import Collector


def in_a_ring() -> QWidget:
    widget = QWidget()
    widget.setProperty("ring", 1)
    widget.ring = widget  # type: ignore[attr-defined]
    return widget


def test_that_the_worker_collects_no_widget_and_the_window_does(
    qapp: QApplication, tmp_path: Path
) -> None:
    journal = open_journal(tmp_path / "journal", new=True)
    bridge = Bridge(journal, qapp)
    gc.collect()
    found: list[object] = []
    died_on: list[int] = []
    widget = in_a_ring()
    widget.destroyed.connect(lambda: died_on.append(threading.get_ident()))
    del widget

    def work() -> None:
        found.extend([{"n": n, "other": []} for n in range(50_000)])

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert not gc.isenabled()
    assert not died_on
    assert gc.get_count()[0] > gc.get_threshold()[0]
    (collector,) = QCoreApplication.instance().findChildren(Collector)  # type: ignore[union-attr]
    for _ in range(30):
        collector.look()
    assert gc.get_count()[0] <= gc.get_threshold()[0]
    gc.collect()
    assert set(died_on) <= {threading.get_ident()}
    assert isValid(bridge)
    journal.close()
