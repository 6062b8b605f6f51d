"""Places on the disk as a cook names them, and what is said where one cannot be used."""

import errno
import os
from pathlib import Path

from pitjournal.errors import JournalError

_LONGEST_PART, _LONGEST = 255, 4000
"""Bytes of one name, and of a whole path, that common systems take (POSIX NAME_MAX, PATH_MAX)."""


def typed_path(text: str) -> Path:
    """Return the path that was typed, with ~ as the cook's own folder.

    Raises
    ------
    JournalError
        If there can be no such path: nothing has looked at the disk then.
    """
    try:
        path = Path(text.strip()).expanduser()
        whole = os.fsencode(path)
    except (RuntimeError, ValueError):  # of nobody here; letters no name can have
        raise _no_path(text) from None
    parts = whole.replace(b"\\", b"/").split(b"/")
    if not text.strip() or b"\0" in whole or len(whole) > _LONGEST:
        raise _no_path(text)
    if max(map(len, parts)) > _LONGEST_PART:
        raise _no_path(text)
    return path


def _no_path(text: str) -> JournalError:
    said = readable(text.strip()[:40]).replace("\0", "")
    named = f"“{said}” is" if said else "That is"
    return JournalError(f"{named} no place on this computer.", "Type a shorter, plain one.")


def is_there(name: str) -> bool:
    """Whether something is at a place, and may be seen."""
    try:
        return typed_path(name).exists()
    except (JournalError, OSError):
        return False


def readable(text: str) -> str:
    """Return text that can be kept: half of a letter, as a damaged name has it, becomes a mark."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return text.encode("utf-8", errors="replace").decode()
    return text


def name_of(path: Path) -> str:
    """Return a file's name as it can be shown and kept."""
    return readable(path.name or str(path))


_READ = {
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

_WRITTEN = {
    errno.ENOSPC: ("there is no room left on that disk", "Make room, or choose another disk."),
    errno.EDQUOT: ("your share of that disk is used up", "Make room, or choose another disk."),
    errno.EFBIG: ("that disk takes no file so large", "Choose another disk."),
    errno.EACCES: ("you may not write there", "Choose a folder of yours."),
    errno.EPERM: ("you may not write there", "Choose a folder of yours."),
    errno.EROFS: ("that disk can only be read", "Choose another disk."),
    errno.ENOENT: ("that folder is not there", "Choose another, or make it first."),
    errno.ENOTDIR: ("a part of that path is no folder", "Choose another place."),
    errno.EISDIR: ("a folder of that name is there", "Choose another name."),
    errno.EEXIST: ("something of that name is there", "Choose another name."),
    errno.ENAMETOOLONG: ("its name is too long", "Choose a shorter one."),
    errno.ELOOP: ("that is a link that leads to itself", "Choose another place."),
    errno.EIO: ("the disk reports an error", "Choose another disk, and look at that one."),
    errno.EBUSY: ("another program holds it", "Close it there, or choose another name."),
    errno.ETXTBSY: ("another program holds it", "Close it there, or choose another name."),
}


def cannot_be_read(name: str, error: OSError) -> JournalError:
    """Return the line that says why a file cannot be read, and what to do."""
    other = f"cannot be read ({error.strerror or type(error).__name__})"
    why, hint = _READ.get(error.errno or 0, (other, "Copy it to this computer and try that."))
    return JournalError(f"{readable(name)} {why}.", hint)


def cannot_be_written(target: Path, error: OSError) -> JournalError:
    """Return the line that says why a file cannot be written, and what to do."""
    other = error.strerror or type(error).__name__
    why, hint = _WRITTEN.get(error.errno or 0, (other, "Choose another place."))
    return JournalError(f"{readable(str(target))} cannot be written: {why}.", hint)
