"""What is looked at before each commit (the file, its log, how it is built), against a whole tap."""

import tempfile
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from pitjournal.domain.event import Event, EventKind
from pitjournal.journal import open_journal
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.store.sqlite import driver_of
from tests.benchmarks.measure import Measurement, alternately, rounds
from tests.builders import add_comparison

LIMIT = 0.1
ROUNDS = rounds(300)


def run() -> Measurement:
    """Measure the checks alone against the tap they are a part of."""
    with (
        tempfile.TemporaryDirectory() as folder,
        closing(open_journal(Path(folder) / "journal", new=True)) as journal,
        journal.database.reading() as connection,
    ):
        command, database = add_comparison(), journal.database
        journal.do(command)
        driver = driver_of(connection)

        def ours() -> None:
            database._must_stand(whole=True)
            database._look_at_index()
            driver.execute("PRAGMA schema_version").fetchone()
            database._must_stand()
            database._ground.note()

        def peer() -> None:
            now = datetime.now(UTC)
            event = Event(
                cook_id=command.cook.id, kind=EventKind.LID, happened_at=now, entered_at=now
            )
            journal.do(LogEvent(event, "Lid"))

        ours_s, peer_s = alternately(ours, peer, ROUNDS)
    return Measurement("commit-checks", ours_s, peer_s, LIMIT)
