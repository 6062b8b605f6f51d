import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.errors import JournalError
from pitjournal.files.samples import pack
from pitjournal.journal import open_journal
from pitjournal.journal.checks import check_folder
from pitjournal.journal.commands.files import KeepProbeFile
from pitjournal.journal.repair import repair_folder
from tests.builders import NOON, add_comparison


def a_journal(folder: Path, count: int = 3) -> str:
    """Make a journal with one cook and one trace said to have so many readings, of three."""
    with closing(open_journal(folder, new=True)) as journal:
        command = add_comparison()
        journal.do(command)
        times = NOON.timestamp() + np.array([0.0, 60.0, 120.0])
        packed = pack(Samples(times, np.array([20, 21, 22], np.float32)))
        samples = journal.files.keep(packed, "application/octet-stream", "samples")
        log = journal.files.keep(b"time,1\n", "text/csv", "log.csv")
        probe_file = ProbeFile(
            cook_id=command.cook.id, name="log.csv", attachment=log.sha, added_at=NOON
        )
        trace = Trace(
            cook_id=command.cook.id,
            probe_file_id=probe_file.id,
            channel="1",
            unit_in_file="°C",
            sits=Sits.PIT,
            samples=samples.sha,
            count=count,
            starts_at=NOON,
            ends_at=NOON + timedelta(minutes=2),
            interval=60.0,
        )
        journal.do(KeepProbeFile(probe_file, (trace,), (samples, log)))
    return samples.sha


def test_that_a_whole_journal_holds(tmp_path: Path) -> None:
    a_journal(tmp_path / "j")
    found = check_folder(tmp_path / "j")
    assert found.held
    assert found.as_json() == {
        "database": True,
        "foreign_keys": True,
        "attachments": {"checked": 2, "missing": 0, "changed": 0, "which": []},
        "traces": True,
        "derived": True,
        "derived_older": False,
        "rows": [],
        "impossible": [],
        "lacking": [],
        "foreign": [],
        "rubbish": 0,
        "held": True,
    }


def test_that_a_missing_file_is_counted_and_its_trace_fails(tmp_path: Path) -> None:
    sha = a_journal(tmp_path / "j")
    (tmp_path / "j" / "attachments" / sha[:2] / sha).unlink()
    found = check_folder(tmp_path / "j")
    assert (found.missing, found.changed, found.traces, found.held) == (1, 0, False, False)


def test_that_a_changed_file_is_counted(tmp_path: Path) -> None:
    sha = a_journal(tmp_path / "j")
    (tmp_path / "j" / "attachments" / sha[:2] / sha).write_bytes(b"something else")
    found = check_folder(tmp_path / "j")
    assert (found.missing, found.changed, found.traces, found.held) == (0, 1, False, False)


def test_that_a_trace_with_fewer_readings_than_noted_fails(tmp_path: Path) -> None:
    a_journal(tmp_path / "j", count=4)
    found = check_folder(tmp_path / "j")
    assert not found.traces
    assert found.missing == found.changed == 0
    assert [row.why for row in found.rows] == ["count is 4, and its readings are 3"]
    assert repair_folder(tmp_path / "j").check.held


def test_that_a_pointer_to_nothing_fails(tmp_path: Path) -> None:
    a_journal(tmp_path / "j")
    with closing(sqlite3.connect(tmp_path / "j" / "journal.sqlite")) as connection, connection:
        connection.execute("PRAGMA foreign_keys=OFF")
        connection.execute("UPDATE arm SET cook_id = 'gone' WHERE position = 0")
    found = check_folder(tmp_path / "j")
    assert (found.database, found.foreign_keys, found.held) == (True, False, False)


def test_that_worked_out_values_of_no_record_fail(tmp_path: Path) -> None:
    a_journal(tmp_path / "j")
    with closing(sqlite3.connect(tmp_path / "j" / "journal.sqlite")) as connection, connection:
        connection.execute(
            "INSERT INTO derived_block (cooks, counts, pieces) VALUES (?, ?, ?)",
            ('["nobody"]', "[1]", "[[]]"),
        )
    found = check_folder(tmp_path / "j")
    assert (found.foreign_keys, found.derived, found.held) == (True, False, False)


def test_that_a_damaged_database_is_found_not_raised(tmp_path: Path) -> None:
    a_journal(tmp_path / "j")
    path = tmp_path / "j" / "journal.sqlite"
    data = bytearray(path.read_bytes())
    data[: len(data) // 2] = b"x" * (len(data) // 2)
    path.write_bytes(bytes(data))
    assert check_folder(tmp_path / "j").database is False


def test_that_a_folder_without_a_journal_is_refused(tmp_path: Path) -> None:
    with pytest.raises(JournalError, match="no journal"):
        check_folder(tmp_path)
