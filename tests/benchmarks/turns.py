"""The longest turn of the event loop while something is done in the window.

What is measured is the processor time of the window's thread: other programs, and the worker,
may take as long as they like. A turn is what the loop does before it can take the next key.
"""

import time
from collections.abc import Callable

from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QApplication

from pitjournal.ui.window import Window

MOST = 0.05
"""No turn should take longer, s of the window's thread."""

PATIENCE = 120.0
"""What has not come by then, s, does not come."""


def visit_all(window: Window, cook_id: str) -> None:
    """See every page once, so that none is made while something else is measured; end at bench."""
    for place in ("new cook", "trends", "shelf", "cooks"):
        window.go(place)
        QApplication.processEvents()
    for page in ("plan", "tasting", "findings", "bench"):
        window.go("cook", cook_id, page)
        QApplication.processEvents()


class Turns:
    """Do things in a window and note what each turn took."""

    def __init__(self) -> None:
        self.longest = 0.0
        self.spent = 0.0
        self.slowest = ""
        self._tick = QTimer(interval=10)
        self._tick.start()

    def do(self, what: str, action: Callable[[], object]) -> None:
        """Do something as an event would: it is a turn of its own, with the painting after it."""
        self._measure(what, action)
        self._measure(what, QApplication.processEvents)

    def until(self, what: str, there: Callable[[], object]) -> None:
        """Let the loop turn until something is there.

        Raises
        ------
        TimeoutError
            If it does not come.
        """
        ends = time.monotonic() + PATIENCE
        while not there():
            if time.monotonic() > ends:
                raise TimeoutError(what)
            self._measure(
                what,
                lambda: QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents),
            )

    def _measure(self, what: str, work: Callable[[], object]) -> None:
        start = time.thread_time()
        work()
        took = time.thread_time() - start
        self.spent += took
        if took > self.longest:
            self.longest, self.slowest = took, what
