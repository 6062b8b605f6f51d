import contextlib
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Connection, Engine, event, text

from pitjournal.domain.contest import Carried, Category, Contest
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.piece import Piece
from pitjournal.domain.tasting import Score
from pitjournal.errors import JournalError
from pitjournal.store import cook_list, migrations
from pitjournal.store.database import Database
from pitjournal.store.faults import NotSavedError
from pitjournal.store.schema import SCHEMA_VERSION, TABLES
from pitjournal.store.sqlite import Writer, engine_for
from pitjournal.store.transaction import Transaction
from tests.builders import a_cook, three_arms


def adding(*records: Cook | Arm | Piece) -> Callable[[Transaction], None]:
    return lambda transaction: transaction.add(*records)


def pragma(database: Database, name: str) -> object:
    with database.reading() as connection:
        return connection.execute(text(f"PRAGMA {name}")).scalar_one()


def test_that_each_commit_is_synced_in_wal_mode_with_foreign_keys_held(tmp_path: Path) -> None:
    # SQLite's documentation: synchronous 2 is FULL, which syncs the WAL at each commit.
    database = Database(tmp_path, new=True)
    assert pragma(database, "journal_mode") == "wal"
    assert pragma(database, "synchronous") == 2
    assert pragma(database, "foreign_keys") == 1
    database.close()


def test_that_a_cook_comes_back_as_it_was_written(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook("Ribs – „mit Soße“ 🍖", set_point=107.2, typed={"set_point": "225F"})
    database.change("Add", adding(cook))
    database.close()
    again = Database(tmp_path, new=True)
    assert again.find(Cook) == [cook]
    again.close()


def test_that_a_newer_major_version_is_refused_and_the_file_not_touched(tmp_path: Path) -> None:
    Database(tmp_path, new=True).close()
    path = tmp_path / "journal.sqlite"
    with sqlite3.connect(path) as connection:
        connection.execute("UPDATE schema_version SET major = ?", (SCHEMA_VERSION[0] + 1,))
    connection.close()
    before = path.read_bytes()
    with pytest.raises(JournalError, match="newer Pitjournal"):
        Database(tmp_path, new=True)
    assert path.read_bytes() == before


def test_that_a_newer_minor_version_still_opens(tmp_path: Path) -> None:
    Database(tmp_path, new=True).close()
    with sqlite3.connect(tmp_path / "journal.sqlite") as connection:
        connection.execute("UPDATE schema_version SET minor = minor + 1")
    connection.close()
    Database(tmp_path, new=True).close()


@pytest.mark.parametrize(
    "data", [b"not a database at all" * 100, b"SQLite format 3\0" + b"x" * 500]
)
def test_that_a_file_that_is_no_journal_is_refused_in_one_line(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "journal.sqlite").write_bytes(data)
    with pytest.raises(JournalError) as caught:
        Database(tmp_path, new=True)
    assert "\n" not in str(caught.value)
    assert (tmp_path / "journal.sqlite").read_bytes() == data


def test_that_another_programs_database_is_refused_and_left_alone(tmp_path: Path) -> None:
    with sqlite3.connect(tmp_path / "journal.sqlite") as connection:
        connection.execute("CREATE TABLE songs (name TEXT)")
    connection.close()
    before = (tmp_path / "journal.sqlite").read_bytes()
    with pytest.raises(JournalError, match="not a journal"):
        Database(tmp_path, new=True)
    assert (tmp_path / "journal.sqlite").read_bytes() == before


def test_that_the_second_opening_is_read_only_and_says_so(tmp_path: Path) -> None:
    first = Database(tmp_path, new=True)
    second = Database(tmp_path, new=True)
    assert not first.read_only
    assert second.read_only
    cook = a_cook()
    with pytest.raises(NotSavedError, match="another window"):
        second.change("Add", adding(cook))
    first.change("Add", adding(cook))
    assert second.find(Cook) == [cook]
    second.close()
    first.close()
    third = Database(tmp_path, new=True)
    assert not third.read_only
    third.close()


def test_that_a_failed_command_leaves_nothing_half_way(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook()

    def work(transaction: Transaction) -> None:
        transaction.add(cook)
        raise JournalError("no", "")

    with pytest.raises(JournalError):
        database.change("Add", work)
    assert database.find(Cook) == []
    assert database.next_steps() == (None, None)
    database.close()


def test_that_removing_a_cook_takes_its_parts_and_undo_brings_all_back(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook()
    parts = three_arms(cook)
    database.change("Add", lambda transaction: transaction.add(cook, *parts))
    database.change("Remove", lambda transaction: transaction.remove(Cook, cook.id))
    assert not database.find(Arm)
    assert not database.find(Piece)
    database.undo()
    assert database.find(Piece) == [part for part in parts if isinstance(part, Piece)]
    assert database.integrity() == (True, True)
    database.close()


def test_that_removing_an_arm_leaves_its_pieces_without_an_arm(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook()
    parts = three_arms(cook)
    arm = next(part for part in parts if isinstance(part, Arm))
    database.change("Add", lambda transaction: transaction.add(cook, *parts))
    database.change("Remove", lambda transaction: transaction.remove(Arm, arm.id))
    assert sum(piece.arm_id is None for piece in database.find(Piece)) == 3
    database.close()


def test_that_typing_in_one_field_is_one_step(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook("R")
    database.change("Add", adding(cook))
    for title in ("Ri", "Rib", "Ribs"):

        def work(transaction: Transaction, title: str = title) -> None:
            transaction.change(Cook, cook.id, {"title": title})

        database.change("Edit", work, merge_key="title")
    assert database.find(Cook) == [replace(cook, title="Ribs")]
    database.undo()
    assert database.find(Cook) == [cook]
    database.redo()
    assert database.find(Cook) == [replace(cook, title="Ribs")]
    database.close()


def test_that_a_migration_copies_the_journal_first_and_is_one_transaction(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook()
    database.change("Add", adding(cook))
    database.close()

    def add_column(connection: Connection) -> None:
        connection.execute(text("ALTER TABLE cook ADD COLUMN altimeter TEXT"))

    def fail(_connection: Connection) -> None:
        raise JournalError("stop", "")

    monkeypatch.setattr(
        migrations,
        "steps_from",
        lambda _found: [((1, 8), add_column), ((1, 9), fail)],
    )
    with pytest.raises(JournalError, match="stop"):
        Database(tmp_path, new=True)
    monkeypatch.undo()
    database = Database(tmp_path, new=True)
    assert database.find(Cook) == [cook]
    with database.reading() as connection:
        assert migrations.version_of(connection) == SCHEMA_VERSION
        names = connection.execute(text("SELECT name FROM pragma_table_info('cook')")).scalars()
        assert "altimeter" not in set(names)
    database.close()
    copies = list((tmp_path / "backups").glob("*-before-*.sqlite"))
    assert len(copies) == 1


def test_that_a_journal_of_an_older_minor_gets_the_fields_and_tables_it_lacks(
    tmp_path: Path,
) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook()
    database.change("Add", lambda transaction: transaction.add(cook, *three_arms(cook)))
    database.close()
    with sqlite3.connect(tmp_path / "journal.sqlite") as connection:
        for table, column in (("cook", "typed"), ("cook", "altitude"), ("piece", "slot")):
            connection.execute(f"ALTER TABLE {table} DROP COLUMN {column}")
        connection.execute("DROP TABLE score")
        connection.execute("DROP TABLE photo")
        connection.execute("CREATE TABLE photo (id VARCHAR(64) PRIMARY KEY, cook_id VARCHAR(64))")
        connection.execute("UPDATE schema_version SET minor = 0")
    database = Database(tmp_path, new=True)
    assert database.find(Cook) == [replace(cook, typed={}, altitude=None)]
    assert database.find(Score) == []
    with database.reading() as connection:
        links = connection.execute(text("PRAGMA foreign_key_list(photo)")).mappings().all()
        kept = connection.execute(text("PRAGMA index_list(photo)")).mappings().all()
    assert {link["table"] for link in links} == {"piece"}
    assert "ix_photo_piece_id" in {index["name"] for index in kept}
    first = database.find(Piece)[0]
    database.change("Change", lambda t: t.put(first, replace(first, slot="top")))
    assert database.find(Piece)[0].slot == "top"
    database.close()


def test_that_steps_are_taken_in_order_from_the_version_found() -> None:
    def step(_connection: Connection) -> None:
        raise AssertionError

    steps = {(1, 2): step, (1, 0): step, (1, 1): step, (2, 0): step}
    todo = migrations.steps_from((1, 0), steps, (1, 2))
    assert [made for made, _ in todo] == [(1, 1), (1, 2)]


def test_that_a_tap_is_there_after_kill_9(tmp_path: Path) -> None:
    script = f"""
import os, signal
from pathlib import Path
from pitjournal.store.database import Database
from tests.builders import a_cook
database = Database(Path({str(tmp_path)!r}), new=True)
database.change("Add", lambda transaction: transaction.add(a_cook("Kept")))
os.kill(os.getpid(), signal.SIGKILL)
"""
    done = subprocess.run([sys.executable, "-c", script], check=False)
    assert done.returncode == -9
    database = Database(tmp_path, new=True)
    assert [cook.title for cook in database.find(Cook)] == ["Kept"]
    assert not database.read_only
    database.close()


def test_that_a_locked_journal_says_so_and_the_same_change_can_be_tried_again(
    tmp_path: Path,
) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook()
    other = sqlite3.connect(database.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(NotSavedError, match="Not saved yet"):
        database.change("Add", adding(cook))
    other.execute("ROLLBACK")
    other.close()
    database.change("Add", adding(cook))
    assert database.find(Cook) == [cook]
    database.close()


def test_that_a_full_disk_says_so_and_loses_nothing(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    first = a_cook("First")
    database.change("Add", adding(first))
    with database.reading() as connection:
        pages = connection.execute(text("PRAGMA page_count")).scalar_one()

    def fill(connection: Connection) -> None:
        connection.exec_driver_sql(f"PRAGMA max_page_count={pages}")

    big = a_cook("Second", note="x" * 200_000)
    event.listen(Engine, "begin", fill)  # whichever connection writes
    try:
        with pytest.raises(NotSavedError, match="disk is full"):
            database.change("Add", adding(big))
    finally:
        event.remove(Engine, "begin", fill)
    assert database.find(Cook) == [first]
    database.close()


def test_that_every_field_has_a_column() -> None:
    assert "cook" in TABLES
    assert TABLES["event"].c["pieces"].nullable is False
    assert TABLES["piece"].c["thickness_1"].nullable is True


def test_that_a_change_waits_for_what_a_worker_writes_meanwhile(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook()
    database.change("Add", adding(cook))
    stop = threading.Event()

    def keep_writing() -> None:
        while not stop.wait(0.002):
            with database.quiet_write() as connection:
                connection.execute(text("DELETE FROM stale"))
                connection.execute(text("INSERT INTO stale (cook_id) VALUES ('x')"))

    worker = threading.Thread(target=keep_writing)
    worker.start()
    try:
        for number in range(60):

            def retitle(transaction: Transaction, number: int = number) -> None:
                before = transaction.get(Cook, cook.id)  # reads before it writes
                transaction.put(before, replace(before, title=f"Ribs {number}"))

            database.change(f"Title {number}", retitle)
    finally:
        stop.set()
        worker.join()
    assert database.find(Cook)[0].title == "Ribs 59"
    database.close()


def test_that_the_kept_connection_is_not_put_away_in_the_middle_of_a_change(tmp_path: Path) -> None:
    engine = engine_for(tmp_path / "some.sqlite", mode="rwc")
    writer = Writer(engine)
    with writer.begin() as connection:
        connection.exec_driver_sql("CREATE TABLE one (a)")
        writer.put_away()
        connection.exec_driver_sql("INSERT INTO one VALUES (1)")
    writer.put_away()

    def broken_off() -> None:
        with writer.begin() as connection:
            connection.exec_driver_sql("INSERT INTO one VALUES (2)")
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        broken_off()
    with writer.begin() as connection:
        assert connection.exec_driver_sql("SELECT a FROM one").all() == [(1,)]
    writer.put_away()
    engine.dispose()


def in_the_file_alone(path: Path, tmp_path: Path) -> int:
    """Return how many cooks the database's file has without its log."""
    alone = tmp_path / "alone.sqlite"
    alone.write_bytes(path.read_bytes())
    with contextlib.closing(sqlite3.connect(alone)) as connection:
        return int(connection.execute("SELECT count(*) FROM cook").fetchone()[0])


def test_that_settling_puts_what_was_saved_into_the_file_itself(tmp_path: Path) -> None:
    """SQLite's documentation: a passive checkpoint writes all frames that no reader needs."""
    database = Database(tmp_path / "journal", new=True)
    database.settle()
    database.change("Add", adding(a_cook("One")))
    assert in_the_file_alone(database.path, tmp_path) == 0
    database.settle()
    assert in_the_file_alone(database.path, tmp_path) == 1
    database.change("Add", adding(replace(a_cook("Two"), number=2)))  # goes on as before
    assert len(database.find(Cook)) == 2
    database.close()


def test_that_settling_says_nothing_where_it_cannot_be_done(tmp_path: Path) -> None:
    folder = tmp_path / "journal"
    database = Database(folder, new=True)
    database.change("Add", adding(a_cook("One")))
    folder.rename(tmp_path / "elsewhere")
    database.settle()
    assert in_the_file_alone(tmp_path / "elsewhere" / "journal.sqlite", tmp_path) == 0
    (tmp_path / "elsewhere").rename(folder)
    database.settle()
    assert in_the_file_alone(database.path, tmp_path) == 1
    database.close()


def test_that_texts_of_a_field_come_most_used_first(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook("One")
    cuts = ("brisket", "back ribs", "back ribs", "", "brisket", "back ribs", "ham")
    pieces = tuple(
        Piece(cook_id=cook.id, position=place, label=str(place), cut=cut)
        for place, cut in enumerate(cuts)
    )
    database.change("Add", adding(cook, *pieces))
    assert cook_list.distinct(database, "piece", "cut") == ["back ribs", "brisket", "ham"]
    database.close()


def test_that_indexes_are_made_anew_and_nothing_is_lost(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    database.change("Add", adding(a_cook("One")))
    assert database.integrity() == (True, True)
    database.rebuild_indexes()
    assert database.integrity() == (True, True)
    assert [cook.title for cook in database.find(Cook)] == ["One"]
    database.close()


def test_that_a_journal_from_before_hands_and_boxes_gets_them_and_keeps_its_rows(
    tmp_path: Path,
) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook()
    contest = Contest(name="Spring", starts_at=cook.starts_at, zone=cook.zone)
    category = Category(contest_id=contest.id, position=0, name="ribs", cook_id=cook.id)
    records = (cook, *three_arms(cook), contest, category)
    database.change("Add", lambda transaction: transaction.add(*records))
    database.close()
    with sqlite3.connect(tmp_path / "journal.sqlite") as connection:
        for table, column in (("cook", "hands"), ("piece", "box"), ("piece", "gives")):
            connection.execute(f"ALTER TABLE {table} DROP COLUMN {column}")
        connection.execute("DROP TABLE carried")
        connection.execute("UPDATE schema_version SET minor = 6")
    database = Database(tmp_path, new=True)
    assert database.find(Cook) == [cook]
    assert {(piece.box, piece.gives) for piece in database.find(Piece)} == {(None, "")}
    carried = Carried(category_id=category.id, cook_id=cook.id, what="the wrap")
    database.change("Carry", lambda transaction: transaction.add(carried))
    assert database.find(Carried) == [carried]
    database.change("Remove", lambda transaction: transaction.remove(Category, category.id))
    assert not database.find(Carried)  # nothing is carried into a category that is gone
    database.close()
