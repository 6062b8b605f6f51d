"""Pages that are loaded and made when they are first gone to, or ahead while nobody asks.

What a page needs is loaded by the worker, and a page is made in turns of their own, so that
no turn of the event loop is long from the first paint on.
"""

import gc
from collections.abc import Callable
from typing import TYPE_CHECKING, Generic, TypeVar

from PySide6.QtCore import QObject, QTimer

from pitjournal.journal.jobs import Progress
from pitjournal.ui.bridge import Bridge

if TYPE_CHECKING:
    from pitjournal.ui.desk import Desk

P = TypeVar("P")

BETWEEN = 150
"""Milliseconds between two things that are made ahead, so that other work has its turn."""


class Later(Generic[P]):
    """Makes a page; what it needs is loaded with the first, or before by `load`.

    Parameters
    ----------
    find
        Loads what is needed and returns what makes the page.
    """

    def __init__(self, find: "Callable[[], Callable[[Desk], P]]") -> None:
        self._find = find

    def load(self) -> None:
        """Load what is needed; from any thread."""
        self._find()

    def __call__(self, desk: "Desk") -> P:
        """Make one."""
        return self._find()(desk)


class Ahead(QObject):
    """Does small things one by one while nobody asks for anything.

    Each is loaded by the worker, then done in one turn. What stays is put out of sight of the
    garbage collector: to look it through again and again took 100 ms each time, in the middle
    of a word.
    """

    def __init__(self, bridge: Bridge, parent: QObject) -> None:
        super().__init__(parent)
        self._bridge = bridge
        self._left: list[tuple[Callable[[], object], Callable[[], object]]] = []
        self._timer = QTimer(self, interval=BETWEEN, singleShot=True)
        self._timer.timeout.connect(self._next)

    @property
    def over(self) -> bool:
        """Whether nothing is left."""
        return not self._left

    def add(self, load: Callable[[], object], do: Callable[[], object]) -> None:
        """Have something loaded, then done as often as it returns True, after what waits."""
        self._left.append((load, do))

    def start(self, after: int = BETWEEN) -> None:
        """Begin after so many milliseconds."""
        gc.freeze()
        self._timer.start(after)

    def stop(self) -> None:
        """Begin nothing more."""
        self._timer.stop()
        self._left.clear()

    def _next(self) -> None:
        if not self._left:
            return
        load, _ = self._left[0]

        def work(_progress: Progress) -> None:
            load()

        self._bridge.run("Get ready", work, lambda _: self._do(), asker=self, quiet=True)

    def _do(self) -> None:
        if not self._left:
            return
        _, do = self._left[0]
        if do() is not True:
            self._left.pop(0)
        gc.freeze()
        self._timer.start(BETWEEN)
