"""One question to all the cooks, and the same in well-indexed hand-written SQL."""

import math
import sqlite3
from pathlib import Path

from pitjournal.analysis.trends.answer import Answer
from pitjournal.analysis.trends.question import By, Question, Sign, Where

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
  SELECT cook_id, treatment, cooker, AVG(value) AS value, COUNT(*) AS pieces FROM piece_mean
  GROUP BY cook_id, treatment, cooker
), ranked AS (
  SELECT treatment, cooker, value, pieces, AVG(value) OVER own AS mean, COUNT(*) OVER own AS n,
    ROW_NUMBER() OVER (PARTITION BY treatment, cooker ORDER BY value) AS place
  FROM cook_mean WINDOW own AS (PARTITION BY treatment, cooker)
)
SELECT treatment, cooker, COUNT(*), SUM(pieces), AVG(value),
  SUM((value - mean) * (value - mean)) / (COUNT(*) - 1),
  AVG(CASE WHEN place IN ((n + 1) / 2, (n + 2) / 2) THEN value END)
FROM ranked GROUP BY treatment, cooker
"""
INDEXES = (
    "CREATE INDEX IF NOT EXISTS b1 ON piece (cut, id, cook_id, arm_id)",
    "CREATE INDEX IF NOT EXISTS b2 ON sample (piece_id, id)",
    "CREATE INDEX IF NOT EXISTS b3 ON score (sample_id, criterion, value)",
    "CREATE INDEX IF NOT EXISTS b4 ON treatment (arm_id, kind)",
    "CREATE INDEX IF NOT EXISTS b5 ON cook (id, cooker_id)",
)


def connected(folder: Path) -> sqlite3.Connection:
    """Return a connection to the journal's database, with the indexes that the SQL wants."""
    connection = sqlite3.connect(folder / "journal.sqlite")
    for index in INDEXES:
        connection.execute(index)
    connection.commit()
    return connection


def agree(answer: Answer, connection: sqlite3.Connection) -> None:
    """See that both give the same answer, to the last group.

    Raises
    ------
    RuntimeError
        If they do not, or nothing is asked for.
    """
    ours = {
        group.key: (group.cooks, group.pieces, group.mean, (group.sd or 0) ** 2, group.median)
        for group in answer.groups
    }
    theirs = {tuple(row[:2]): row[2:] for row in connection.execute(SQL)}
    if not theirs:
        raise RuntimeError("the question finds nothing in this journal")
    same = ours.keys() == theirs.keys() and all(
        math.isclose(mine, other or 0.0, rel_tol=1e-9)  # one cook has no spread
        for key, numbers in ours.items()
        for mine, other in zip(numbers, theirs[key], strict=True)
    )
    if not same:
        raise RuntimeError("the two answers differ")
