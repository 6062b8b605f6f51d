"""Drafts beside the database: whole or not at all, and never in a folder that is another's."""

import errno
from collections.abc import Iterable
from pathlib import Path

import pytest

from pitjournal.store.disk import Disk
from pitjournal.store.drafts import FILE_NAME, MOST, Drafts
from pitjournal.store.faults import NotSavedError


class Full(Disk):
    """A disk without room."""

    def write_part(self, part: Path, pieces: Iterable[bytes]) -> None:
        """Refuse it."""
        del part, pieces
        raise OSError(errno.ENOSPC, "No space left on device")


def test_that_a_draft_takes_the_place_of_its_older_self_only(tmp_path: Path) -> None:
    drafts = Drafts(tmp_path / FILE_NAME)
    for number in range(3):
        drafts.keep({"id": "a", "n": number})
        drafts.keep({"id": str(number)})
    assert [one["id"] for one in drafts.all()] == ["0", "1", "a", "2"]
    assert {"id": "a", "n": 2} in drafts.all()
    for one in drafts.all():
        drafts.drop(one["id"])
    assert not (tmp_path / FILE_NAME).exists()


def test_that_the_newest_twenty_are_kept(tmp_path: Path) -> None:
    drafts = Drafts(tmp_path / FILE_NAME)
    for number in range(MOST + 2):
        drafts.keep({"id": str(number)})
    assert [one["id"] for one in drafts.all()] == [str(n) for n in range(2, MOST + 2)]


def test_that_a_full_disk_leaves_the_older_one_and_says_so(tmp_path: Path) -> None:
    Drafts(tmp_path / FILE_NAME).keep({"id": "a", "n": 1})
    full = Drafts(tmp_path / FILE_NAME, disk=Full())
    with pytest.raises(NotSavedError, match="full"):
        full.keep({"id": "a", "n": 2})
    assert full.all() == [{"id": "a", "n": 1}]
    assert [path.name for path in tmp_path.iterdir()] == [FILE_NAME]


def test_that_nothing_is_written_where_the_journal_is_gone(tmp_path: Path) -> None:
    def gone() -> None:
        raise NotSavedError("The journal is gone.", "Bring it back.")

    with pytest.raises(NotSavedError):
        Drafts(tmp_path / FILE_NAME, gone).keep({"id": "a"})
    assert not list(tmp_path.iterdir())
