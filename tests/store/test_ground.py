"""What was said to be saved lies under the journal's path; else it was not said."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.store.database import Database
from pitjournal.store.faults import CannotOpenError, NotSavedError
from pitjournal.store.opening import LOCK_NAME
from tests.builders import a_cook


def titles(folder: Path) -> list[str]:
    """Return the titles on the disk, as a program of its own reads them."""
    with closing(sqlite3.connect(f"{(folder / 'journal.sqlite').as_uri()}?mode=ro", uri=True)) as c:
        return [row[0] for row in c.execute("SELECT title FROM cook ORDER BY id")]


def add(database: Database, title: str) -> None:
    database.change("Add", lambda transaction: transaction.add(a_cook(title)))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "parent" / "cooks"


@pytest.fixture
def database(folder: Path) -> Iterator[Database]:
    with closing(Database(folder, new=True)) as made:
        add(made, "First")
        yield made


def test_that_nothing_is_saved_while_the_folder_is_moved_and_is_when_it_is_back(
    database: Database, folder: Path
) -> None:
    away = folder.with_name("away")
    folder.rename(away)
    with pytest.raises(NotSavedError, match="was moved or is gone"):
        add(database, "Second")
    assert titles(away) == ["First"]
    assert not folder.exists()
    away.rename(folder)
    add(database, "Second")
    assert titles(folder) == ["First", "Second"]


def test_that_a_parent_that_was_moved_is_noticed_too(database: Database, folder: Path) -> None:
    folder.parent.rename(folder.parent.with_name("elsewhere"))
    with pytest.raises(NotSavedError, match="was moved or is gone"):
        add(database, "Second")


def test_that_nothing_is_saved_into_a_deleted_journal(database: Database, folder: Path) -> None:
    shutil.rmtree(folder)
    with pytest.raises(NotSavedError, match="was moved or is gone"):
        add(database, "Second")
    with pytest.raises(NotSavedError, match="was moved or is gone"):
        database.undo()
    assert not folder.exists()


def test_that_a_deleted_database_is_noticed(database: Database, folder: Path) -> None:
    (folder / "journal.sqlite").unlink()
    with pytest.raises(NotSavedError):
        add(database, "Second")
    assert not (folder / "journal.sqlite").exists()


def test_that_a_kept_file_never_makes_the_folder_of_its_journal(
    database: Database, folder: Path
) -> None:
    shutil.rmtree(folder)
    with pytest.raises(NotSavedError, match="was moved or is gone"):
        database.attachments.keep(b"a photo")
    assert not folder.exists()


def test_that_another_journal_in_its_place_gets_nothing(database: Database, folder: Path) -> None:
    folder.rename(folder.with_name("away"))
    with closing(Database(folder, new=True)) as other:
        add(other, "Somebody else's")
    with pytest.raises(NotSavedError, match="changed or replaced"):
        add(database, "Second")
    assert titles(folder) == ["Somebody else's"]
    assert titles(folder.with_name("away")) == ["First"]


def test_that_the_log_of_the_journal_in_its_place_outlives_the_closing(
    database: Database, folder: Path
) -> None:
    folder.rename(folder.with_name("away"))
    other = Database(folder, new=True)
    add(other, "In the log only")
    database.close()
    assert (folder / "journal.sqlite-wal").stat().st_size
    assert titles(folder) == ["In the log only"]
    other.close()


def test_that_a_whole_copy_in_its_place_is_gone_on_with(database: Database, folder: Path) -> None:
    # A sync program may take a folder away and bring back a copy of it.
    away = folder.with_name("away")
    folder.rename(away)
    with pytest.raises(NotSavedError):
        add(database, "Second")
    shutil.copytree(away, folder, ignore=shutil.ignore_patterns(LOCK_NAME))
    add(database, "Second")
    assert titles(folder) == ["First", "Second"]
    assert titles(away) == ["First"]
    again = Database(folder)
    assert again.read_only  # the lock went along
    again.close()


def test_that_an_older_copy_in_its_place_gets_nothing(database: Database, folder: Path) -> None:
    database.copy_to(folder.parent / "older.sqlite")
    add(database, "Second")
    (folder.parent / "older.sqlite").replace(folder / "journal.sqlite")
    for log in folder.glob("journal.sqlite-*"):
        log.unlink()
    with pytest.raises(NotSavedError, match="saved last is not in it"):
        add(database, "Third")


def test_that_an_older_file_beside_the_whole_log_is_gone_on_with(
    database: Database, folder: Path
) -> None:
    database.copy_to(folder.parent / "older.sqlite")
    add(database, "Second")
    (folder.parent / "older.sqlite").replace(folder / "journal.sqlite")
    add(database, "Third")
    assert titles(folder) == ["First", "Second", "Third"]
    assert database.integrity() == (True, True)


def test_that_a_log_that_was_removed_costs_nothing(database: Database, folder: Path) -> None:
    (folder / "journal.sqlite-wal").unlink()
    add(database, "Second")
    assert titles(folder) == ["First", "Second"]
    add(database, "Third")
    assert titles(folder) == ["First", "Second", "Third"]


def test_that_a_file_overwritten_in_place_is_noticed_before_writing(
    database: Database, folder: Path
) -> None:
    older = folder.parent / "older.sqlite"
    database.copy_to(older)
    for number in range(300):
        add(database, f"More {number}")
    path = folder / "journal.sqlite"
    with path.open("r+b") as file:  # the same file, other bytes: as some programs sync
        file.write(older.read_bytes())
        file.truncate()
    with (folder / "journal.sqlite-wal").open("r+b") as file:
        file.truncate(0)
    with pytest.raises(NotSavedError):
        add(database, "Lost?")
    assert path.read_bytes() == older.read_bytes()


def test_that_a_change_by_another_program_that_keeps_all_is_gone_on_with(
    database: Database, folder: Path
) -> None:
    with closing(sqlite3.connect(folder / "journal.sqlite")) as other, other:
        other.execute("UPDATE cook SET title = 'Retitled'")
    add(database, "Second")
    assert titles(folder) == ["Retitled", "Second"]


def test_that_opening_never_makes_what_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(CannotOpenError, match="no journal"):
        Database(tmp_path / "nowhere")
    assert list(tmp_path.iterdir()) == []
