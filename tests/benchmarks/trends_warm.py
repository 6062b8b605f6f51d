"""A warm grouped question over all cooks, against well-indexed hand-written SQL."""

import sqlite3
from contextlib import closing

from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.journal import open_journal
from pitjournal.units import UnitSystem
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement, alternately

LIMIT = 0.1
ROUNDS = 15
COOKS = 10_000

QUESTION = Question(
    "score.tenderness",
    (By("treatment"), By("cooker")),
    (Where("cut", Sign.IS, ("brisket",)),),
)
SQL = """
WITH piece_mean AS (
  SELECT p.cook_id, t.kind AS treatment, s.name AS cooker, AVG(sc.value) AS value
  FROM piece p
  JOIN cook c ON c.id = p.cook_id
  JOIN shelf_item s ON s.id = c.cooker_id
  JOIN treatment t ON t.arm_id = p.arm_id
  JOIN sample sa ON sa.piece_id = p.id
  JOIN score sc ON sc.sample_id = sa.id
  WHERE p.cut = 'brisket' AND sc.criterion = 'tenderness'
  GROUP BY p.id
), cook_mean AS (
  SELECT cook_id, treatment, cooker, AVG(value) AS value FROM piece_mean
  GROUP BY cook_id, treatment, cooker
)
SELECT treatment, cooker, AVG(value), COUNT(*) FROM cook_mean GROUP BY treatment, cooker
"""
INDEXES = (
    "CREATE INDEX IF NOT EXISTS b1 ON piece (cut, id)",
    "CREATE INDEX IF NOT EXISTS b2 ON sample (piece_id)",
    "CREATE INDEX IF NOT EXISTS b3 ON score (sample_id, criterion, value)",
    "CREATE INDEX IF NOT EXISTS b4 ON treatment (arm_id)",
)


def run() -> Measurement:
    """Measure both, after checking that they answer alike."""
    folder = large_journal(COOKS, scores=True)
    with closing(open_journal(folder)) as journal:
        ask = journal.trends
        found = ask.ask(QUESTION, UnitSystem.US)
        with closing(sqlite3.connect(folder / "journal.sqlite")) as bare:
            for index in INDEXES:
                bare.execute(index)
            want = {(t, c): (mean, n) for t, c, mean, n in bare.execute(SQL)}
            for group in found.groups:
                mean, count = want[group.key[0], group.key[1]]
                if abs(mean - group.mean) > 1e-9 or count != group.cooks:
                    raise RuntimeError("the two answers differ")
            ours, peer = alternately(
                lambda: ask.ask(QUESTION, UnitSystem.US),
                lambda: bare.execute(SQL).fetchall(),
                ROUNDS,
            )
    return Measurement("trends-warm", ours, peer, LIMIT)
