"""Kept files and ZIPs: what a backup lacks is said, and what a ZIP has comes back."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path
from zipfile import ZipFile

import pytest

from pitjournal.cli import main
from pitjournal.errors import JournalError
from pitjournal.journal import open_journal
from pitjournal.journal.backups.archive import archive
from pitjournal.journal.repair import repair_folder
from pitjournal.store import copies, faults
from pitjournal.store.faults import DamagedError, FaultKind, NotSavedError
from tests.journal.test_checks import a_journal


def test_that_a_repair_finds_a_lost_file_in_a_zip_among_the_backups(tmp_path: Path) -> None:
    folder = tmp_path / "j"
    sha = a_journal(folder)
    assert main(["backup", str(folder)]) == 0
    path = folder / "attachments" / sha[:2] / sha
    kept = path.read_bytes()
    (folder / "backups" / "later.zip").write_bytes(b"PK no zip")
    shutil.rmtree(folder / "backups" / "files", ignore_errors=True)
    path.unlink()
    repaired = repair_folder(folder)
    assert not repaired.left
    assert repaired.check.held
    assert path.read_bytes() == kept


def test_that_a_zip_with_other_bytes_brings_nothing_back(tmp_path: Path) -> None:
    folder = tmp_path / "j"
    sha = a_journal(folder)
    (folder / "attachments" / sha[:2] / sha).unlink()
    (folder / "backups").mkdir(exist_ok=True)
    shutil.rmtree(folder / "backups" / "files", ignore_errors=True)
    with ZipFile(folder / "backups" / "other.zip", "w") as made:
        made.writestr(f"attachments/{sha[:2]}/{sha}", b"other bytes")
    (left,) = repair_folder(folder).left
    assert "is missing, and no backup has it" in left


def test_that_a_backup_says_which_files_it_lacks(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, target = tmp_path / "j", tmp_path / "b.zip"
    sha = a_journal(folder)
    (folder / "attachments" / sha[:2] / sha).write_bytes(b"else")
    assert main(["backup", str(folder), "--to", str(target)]) == 1
    assert "1 changed" in capsys.readouterr().out
    with ZipFile(target) as made:
        names = made.namelist()
    assert "journal.sqlite" in names
    assert not [name for name in names if name.endswith(sha)]


def test_that_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    folder, target = tmp_path / "j", tmp_path / "b.zip"
    sha = a_journal(folder)
    path = folder / "attachments" / sha[:2] / sha
    path.rename(tmp_path / "outside")
    path.symlink_to(tmp_path / "outside")
    with closing(open_journal(folder, read_only=True)) as journal:
        found = archive(journal.database, target)
    assert (found.missing, found.changed) == (0, 1)


def test_that_a_damaged_copy_blames_the_journal_it_was_made_of(tmp_path: Path) -> None:
    copy, journal = tmp_path / ".b.zip-database.part", tmp_path / "journal.sqlite"
    copy.write_bytes(b"SQLite format 3\0" + b"?" * 5000)
    with pytest.raises(DamagedError) as caught:
        copies.look_into_made(copy, journal)
    assert str(journal) in str(caught.value)
    assert ".part" not in str(caught.value)


@pytest.mark.parametrize("kind", list(FaultKind))
def test_that_without_a_window_nothing_is_said_to_be_kept(kind: FaultKind) -> None:
    told = str(faults.without_window(NotSavedError("Not saved yet.", faults.HELD, kind)))
    assert told.startswith("Not saved. ")
    assert "kept here" not in told
    assert "window" not in told
    other = JournalError("Something else.")
    assert faults.without_window(other) is other


def test_that_a_dry_run_says_which_photos_and_logs_can_come_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, whole, broken = tmp_path / "j", tmp_path / "whole.zip", tmp_path / "broken.zip"
    sha = a_journal(folder)
    assert main(["backup", str(folder), "--to", str(whole)]) == 0
    (folder / "attachments" / sha[:2] / sha).unlink()
    assert main(["backup", str(folder), "--to", str(broken)]) == 1
    capsys.readouterr()
    assert main(["restore", str(folder), "--from", str(whole), "--dry-run"]) == 0
    assert "would come back: 1" in capsys.readouterr().out
    assert main(["restore", str(folder), "--from", str(broken), "--dry-run"]) == 1
    assert "missing or damaged in it, and here too: 1" in capsys.readouterr().out


def test_that_a_salvage_names_what_a_newer_program_added(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "j"
    a_journal(folder)
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection:
        connection.execute("ALTER TABLE cook ADD COLUMN moon TEXT")
        connection.execute("CREATE TABLE smoke_ring (id TEXT)")
        connection.execute("UPDATE schema_version SET major = 99")
        connection.commit()
    assert main(["salvage", str(folder), "--to", str(tmp_path / "new")]) == 1
    told = capsys.readouterr().out
    assert "the table smoke_ring: a newer program added it" in told
    assert "the column moon of the cook records: a newer program added it" in told
