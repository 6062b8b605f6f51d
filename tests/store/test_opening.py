"""What is said of a journal that does not open, or only to be read: the true reason."""

import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.domain.cook import Cook
from pitjournal.errors import JournalError
from pitjournal.journal import open_journal
from pitjournal.journal.backups import backup
from pitjournal.journal.backups.restoring import look_at, restore
from pitjournal.journal.checks import check_folder
from pitjournal.store import opening
from pitjournal.store.database import Database
from pitjournal.store.faults import CannotOpenError, NotSavedError, Trouble
from tests.store.test_ground import add
from tests.torture.folders import as_nobody


@pytest.fixture
def folder() -> Iterator[Path]:
    """Return a journal's folder that nobody (for root may do everything) may reach."""
    with tempfile.TemporaryDirectory() as name:
        Path(name).chmod(0o755)
        if Path(name).parent.stat().st_mode & 0o5 != 0o5:
            pytest.skip("the folder of passing files is not open to all")
        made = Path(name) / "parent" / "cooks"
        with closing(Database(made, new=True)) as database:
            add(database, "First")
        yield made
        for path in (made.parent, made):
            if path.exists():
                path.chmod(0o755)


def refused(folder: Path) -> CannotOpenError:
    with pytest.raises(CannotOpenError) as caught:
        Database(folder)
    assert "\n" not in str(caught.value)
    assert caught.value.hint
    return caught.value


def test_that_a_folder_that_can_only_be_read_says_so_and_is_read(folder: Path) -> None:
    with as_nobody(folder.parent):
        (folder / opening.LOCK_NAME).unlink(missing_ok=True)
        (folder / "journal.sqlite").chmod(0o444)
        folder.chmod(0o555)
        with closing(Database(folder)) as database:
            assert database.read_only
            assert [cook.title for cook in database.find(Cook)] == ["First"]
            with pytest.raises(NotSavedError) as caught:
                add(database, "Second")
    assert "can only be read" in str(caught.value)
    assert "may not write" in str(caught.value)
    assert "another window" not in str(caught.value)


def test_that_a_journal_in_a_folder_that_can_only_be_read_is_checked_and_backed_up(
    folder: Path,
) -> None:
    with as_nobody(folder.parent.parent):
        away = folder.parent.parent / "away"
        away.mkdir()
        folder.chmod(0o555)
        assert check_folder(folder).held
        with closing(open_journal(folder, read_only=True)) as journal:
            made = backup(journal.database, away / "cooks.zip")
        shutil.copytree(folder, away / "copied")
        assert look_at(folder, away / "copied").cooks == 1
        with pytest.raises(JournalError, match="may not write"):
            restore(folder, away / "copied")
    assert look_at(folder, made).cooks == 1


def test_that_a_file_that_can_only_be_read_says_so(folder: Path) -> None:
    with as_nobody(folder.parent):
        (folder / "journal.sqlite").chmod(0o444)
        with closing(Database(folder)) as database:
            assert [cook.title for cook in database.find(Cook)] == ["First"]
            with pytest.raises(NotSavedError, match="only read the journal's file"):
                add(database, "Second")
            with closing(Database(folder)) as other:
                assert other.read_only


def test_that_a_folder_is_named_where_nothing_can_be_put_beside_a_file_that_may_be_written(
    folder: Path,
) -> None:
    with as_nobody(folder.parent):
        (folder / opening.LOCK_NAME).touch()
        folder.chmod(0o555)
        with closing(Database(folder)) as database:
            assert [cook.title for cook in database.find(Cook)] == ["First"]
            with pytest.raises(NotSavedError, match="Nothing can be written in the folder"):
                add(database, "Second")


def test_that_what_waits_in_a_log_that_cannot_be_taken_is_not_left_out(folder: Path) -> None:
    copied = folder.parent / "copied"
    copied.mkdir()
    with closing(Database(folder)) as database:
        add(database, "Second")
        for name in ("journal.sqlite", "journal.sqlite-wal"):
            shutil.copyfile(folder / name, copied / name)
    with as_nobody(folder.parent):
        copied.chmod(0o555)
        error = refused(copied)
        copied.chmod(0o755)
        assert "Copy the whole folder" in str(error)
        with closing(Database(copied)) as database:
            assert [cook.title for cook in database.find(Cook)] == ["First", "Second"]


@pytest.mark.parametrize("which", ["", "..", "journal.sqlite"])
def test_that_a_forbidden_journal_is_not_called_damaged_or_missing(
    folder: Path, which: str
) -> None:
    with as_nobody(folder.parent):
        target = (folder / which).resolve()
        target.chmod(0o000)
        try:
            error = refused(folder)
            assert opening.journal_is_in(folder)
        finally:
            target.chmod(0o755)
    assert error.trouble is Trouble.FORBIDDEN
    assert "may not read" in str(error)


def test_that_a_kept_file_without_permission_does_not_ask_for_room(folder: Path) -> None:
    with as_nobody(folder.parent), closing(Database(folder)) as database:
        database.attachments.keep(b"first")
        shutil.rmtree(folder / "attachments")
        (folder / "attachments").mkdir(mode=0o555)
        with pytest.raises(NotSavedError) as caught:
            database.attachments.keep(b"second")
    assert "You may not write there" in str(caught.value)
    assert "room" not in str(caught.value)


def test_that_no_journal_is_made_where_that_is_forbidden(folder: Path) -> None:
    with as_nobody(folder.parent):
        folder.parent.chmod(0o555)
        with pytest.raises(CannotOpenError) as caught:
            Database(folder.parent / "new", new=True)
    assert caught.value.trouble is Trouble.UNMADE
    assert "You may not write there" in str(caught.value)


def empty(path: Path) -> None:
    path.write_bytes(b"")


def a_text(path: Path) -> None:
    path.write_text("Ribs, 14 November\n" * 300, encoding="utf-8")


def a_folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


def newer(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("UPDATE schema_version SET major = 9")


def no_version(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("DELETE FROM schema_version")


def odd_version(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("UPDATE schema_version SET minor = 'one'")


def schema_that_is_no_text(path: Path) -> None:
    """Put bytes that are no UTF-8 into the name of a table: SQLite's own message then has them."""
    data = path.read_bytes()
    path.write_bytes(
        data.replace(b"CREATE TABLE attachment (", b"CREATE TABLE \xff\xfe\xfa\xff( (((")
    )


@pytest.mark.parametrize(
    ("damage", "trouble"),
    [
        (empty, Trouble.EMPTY),
        (a_text, Trouble.FOREIGN),
        (a_folder, Trouble.FOREIGN),
        (newer, Trouble.NEWER),
        (no_version, Trouble.DAMAGED),
        (odd_version, Trouble.DAMAGED),
        (schema_that_is_no_text, Trouble.DAMAGED),
    ],
)
def test_that_what_is_wrong_is_told_and_the_file_stays_as_it_is(
    folder: Path, damage: Callable[[Path], object], trouble: Trouble
) -> None:
    path = folder / "journal.sqlite"
    damage(path)
    before = path.read_bytes() if path.is_file() else b""
    assert refused(folder).trouble is trouble
    with pytest.raises(CannotOpenError):
        Database(folder, read_only=True)
    assert (path.read_bytes() if path.is_file() else b"") == before


def test_that_an_empty_file_among_backups_is_not_begun_anew(folder: Path) -> None:
    (folder / "journal.sqlite").write_bytes(b"")
    (folder / "backups").mkdir()
    with pytest.raises(CannotOpenError, match="is empty"):
        Database(folder, new=True)
    assert (folder / "journal.sqlite").stat().st_size == 0


def test_that_a_new_journal_is_there_whole_or_not_at_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("pitjournal.store.migrations.take", stop)
    with pytest.raises(KeyboardInterrupt):
        Database(tmp_path / "new", new=True)
    monkeypatch.undo()
    assert not (tmp_path / "new" / "journal.sqlite").exists()
    Database(tmp_path / "new", new=True).close()


def test_that_reading_leaves_nothing_beside_a_journal_at_rest(folder: Path) -> None:
    before = {path.name for path in folder.iterdir()}
    newer(folder / "journal.sqlite")
    refused(folder)
    assert {path.name for path in folder.iterdir()} <= before | {opening.LOCK_NAME}
