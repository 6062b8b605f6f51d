"""A warm grouped question over all cooks, against well-indexed hand-written SQL."""

from contextlib import closing

from pitjournal.journal import open_journal
from pitjournal.units import UnitSystem
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement, alternately, rounds
from tests.benchmarks.trends_sql import COOKS, QUESTION, SQL, agree, connected

LIMIT = 0.1
MOST = 0.016
ROUNDS = rounds(25)


def run() -> Measurement:
    """Measure both, after checking that they answer alike."""
    folder = large_journal(COOKS, scores=True)
    with (
        closing(connected(folder)) as bare,
        closing(open_journal(folder, read_only=True)) as journal,
    ):
        ask = journal.trends
        agree(ask.ask(QUESTION, UnitSystem.US), bare)
        ours, peer = alternately(
            lambda: ask.ask(QUESTION, UnitSystem.US), lambda: bare.execute(SQL).fetchall(), ROUNDS
        )
    return Measurement("trends-warm", ours, peer, LIMIT, MOST)
