"""The first page of a database destroyed, and the list of its tables: all rows are read still."""

import random
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path

import pytest

from pitjournal.domain.cook import Cook
from pitjournal.errors import JournalError
from pitjournal.journal import open_journal
from pitjournal.journal.backups.salvage import prospects, salvage
from pitjournal.journal.checks import check_folder
from pitjournal.store import table_list
from tests.builders import add_comparison
from tests.torture.damage import keep_files

PAGE = 4096
"""What SQLite takes by itself (sqlite.org, "PRAGMA page_size")."""


def rows_of(path: Path) -> dict[str, int]:
    with closing(sqlite3.connect(path)) as connection:
        kinds = [
            name
            for name, page in connection.execute(
                "SELECT name, rootpage FROM sqlite_schema WHERE type = 'table'"
            )
            if page and not name.startswith(("cook_", "derived", "stale", "operation", "row_image"))
        ]
        return {k: connection.execute(f"SELECT count(*) FROM {k}").fetchone()[0] for k in kinds}


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make a journal of five cooks, a log and a photo, without backups."""
    folder = tmp_path_factory.mktemp("made") / "cooks"
    with closing(open_journal(folder, new=True)) as journal:
        for number in range(5):
            command = add_comparison(f"Cook {number}")
            journal.do(command)
        keep_files(journal, command.cook.id)
    shutil.rmtree(folder / "backups", ignore_errors=True)
    return folder


@pytest.fixture
def folder(whole: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(whole, tmp_path / "cooks"))


def zeros(data: bytearray) -> None:
    data[:PAGE] = bytes(PAGE)


def noise(data: bytearray) -> None:
    data[:PAGE] = random.Random(17).randbytes(PAGE)


def another_size(data: bytearray) -> None:
    data[16:18] = b"\x02\x00"


@pytest.mark.parametrize("spoil", [zeros, noise, another_size])
def test_that_nothing_is_lost_with_the_first_page(
    folder: Path, tmp_path: Path, spoil: Callable[[bytearray], None]
) -> None:
    path = folder / "journal.sqlite"
    before = rows_of(path)
    data = bytearray(path.read_bytes())
    spoil(data)
    path.write_bytes(data)
    assert not check_folder(folder).held
    assert prospects(folder).salvage == 5
    found = salvage(folder, tmp_path / "new")
    assert found.lost == ()
    assert found.missing == ()
    assert rows_of(tmp_path / "new" / "journal.sqlite") == before
    assert check_folder(tmp_path / "new").held
    assert path.read_bytes() == data


def list_pages(path: Path) -> list[int]:
    data = path.read_bytes()
    return [at for at in range(0, len(data), PAGE) if table_list._rows(data[at : at + PAGE], 0)]


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_that_pages_of_the_list_may_be_gone_as_well(
    folder: Path, tmp_path: Path, seed: int
) -> None:
    path = folder / "journal.sqlite"
    before, lists = rows_of(path), list_pages(path)
    assert len(lists) > 5
    data = bytearray(path.read_bytes())
    for at in (0, *random.Random(seed).sample(lists, len(lists) // 2)):
        data[at : at + PAGE] = bytes(PAGE)
    path.write_bytes(data)
    salvage(folder, tmp_path / "new")
    assert rows_of(tmp_path / "new" / "journal.sqlite") == before


def test_that_all_of_the_list_may_be_gone(folder: Path, tmp_path: Path) -> None:
    path = folder / "journal.sqlite"
    before = rows_of(path)
    data = bytearray(path.read_bytes())
    for at in (0, *list_pages(path)):
        data[at : at + PAGE] = bytes(PAGE)
    path.write_bytes(data)
    salvage(folder, tmp_path / "new")
    assert rows_of(tmp_path / "new" / "journal.sqlite") == before


def ids_in(path: Path) -> set[str]:
    with closing(sqlite3.connect(path)) as connection:
        names = ("cook", "arm", "piece", "event", "trace", "photo")
        rows = [row for n in names for row in connection.execute(f"SELECT id FROM {n}")]
    return {row[0] for row in rows}


@pytest.mark.parametrize("kept", [0, 4])
def test_that_a_journal_of_another_layout_is_not_read_by_that_of_a_new_one(
    folder: Path, tmp_path: Path, kept: int
) -> None:
    path = folder / "journal.sqlite"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DROP TABLE alarm")
        connection.execute("VACUUM")  # tables begin elsewhere now
    before = ids_in(path)
    lists = list_pages(path)
    data = bytearray(path.read_bytes())
    for at in (0, *lists[:kept], *lists[kept + 1 :]):
        data[at : at + PAGE] = bytes(PAGE)
    path.write_bytes(data)
    left = table_list.found_in(path, PAGE)
    assert left
    salvaged = tmp_path / "new" / "journal.sqlite"
    with suppress(JournalError):  # of a page that lists nothing but indexes nothing can be read
        salvage(folder, tmp_path / "new")
    assert not salvaged.exists() or ids_in(salvaged) <= before


def test_that_what_waits_in_the_log_comes_along(folder: Path, tmp_path: Path) -> None:
    with closing(open_journal(folder)) as journal:
        journal.do(add_comparison("In the log"))
        left = tmp_path / "left"
        left.mkdir()
        for name in ("journal.sqlite", "journal.sqlite-wal"):
            shutil.copy(folder / name, left / name)
    assert (left / "journal.sqlite-wal").stat().st_size
    spoilt = bytearray((left / "journal.sqlite").read_bytes())
    spoilt[:PAGE] = bytes(PAGE)
    (left / "journal.sqlite").write_bytes(spoilt)
    salvage(left, tmp_path / "new")
    with closing(open_journal(tmp_path / "new", read_only=True)) as journal:
        assert "In the log" in [cook.title for cook in journal.find(Cook)]
