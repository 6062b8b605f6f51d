"""A heartbeat that names, for each turn of the event loop that took too long, what took it.

Another thread looks at the window's thread every few milliseconds; of the looks in a turn that
was too long, those lines of the program are named that it stood in most.
"""

import sys
import threading
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

from tests.benchmarks.turns import MOST, Turns

EVERY = 0.004
"""Seconds between two looks."""

ROOT = Path(__file__).resolve().parents[2]
OWN = str(ROOT / "pitjournal")
NAMED = 3
DEEP = 6


@dataclass(frozen=True)
class LongTurn:
    """A turn that took too long: while doing what, how long, s, and where it stood most."""

    what: str
    took: float
    where: tuple[str, ...]

    def __str__(self) -> str:
        return f"{1e3 * self.took:.0f} ms in “{self.what}”: {'; '.join(self.where) or 'Qt'}"


class Heartbeat(Turns):
    """Turns, of which those that took too long are named; `stop` it at the end."""

    def __init__(self) -> None:
        super().__init__()
        self.long: list[LongTurn] = []
        self._thread = threading.get_ident()
        self._seen: Counter[str] = Counter()
        self._beats, self._over = threading.Event(), threading.Event()
        self._watcher = threading.Thread(target=self._watch, daemon=True)
        self._watcher.start()

    def stop(self) -> None:
        """Look no more."""
        self._over.set()
        self._beats.set()
        self._watcher.join()

    def _measure(self, what: str, work: Callable[[], object]) -> None:
        before = self.spent
        self._seen.clear()
        self._beats.set()
        try:
            super()._measure(what, work)
        finally:
            self._beats.clear()
        took = self.spent - before
        if took > MOST:
            where = tuple(name for name, _ in self._seen.most_common(NAMED))
            self.long.append(LongTurn(what, took, where))

    def _watch(self) -> None:
        while not self._over.is_set():
            self._beats.wait()
            frame = sys._current_frames().get(self._thread)
            if frame is not None:
                self._seen[named(frame)] += 1
            del frame
            self._over.wait(EVERY)


def named(frame: FrameType | None) -> str:
    """Return the innermost lines of the program that a thread stands in: file, line, name."""
    found: list[str] = []
    while frame is not None and len(found) < DEEP:
        name = frame.f_code.co_filename
        if name.startswith(OWN):
            place = Path(name).relative_to(ROOT / "pitjournal")
            found.append(f"{place}:{frame.f_lineno} {frame.f_code.co_name}")
        elif "importlib" in name and not found:
            found.append("import")
        frame = frame.f_back
    return " < ".join(found)
