"""The first question after opening a journal, against well-indexed hand-written SQL.

Both are open and have read nothing yet. Modules are loaded already, for the SQL needs none.
"""

from contextlib import closing
from statistics import median

from pitjournal.journal import open_journal
from pitjournal.units import UnitSystem
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement, rounds, seconds
from tests.benchmarks.trends_sql import COOKS, QUESTION, SQL, agree, connected

LIMIT = 1.5
ROUNDS = rounds(15)


def run() -> Measurement:
    """Measure both in turn, each time opened afresh; the first round loads modules."""
    folder = large_journal(COOKS, scores=True)
    times: tuple[list[float], list[float]] = ([], [])
    for number in range(ROUNDS + 1):
        with (
            closing(connected(folder)) as bare,
            closing(open_journal(folder, read_only=True)) as journal,
        ):
            ask = journal.trends.ask
            ours = seconds(lambda ask=ask: ask(QUESTION, UnitSystem.US))  # type: ignore[misc]
        with closing(connected(folder)) as bare:
            peer = seconds(lambda bare=bare: bare.execute(SQL).fetchall())  # type: ignore[misc]
            if number:
                times[0].append(ours)
                times[1].append(peer)
            else:
                with closing(open_journal(folder, read_only=True)) as journal:
                    agree(journal.trends.ask(QUESTION, UnitSystem.US), bare)
    return Measurement("trends-cold", median(times[0]), median(times[1]), LIMIT)
