"""Kept files are named by their SHA-256, and are what their name says or not there."""

from pathlib import Path

import pytest

from pitjournal.errors import JournalError
from pitjournal.store.attachments import Attachments

ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
"""SHA-256 of "abc": FIPS 180-4, the example of one block."""


@pytest.fixture
def kept(tmp_path: Path) -> Attachments:
    return Attachments(tmp_path / "attachments")


def test_that_a_file_lies_under_its_hash_in_a_folder_of_its_first_two_signs(
    kept: Attachments,
) -> None:
    assert kept.keep(b"abc") == ABC
    assert kept.path(ABC) == kept.folder / "ba" / ABC
    assert kept.path(ABC).read_bytes() == b"abc"
    assert kept.read(ABC) == b"abc"
    assert [path.name for path in kept.folder.rglob("*") if path.is_file()] == [ABC]


def test_that_what_is_kept_twice_is_there_once_and_what_was_damaged_is_written_anew(
    kept: Attachments,
) -> None:
    kept.keep(b"abc")
    written = kept.path(ABC).stat().st_mtime_ns
    assert kept.keep(b"abc") == ABC
    assert kept.path(ABC).stat().st_mtime_ns == written
    for damaged in (b"abd", b"ab"):
        kept.path(ABC).write_bytes(damaged)
        assert kept.keep(b"abc") == ABC
        assert kept.read(ABC) == b"abc"


def test_that_a_file_is_what_its_name_says_or_is_named(kept: Attachments) -> None:
    other = kept.keep(b"abcd")
    kept.keep(b"abc")
    assert list(kept.unlike(iter([ABC, other]))) == []
    kept.path(ABC).write_bytes(b"abC")
    kept.path(other).unlink()
    assert list(kept.unlike(iter([ABC, other]))) == [(ABC, "changed"), (other, "missing")]
    assert kept.how(ABC) == "changed"
    with pytest.raises(JournalError, match="is missing from"):
        kept.read(other)
