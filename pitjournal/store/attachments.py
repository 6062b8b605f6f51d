"""Files kept by the SHA-256 of their bytes, in the journal's `attachments` folder."""

import hashlib
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

from pitjournal.errors import JournalError


class Attachments:
    """A content-addressed folder. What is in it is never changed, only added.

    Parameters
    ----------
    folder
        The `attachments` folder; made when the first file is kept.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def path(self, sha: str) -> Path:
        """Return where the file with this SHA-256 lies, or would."""
        return self._folder / sha[:2] / sha

    def keep(self, data: bytes) -> str:
        """Write the bytes once, synced to disk, and return their SHA-256.

        Raises
        ------
        JournalError
            If the disk refuses; nothing is left half-way.
        """
        sha = hashlib.sha256(data).hexdigest()
        path = self.path(sha)
        if path.exists():
            return sha
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            self._write(path, data)
        except OSError as error:
            message = f"The file could not be kept: {error.strerror}."
            raise JournalError(message, "Make room on the disk and try again.") from error
        return sha

    @staticmethod
    def _write(path: Path, data: bytes) -> None:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".part-")
        part = Path(name)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            part.replace(path)
        except OSError:
            part.unlink(missing_ok=True)
            raise

    def read(self, sha: str) -> bytes:
        """Return the bytes.

        Raises
        ------
        JournalError
            If the file is missing.
        """
        try:
            return self.path(sha).read_bytes()
        except OSError as error:
            message = f"A kept file is missing from {self._folder}."
            raise JournalError(message, "Copy it back from a backup of the journal.") from error

    def unlike(self, shas: Iterator[str]) -> Iterator[tuple[str, str]]:
        """Yield ``(sha, "missing"|"changed")`` for each file that is not what it was."""
        for sha in shas:
            path = self.path(sha)
            if not path.exists():
                yield sha, "missing"
            elif hashlib.sha256(path.read_bytes()).hexdigest() != sha:
                yield sha, "changed"
