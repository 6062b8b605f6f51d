"""Reading a long probe file, everything detected, against a bare parse that is told the format.

The file is 20 MB: 288,000 rows (one a second for 80 hours) of eight channels, with American
times. The peer is told the delimiter, the heads and how times are written, and finds out nothing
of units, gaps or damage.
"""

import tempfile
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import polars as pl

from pitjournal.files import strangers
from tests.benchmarks.measure import Measurement, alternately, rounds, size

LIMIT = 1.5
ROWS = size(288_000, 6_000)
CHANNELS = 8
ROUNDS = rounds(9)
TIMES = "%m/%d/%Y %I:%M:%S %p"


def write(path: Path) -> None:
    """Write the file (seeded)."""
    rng = np.random.default_rng(1)
    begun = datetime(2024, 10, 17, 9, 48, 22)  # noqa: DTZ001 - a logger's clock has no zone
    times = pl.datetime_range(begun, begun + timedelta(seconds=ROWS - 1), "1s", eager=True)
    columns = {"Time": times.dt.strftime(TIMES)}
    for channel in range(CHANNELS):
        values = 200.0 + rng.normal(0, 0.05, ROWS).cumsum()
        columns[f"Probe {channel + 1} (F)"] = pl.Series(values).round(1)
    pl.DataFrame(columns).write_csv(path, float_precision=1)


def ours(path: Path) -> Callable[[], object]:
    """Return what reads the file as the journal does: in the process that waits for it."""

    def work() -> None:
        log = strangers.probe_log(strangers.file_bytes(path), path.name)
        assert [channel.count for channel in log.channels] == [ROWS] * CHANNELS

    return work


def peer(path: Path) -> Callable[[], object]:
    """Return what parses the file with Polars."""

    def work() -> object:
        return pl.read_csv(path).with_columns(pl.col("Time").str.to_datetime(TIMES))

    return work


def against(peer_of: Callable[[Path], Callable[[], object]], rounds: int) -> tuple[float, float]:
    """Return the median seconds of ours and of a peer's."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "long.csv"
        write(path)
        ours(path)()
        return alternately(ours(path), peer_of(path), rounds)


def run() -> Measurement:
    """Measure one file."""
    return Measurement("probe-import", *against(peer, ROUNDS), LIMIT)
