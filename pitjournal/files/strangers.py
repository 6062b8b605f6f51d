"""Files of strangers: taken in only if they are files, and read by a process of their own.

Short plain text is read here at once: whatever stands in so few bytes, measured with every shape
of damage the tests know, is read in a moment and in little memory. All else is read apart.
"""

import errno
import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from pitjournal.errors import JournalError
from pitjournal.files.apart import MEMORY, Limits, read_apart

if TYPE_CHECKING:
    from pitjournal.files.photos import PhotoRead
    from pitjournal.files.probe_log import ProbeLog, ReadOptions

SHORT = 200_000
"""Bytes of plain text that are read at once."""

LONGEST_LINE = 600
"""Bytes: no row of forty channels is longer, and guessing at thousands of columns takes long."""

LARGEST_LOG = 200_000_000
"""Bytes: two weeks of sixteen channels at a second are less."""

LARGEST_PHOTO = 200_000_000
"""Bytes of one picture."""

LOG_READERS = ("pitjournal.files.probe_log.reader", "polars", "fastexcel")
PHOTO_READERS = ("pitjournal.files.photos",)
"""What a process that waits for such files has loaded (`apart.prepare`)."""

_PART = 1 << 24


def file_bytes(
    path: Path, largest: int = LARGEST_LOG, stop: Callable[[], object] | None = None
) -> bytes:
    """Return a file's bytes, if it is a file and no larger than it may be.

    It is read as it was when it was opened: what is written meanwhile is left for the next
    time, and what is cut off meanwhile is missing.

    Parameters
    ----------
    path
        Where it is.
    largest
        The most bytes it may have.
    stop
        Called between parts; it raises where the file is no longer wanted.

    Raises
    ------
    JournalError
        If it is no file, is too large, or cannot be read; what and why.
    """
    try:
        return _bytes_of(path, largest, stop)
    except OSError as error:
        raise cannot_be_read(path.name or str(path), error) from error


def _bytes_of(path: Path, largest: int, stop: Callable[[], object] | None) -> bytes:
    # A pipe of another program would be waited on for ever: it is opened without waiting.
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    number = os.open(path, flags)
    try:
        status = os.fstat(number)
        if not stat.S_ISREG(status.st_mode):
            raise _no_file(path.name)
        if status.st_size > largest:
            raise _too_large(path.name, status.st_size, largest)
        parts, left = [], status.st_size
        while left:
            part = os.read(number, min(_PART, left))
            if not part:
                break
            parts.append(part)
            left -= len(part)
            if stop is not None:
                stop()
        return parts[0] if len(parts) == 1 else b"".join(parts)
    finally:
        os.close(number)


def _too_large(name: str, size: int, largest: int) -> JournalError:
    return JournalError(
        f"{name} has {size / 1e6:,.0f} MB, and {largest / 1e6:,.0f} MB is the most that is read.",
        "Save the part of it that you need, and choose that.",
    )


def _no_file(name: str) -> JournalError:
    return JournalError(
        f"{name} is no file: a folder, a device or a pipe stands there.", "Choose a file."
    )


_WHY = {
    errno.ENOENT: ("is not there any more", "Look whether it was moved, or its card taken out."),
    errno.EACCES: ("may not be read by you", "Ask who owns it, or copy it to a folder of yours."),
    errno.EPERM: ("may not be read by you", "Ask who owns it, or copy it to a folder of yours."),
    errno.EISDIR: ("is a folder", "Choose a file in it."),
    errno.ENOTDIR: ("is not there", "A part of its path is no folder."),
    errno.ELOOP: ("is a link that leads to itself", "Choose the file it should lead to."),
    errno.EIO: (
        "cannot be read: its disk or card reports an error",
        "Copy it again, from another reader if there is one.",
    ),
    errno.ENXIO: ("is no file", "Choose a file."),
    errno.ENODEV: ("is no file", "Choose a file."),
    errno.ENAMETOOLONG: ("has a name that is too long", "Give it a shorter one."),
    errno.ESTALE: ("is on a network drive that has gone", "Connect it again."),
    errno.ETIMEDOUT: ("is on a drive that does not answer", "Connect it again."),
    errno.EMFILE: ("cannot be opened: too many files are open", "Close other programs."),
    errno.ENFILE: ("cannot be opened: too many files are open", "Close other programs."),
}


def cannot_be_read(name: str, error: OSError) -> JournalError:
    """Return the line that says why a file cannot be read, and what to do."""
    why, hint = _WHY.get(
        error.errno or 0,
        (f"cannot be read ({error.strerror or error})", "Copy it to this computer and try that."),
    )
    return JournalError(f"{name} {why}.", hint)


def is_short_text(data: bytes) -> bool:
    """Whether bytes are so few, and so plain, that reading them can do no harm here."""
    return (
        len(data) <= SHORT
        and data.lstrip()[:1] not in {b"{", b"["}
        and not data.startswith(b"PK")
        and max(map(len, data.split(b"\n"))) <= LONGEST_LINE
    )


def probe_log(
    data: bytes,
    name: str,
    options: "ReadOptions | None" = None,
    stop: Callable[[], object] | None = None,
) -> "ProbeLog":
    """Read a logger's file, apart where it could be more than it seems.

    Parameters
    ----------
    data, name, options
        As `read_probe_log` takes them.
    stop
        Called again and again while it is read apart; it raises where nobody waits any more.

    Raises
    ------
    JournalError
        If it is no temperature log, or asks for too much; one line that says why.
    """
    from pitjournal.files.probe_log import read_probe_log  # noqa: PLC0415 - numpy, when needed

    if is_short_text(data):
        return read_probe_log(data, name, options)
    return read_apart(
        name, Limits(MEMORY, _patience(data)), stop, read_probe_log, data, name, options
    )


def photo(data: bytes, name: str, stop: Callable[[], object] | None = None) -> "PhotoRead":
    """Read a photo apart.

    Raises
    ------
    JournalError
        If it is no picture, is damaged, or asks for too much.
    """
    from pitjournal.files.photos import read_photo  # noqa: PLC0415 - Pillow, when needed

    return read_apart(name, Limits(), stop, read_photo, data, name)


def _patience(data: bytes) -> float:
    """Return how long reading may take, s: more for a long file on a slow computer."""
    return 60.0 + len(data) / 1e6
