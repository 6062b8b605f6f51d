"""Files of strangers: taken in only if they are files, and read by a process of their own.

Short plain text is read here at once: whatever stands in so few bytes, measured with every shape
of damage the tests know, is read in a moment and in little memory. All else is read apart.
"""

import os
import stat
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from pitjournal.errors import JournalError
from pitjournal.files.apart import MEMORY, ReadingLimits, read_apart
from pitjournal.files.places import cannot_be_read, name_of
from pitjournal.units.figures import figure

if TYPE_CHECKING:
    from pitjournal.files.bundle import BundleRead
    from pitjournal.files.old_cooks import ColumnAnswer, OldCooks
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

_PART = 1 << 25
"""Bytes read at a time: most files come in one piece, which nobody has to join."""


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
        raise cannot_be_read(name_of(path), error) from error


def _bytes_of(path: Path, largest: int, stop: Callable[[], object] | None) -> bytes:
    # A pipe of another program would be waited on for ever: it is opened without waiting.
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    number = os.open(path, flags)
    try:
        status = os.fstat(number)
        if not stat.S_ISREG(status.st_mode):
            raise _no_file(name_of(path))
        if status.st_size > largest:
            raise _too_large(name_of(path), status.st_size, largest)
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
        f"{name} has {figure(size / 1e6)} MB, and {figure(largest / 1e6)} MB is the most that is read.",
        "Save the part of it that you need, and choose that.",
    )


def _no_file(name: str) -> JournalError:
    return JournalError(
        f"{name} is no file: a folder, a device or a pipe stands there.", "Choose a file."
    )


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
        name, ReadingLimits(MEMORY, _patience(data)), stop, read_probe_log, data, name, options
    )


def old_cooks(
    data: bytes,
    name: str,
    answers: "Mapping[str, ColumnAnswer] | None" = None,
    stop: Callable[[], object] | None = None,
) -> "OldCooks":
    """Read a table of past cooks apart, whatever its size: workbooks unpack to anything.

    Raises
    ------
    JournalError
        If it is no table of cooks, or asks for too much.
    """
    from pitjournal.files.old_cooks import read_old_cooks  # noqa: PLC0415 - numpy, when needed

    limits = ReadingLimits(MEMORY, _patience(data))
    return read_apart(name, limits, stop, read_old_cooks, data, name, dict(answers or {}))


def bundle(path: Path, stop: Callable[[], object] | None = None) -> "BundleRead":
    """Read what a bundle of cooks holds, apart; the bytes of its files stay where they are.

    Raises
    ------
    JournalError
        If it is no bundle, is damaged, was made by a newer program, or asks for too much.
    """
    from pitjournal.files.bundle import read_bundle  # noqa: PLC0415 - when needed

    return read_apart(name_of(path), ReadingLimits(), stop, read_bundle, str(path.absolute()))


def photo(data: bytes, name: str, stop: Callable[[], object] | None = None) -> "PhotoRead":
    """Read a photo apart.

    Raises
    ------
    JournalError
        If it is no picture, is damaged, or asks for too much.
    """
    from pitjournal.files.photos import read_photo  # noqa: PLC0415 - Pillow, when needed

    return read_apart(name, ReadingLimits(), stop, read_photo, data, name)


def _patience(data: bytes) -> float:
    """Return how long reading may take, s: more for a long file on a slow computer."""
    return 60.0 + len(data) / 1e6
