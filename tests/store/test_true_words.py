"""What is said of a refusal is true: each number of the system, and limits that SQLite hides."""

import contextlib
import errno
import json
import os
import resource
import shutil
import sqlite3
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.cli.main import main
from pitjournal.errors import JournalError
from pitjournal.journal import open_journal
from pitjournal.journal.backups import backup
from pitjournal.journal.backups.restoring import restore
from pitjournal.journal.backups.salvage import salvage
from pitjournal.store import faults, replacing, sqlite
from pitjournal.store.disk import DISK
from tests.builders import add_comparison

WORDS = {
    errno.ENOSPC: "full",
    errno.EDQUOT: "used up",
    errno.EFBIG: "so large",
    errno.EROFS: "only be read",
    errno.EACCES: "may not write",
    errno.EPERM: "may not write",
    errno.ENOENT: "not there",
    errno.ENOTDIR: "in the way",
    errno.EIO: "failed",
    errno.EMFILE: "Too many files",
    errno.ENFILE: "Too many files",
    errno.ENAMETOOLONG: "too long",
    errno.ELOOP: "leads to itself",
}
"""Words of the POSIX meaning of each number (IEEE 1003.1, errno.h)."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with closing(open_journal(tmp_path / "cooks", new=True)) as journal:
        journal.do(add_comparison("First"))
        backup(journal.database, tmp_path / "all.zip")
    return tmp_path / "cooks"


@contextlib.contextmanager
def largest(size: int) -> Iterator[None]:
    """Let no file grow beyond so many bytes, as `ulimit -f` does."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@pytest.mark.parametrize("number", WORDS)
@pytest.mark.parametrize("door", ["attach", "backup", "restore", "salvage", "zip", "repair"])
def test_that_each_number_is_told_for_what_it_is_at_each_door(
    folder: Path,
    tmp_path: Path,
    door: str,
    number: int,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    with closing(open_journal(folder)) as journal:
        for name in ("write_part", "sync_file", "settle", "copy"):
            monkeypatch.setattr(DISK, name, refuse)
        doors: dict[str, Callable[[], object]] = {
            "attach": lambda: journal.files.keep(b"a photo", "image/jpeg", "a.jpg"),
            "backup": lambda: journal.backups.make("hour"),
            "zip": lambda: backup(journal.database, tmp_path / "new.zip"),
            "repair": lambda: journal.database.back_up("before-repair"),
            "restore": lambda: restore(tmp_path / "new", tmp_path / "all.zip"),
            "salvage": lambda: salvage(folder, tmp_path / "new"),
        }
        with pytest.raises(JournalError) as caught:
            doors[door]()
    assert WORDS[number] in str(caught.value)
    assert caught.value.hint
    assert "\n" not in str(caught.value)
    assert not (tmp_path / "new").exists()


def test_that_what_was_to_be_read_is_not_called_unwritable() -> None:
    denied = OSError(errno.EACCES, "Permission denied")
    assert faults.disk_words(denied, reading=True)[0] == "You may not read it."
    assert faults.disk_words(denied)[0] == "You may not write there."


@pytest.mark.skipif(sys.platform == "win32", reason="there are no such limits there")
@pytest.mark.parametrize("size", [0, 8192])
@pytest.mark.parametrize(
    "words",
    [
        "cooks J",
        "check J",
        "check J --repair",
        "backup J",
        "backup J --to N.zip",
        "restore J --from Z",
        "restore N --from Z",
        "salvage J --to N",
    ],
)
def test_that_a_limit_on_files_is_neither_a_permission_nor_damage(
    folder: Path, tmp_path: Path, words: str, size: int, capsys: pytest.CaptureFixture[str]
) -> None:
    names = {"J": folder, "Z": tmp_path / "all.zip", "N": tmp_path / "new"}
    names["N.zip"] = tmp_path / "new.zip"
    parts = [str(names.get(word, word)) for word in words.split()]
    with largest(size):
        code = main(parts)
    out, err = capsys.readouterr()
    assert code == 2, out
    assert "so large" in err
    for untrue in ("damaged", "no whole", "by you", "may not write", "Traceback"):
        assert untrue not in out + err
    assert main(["check", str(folder)]) == 0


def test_that_a_tap_beyond_a_limit_says_so_and_is_saved_once_it_is_lifted(folder: Path) -> None:
    with closing(open_journal(folder)) as journal:
        path = journal.database.path
        full = sqlite3.OperationalError("disk I/O error")
        full.sqlite_errorcode = sqlite3.SQLITE_IOERR_WRITE
        with largest(4096):
            told = faults.not_saved(full, path)
        assert told is not None
        assert "so large" in str(told)
        assert "so large" in str(faults.without_window(told))
        journal.do(add_comparison("Second"))


@pytest.mark.skipif(sys.platform == "win32", reason="there are no such limits there")
def test_that_settling_the_log_waits_where_the_disk_takes_nothing(folder: Path) -> None:
    with closing(open_journal(folder)) as journal:
        journal.do(add_comparison("Second"))
        with largest(4096):
            journal.database.settle()  # what the driver itself says is no fault of the program
        assert sqlite.log_waits(journal.database.path)
        journal.database.settle()
        assert not sqlite.log_waits(journal.database.path)


def test_that_a_restore_into_a_new_folder_speaks_of_no_journal_of_today(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    del folder
    words = ["restore", str(tmp_path / "new"), "--from", str(tmp_path / "all.zip"), "--dry-run"]
    assert main(words) == 0
    said = capsys.readouterr().out
    assert "no journal there yet: it would have 1 cook" in said
    assert "oday's" not in said
    assert main([*words, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["files"] == {"back": 0, "missing": 0, "which": []}
    assert not (tmp_path / "new").exists()


def test_that_a_restore_that_fails_leaves_no_folder(folder: Path, tmp_path: Path) -> None:
    del folder
    with largest(8192), pytest.raises(JournalError):
        restore(tmp_path / "new", tmp_path / "all.zip")
    assert not (tmp_path / "new").exists()


def test_that_what_an_ended_restore_or_salvage_left_is_swept_by_the_next(
    folder: Path, tmp_path: Path
) -> None:
    long_ago = time.time() - 10 * 86_400
    left = tmp_path / ".other.part"
    shutil.copytree(folder, left)
    part = folder / ".journal.sqlite-0123abcd.part"
    part.write_bytes(b"half")
    for path in (left, left / "journal.sqlite", part):
        os.utime(path, (long_ago, long_ago))
    young = tmp_path / ".young.part"
    shutil.copytree(folder, young)
    (young / "journal.sqlite").touch()
    salvage(folder, tmp_path / "new")
    restore(folder, tmp_path / "all.zip")
    assert not left.exists()
    assert not part.exists()
    assert young.exists()


def test_that_words_where_no_window_is_speak_of_commands_too(folder: Path) -> None:
    with (
        replacing.alone(folder),
        closing(open_journal(folder)) as journal,
    ):
        assert journal.why_read_only is not None
        assert "or command" in journal.why_read_only[0]


@pytest.mark.parametrize("command", [["cooks"], ["check"], ["check", "--repair"], ["restore"]])
@pytest.mark.parametrize("name", ["journal.sqlite-wal", "journal.sqlite-shm", ".in-use"])
def test_that_a_folder_in_the_place_of_what_lies_beside_a_journal_is_named(
    tmp_path: Path, name: str, command: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    with closing(open_journal(tmp_path / "cooks", new=True)) as journal:
        journal.do(add_comparison())
        journal.backups.make("hour")
    (tmp_path / "cooks" / name).unlink(missing_ok=True)
    (tmp_path / "cooks" / name).mkdir()
    code = main([command[0], str(tmp_path / "cooks"), *command[1:]])
    said = capsys.readouterr().err
    if name == ".in-use" and command in (["cooks"], ["check"]):
        assert (code, said) == (0, "")  # reading needs no lock
        return
    assert code == 2
    assert str(tmp_path / "cooks" / name) in said
    assert "a folder is in the way" in said.lower()
    assert said.count("\n") == 1


@pytest.mark.parametrize("command", [["cooks"], ["check"], ["check", "--repair"], ["salvage"]])
def test_that_a_link_that_leads_to_itself_is_told_in_a_line(
    tmp_path: Path, command: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "cooks"
    folder.mkdir()
    (folder / "journal.sqlite").symlink_to("journal.sqlite")
    to = ["--to", str(tmp_path / "new")] if command == ["salvage"] else []
    assert main([command[0], str(folder), *command[1:], *to]) == 2
    said = capsys.readouterr().err
    assert "a link that leads to itself" in said
    assert said.count("\n") == 1
