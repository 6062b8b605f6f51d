"""How much more memory a large journal takes at its peak than an empty one (on Linux).

The kernel's VmHWM is of the process alone; getrusage's peak is inherited from its parent.
"""

import subprocess
import sys
import tempfile
from contextlib import closing
from pathlib import Path

from pitjournal.journal import open_journal
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement
from tests.benchmarks.trends_sql import COOKS

LIMIT = 1.0
ALLOWED = 150e6
ROOT = Path(__file__).resolve().parents[2]

WORK = """
import sys
from contextlib import closing
from pitjournal.analysis.trends.question import By, Question
from pitjournal.journal import open_journal
from pitjournal.units import UnitSystem
from tests.benchmarks.trends_sql import QUESTION
with closing(open_journal(sys.argv[1])) as journal:
    journal.cooks.page("", 0, 100)
    journal.trends.ask(QUESTION, UnitSystem.US)
    frame = journal.trends.frame()
    for key, variable in journal.catalogue().items():
        frame.numbers(key)
        if variable.measure:
            journal.trends.ask(Question(key, (By("treatment"), By("thickness"))), UnitSystem.US)
status = dict(line.split(":", 1) for line in open("/proc/self/status"))
print(status["VmHWM"].split()[0])
"""


def peak(folder: Path) -> float:
    """Return the most memory of a process that asks for every variable of a journal, B."""
    found = subprocess.run(
        [sys.executable, "-c", WORK, str(folder)],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    return float(found.stdout) * 1024


def run() -> Measurement:
    """Measure what 10,000 cooks take above none, against what is allowed."""
    with tempfile.TemporaryDirectory() as name:
        empty = Path(name) / "empty"
        open_journal(empty, new=True).close()
        with closing(open_journal(empty)) as journal:
            journal.cooks.count()
        above = peak(large_journal(COOKS, scores=True)) - peak(empty)
    return Measurement("memory", above, ALLOWED, LIMIT, unit="B")
