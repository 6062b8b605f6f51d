"""Files kept by the SHA-256 of their bytes, in the journal's `attachments` folder."""

import hashlib
import re
from collections.abc import Callable, Iterator
from pathlib import Path

from pitjournal.errors import JournalError
from pitjournal.store.disk import DISK, Disk
from pitjournal.store.faults import NotSavedError, disk_words

_SHA = re.compile(r"[0-9a-f]{64}")


def is_sha(name: object) -> bool:
    """Whether this is one that a kept file may have: what is none is no part of a path."""
    return isinstance(name, str) and _SHA.fullmatch(name) is not None


def _nothing() -> None:
    return


class Attachments:
    """A content-addressed folder. What is in it is never changed, only added.

    Parameters
    ----------
    folder
        The `attachments` folder. It is made when the first file is kept, but never the
        journal's folder that it lies in.
    stands
        Raises where the journal's folder is no longer the one that was opened.
    disk
        What writes.
    """

    def __init__(
        self, folder: Path, stands: Callable[[], None] = _nothing, disk: Disk = DISK
    ) -> None:
        self.folder = folder
        self._stands, self._disk = stands, disk

    def path(self, sha: str) -> Path:
        """Return where the file with this SHA-256 lies, or would.

        What is none, as a damaged row has it, leads nowhere, and never out of the folder.
        """
        if not is_sha(sha):
            return self.folder / "none"
        return self.folder / sha[:2] / sha

    def keep(self, data: bytes) -> str:
        """Write the bytes once and return their SHA-256; file and name are on the disk then.

        Raises
        ------
        NotSavedError
            If the disk refuses, or the journal's folder is gone; nothing is left half-way.
        """
        sha = hashlib.sha256(data).hexdigest()
        path = self.path(sha)
        self._stands()
        try:
            if self._has(path, data):
                # Another run may have been ended between the name and its syncing.
                self._disk.sync_folder(path.parent)
                return sha
            self._disk.make_folder(self.folder)
            self._disk.make_folder(path.parent)
            self._disk.write(path, data)
        except OSError as error:
            why, hint = disk_words(error)
            raise NotSavedError(f"The file could not be kept. {why}", hint) from error
        return sha

    @staticmethod
    def _has(path: Path, data: bytes) -> bool:
        """Whether the file is there and whole: one that was damaged is written anew."""
        try:
            return path.stat().st_size == len(data) and path.read_bytes() == data
        except OSError:
            return False

    def read(self, sha: str) -> bytes:
        """Return the bytes.

        Raises
        ------
        JournalError
            If the file is missing or may not be read.
        """
        try:
            return self.path(sha).read_bytes()
        except (FileNotFoundError, NotADirectoryError) as error:
            message = f"A kept file is missing from {self.folder}."
            raise JournalError(message, "A backup of the journal may have it.") from error
        except OSError as error:
            message = f"A kept file in {self.folder} cannot be read: {error.strerror}."
            raise JournalError(message, "See who may read it.") from error

    def unlike(self, shas: Iterator[str]) -> Iterator[tuple[str, str]]:
        """Yield ``(sha, "missing"|"changed")`` for each file that is not what it was."""
        for sha in shas:
            how = self.how(sha)
            if how:
                yield sha, how

    def how(self, sha: str) -> str:
        """Return "missing", "changed", or nothing where the file is what it was."""
        return how_is(self.path(sha), sha)


def how_is(path: Path, sha: str) -> str:
    """Return "missing", "changed", or nothing where a file has the bytes that its name says."""
    try:
        with path.open("rb") as file:
            found = hashlib.file_digest(file, "sha256").hexdigest()
    except (FileNotFoundError, NotADirectoryError):
        return "missing"
    except OSError:
        return "changed"
    return "" if found == sha else "changed"
