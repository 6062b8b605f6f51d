"""From a tap to the disk, against a bare insert and commit."""

import sqlite3
import tempfile
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from pitjournal.domain.event import Event, EventKind
from pitjournal.journal import open_journal
from pitjournal.journal.commands.bench import LogEvent
from tests.benchmarks.measure import Measurement, alternately, rounds
from tests.builders import add_comparison

LIMIT = 2.0
ROUNDS = rounds(300)


def run() -> Measurement:
    """Measure one logged event against one row with `synchronous=FULL`."""
    with (
        tempfile.TemporaryDirectory() as folder,
        closing(open_journal(Path(folder) / "journal", new=True)) as journal,
        closing(sqlite3.connect(Path(folder) / "bare.sqlite", isolation_level=None)) as bare,
    ):
        command = add_comparison()
        journal.do(command)
        bare.execute("PRAGMA journal_mode=WAL")
        bare.execute("PRAGMA synchronous=FULL")
        bare.execute("CREATE TABLE event (id TEXT PRIMARY KEY, cook TEXT, kind TEXT, at TEXT)")

        def ours() -> None:
            now = datetime.now(UTC)
            event = Event(
                cook_id=command.cook.id, kind=EventKind.LID, happened_at=now, entered_at=now
            )
            journal.do(LogEvent(event, "Lid"))

        def peer() -> None:
            now = datetime.now(UTC).isoformat()
            bare.execute("BEGIN IMMEDIATE")
            bare.execute("INSERT INTO event VALUES (?, ?, ?, ?)", (now, "cook", "lid", now))
            bare.execute("COMMIT")

        ours_s, peer_s = alternately(ours, peer, ROUNDS)
    return Measurement("tap", ours_s, peer_s, LIMIT)
