"""What another program put into a journal does not act, and what it took away is missed."""

import json
import os
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.cli.main import main
from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Note
from pitjournal.domain.record import Record
from pitjournal.errors import JournalError
from pitjournal.journal.backups.restoring import choose, difference_words, look_at, restore
from pitjournal.journal.backups.salvage import salvage
from pitjournal.journal.checks import check_folder
from pitjournal.journal.repair import repair_folder
from pitjournal.store import copies
from pitjournal.store.database import Database
from pitjournal.store.faults import CannotOpenError, DamagedError
from tests.builders import NOON, a_cook

EVIL = "CREATE TRIGGER evil AFTER INSERT ON note BEGIN DELETE FROM cook; END"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make a journal of two cooks with a note each, and a backup of it."""
    folder = tmp_path_factory.mktemp("build") / "cooks"
    with closing(Database(folder, new=True)) as database:
        for number, title in enumerate(("First", "Second"), 1):
            cook = a_cook(title, number=number, weather=f"rain on {title}")
            add(database, cook, Note(cook_id=cook.id, text=f"said of {title}", at=NOON))
        database.back_up("by-hand")
    return folder


@pytest.fixture
def folder(made: Path, tmp_path: Path) -> Path:
    """Return a copy of that journal."""
    return shutil.copytree(made, tmp_path / "cooks")


def add(database: Database, *records: Record) -> None:
    database.change("Add", lambda transaction: transaction.add(*records))


def change(folder: Path, *words: str, name: str = "journal.sqlite") -> None:
    with closing(sqlite3.connect(folder / name)) as connection, connection:
        for one in words:
            connection.execute(one)


def counts(folder: Path) -> tuple[int, int]:
    with closing(Database(folder, read_only=True)) as database:
        return len(database.find(Cook)), len(database.find(Note))


def note(database: Database) -> None:
    (cook, *_) = database.find(Cook)
    add(database, Note(cook_id=cook.id, text="late", at=NOON))


def test_that_a_trigger_of_another_program_never_runs_and_is_named(folder: Path) -> None:
    change(folder, EVIL)
    found = check_folder(folder)
    assert not found.held
    assert [str(one) for one in found.foreign] == ["the trigger evil"]
    with closing(Database(folder)) as database:
        note(database)
        assert database.taken_out == ("the trigger evil",)
    assert counts(folder) == (2, 3)
    assert check_folder(folder).held
    (aside,) = (folder / "backups").glob("aside-*/taken-out.sql")
    assert EVIL in aside.read_text("utf-8")


def test_that_a_trigger_put_in_while_the_journal_is_open_never_runs(folder: Path) -> None:
    with closing(Database(folder)) as database:
        note(database)
        change(folder, EVIL, "CREATE UNIQUE INDEX narrow ON note (cook_id, text)")
        note(database)
        assert database.taken_out == ("the trigger evil", "the index narrow")
    assert counts(folder) == (2, 4)


def test_that_a_trigger_with_a_name_of_ours_and_other_words_is_made_anew(folder: Path) -> None:
    evil = EVIL.replace("evil", "words_of_note_in")
    change(folder, "DROP TRIGGER words_of_note_in", evil)
    assert not check_folder(folder).held
    with closing(Database(folder)) as database:
        note(database)
        assert database.build().unmade == ()
    assert counts(folder) == (2, 3)


def test_that_no_backup_and_no_restore_carries_such_a_trigger(folder: Path) -> None:
    change(folder, EVIL)
    kept = copies.keep(folder / "journal.sqlite", "hour")
    change(folder, EVIL.replace("evil", "again"), name=f"backups/{kept.path.name}")
    restore(folder, kept.path)
    assert check_folder(folder).foreign == ()
    assert not list(folder.glob(".*part*"))


def test_that_views_and_tables_of_another_program_are_named_and_stay(folder: Path) -> None:
    change(folder, "CREATE VIEW seen AS SELECT 1", "CREATE TABLE mine (a)")
    found = check_folder(folder)
    assert found.held
    assert {str(one) for one in found.foreign} == {"the view seen", "the table mine"}


TO_A_VIEW = ("ALTER TABLE note RENAME TO note2", "CREATE VIEW note AS SELECT * FROM note2")


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (("DROP TABLE note",), "the table note"),
        (TO_A_VIEW, "the table note (a view has its name)"),
        (("ALTER TABLE cook DROP COLUMN weather",), "the column weather of the table cook"),
    ],
)
def test_that_what_is_missing_is_named_and_no_backup_of_it_counts(
    folder: Path, words: tuple[str, ...], named: str, capsys: pytest.CaptureFixture[str]
) -> None:
    change(folder, *words)
    assert main(["check", str(folder), "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["lacking"] == [named]
    assert main(["check", str(folder)]) == 1
    assert named in capsys.readouterr().out
    with pytest.raises(CannotOpenError, match="lacks") as caught:
        repair_folder(folder)
    assert named in str(caught.value)
    with pytest.raises(DamagedError):
        copies.keep(folder / "journal.sqlite", "hour")
    (backup,) = copies.kept(folder / "backups")
    words_of = "\n".join(difference_words(look_at(folder, backup.path).differences))
    assert named in words_of
    assert "Nothing would differ" not in words_of
    restore(folder, choose(folder).path)
    assert check_folder(folder).held
    assert counts(folder) == (2, 2)


def test_that_a_backup_without_a_table_is_refused(folder: Path) -> None:
    (backup,) = copies.kept(folder / "backups")
    change(folder, "DROP TABLE note", name=f"backups/{backup.path.name}")
    with pytest.raises(DamagedError, match="lacks the table note"):
        look_at(folder, backup.path)
    with pytest.raises(JournalError, match="whole"):
        choose(folder)


def test_that_what_hangs_from_no_cook_is_no_cook(folder: Path) -> None:
    change(folder, "DELETE FROM cook WHERE title = 'First'")
    (backup,) = copies.kept(folder / "backups")
    found = look_at(folder, backup.path).differences
    assert [cook.title for cook in (*found.come, *found.go, *found.change)] == ["First"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes there")
@pytest.mark.parametrize("kind", ["pipe", "folder"])
def test_that_what_is_no_file_is_said_to_be_none(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "journal.sqlite"
    path.mkdir() if kind == "folder" else os.mkfifo(path)
    for look in (check_folder, Database, lambda one: salvage(one, tmp_path / "new")):
        with pytest.raises(CannotOpenError, match="a folder" if kind == "folder" else "no file"):
            look(tmp_path)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes there")
def test_that_a_pipe_is_neither_restored_nor_waited_for(folder: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    os.mkfifo(other / "journal.sqlite")
    with pytest.raises(DamagedError):
        look_at(folder, other)
    with pytest.raises(JournalError, match="no file"):
        restore(other, folder)


WEATHER = "ALTER TABLE cook DROP COLUMN weather"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (TO_A_VIEW, "lay in a table named note2"),
        (("DROP TABLE note",), "note: 2 records came from the steps for undo"),
        ((WEATHER,), "2 values came from the steps for undo"),
        (("UPDATE note SET cook_id = 'gone'",), "its cook came from the steps for undo"),
    ],
)
def test_that_a_salvage_finds_what_was_moved_away_and_says_so(
    folder: Path, tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    with closing(Database(folder, read_only=True)) as database:
        known = [*database.find(Cook), *database.find(Note)]
    shutil.rmtree(folder / "backups")  # which would lend its list of tables
    change(folder, *words)
    found = salvage(folder, tmp_path / "new")
    assert said in "\n".join(found.mended)
    assert not found.lost
    with closing(Database(tmp_path / "new", read_only=True)) as database:
        assert [*database.find(Cook), *database.find(Note)] == known


def test_that_a_salvage_takes_a_column_from_a_backup_else_names_it(
    folder: Path, tmp_path: Path
) -> None:
    change(folder, "DELETE FROM row_image", WEATHER)
    assert "2 from a backup, 0 are not known" in "\n".join(salvage(folder, tmp_path / "a").mended)
    shutil.rmtree(folder / "backups")
    assert "0 from a backup, 2 are not known" in "\n".join(salvage(folder, tmp_path / "b").mended)


def test_that_a_journal_without_its_format_is_damaged_and_no_other_program_s(folder: Path) -> None:
    change(folder, "DELETE FROM schema_version")
    assert check_folder(folder).lacking == ("the number of its format",)
    with pytest.raises(CannotOpenError, match="the number of its format"):
        Database(folder)
    restore(folder, choose(folder).path)
    assert check_folder(folder).held


def test_that_all_is_salvaged_where_only_the_head_is_destroyed(
    folder: Path, tmp_path: Path
) -> None:
    shutil.rmtree(folder / "backups")
    with (folder / "journal.sqlite").open("r+b") as file:
        file.write(bytes(100))
    salvage(folder, tmp_path / "new")
    assert counts(tmp_path / "new") == (2, 2)
