"""`pitjournal bundle` and `pitjournal bring` of one: what is lost is said, and the answer is 1."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.cli import main
from pitjournal.domain.cook import Cook
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.journal import open_journal
from tests.cli.conftest import Answer


@pytest.fixture
def copy(demonstration_folder: Path, tmp_path: Path) -> Path:
    """Return a copy of the demonstration."""
    return Path(shutil.copytree(demonstration_folder, tmp_path / "copy"))


def test_that_files_that_are_lost_or_altered_are_named(
    copy: Path, tmp_path: Path, answer: Answer
) -> None:
    with closing(sqlite3.connect(copy / "journal.sqlite")) as database:
        shas = [row[0] for row in database.execute("select attachment from photo limit 2")]
    gone, altered = (copy / "attachments" / sha[:2] / sha for sha in shas)
    gone.unlink()
    altered.write_bytes(b"x" + altered.read_bytes()[1:])
    told = answer("bundle", copy, "--everything", "--to", tmp_path / "all.eln", code=1)
    assert [name.split(": ")[1] for name in told["files_missing"]] == [
        "gone",
        "not as it was kept",
    ]
    brought = answer("bring", tmp_path / "all.eln", tmp_path / "other")
    assert brought["files_missing"] == 2
    assert len(brought["cooks"]) == told["cooks"] == 39


def test_that_records_that_cannot_be_read_are_named(
    copy: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with closing(sqlite3.connect(copy / "journal.sqlite")) as database:
        database.execute("update score set value = x'00' where rowid in (5, 6)")
        database.commit()
    target = tmp_path / "all.eln"
    assert main(["bundle", str(copy), "--everything", "--to", str(target)]) == 1
    said = capsys.readouterr()
    assert said.err.count("is left out: its value is") == 2
    assert target.exists()


def test_that_a_whole_journal_answers_0_and_says_what_leaves(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "two.eln"
    assert main(["bundle", str(folder), "--to", str(target)]) == 0
    assert "2 cooks" in capsys.readouterr().out
    assert main(["bring", str(target), str(tmp_path / "other")]) == 0
    assert "2 new cooks" in capsys.readouterr().out
    assert main(["bring", str(target), str(tmp_path / "other")]) == 0
    assert "Nothing new" in capsys.readouterr().out


def test_that_another_ending_is_refused(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["bundle", str(folder), "--to", str(tmp_path / "two.zip")]) == 2
    assert "End it in .eln" in capsys.readouterr().err


def test_that_a_recipe_goes_alone_with_its_amounts_unless_less_is_asked(
    demonstration_folder: Path, tmp_path: Path, answer: Answer
) -> None:
    target = tmp_path / "house.eln"
    told = answer("bundle", demonstration_folder, "--recipe", "house injection", "--to", target)
    assert told["cooks"] == 0
    assert "amounts, and what goes in" in told["leaves"]
    answer("bring", target, tmp_path / "other")
    with closing(open_journal(tmp_path / "other", read_only=True)) as journal:
        (item,) = [one for one in journal.find(ShelfItem) if one.kind is ShelfKind.RECIPE]
        assert not journal.find(Cook)
    with closing(open_journal(demonstration_folder, read_only=True)) as journal:
        (mine,) = [one for one in journal.find(ShelfItem) if one.name == "house injection"]
    assert (item.id, item.details) == (mine.id, mine.details)
    less = tmp_path / "less.eln"
    words = ("--recipe", "house injection", "--detail", "names")
    told = answer("bundle", demonstration_folder, *words, "--to", less)
    assert told["left_out"] == ["amounts, and what goes in"]


def test_that_the_cooks_of_a_question_go_together(
    demonstration_folder: Path, tmp_path: Path, answer: Answer, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "wraps.eln"
    told = answer("bundle", demonstration_folder, "--question", "which wrap", "--to", target)
    with closing(open_journal(demonstration_folder, read_only=True)) as journal:
        asked = [one for one in journal.find(Cook) if "which wrap" in one.question.casefold()]
    assert told["cooks"] == len(asked) > 2
    found = answer("bring", target, tmp_path / "other", "--dry-run")
    assert {one["id"] for one in found["cooks"]} == {one.id for one in asked}
    words = ["bundle", str(demonstration_folder), "1", "--question", "wrap", "--to", str(target)]
    assert main(words) == 2
    assert "Name one sort of them." in capsys.readouterr().err
