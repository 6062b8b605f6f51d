"""What a restore, a salvage and a check say of photos and logs that nobody has any more."""

import os
import shutil
import zipfile
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.cli import main
from pitjournal.journal import open_journal
from pitjournal.journal.backups.archive import backup
from tests.builders import add_comparison
from tests.cli.conftest import Answer
from tests.torture.damage import keep_files


@pytest.fixture
def half(tmp_path: Path) -> Path:
    """Make a ZIP of a journal with a log and a photo, without its kept files."""
    folder = tmp_path / "cooks"
    with closing(open_journal(folder, new=True)) as journal:
        command = add_comparison("First")
        journal.do(command)
        keep_files(journal, command.cook.id)
        whole = backup(journal.database, tmp_path / "whole.zip")
    path = tmp_path / "half.zip"
    with zipfile.ZipFile(whole) as old, zipfile.ZipFile(path, "w") as new:
        for name in old.namelist():
            if not name.startswith("attachments"):
                new.writestr(name, old.read(name))
    return path


def test_that_a_restore_names_what_it_cannot_bring_back(
    half: Path, tmp_path: Path, answer: Answer, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["restore", str(tmp_path / "new"), "--from", str(half), "--dry-run"]) == 1
    before = capsys.readouterr().out
    assert main(["restore", str(tmp_path / "new"), "--from", str(half)]) == 1
    said = capsys.readouterr().out
    for name in ("the log log.txt of “First” (", "the photo large.txt of “First” ("):
        assert name in before
        assert name in said
    found = answer("restore", tmp_path / "other", "--from", half, code=1)
    assert found["restored"]
    assert found["files"]["missing"] == len(found["files"]["which"]) == 4


def test_that_a_check_and_a_salvage_name_them_as_well(
    half: Path, tmp_path: Path, answer: Answer
) -> None:
    answer("restore", tmp_path / "new", "--from", half, code=1)
    found = answer("check", tmp_path / "new", code=1)
    assert any("log.txt of “First”" in line for line in found["attachments"]["which"])
    with (tmp_path / "new" / "journal.sqlite").open("r+b") as file:
        file.write(bytes(100))
    found = answer("salvage", tmp_path / "new", "--to", tmp_path / "saved", code=1)
    assert len(found["missing"]) == found["files_missing"] == 4
    assert any("log.txt of “First”" in line for line in found["missing"])
    assert not any("no record names" in line for line in found["missing"])


def test_that_a_restore_where_the_files_lie_already_is_whole(
    half: Path, tmp_path: Path, answer: Answer
) -> None:
    shutil.rmtree(tmp_path / "cooks" / "backups", ignore_errors=True)
    found = answer("restore", tmp_path / "cooks", "--from", half)
    assert found["files"] == {"back": 0, "missing": 0, "which": []}


@pytest.mark.parametrize(
    ("made", "said"),
    [
        ("empty", "x.zip is empty."),
        ("noughts", "x.zip is no whole backup of a journal."),
        ("cut", "x.zip is no whole"),
        ("pipe", "x.zip is no file."),
    ],
)
def test_that_what_is_no_backup_is_called_by_its_own_name(
    made: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "x.zip"
    if made == "empty":
        path.touch()
    elif made == "pipe":
        os.mkfifo(path)
    else:
        begins = b"\0" * 16 if made == "noughts" else b"SQLite format 3\0"
        with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr("journal.sqlite", begins + b"\0" * 50_000_000)
    assert main(["restore", str(tmp_path / "new"), "--from", str(path)]) == 2
    told = capsys.readouterr().err
    assert said in told
    assert "journal.sqlite is" not in told
