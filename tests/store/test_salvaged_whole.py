"""What a salvage or a repair leaves is whole, and readings outlive the log they were read from."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.cli.main import main
from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Photo
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.journal import open_journal
from pitjournal.journal.backups.salvage import salvage
from pitjournal.journal.checks import check_folder
from pitjournal.journal.repair import repair_folder
from tests.builders import add_comparison
from tests.store.test_true_words import largest
from tests.torture.damage import keep_files


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Make a cook with a log, its trace, and a photo; nothing notes its four kept files."""
    with closing(open_journal(tmp_path / "cooks", new=True)) as journal:
        command = add_comparison("First")
        journal.do(command)
        keep_files(journal, command.cook.id)
    with closing(sqlite3.connect(tmp_path / "cooks" / "journal.sqlite")) as connection, connection:
        connection.execute("DELETE FROM attachment")
    return tmp_path / "cooks"


def by_salvage(folder: Path) -> tuple[Path, str]:
    target = folder.with_name("new")
    found = salvage(folder, target)
    return target, "\n".join((*found.mended, *found.lost))


def by_repair(folder: Path) -> tuple[Path, str]:
    return folder, "\n".join(repair_folder(folder).done)


ways = pytest.mark.parametrize("mend", [by_salvage, by_repair])
Mend = Callable[[Path], tuple[Path, str]]


@ways
def test_that_kept_files_that_lie_there_are_noted_again(folder: Path, mend: Mend) -> None:
    assert not check_folder(folder).held
    made, lines = mend(folder)
    found = check_folder(made)
    assert found.held
    assert found.checked == 4
    assert "lost" not in lines
    with closing(open_journal(made)) as journal:
        (trace,) = journal.find(Trace)
        assert len(journal.files.samples(trace).times) == trace.count
        (photo,) = journal.find(Photo)
        assert journal.files.read(photo.attachment).startswith(b"large of")


@ways
def test_that_a_lost_log_takes_no_readings_and_a_picture_stands_for_another(
    folder: Path, mend: Mend
) -> None:
    with closing(open_journal(folder)) as journal:
        (file,), (photo,) = journal.find(ProbeFile), journal.find(Photo)
    for sha in (file.attachment, photo.attachment):
        (folder / "attachments" / sha[:2] / sha).unlink()
    made, lines = mend(folder)
    assert file.id in lines
    assert photo.id in lines
    assert check_folder(made).held
    with closing(open_journal(made)) as journal:
        (trace,), (file,), (after,) = (
            journal.find(Trace),
            journal.find(ProbeFile),
            journal.find(Photo),
        )
        assert len(journal.files.samples(trace).times) == trace.count
        assert b"lost" in journal.files.read(file.attachment)
        assert after.attachment == after.thumbnail == photo.thumbnail
        (cook,) = journal.find(Cook)
        assert "log.txt is lost" in cook.note
        assert "large.txt is lost" in cook.note


@pytest.mark.parametrize(
    ("column", "value"), [("typed", '{"set_point": 7}'), ("title", "a\0b"), ("note", "\0")]
)
def test_that_what_no_record_can_have_is_mended_and_named_by_a_salvage(
    folder: Path, column: str, value: str
) -> None:
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection, connection:
        connection.execute(f"UPDATE cook SET {column} = ?", (value,))
        if column == "typed":  # the steps for undo are damaged at the same place
            words = "UPDATE row_image SET after = json_set(after, '$.typed', json(?))"
            connection.execute(words, (value,))
    made, lines = by_salvage(folder)
    assert check_folder(made).held
    assert column in lines
    with closing(open_journal(made)) as journal:
        (cook,) = journal.find(Cook)
        assert "\0" not in cook.title + cook.note


def test_that_no_passing_folder_is_named_where_the_demonstration_finds_no_room(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with largest(8192):
        assert main(["demo", str(tmp_path / "shown"), "--no-window"]) == 2
    said = capsys.readouterr().err
    assert str(tmp_path / "shown") in said
    assert "so large" in said
    assert ".part" not in said
    assert not list(tmp_path.iterdir())
