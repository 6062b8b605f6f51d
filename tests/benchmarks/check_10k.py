"""A check of a journal of ten thousand cooks, in processor time; the limit is the peer.

It says how far it is again and again.
"""

import time
from statistics import median

from pitjournal.journal.checks import check_folder
from pitjournal.journal.jobs import Progress
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement, rounds

LIMIT = 1.0
MOST = 10.0
"""Seconds of processor time."""

SILENT = 3.0
"""So long may it say nothing, s."""

COOKS = 10_000
ROUNDS = rounds(3)


class Told(Progress):
    """Notes the longest silence."""

    def __init__(self) -> None:
        super().__init__()
        self.silence, self._last = 0.0, time.process_time()

    def report(self, fraction: float | None, words: str = "") -> None:
        """Take note."""
        super().report(fraction, words)
        now = time.process_time()
        self.silence, self._last = max(self.silence, now - self._last), now


def run() -> Measurement:
    """Measure the median of whole checks."""
    folder = large_journal(COOKS)
    took = []
    for _ in range(ROUNDS):
        told, start = Told(), time.process_time()
        assert check_folder(folder, told).held
        took.append(time.process_time() - start)
        assert told.fraction == 1.0
        if told.silence > SILENT:
            raise AssertionError(f"nothing was said for {told.silence:.1f} s")
    return Measurement("check-10k", median(took), MOST, LIMIT)
