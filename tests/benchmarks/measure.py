"""A measurement: ours against a peer, alternately, in one process tree."""

import os
import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median

ONCE = "PITJOURNAL_BENCHMARK_ONCE"
"""Set in the environment, each benchmark takes one round of little: does it still run at all?"""


def rounds(usual: int) -> int:
    """Return how many rounds are measured: the usual number, or one."""
    return 1 if ONCE in os.environ else usual


def size(usual: int, little: int) -> int:
    """Return how much is measured: the usual, or little where a benchmark only has to run."""
    return min(usual, little) if ONCE in os.environ else usual


@dataclass(frozen=True)
class Measurement:
    """What ours and the peer took, and the most that the ratio may be.

    Attributes
    ----------
    ours, peer
        Seconds, or bytes.
    limit
        The most that ours ÷ peer may be.
    most
        The most that ours may be, where that is held as well.
    unit
        "s" or "B".
    """

    name: str
    ours: float
    peer: float
    limit: float
    most: float | None = None
    unit: str = "s"

    @property
    def ratio(self) -> float:
        """Ours ÷ peer."""
        return self.ours / self.peer

    @property
    def held(self) -> bool:
        """Whether it is within its limits."""
        return self.ratio <= self.limit and (self.most is None or self.ours <= self.most)

    def shown(self, value: float) -> str:
        """Return one of the two as text: milliseconds or megabytes."""
        return f"{1e3 * value:.2f} ms" if self.unit == "s" else f"{value / 1e6:.1f} MB"


def seconds(work: Callable[[], object], clock: Callable[[], float] = time.perf_counter) -> float:
    """Return how long work took, s by a clock."""
    start = clock()
    work()
    return clock() - start


def alternately(
    ours: Callable[[], object],
    peer: Callable[[], object],
    rounds: int,
    clock: Callable[[], float] = time.perf_counter,
) -> tuple[float, float]:
    """Return the median seconds of both, taken in turn so that both meet the same weather."""
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(rounds):
        times[0].append(seconds(ours, clock))
        times[1].append(seconds(peer, clock))
    return median(times[0]), median(times[1])
