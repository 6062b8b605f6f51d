"""Whose thread a closed window's widgets die on: with garbage collected anywhere, and here alone."""

import gc
import threading
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QObject, Qt
from pytestqt.qtbot import QtBot

from pitjournal.ui.collecting import collect_here

STORM = 20_000
"""So many containers are some thirty collections by Python's own thresholds (700, 10, 10)."""


class Held(QObject):
    """What only a ring of references holds, as a closed window's parts hold each other."""

    def __init__(self, died_on: list[int]) -> None:
        super().__init__()
        self.ring = self
        self.destroyed.connect(
            lambda: died_on.append(threading.get_ident()), Qt.ConnectionType.DirectConnection
        )


def storm(kept: list[list[int]]) -> int:
    """Make and keep containers on a worker thread; return which that was."""
    worker = threading.Thread(target=lambda: kept.extend([number] for number in range(STORM)))
    worker.start()
    ident = worker.ident
    worker.join()
    assert ident is not None
    return ident


@pytest.fixture
def same_limits() -> Iterator[None]:
    limits = gc.get_threshold()
    yield
    gc.set_threshold(*limits)


@pytest.fixture
def as_python_does(same_limits: None) -> Iterator[None]:
    del same_limits
    was = gc.isenabled()
    gc.collect()
    yield
    (gc.enable if was else gc.disable)()


@pytest.mark.usefixtures("qapp", "as_python_does")
def test_that_python_by_itself_lets_what_is_of_qt_die_on_the_worker() -> None:
    died_on: list[int] = []
    gc.disable()
    Held(died_on)
    gc.set_threshold(700, 1, 1)
    gc.enable()
    worker = storm([])
    assert died_on == [worker]


@pytest.mark.usefixtures("same_limits")
def test_that_a_storm_on_the_worker_lets_nothing_of_qt_die_there(qtbot: QtBot) -> None:
    died_on: list[int] = []
    collect_here()
    assert not gc.isenabled()
    for _ in range(50):
        Held(died_on)
    kept: list[list[int]] = []
    for _ in range(3):
        storm(kept)
    assert len(kept) == 3 * STORM
    assert not died_on
    # A window of a test before may freeze all there is while it goes. What is let go of then is
    # among the oldest, whose turn comes after many looks by Python's own thresholds: here soon.
    gc.set_threshold(1, 0, 0)

    def all_died() -> bool:
        gc.unfreeze()
        return len(died_on) == 50

    qtbot.waitUntil(all_died, timeout=10_000)
    assert set(died_on) == {threading.main_thread().ident}
