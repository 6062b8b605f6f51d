"""From a tap at the bench to its painted tick, against 50 ms."""

import os
import tempfile
from pathlib import Path
from statistics import median

from tests.benchmarks.kill_taps import make
from tests.benchmarks.measure import Measurement, rounds, seconds
from tests.benchmarks.page_switch import application, our_window
from tests.ui.bench.clock import bench_of

MOST = 0.050
ROUNDS = rounds(60)


def run() -> Measurement:
    """Measure taps on a running comparison of nine pieces."""
    with tempfile.TemporaryDirectory() as name:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        folder = Path(name) / "journal"
        make(folder)
        window = our_window(folder)
        window.ahead.stop()
        running = window.running()
        assert running is not None
        window.go("cook", running.id, "bench")
        bench = bench_of(window)
        application().processEvents()

        def tap() -> None:
            bench.taps["lid"].click()
            application().processEvents()
            assert bench.bar.tick.isVisible()

        for _ in range(5):
            tap()
        taken = []
        for _ in range(ROUNDS):
            bench.bar.put_away()
            application().processEvents()
            taken.append(seconds(tap))
        window.close()
    return Measurement("tick", median(taken), MOST, 1.0)
