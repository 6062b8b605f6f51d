"""The index of the write-ahead log, which SQLite has mapped into memory while a journal is open.

Where somebody cuts that file off meanwhile (a program that syncs folders, one that tidies up),
the system ends this program at its next look into it: SIGBUS, and no library can catch it. So
its size is looked at before each transaction. One that was cut off is made anew of zeros: SQLite
takes an index whose head is empty for none, and builds it from the log (sqlite.org, "WAL-mode
File Format", 2.1 and 2.3). The log itself is what holds what was saved, and is not touched.

The file is never opened here: to close it would drop SQLite's locks on it (sqlite.org, "How To
Corrupt An SQLite Database File", 2.2).
"""

import logging
import os
import sys
from pathlib import Path

from pitjournal.store.faults import NotSavedError, disk_words
from pitjournal.store.ground import beside

log = logging.getLogger(__name__)


class WalIndex:
    """The index of an open journal's log, as large as it was seen last.

    Parameters
    ----------
    path
        The database file.
    """

    def __init__(self, path: Path) -> None:
        self._path = str(beside(path, "-shm"))
        self._file: tuple[int, int] | None = None
        self._size = 0

    def look(self) -> None:
        """Make it anew where it was cut off since the last look.

        One that is gone, or another file by now, is left alone: what is mapped is the old one.
        """
        if sys.platform == "win32":  # nobody can cut a mapped file off there
            return
        try:
            found = os.stat(self._path)  # noqa: PTH116 - at each tap
        except OSError:
            return
        if self._file is None:
            self._file = found.st_dev, found.st_ino
        if (found.st_dev, found.st_ino) != self._file:
            return
        if found.st_size >= self._size:
            self._size = found.st_size
            return
        try:
            os.truncate(self._path, 0)  # what is left of it is no index any more
            os.truncate(self._path, self._size)
        except OSError as error:
            why, hint = disk_words(error)
            raise NotSavedError(f"The log of the journal cannot be used. {why}", hint) from error
        log.warning("the index of the log was cut off by another program, and was made anew")
