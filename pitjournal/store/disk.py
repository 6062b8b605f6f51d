"""The few things done to files that must survive a loss of power, and nothing else.

POSIX (`fsync`, rationale): what was written lasts only once the file is synced, and a name only
once its folder is. So a kept file is written under a passing name, synced, given its own name,
and its folder synced, before anything else may speak of it.
"""

import contextlib
import os
import secrets
import shutil
import sys
import time
from collections.abc import Iterable
from pathlib import Path

PART = ".part"
"""What a name ends in while its file is not whole; such a file may be swept away."""

TRIES, TRY_AFTER = 10, 0.05
"""So often, and after so many seconds, a name is taken again from a program that looks into it."""


class Disk:
    """Writing that lasts. A test puts one in its place that forgets what was not synced."""

    def make_folder(self, path: Path) -> None:
        """Make a folder in one that is there, to last; no more where it is there already.

        Raises
        ------
        OSError
            If it cannot be made, also where the one it belongs in is gone.
        """
        if not path.is_dir():
            path.mkdir(exist_ok=True)
            self.sync_folder(path.parent)

    def write(self, path: Path, data: bytes) -> None:
        """Write a whole file under its name, or nothing; when this returns it lasts."""
        part = part_of(path)
        try:
            self.write_part(part, (data,))
            self.settle(part, path)
        except OSError:
            with contextlib.suppress(OSError):
                part.unlink(missing_ok=True)
            raise

    def write_part(self, part: Path, pieces: Iterable[bytes]) -> None:
        """Write a file under a passing name, and sync it."""
        with part.open("xb") as file:
            for piece in pieces:
                file.write(piece)
            file.flush()
            _sync(file.fileno())

    def settle(self, part: Path, path: Path) -> None:
        """Give a synced file its own name, and sync the name."""
        _replace(part, path)
        self.sync_folder(path.parent)

    def sync_file(self, path: Path) -> None:
        """Sync a file that something else wrote."""
        with path.open("rb+") as file:
            _sync(file.fileno())

    def sync_folder(self, path: Path) -> None:
        """Sync the names in a folder, where the system knows that."""
        if sys.platform == "win32":  # names are kept in a log of the file system there
            return
        handle = os.open(path, os.O_RDONLY)
        try:
            _sync(handle)
        finally:
            os.close(handle)

    def copy(self, source: Path, path: Path) -> None:
        """Copy a file to last; whole under its name or not at all."""
        part = part_of(path)
        try:
            shutil.copyfile(source, part)
            self.sync_file(part)
            self.settle(part, path)
        except OSError:
            with contextlib.suppress(OSError):
                part.unlink(missing_ok=True)
            raise


def _sync(file: int) -> None:
    """Sync an open file, and the drive it is on (macOS: fsync(2) stops short of that)."""
    if sys.platform == "darwin":
        import fcntl  # noqa: PLC0415 - not there on every system

        with contextlib.suppress(OSError):  # network drives do not know it
            fcntl.fcntl(file, fcntl.F_FULLFSYNC)
            return
    os.fsync(file)


def _replace(part: Path, path: Path) -> None:
    """Move a file over another; where something looks into that just now (Windows), try again."""
    for _ in range(TRIES if sys.platform == "win32" else 0):
        with contextlib.suppress(PermissionError):
            part.replace(path)
            return
        time.sleep(TRY_AFTER)
    part.replace(path)


def part_of(path: Path) -> Path:
    """Return a passing name beside a file's own."""
    return path.with_name(f".{path.name[:40]}-{secrets.token_hex(4)}{PART}")


DISK = Disk()
