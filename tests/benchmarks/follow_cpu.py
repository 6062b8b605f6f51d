"""A look at a followed file that has hours of seconds in it, against its share of a core.

A logger of eight probes writes a row a second, and the program looks every four seconds: it may
take half a hundredth of a core. Times are of the processor.
"""

import random
import tempfile
import time
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from statistics import median

from pitjournal.domain.trace import ProbeFile
from pitjournal.journal import open_journal
from pitjournal.journal.following import look_at
from pitjournal.ui.follow import EVERY
from tests.benchmarks.measure import Measurement, rounds, size
from tests.builders import NOON
from tests.torture.hours import CHANNELS, begin, rows

SHARE = 0.005
"""Of a core."""

HOURS = size(6, 1)
LOOKS = rounds(60)


def run() -> Measurement:
    """Measure the median look, each after some rows more."""
    lot, step = random.Random(18), EVERY // 1000
    last = HOURS * 3600
    with tempfile.TemporaryDirectory() as parent:
        path = Path(parent) / "smoker.csv"
        heads = ",".join(f"meat {number} (F)" for number in range(1, CHANNELS))
        path.write_text(f"time,pit (F),{heads}\n" + rows(0, last, lot), encoding="utf-8")
        with closing(open_journal(Path(parent) / "journal", new=True)) as journal:
            whole = journal.whole(begin(journal, path))
            file = journal.find(ProbeFile)[0]
            read, _ = look_at(journal, whole, file, None, NOON + timedelta(seconds=last))
            took = []
            for _ in range(LOOKS):
                with path.open("a", encoding="utf-8") as grows:
                    grows.write(rows(last, last + step, lot))
                last += step
                start = time.process_time()
                read, _ = look_at(journal, whole, file, read, NOON + timedelta(seconds=last))
                took.append(time.process_time() - start)
                if read.problem or {len(one.times) for one in read.readings.values()} != {last}:
                    raise AssertionError(f"not read on: {read.problem}")
    return Measurement("follow-cpu", median(took), SHARE * EVERY / 1000, 1.0)
