"""Every refusal of a disk has true words, and what is typed as a place is one or is refused."""

import errno
import os
from pathlib import Path

import pytest

from pitjournal.errors import JournalError
from pitjournal.files.places import (
    cannot_be_read,
    cannot_be_written,
    is_there,
    name_of,
    readable,
    typed_path,
)
from pitjournal.store.faults import disk_words

# What each error means: IEEE Std 1003.1 (POSIX), <errno.h>.
READ = {
    errno.ENOENT: "not there any more",
    errno.EACCES: "may not be read by you",
    errno.EPERM: "may not be read by you",
    errno.EISDIR: "is a folder",
    errno.ELOOP: "leads to itself",
    errno.EIO: "reports an error",
    errno.ENAMETOOLONG: "name that is too long",
    errno.ESTALE: "network drive that has gone",
    errno.EMFILE: "too many files are open",
}
WRITTEN = {
    errno.ENOSPC: "no room left",
    errno.EDQUOT: "share of that disk is used up",
    errno.EACCES: "you may not write there",
    errno.EPERM: "you may not write there",
    errno.EROFS: "can only be read",
    errno.ENOENT: "folder is not there",
    errno.EISDIR: "a folder of that name is there",
    errno.EIO: "reports an error",
    errno.EBUSY: "another program holds it",
    errno.ENAMETOOLONG: "too long",
}


@pytest.mark.parametrize("code", READ)
def test_that_why_a_file_is_not_read_is_said_as_it_is(code: int) -> None:
    error = cannot_be_read("log.csv", OSError(code, os.strerror(code)))
    assert error.message.startswith("log.csv ")
    assert READ[code] in error.message
    assert error.hint


@pytest.mark.parametrize("code", WRITTEN)
def test_that_why_a_file_is_not_written_is_said_as_it_is(code: int) -> None:
    error = cannot_be_written(Path("/a/b.pdf"), OSError(code, os.strerror(code)))
    assert error.message.startswith("/a/b.pdf cannot be written: ")
    assert WRITTEN[code] in error.message
    assert error.hint


def test_that_a_refusal_nobody_foresaw_is_said_in_the_systems_words() -> None:
    strange = OSError(errno.EXDEV, "Invalid cross-device link")
    assert "Invalid cross-device link" in str(cannot_be_written(Path("a"), strange))
    assert "OSError" in str(cannot_be_read("a", OSError()))


@pytest.mark.parametrize("said", [*READ.values(), *WRITTEN.values()])
def test_that_only_a_full_disk_is_told_to_make_room(said: str) -> None:
    codes = [code for table in (READ, WRITTEN) for code, words in table.items() if words == said]
    for code in codes:
        hints = [
            cannot_be_read("a", OSError(code, "")).hint,
            cannot_be_written(Path("a"), OSError(code, "")).hint,
        ]
        full = code in {errno.ENOSPC, errno.EDQUOT}
        assert any("room" in hint for hint in hints) == full


@pytest.mark.parametrize(
    "text", ["", "  ", "\0", "a\0b", "x" * 256, "a/" * 3000, "~nobody-at-all/x", "\ud800"]
)
def test_that_what_can_be_no_place_is_refused_and_never_looked_for(text: str) -> None:
    with pytest.raises(JournalError) as refused:
        typed_path(text)
    assert refused.value.hint
    str(refused.value).encode()
    assert not is_there(text)


def test_that_a_typed_place_is_taken_with_the_cooks_own_folder() -> None:
    assert typed_path(" ~/ribs ") == Path.home() / "ribs"
    assert is_there(str(Path.home()))


def test_that_a_damaged_name_is_shown_and_kept_with_a_mark() -> None:
    assert readable("Rippchen ä 🔥") == "Rippchen ä 🔥"
    damaged = Path(os.fsdecode(b"rack\xff.jpg"))
    assert name_of(damaged) == "rack?.jpg"
    readable("a\ud800b").encode()


def test_that_a_file_another_program_has_open_is_no_missing_permission() -> None:
    error = PermissionError(13, "The process cannot access the file")
    error.winerror = 32  # type: ignore[attr-defined, unused-ignore]  # ERROR_SHARING_VIOLATION
    assert disk_words(error)[0] == "Another program has that file open."
    del error.winerror  # type: ignore[attr-defined, unused-ignore]
    assert disk_words(error)[0] == "You may not write there."
