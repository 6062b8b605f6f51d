"""Reading a long probe file, everything detected, against pandas told the format."""

from collections.abc import Callable
from pathlib import Path

import pandas as pd

from tests.benchmarks.measure import Measurement, rounds
from tests.benchmarks.probe_import import TIMES, against

LIMIT = 0.25
ROUNDS = rounds(5)


def peer(path: Path) -> Callable[[], object]:
    """Return what parses the file with pandas."""

    def work() -> object:
        frame = pd.read_csv(path)
        frame["Time"] = pd.to_datetime(frame["Time"], format=TIMES)
        return frame

    return work


def run() -> Measurement:
    """Measure one file."""
    return Measurement("probe-pandas", *against(peer, ROUNDS), LIMIT)
