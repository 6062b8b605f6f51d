"""A database that lies elsewhere, its name in the journal's folder a link to it."""

import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.store.database import Database
from pitjournal.store.faults import NotSavedError
from pitjournal.store.place import place_of
from pitjournal.store.replacing import alone, put_in_place
from tests.store.test_ground import add, titles

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="links need a right of their own")

NAME = "journal.sqlite"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a journal whose database lies on another drive, as it were."""
    with closing(Database(tmp_path / "cooks", new=True)) as made:
        add(made, "First")
    (tmp_path / "drive").mkdir()
    link = tmp_path / "cooks" / NAME
    link.rename(tmp_path / "drive" / NAME)
    link.symlink_to(tmp_path / "drive" / NAME)
    return tmp_path / "cooks"


@pytest.fixture
def database(folder: Path) -> Iterator[Database]:
    with closing(Database(folder)) as opened:
        yield opened


def test_that_a_log_that_was_removed_beside_the_file_itself_costs_nothing(
    database: Database, folder: Path, tmp_path: Path
) -> None:
    add(database, "Second")
    (tmp_path / "drive" / f"{NAME}-wal").unlink()
    add(database, "Third")
    assert titles(folder) == ["First", "Second", "Third"]


def test_that_a_journal_the_link_leads_to_by_now_gets_nothing(
    database: Database, folder: Path, tmp_path: Path
) -> None:
    with closing(Database(tmp_path / "other", new=True)) as other:
        add(other, "Another")
    (folder / NAME).unlink()
    (folder / NAME).symlink_to(tmp_path / "other" / NAME)
    with pytest.raises(NotSavedError, match="changed or replaced"):
        add(database, "Second")
    assert titles(tmp_path / "other") == ["Another"]


def test_that_a_restore_goes_where_the_link_leads(folder: Path, tmp_path: Path) -> None:
    with closing(Database(folder)) as before:
        copy = before.back_up("by-hand").path
        add(before, "Second")
    with alone(folder):
        put_in_place(copy, folder / NAME)
    assert (folder / NAME).is_symlink()
    assert titles(tmp_path / "drive") == titles(folder) == ["First"]
    assert [path.name for path in (tmp_path / "drive").iterdir()] == [NAME]


def test_that_a_second_name_of_the_file_is_told(folder: Path, tmp_path: Path) -> None:
    assert not place_of(folder).words
    (tmp_path / "second.sqlite").hardlink_to(tmp_path / "drive" / NAME)
    assert "second name" in place_of(folder).words
