"""Copies of a database: checked before they count, thinned with age, swept where left by half."""

import os
import sqlite3
import time
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from pitjournal.store import copies
from pitjournal.store.copies import Copy
from pitjournal.store.database import Database
from pitjournal.store.faults import DamagedError, NotSavedError
from tests.builders import a_cook
from tests.store.test_ground import add

NOW = datetime(2026, 11, 14, 18, 0, tzinfo=UTC)


def aged(hours: float, why: str = "hour", size: int = 10) -> Copy:
    at = NOW - timedelta(hours=hours)
    return Copy(Path(f"{at:%Y%m%d-%H%M%S}-{why}.sqlite"), at, why, size)


def test_that_a_copy_is_whole_one_file_and_named_by_its_time(tmp_path: Path) -> None:
    with closing(Database(tmp_path, new=True)) as database:
        add(database, "First")
        made = database.back_up("close")
        add(database, "Second")
    assert sorted(path.name for path in (tmp_path / "backups").iterdir()) == [made.path.name]
    assert copies.look_into(made.path).cooks == 1
    assert copies.kept(tmp_path / "backups") == [made]
    assert (made.why, made.size) == ("close", made.path.stat().st_size)
    with closing(sqlite3.connect(made.path)) as connection:
        # In WAL mode it would need a log beside it to be read from a stick that is locked.
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)


def test_that_two_copies_in_one_second_are_two(tmp_path: Path) -> None:
    with closing(Database(tmp_path, new=True)) as database:
        made = {database.back_up("close").path for _ in range(3)}
    assert len(made) == len(copies.kept(tmp_path / "backups")) == 3


def test_that_a_damaged_database_gives_no_copy_and_leaves_nothing(tmp_path: Path) -> None:
    with closing(Database(tmp_path, new=True)) as database:
        for number in range(50):
            add(database, f"Cook {number}")
    path = tmp_path / "journal.sqlite"
    data = bytearray(path.read_bytes())
    for start in range(4096, len(data), 4096):
        data[start : start + 64] = b"\xff" * 64
    path.write_bytes(data)
    with pytest.raises(DamagedError):
        copies.keep(path, "close")
    assert list((tmp_path / "backups").iterdir()) == []


def test_that_a_copy_that_cannot_be_written_says_so_and_leaves_nothing(tmp_path: Path) -> None:
    with closing(Database(tmp_path / "j", new=True)) as database:
        (tmp_path / "j" / "backups").write_bytes(b"a file in the way")
        with pytest.raises(NotSavedError, match="could not be written"):
            database.back_up("close")
        database.change("Add", lambda transaction: transaction.add(a_cook("Still works")))


def test_that_what_is_no_journal_does_not_count(tmp_path: Path) -> None:
    other = tmp_path / "20261114-080000-close.sqlite"
    with closing(sqlite3.connect(other)) as connection:
        connection.execute("CREATE TABLE songs (name TEXT)")
    with pytest.raises(DamagedError):
        copies.look_into(other)


def test_that_copies_thin_out_with_age() -> None:
    # One every ten minutes over a year: 24 by hour, 13 by day, about 8 by week, the rest by month.
    every = [aged(minutes / 6) for minutes in range(6 * 24 * 365)]
    gone = set(copies.to_drop(every, NOW, most=10**9))
    left = [copy for copy in every if copy not in gone]
    ages = [(NOW - copy.at) / timedelta(hours=1) for copy in left]
    assert 23 <= sum(age < 24 for age in ages) <= 26
    assert 12 <= sum(24 <= age < 14 * 24 for age in ages) <= 14
    assert 7 <= sum(14 * 24 <= age < 70 * 24 for age in ages) <= 10
    assert 9 <= sum(age >= 70 * 24 for age in ages) <= 11


def test_that_thinning_again_drops_nothing_more() -> None:
    every = [aged(hours) for hours in range(0, 24 * 200, 5)]
    gone = set(copies.to_drop(every, NOW, most=10**9))
    left = [copy for copy in every if copy not in gone]
    assert copies.to_drop(left, NOW, most=10**9) == []


def test_that_the_oldest_go_first_where_there_is_no_room_and_never_the_newest_two() -> None:
    every = [aged(24 * day, size=100) for day in range(5)]
    gone = copies.to_drop(every, NOW, most=250)
    assert gone == every[2:]
    assert copies.to_drop(every, NOW, most=0) == every[2:]


def test_that_one_made_before_something_large_stays_a_month() -> None:
    near, far = aged(24 * 20 + 1, "before-import"), aged(24 * 60 + 1, "before-import")
    newer = [aged(24 * 20), aged(24 * 60), aged(0), aged(1)]
    gone = copies.to_drop([near, far, *newer], NOW, most=10**9)
    assert gone == [far]


def test_that_a_copy_of_the_future_is_kept() -> None:
    # The clock was set back since.
    assert copies.to_drop([aged(-48), aged(0), aged(1)], NOW, most=10**9) == []


def test_that_what_was_left_by_half_is_swept_and_nothing_else(tmp_path: Path) -> None:
    with closing(Database(tmp_path, new=True)) as database:
        sha = database.attachments.keep(b"a photo")
        made = database.back_up("close")
    old, young = tmp_path / "backups" / ".journal-1.zip.part", tmp_path / "backups" / ".x.part"
    parts = [
        old,
        tmp_path / "backups" / ".copy-1.part-wal",
        tmp_path / "attachments" / sha[:2] / ".part-1",
        tmp_path / ".journal.sqlite-12.part",
    ]
    for part in (*parts, young):
        part.write_bytes(b"x" * 100)
    for part in parts:
        os.utime(part, (time.time() - 7200, time.time() - 7200))
    assert copies.count_rubbish(tmp_path) == 4
    assert copies.sweep_journal(tmp_path) == (4, 400)
    assert young.exists()
    assert made.path.exists()
    assert (tmp_path / "attachments" / sha[:2] / sha).read_bytes() == b"a photo"
    assert (tmp_path / "journal.sqlite").exists()
