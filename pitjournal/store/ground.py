"""Whether the journal's path still leads to the file that is open.

SQLite goes on writing into a file that was moved, replaced or deleted, and reports success. So
before each commit the path is looked up again: device and inode must be those of the opening.
The number of a file that is open cannot be given to another one, so no handle of our own is
needed (closing one would drop SQLite's locks: sqlite.org, "How To Corrupt", 2.2).
"""

import contextlib
import os
import sys
from enum import StrEnum
from pathlib import Path


class Standing(StrEnum):
    """How the path and the open file stand to each other."""

    SAME = "same"
    GONE = "gone"
    FORBIDDEN = "forbidden"
    REPLACED = "replaced"
    LOG_LOST = "log lost"
    CHANGED = "changed"


_Seen = tuple[tuple[int, int], tuple[int, int]]
"""A file: device and inode; size and time of change."""

_TIMES_HOLD = sys.platform != "win32"
"""Elsewhere a file's time is only put right when it is closed."""


def _seen(path: str) -> _Seen | None:
    try:
        found = os.stat(path)  # noqa: PTH116 - at each tap, and Path makes it three times as long
    except (FileNotFoundError, NotADirectoryError):
        return None
    changed = found.st_mtime_ns if _TIMES_HOLD else 0
    return (found.st_dev, found.st_ino), (found.st_size, changed)


def file_of(path: str) -> tuple[int, int] | None:
    """Return the device and inode that a path leads to; None where it leads nowhere."""
    found = _seen(path)
    return None if found is None else found[0]


def own_file(path: Path) -> Path:
    """Return where a database's file itself is, where its path is a link to it."""
    link = os.path.islink(path)  # noqa: PTH114 - false where it may not be looked at; Path raises
    if link:
        with contextlib.suppress(OSError, RuntimeError):  # a link that leads to itself
            return path.resolve()
    return path


def beside(path: Path, end: str) -> Path:
    """Return what SQLite keeps beside a database: beside the file itself, not a link to it."""
    own = own_file(path)
    return own.with_name(own.name + end)


def in_the_way(path: Path) -> Path | None:
    """Return a folder that has the name of what SQLite keeps beside a database; None if none has."""
    names = (beside(path, end) for end in ("-wal", "-shm", "-journal"))
    return next((name for name in names if os.path.isdir(name)), None)  # noqa: PTH112 - as above


class Ground:
    """The file a journal stands on, and its write-ahead log, as they were last seen.

    Parameters
    ----------
    path
        The database file.
    """

    def __init__(self, path: Path) -> None:
        self._main_path, self._log_path = str(path), str(beside(path, "-wal"))
        self._main: _Seen | None = None
        self._log: _Seen | None = None

    def note(self) -> None:
        """Remember the files as they are, which is as this program left them."""
        self._main, self._log = _seen(self._main_path), _seen(self._log_path)

    def forget_log(self) -> None:
        """Know of no log, as where this program took it away; the next look finds a change."""
        self._log = None

    def look(self, *, whole: bool = True) -> Standing:
        """Say how they stand; without `whole`, only whether they are the same files."""
        if self._main is None:
            return Standing.SAME  # nothing was opened yet
        try:
            main, log = _seen(self._main_path), _seen(self._log_path)
        except OSError:
            return Standing.FORBIDDEN
        if main is None or main[0] != self._main[0]:
            return Standing.GONE if main is None else Standing.REPLACED
        if self._log is not None and (log is None or log[0] != self._log[0]):
            return Standing.LOG_LOST
        if whole and (main, log) != (self._main, self._log):
            return Standing.CHANGED
        return Standing.SAME
