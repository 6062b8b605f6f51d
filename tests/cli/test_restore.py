"""`restore`, `salvage` and `check --repair`: what they answer, and what they leave alone."""

import errno
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.cli import main
from pitjournal.domain.cook import Cook
from pitjournal.journal import open_journal
from pitjournal.journal.commands.records import AddCook
from pitjournal.store import copies
from tests.builders import a_cook
from tests.cli.conftest import Answer
from tests.journal.test_checks import a_journal


def titles(folder: Path) -> list[str]:
    with closing(open_journal(folder, read_only=True)) as journal:
        return [cook.title for cook in journal.find(Cook)]


@pytest.fixture
def changed(folder: Path) -> Path:
    """Return a journal that has one cook more than its backup."""
    with closing(open_journal(folder)) as journal:
        journal.backups.make("close")
        journal.do(AddCook(a_cook("Third")))
    return folder


def test_that_a_dry_run_says_what_would_differ_and_changes_nothing(
    changed: Path, answer: Answer
) -> None:
    found = answer("restore", changed, "--dry-run")
    keys = {"from", "made", "cooks", "today_read", "differences", "restored", "kept", "files"}
    assert set(found) == keys | {"remarks"}
    assert found["today_read"] is True
    assert found["cooks"] == 2
    assert found["differences"] == {
        "go": [{"number": 3, "title": "Third"}],
        "come": [],
        "change": [],
        "others": 0,
    }
    assert (found["restored"], found["kept"]) == (False, None)
    assert found["files"] == {
        "back": 0,
        "missing": 0,
        "which": [],
    }  # what would come back, as it says in words
    assert "Third" in titles(changed)


def test_that_a_restore_keeps_todays_and_can_be_taken_back(changed: Path, answer: Answer) -> None:
    found = answer("restore", changed)
    assert found["restored"]
    assert "Third" not in titles(changed)
    answer("restore", changed, "--from", found["kept"])
    assert "Third" in titles(changed)


def test_that_it_is_told_in_words(changed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["restore", str(changed)]) == 0
    said = capsys.readouterr().out
    assert "1 cook of today is not in it: cook 3 “Third”." in said
    assert "The journal as it was is kept as a backup" in said


def test_that_no_backup_an_open_window_and_a_wrong_file_are_refused_in_a_line(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["restore", str(folder)]) == 2
    assert "There is no backup in" in capsys.readouterr().err
    (folder / "notes.txt").write_text("no journal", encoding="utf-8")
    assert main(["restore", str(folder), "--from", str(folder / "notes.txt")]) == 2
    assert capsys.readouterr().err.count("\n") == 1
    with closing(open_journal(folder)) as journal:
        made = journal.backups.make("close")
        assert main(["restore", str(folder), "--from", str(made.path)]) == 2
        assert "open in a window" in capsys.readouterr().err
        assert main(["check", str(folder), "--repair"]) == 2
        assert "open in another window" in capsys.readouterr().err


def test_that_a_bad_row_is_named_by_a_check_and_mended_by_a_repair(
    folder: Path, answer: Answer, capsys: pytest.CaptureFixture[str]
) -> None:
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection, connection:
        connection.execute("UPDATE cook SET status = 'smouldering' WHERE number = 1")
        (row_id,) = connection.execute("SELECT id FROM cook WHERE number = 1").fetchone()
    found = answer("check", folder, code=1)
    assert found["rows"] == [{"kind": "cook", "id": row_id, "why": "status is 'smouldering'"}]
    assert main(["check", str(folder)]) == 1
    assert f"a cook ({row_id}): status is 'smouldering'" in capsys.readouterr().out
    repaired = answer("check", folder, "--repair")
    assert set(repaired) == {"done", "left", "swept", "aside", "check"}
    assert repaired["check"]["held"]
    assert answer("check", folder)["held"]
    assert [copy.why for copy in copies.kept(folder / "backups")] == ["before-repair"]


def emptied(path: Path) -> None:
    path.write_bytes(b"")


def foreign(path: Path) -> None:
    path.unlink()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE songs (name TEXT)")


def gone(path: Path) -> None:
    path.unlink()


@pytest.mark.parametrize("damage", [emptied, foreign, gone])
def test_that_a_backup_of_what_cannot_be_read_today_brings_all_its_cooks_back(
    changed: Path,
    answer: Answer,
    capsys: pytest.CaptureFixture[str],
    damage: Callable[[Path], None],
) -> None:
    damage(changed / "journal.sqlite")
    found = answer("restore", changed, "--dry-run")
    assert found["today_read"] is False
    assert len(found["differences"]["come"]) == found["cooks"] == 2
    assert main(["restore", str(changed), "--dry-run"]) == 0
    said = capsys.readouterr().out
    assert "Today's journal cannot be read: 2 cooks come back: cook 1" in said
    assert "(salvage) may give newer cooks" in said
    assert "Nothing would differ" not in said


def test_that_a_repair_that_can_mend_nothing_says_so_and_makes_no_backup(
    tmp_path: Path, answer: Answer, capsys: pytest.CaptureFixture[str]
) -> None:
    sha = a_journal(tmp_path / "j")
    (tmp_path / "j" / "attachments" / sha[:2] / sha).unlink()
    assert main(["check", str(tmp_path / "j"), "--repair"]) == 1
    said = capsys.readouterr().out
    assert "NOT MENDED  the readings of a channel of the log log.csv" in said
    assert "mended    " not in said
    assert "Try: pitjournal check" not in said
    assert answer("check", tmp_path / "j", "--repair", code=1)["done"] == []
    assert copies.kept(tmp_path / "j" / "backups") == []


def test_that_a_database_that_does_not_open_claims_nothing_and_names_what_gives_most(
    changed: Path, answer: Answer, capsys: pytest.CaptureFixture[str]
) -> None:
    path = changed / "journal.sqlite"
    data = bytearray(path.read_bytes())
    data[:4096] = b"\0" * 4096
    path.write_bytes(data)
    assert main(["check", str(changed)]) == 1
    said = capsys.readouterr().out
    assert "held    " not in said
    assert "NOT LOOKED AT  kept files" in said
    assert "3 cooks can still be read" in said  # one was added after the backup
    assert "The newest backup has 2 cooks." in said
    assert said.index("pitjournal salvage") < said.index("pitjournal restore")
    found = answer("check", changed, code=1)
    assert (found["database"], found["attachments"], found["rows"]) == (False, None, None)


def test_that_the_same_table_again_is_nothing_new_and_no_journal_is_made_beside_backups(
    changed: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "past.csv"
    table.write_text("Date,Title,Cut\n2024-05-04,Ribs for ten,spare ribs\n", encoding="utf-8")
    assert main(["bring", str(table), str(changed)]) == 0
    assert "1 cook added. Undo takes it out again." in capsys.readouterr().out
    assert main(["bring", str(table), str(changed)]) == 0
    said = capsys.readouterr().out
    assert "Nothing new. 1 was there already." in said
    assert "Undo" not in said
    (changed / "journal.sqlite").unlink()
    assert main(["bring", str(table), str(changed)]) == 2
    assert "its backups or kept files are there" in capsys.readouterr().err
    assert not (changed / "journal.sqlite").exists()


def test_that_a_backup_by_hand_is_one_of_the_backups(
    changed: Path, answer: Answer, capsys: pytest.CaptureFixture[str]
) -> None:
    for copy in copies.kept(changed / "backups"):
        copy.path.unlink()
    made = answer("backup", changed)
    assert answer("restore", changed, "--dry-run")["from"].endswith(Path(made["file"]).name)
    assert main(["restore", str(changed), "--dry-run"]) == 0
    assert "has 3 cooks, made " in capsys.readouterr().out


def test_that_a_backup_passed_over_is_named(
    changed: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (changed / "backups" / "20990101-000000-close.sqlite").write_bytes(b"x" * 9000)
    assert main(["restore", str(changed), "--dry-run"]) == 0
    said = capsys.readouterr().out
    assert "20990101-000000-close.sqlite is newer, and damaged: it is passed over." in said


def test_that_a_backup_dated_in_the_future_is_taken_only_if_it_has_more_steps(
    changed: Path, answer: Answer
) -> None:
    (old,) = copies.kept(changed / "backups")
    ahead = old.path.with_name("20990101-000000-close.sqlite")
    old.path.rename(ahead)
    assert answer("restore", changed, "--dry-run")["cooks"] == 2  # there is no other
    with closing(open_journal(changed)) as journal:
        made = journal.backups.make("close")
    found = answer("restore", changed, "--dry-run")
    assert (found["from"], found["cooks"]) == (str(made.path), 3)
    assert found["remarks"] == [f"{ahead.name} is dated in the future: a clock was wrong."]


def test_that_backups_that_may_not_be_read_are_not_none(
    changed: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    listed = Path.iterdir

    def refuse(path: Path) -> Iterator[Path]:
        if path.name == "backups":
            raise PermissionError(errno.EACCES, "Permission denied")
        return listed(path)

    monkeypatch.setattr(Path, "iterdir", refuse)
    assert main(["restore", str(changed), "--dry-run"]) == 2
    said = capsys.readouterr().err
    assert "cannot be read. You may not write there." not in said
    assert "There is no backup" not in said
    assert f"You may not read the backups in {changed / 'backups'}." in said


def test_that_a_salvage_writes_a_new_journal_and_leaves_the_old_one(
    folder: Path, tmp_path: Path, answer: Answer
) -> None:
    path = folder / "journal.sqlite"
    data = bytearray(path.read_bytes())
    data[-4096:] = b"\xee" * 4096
    path.write_bytes(data)
    keys = {"folder", "cooks", "records", "from_history", "from_backup", "files", "mended", "lost"}
    keys |= {"files_missing", "missing"}
    found = answer("salvage", folder, "--to", tmp_path / "new", code=None)
    assert set(found) == keys
    assert found["cooks"] == len(titles(tmp_path / "new")) == 2
    assert path.read_bytes() == data


@pytest.mark.parametrize("command", ["cooks", "check", "restore", "backup"])
def test_that_a_damaged_journal_is_one_line(
    folder: Path, command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "journal.sqlite").write_bytes(b"\xff\xfe not a journal " * 500)
    assert main([command, str(folder)]) in {1, 2}
    told = capsys.readouterr()
    assert "Traceback" not in told.err
    assert told.err.count("\n") <= 1
