"""The first visit to each page of a large journal, until it is painted: the longest of all.

`idle_walk` walks in a process of its own, once what is made ahead is made. What is measured is
the processor time of the window's thread; the limit is the peer.
"""

from tests.benchmarks.idle_block import walked
from tests.benchmarks.measure import Measurement

LIMIT = 1.0
MOST = 0.1
"""A first visit should take no longer, s of the window's thread."""

PAGES = 10


def run() -> Measurement:
    """Measure the slowest."""
    visits: dict[str, float] = walked()["visits"]
    assert len(visits) == PAGES
    return Measurement("first-visit", max(visits.values()), MOST, LIMIT)
