"""What a salvage cannot read is named by table and record, with what to do; a backup lends it."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.piece import Piece
from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.backups.salvage import salvage
from pitjournal.journal.checks import check_folder
from pitjournal.journal.commands.records import Remove
from tests.builders import add_comparison


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with closing(open_journal(tmp_path / "cooks", new=True)) as journal:
        journal.do(add_comparison("First"))
        journal.do(add_comparison("Second"))
        journal.backups.make("hour")
    return tmp_path / "cooks"


def change(folder: Path, *words: str) -> None:
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection, connection:
        for one in words:
            connection.execute(one)


def whole_cooks(journal: Journal) -> set[str]:
    return {cook.id for cook in journal.find(Cook)}


SPOILT = "UPDATE cook SET status = 'x' WHERE title = 'First'"
NO_STEPS = "DELETE FROM row_image"


def test_that_a_row_that_cannot_be_read_is_lent_by_a_backup_and_named(
    folder: Path, tmp_path: Path
) -> None:
    change(folder, SPOILT, NO_STEPS)
    found = salvage(folder, tmp_path / "new")
    (line,) = found.mended
    assert found.whole
    assert found.from_backup == 1
    assert line.startswith("table cook, record ")
    assert "“First”" in line
    assert "see what changed since" in line
    with closing(open_journal(tmp_path / "new", read_only=True)) as journal:
        assert len(journal.find(Cook)) == 2


def test_that_one_word_that_nobody_knows_does_not_take_a_cook_along(
    folder: Path, tmp_path: Path
) -> None:
    shutil.rmtree(folder / "backups")
    change(folder, SPOILT, NO_STEPS)
    found = salvage(folder, tmp_path / "new")
    (line,) = found.lost
    assert line.startswith("table cook, record ")
    assert line.endswith("“First”: status is 'x'; now planned. Set it again.")
    with closing(open_journal(tmp_path / "new", read_only=True)) as journal:
        first, _ = sorted(journal.find(Cook), key=lambda cook: cook.number)
        assert first.note.endswith("Its status could not be read; it now says: planned.")
        assert len(journal.find(Arm)) == 6
        assert len(journal.find(Piece)) == 18
    assert check_folder(tmp_path / "new").held


def test_that_each_record_whose_cook_is_gone_is_named_with_what_to_do(
    folder: Path, tmp_path: Path
) -> None:
    shutil.rmtree(folder / "backups")
    change(folder, "DELETE FROM cook WHERE title = 'First'", NO_STEPS)
    with closing(open_journal(folder, read_only=True)) as journal:
        left = whole_cooks(journal)
        arms = [arm for arm in journal.find(Arm) if arm.cook_id not in left]
    found = salvage(folder, tmp_path / "new")
    assert not found.whole
    assert len(arms) == 3
    for arm in arms:
        (line,) = (line for line in found.lost if f"table arm, record {arm.id} " in line)
        assert f"it belongs to the cook {arm.cook_id}, which cannot be read." in line
        assert line.endswith("Enter it again, or take it from another backup.")
    assert all(line.startswith("table ") for line in found.lost)


def test_that_what_was_taken_away_does_not_come_back_from_a_backup(
    folder: Path, tmp_path: Path
) -> None:
    with closing(open_journal(folder)) as journal:
        gone = journal.find(Piece)[0]
        journal.do(Remove(Piece, gone.id))
        kept = len(journal.find(Piece))
    change(folder, "DROP TABLE piece")
    found = salvage(folder, tmp_path / "new")
    with closing(open_journal(tmp_path / "new", read_only=True)) as journal:
        assert len(journal.find(Piece)) == kept
        assert gone.id not in {piece.id for piece in journal.find(Piece)}
    assert found.whole


def test_that_what_is_cut_off_gives_no_records_that_never_were(
    folder: Path, tmp_path: Path
) -> None:
    path = folder / "journal.sqlite"
    path.write_bytes(path.read_bytes()[:41902])
    with pytest.raises(JournalError, match="Restore a backup of it"):
        salvage(folder, tmp_path / "new")
    assert not (tmp_path / "new").exists()
