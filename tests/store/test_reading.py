"""Reading bears what it finds: a bad row costs that row, a bad text its bad letters."""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Connection, select
from sqlalchemy.exc import DatabaseError, IntegrityError

from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.errors import JournalError
from pitjournal.store import cook_list, faults, salvaging
from pitjournal.store.compare import CookName, differences
from pitjournal.store.database import Database
from pitjournal.store.derived_blocks import DerivedBlocks
from pitjournal.store.faults import DamagedError, FaultKind, NotSavedError
from pitjournal.store.schema import RECORDS
from pitjournal.store.transaction import Transaction
from tests.builders import a_cook, three_arms
from tests.store.test_ground import add


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    with closing(Database(tmp_path / "cooks", new=True)) as made:
        for title in ("First", "Second"):
            add(made, title)
        yield made


def spoil(database: Database, words: str) -> None:
    with closing(sqlite3.connect(database.path)) as other, other:
        other.execute("PRAGMA foreign_keys=OFF")
        other.execute(words)


def edit(database: Database, kind: type[Record], row_id: str, **fields: object) -> None:
    def work(transaction: Transaction) -> None:
        transaction.change(kind, row_id, fields)

    database.change("Edit", work)


@pytest.mark.parametrize(
    "change",
    [
        "kind = 'barbecue'",
        "status = 'smouldering'",
        "zone = 'Nowhere/At_All'",
        "zone = ''",
        "zone = '../../etc/passwd'",
        "starts_at = 17",
        "starts_at = '2026-02-30T00:00:00.000Z'",
        "number = 'one'",
        "number = 1.5",
        "title = x'00ff'",
        "typed = 'null'",
        "typed = '7'",
        "humidity = 'wet'",
        "note = 12.5 || x'ff'",
    ],
)
def test_that_one_bad_row_costs_that_row_in_every_way_of_reading(
    database: Database, change: str
) -> None:
    first, second = database.find(Cook)
    spoil(database, f"UPDATE cook SET {change} WHERE id = '{first.id}'")
    found: list[list[Record]] = [
        [*database.find(Cook)],
        database.of_cooks((Cook,), [first.id, second.id])[Cook],
        [*database.find(Cook, id=first.id), *database.find(Cook, id=second.id)],
    ]
    for cooks in found:
        assert second in cooks
        assert len(cooks) == 1 or not database.missed
    assert "Second" in [line.title for line in cook_list.page(database)]


def test_that_a_text_with_bad_letters_is_read_and_written_over(database: Database) -> None:
    first, _ = database.find(Cook)
    spoil(database, f"UPDATE cook SET note = CAST(x'61ff62' AS TEXT) WHERE id = '{first.id}'")
    assert database.find(Cook, id=first.id)[0].note == "a\N{REPLACEMENT CHARACTER}b"
    edit(database, Cook, first.id, note="ab")
    assert database.find(Cook, id=first.id)[0].note == "ab"
    assert not database.missed


def test_that_an_edit_is_the_first_to_meet_bad_letters(database: Database) -> None:
    first, _ = database.find(Cook)
    spoil(database, f"UPDATE cook SET note = CAST(x'61ff62' AS TEXT) WHERE id = '{first.id}'")
    edit(database, Cook, first.id, place="yard")
    assert database.find(Cook, id=first.id)[0].place == "yard"


def test_that_a_step_with_a_damaged_image_is_refused_and_nothing_changes(
    database: Database,
) -> None:
    first, _ = database.find(Cook)
    edit(database, Cook, first.id, note="new")
    spoil(database, "UPDATE row_image SET before = '{' WHERE before IS NOT NULL")
    with pytest.raises(JournalError, match="is damaged"):
        database.undo()
    assert database.find(Cook, id=first.id)[0].note == "new"


def test_that_a_damaged_block_is_thrown_away_and_every_cook_worked_out_anew(
    database: Database,
) -> None:
    blocks = DerivedBlocks(database)
    spoil(database, "INSERT INTO derived_block VALUES (1, '[\"x', '[]', '[]')")
    with pytest.raises(DamagedError, match="thrown away"):
        blocks.heads()
    assert blocks.heads() == {}
    assert set(blocks.stale()) == {cook.id for cook in database.find(Cook)}


def an_error(code: int, text: str) -> DatabaseError:
    cause = sqlite3.OperationalError(text)
    cause.sqlite_errorcode = code
    return DatabaseError("SELECT", {}, cause)


@pytest.mark.parametrize(
    ("code", "kind"),
    [
        # sqlite.org, "Result and Error Codes": primary codes, and extended ones above a byte.
        (13, FaultKind.FULL),
        (10, FaultKind.FAILED),
        (10 | (3 << 8), FaultKind.FAILED),  # SQLITE_IOERR_WRITE
        (5, FaultKind.LOCKED),
        (6, FaultKind.LOCKED),
        (8, FaultKind.READ_ONLY),
        (8 | (4 << 8), FaultKind.READ_ONLY),  # SQLITE_READONLY_DBMOVED
        (14, FaultKind.FORBIDDEN),
        (11, FaultKind.DAMAGED),
        (26, FaultKind.DAMAGED),
    ],
)
def test_that_each_code_of_sqlite_is_told_for_what_it_is(code: int, kind: FaultKind) -> None:
    assert faults.kind_of(an_error(code, "whatever it says")) is kind
    told = faults.not_saved(an_error(code, "whatever it says"))
    assert told is not None
    assert told.message.startswith("Not saved yet.")


def test_that_a_fault_of_ours_is_not_called_the_disks() -> None:
    # SQLITE_ERROR and SQLITE_CONSTRAINT: wrong SQL, or a rule of the tables.
    assert faults.not_saved(an_error(1, 'near "FORM": syntax error')) is None
    cause = sqlite3.IntegrityError("UNIQUE constraint failed")
    cause.sqlite_errorcode = 19
    assert faults.not_saved(IntegrityError("INSERT", {}, cause)) is None


def test_that_a_message_that_is_no_utf_8_is_damage() -> None:
    error = UnicodeDecodeError("utf-8", b"malformed database schema (\xff)", 27, 28, "invalid")
    assert faults.kind_of(error) is FaultKind.DAMAGED


@pytest.mark.parametrize(
    ("number", "said", "not_said"),
    [
        (errno.ENOSPC, "full", "may not"),
        (errno.EACCES, "may not write", "room"),
        (errno.EROFS, "only be read", "room"),
        (errno.ENOENT, "not there", "room"),
        (errno.EIO, "failed", "room"),
    ],
)
def test_that_a_refusal_of_the_disk_has_its_own_words(
    number: int, said: str, not_said: str
) -> None:
    words = " ".join(faults.disk_words(OSError(number, "in the words of the system")))
    assert said in words
    assert not_said not in words


def test_that_two_databases_are_compared_cook_by_cook(database: Database, tmp_path: Path) -> None:
    cook = a_cook("Third", number=3)
    database.change("Add", lambda t: t.add(cook, *three_arms(cook)))
    copy = tmp_path / "copy.sqlite"
    database.copy_to(copy)
    assert differences(database.path, copy).none
    arm = database.find(Arm)[0]
    edit(database, Arm, arm.id, name="Renamed")
    gone = database.find(Cook)[0]
    database.change("Remove", lambda t: t.remove(Cook, gone.id))
    add(database, "Fourth")
    found = differences(database.path, copy)
    assert found.go == (CookName(0, "Fourth"),)
    assert found.come == (CookName(0, "First"),)
    assert found.change == (CookName(3, "Third"),)
    assert found.others == 0


def test_that_nothing_is_compared_with_what_is_damaged(database: Database, tmp_path: Path) -> None:
    (tmp_path / "copy.sqlite").write_bytes(b"x" * 5000)
    with pytest.raises(DamagedError):
        differences(database.path, tmp_path / "copy.sqlite")


def test_that_a_salvage_reads_what_a_whole_database_has(database: Database, tmp_path: Path) -> None:
    cook = a_cook("Third")
    database.change("Add", lambda t: t.add(cook, *three_arms(cook)))
    found = salvaging.salvage(database.path, None, tmp_path)
    assert list(found.records["cook"].values()) == database.find(Cook)
    assert list(found.records["piece"].values()) == database.find(Piece)
    assert not found.missed
    assert not found.broken | {kind for kind, _ in found.from_history}


def test_that_a_salvage_takes_what_was_undone_for_what_it_was(
    database: Database, tmp_path: Path
) -> None:
    first = database.find(Cook)[0]
    edit(database, Cook, first.id, note="new")
    database.undo()
    spoil(database, f"UPDATE cook SET status = 'x' WHERE id = '{first.id}'")
    found = salvaging.salvage(database.path, None, tmp_path)
    assert found.records["cook"][first.id] == first
    assert found.from_history == {("cook", first.id)}


def test_that_what_is_kept_is_asked_anew_once_anybody_has_written(database: Database) -> None:
    asked = []

    def titles(connection: Connection) -> list[str]:
        asked.append(1)
        return sorted(connection.execute(select(cook_list.COOK.c.title)).scalars())

    def seen() -> tuple[list[str], int]:
        return database.while_unchanged(titles), len(asked)

    assert seen() == seen() == (["First", "Second"], 1)
    spoil(database, "UPDATE cook SET title = 'Other' WHERE title = 'First'")
    assert seen() == seen() == (["Other", "Second"], 2)
    add(database, "Third")
    assert seen()[0] == ["Other", "Second", "Third"]
    with database.writing() as connection:
        connection.exec_driver_sql("DELETE FROM cook WHERE title = 'Third'")
    assert seen()[0] == ["Other", "Second"]


def test_that_a_cook_is_left_out_as_long_as_it_cannot_be_shown(database: Database) -> None:
    for zone, shown in (("Nowhere/At_All", 1), ("Europe/Rome", 2), ("", 1), ("UTC", 2)):
        spoil(database, f"UPDATE cook SET zone = '{zone}' WHERE title = 'First'")
        database.missed.clear()
        for _ in range(2):
            assert cook_list.count(database) == len(cook_list.page(database)) == shown
            assert len(cook_list.left_out(database)) == len(database.missed) == 2 - shown


def test_that_a_rule_that_a_damaged_database_breaks_is_damage_and_else_a_fault(
    database: Database,
) -> None:
    another = a_cook("Third")
    database.change("Add", lambda t: t.add(another, *three_arms(another)))

    def twice(transaction: Transaction) -> None:
        cook = database.find(Cook)[0]
        transaction.add(replace(cook, title="twice"))

    with pytest.raises(IntegrityError):
        database.change("Add", twice)
    with closing(sqlite3.connect(database.path)) as connection, connection:
        connection.execute("PRAGMA foreign_keys=OFF")
        connection.execute("UPDATE piece SET cook_id = 'gone'")
    with pytest.raises(NotSavedError, match="is damaged"):
        database.change("Add", twice)


def test_that_every_record_may_be_born_with_all_its_fields_at_once() -> None:
    for kind in RECORDS:
        assert not hasattr(kind, "__post_init__"), kind
        assert not hasattr(kind, "__slots__"), kind
