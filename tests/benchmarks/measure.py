"""A measurement: ours against a peer, alternately, in one process tree."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median


@dataclass(frozen=True)
class Measurement:
    """How long ours and the peer took, s, and the most that the ratio may be."""

    name: str
    ours: float
    peer: float
    limit: float

    @property
    def ratio(self) -> float:
        """Ours ÷ peer."""
        return self.ours / self.peer

    @property
    def held(self) -> bool:
        """Whether the ratio is within its limit."""
        return self.ratio <= self.limit


def seconds(work: Callable[[], object]) -> float:
    """Return how long work took, s."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def alternately(
    ours: Callable[[], object], peer: Callable[[], object], rounds: int
) -> tuple[float, float]:
    """Return the median seconds of both, taken in turn so that both meet the same weather."""
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(rounds):
        times[0].append(seconds(ours))
        times[1].append(seconds(peer))
    return median(times[0]), median(times[1])
