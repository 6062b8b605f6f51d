import contextlib
import sqlite3
import zipfile
from pathlib import Path

import pytest

from pitjournal.cli import main
from pitjournal.journal import open_journal
from tests.cli.conftest import Answer


def test_that_cooks_have_the_documented_keys(folder: Path, answer: Answer) -> None:
    found = answer("cooks", folder)
    assert [cook["title"] for cook in found] == [
        "Does injecting change the bite?",
        "Ribs on a Saturday",
    ]
    assert set(found[0]) == {
        "id",
        "number",
        "title",
        "date",
        "kind",
        "status",
        "cooker",
        "cuts",
        "arms",
        "pieces",
    }
    assert found[0]["cuts"] == ["St. Louis ribs"]
    assert (found[0]["arms"], found[0]["pieces"], found[0]["cooker"]) == (3, 9, None)
    assert found[0]["date"] == "2026-05-02"


def test_that_the_list_is_for_people(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["cooks", str(folder)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].split()[:3] == ["No.", "Date", "Title"]
    assert "not recorded" in lines[1]
    assert "None" not in "".join(lines)


def test_that_cooks_are_found_by_words(folder: Path, answer: Answer) -> None:
    assert [cook["number"] for cook in answer("cooks", folder, "--find", "saturday")] == [1]
    assert answer("cooks", folder, "--find", "goose") == []


def test_that_a_journal_is_read_while_the_window_has_it(folder: Path, answer: Answer) -> None:
    held = open_journal(folder)
    try:
        assert len(answer("cooks", folder)) == 2
    finally:
        held.close()


def test_that_reading_changes_no_byte(folder: Path, answer: Answer) -> None:
    before = (folder / "journal.sqlite").read_bytes()
    answer("cooks", folder)
    assert (folder / "journal.sqlite").read_bytes() == before


def test_that_a_backup_is_a_journal(folder: Path, tmp_path: Path, answer: Answer) -> None:
    target = tmp_path / "away" / "cooks.zip"
    found = answer("backup", folder, "--to", target)
    left_out = {"missing": 0, "changed": 0}
    assert found == {
        "file": str(target),
        "bytes": target.stat().st_size,
        "left_out": left_out,
    }
    with zipfile.ZipFile(target) as archive:
        archive.extractall(tmp_path / "again")
    assert len(answer("cooks", tmp_path / "again")) == 2


def test_that_a_backup_never_writes_over(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "cooks.zip"
    target.write_text("mine")
    assert main(["backup", str(folder), "--to", str(target)]) == 2
    assert "is there already" in capsys.readouterr().err
    assert target.read_text() == "mine"


def test_that_a_backup_without_a_place_goes_into_the_journal(folder: Path, answer: Answer) -> None:
    assert Path(answer("backup", folder)["file"]).parent == folder / "backups"


def test_that_who_asks_all_cooks_hears_how_many_are_left_out(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = (
        ["trends", folder, "--show", "yield"],
        ["findings", folder, "2"],
        ["summary", folder, "2", "--to", tmp_path / "cook.html"],
        ["plan", folder, "2"],
        ["contests", folder],
    )
    for words in asked:
        assert main([str(word) for word in words]) == 0
        assert capsys.readouterr().err == ""
    with contextlib.closing(sqlite3.connect(folder / "journal.sqlite")) as connection:
        connection.execute("UPDATE cook SET starts_at = 'not a time' WHERE number = 1")
        connection.commit()
    for words in asked:
        assert main([str(word) for word in words]) == 0
        said = capsys.readouterr().err
        assert said.startswith("pitjournal: 1 cook that cannot be read is left out. ")
        assert said.count("\n") == 1


def test_that_a_journal_of_ones_own_is_not_called_invented(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["demo", str(folder), "--no-window"]) == 2
    said = capsys.readouterr()
    assert "is a journal of yours, with 2 cooks" in said.err
    assert "invented" not in said.out + said.err
