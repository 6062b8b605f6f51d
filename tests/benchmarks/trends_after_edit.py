"""The next answer after one edit: worked out from the change, with nothing read anew."""

from contextlib import closing
from statistics import median

from pitjournal.domain.piece import Piece
from pitjournal.journal import open_journal
from pitjournal.journal.commands.records import Change
from pitjournal.units import UnitSystem
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement, rounds, seconds
from tests.benchmarks.trends_sql import COOKS, QUESTION, SQL, agree, connected

LIMIT = 0.25
MOST = 0.016
ROUNDS = rounds(24)


def run() -> Measurement:
    """Turn a piece into another cut and back, and ask each time."""
    folder = large_journal(COOKS, scores=True)
    times: tuple[list[float], list[float]] = ([], [])
    with closing(connected(folder)) as bare, closing(open_journal(folder)) as journal:
        ask = journal.trends
        groups = ask.ask(QUESTION, UnitSystem.US).groups
        for number in range(ROUNDS):
            whole = journal.whole(groups[0].cook_ids[number // 2])
            cut = ("back ribs", "brisket")[number % 2]
            journal.do(Change(Piece, whole.pieces[0].id, {"cut": cut}))
            times[0].append(seconds(lambda: ask.ask(QUESTION, UnitSystem.US)))
            times[1].append(seconds(lambda: bare.execute(SQL).fetchall()))
            agree(ask.ask(QUESTION, UnitSystem.US), bare)
    return Measurement("trends-after-edit", median(times[0]), median(times[1]), LIMIT, MOST)
