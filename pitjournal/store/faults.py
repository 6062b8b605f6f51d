"""What a database or a disk refused, in a cook's words: each kind of fault is said once, here."""

import contextlib
import errno
import os
import sqlite3
import sys
import tempfile
from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from pitjournal.errors import JournalError
from pitjournal.store.disk import part_of

NOTHING_CHANGED = "Nothing was changed."
HELD = "What you entered is kept here and tried again."
DECODING = "could not decode"
"""What the driver says of a text that is no UTF-8."""


class NotSavedError(JournalError):
    """The disk, the folder or a lock refused: nothing was lost but nothing was kept either.

    `fault` is what sort of refusal it was where the database itself refused: the window keeps
    what was entered then, and tries again. `why` says it, and what to do, for those who do not.
    """

    def __init__(
        self,
        message: str,
        hint: str = "",
        fault: "FaultKind | None" = None,
        why: tuple[str, str] = ("", ""),
    ) -> None:
        super().__init__(message, hint)
        self.fault, self.why = fault, why


class DamagedError(JournalError):
    """A part of the database cannot be read."""


class Trouble(StrEnum):
    """Why a journal does not open."""

    GONE = "gone"
    EMPTY = "empty"
    FOREIGN = "foreign"
    DAMAGED = "damaged"
    NEWER = "newer"
    OLDER = "older, and cannot be brought up to date here"
    FORBIDDEN = "forbidden"
    UNMADE = "cannot be made"


class CannotOpenError(JournalError):
    """A journal that does not open, and why.

    Parameters
    ----------
    trouble
        What is the matter.
    folder
        The journal's.
    """

    def __init__(self, trouble: Trouble, folder: Path, message: str, hint: str) -> None:
        super().__init__(message, hint)
        self.trouble, self.folder = trouble, folder


class FaultKind(StrEnum):
    """What sort of refusal an error of the database is."""

    FULL = "full"
    FAILED = "failed"
    LOCKED = "locked"
    READ_ONLY = "read only"
    FORBIDDEN = "forbidden"
    DAMAGED = "damaged"


_KINDS = {
    sqlite3.SQLITE_FULL: FaultKind.FULL,
    sqlite3.SQLITE_IOERR: FaultKind.FAILED,
    sqlite3.SQLITE_BUSY: FaultKind.LOCKED,
    sqlite3.SQLITE_LOCKED: FaultKind.LOCKED,
    sqlite3.SQLITE_PROTOCOL: FaultKind.LOCKED,
    sqlite3.SQLITE_READONLY: FaultKind.READ_ONLY,
    sqlite3.SQLITE_PERM: FaultKind.FORBIDDEN,
    sqlite3.SQLITE_AUTH: FaultKind.FORBIDDEN,
    sqlite3.SQLITE_CANTOPEN: FaultKind.FORBIDDEN,
    sqlite3.SQLITE_CORRUPT: FaultKind.DAMAGED,
    sqlite3.SQLITE_NOTADB: FaultKind.DAMAGED,
    sqlite3.SQLITE_FORMAT: FaultKind.DAMAGED,
    sqlite3.SQLITE_TOOBIG: FaultKind.DAMAGED,
}
"""By SQLite's primary result code (sqlite.org, "Result and Error Codes")."""

_DAMAGE = ("no such table", "no such column", "malformed", "no such module", DECODING)
"""What SQLite or its driver says, under the code of a plain error, of a schema or a text that
is not as it was written."""

_WHY = {
    FaultKind.FULL: ("The disk is full.", "Make room on the disk and try again."),
    FaultKind.FAILED: ("The disk cannot be written.", "Look at the disk, then try again."),
    FaultKind.LOCKED: ("Another program holds the journal.", "Close it there and try again."),
    FaultKind.READ_ONLY: (
        "The journal's file can only be read.",
        "See who may write it, then try again.",
    ),
    FaultKind.FORBIDDEN: (
        "The journal's folder cannot be written by you.",
        "See who may write in that folder, then try again.",
    ),
    FaultKind.DAMAGED: (
        "The journal's database is damaged.",
        "Restore a backup, or save what can be read (salvage).",
    ),
}
"""Why something was not saved, and what to do about it."""


def kind_of(error: BaseException) -> FaultKind | None:
    """Return what sort of refusal this is; None for a fault of the program."""
    cause = error.orig if isinstance(error, DBAPIError) else error
    if isinstance(cause, UnicodeDecodeError):  # the message itself holds what was damaged
        return FaultKind.DAMAGED
    if not isinstance(cause, sqlite3.Error):
        return None
    code = getattr(cause, "sqlite_errorcode", None)
    known = None if code is None else _KINDS.get(code & 0xFF)
    if known is not None:
        return known
    text = str(cause).lower()
    return FaultKind.DAMAGED if any(words in text for words in _DAMAGE) else None


def refused_by(error: BaseException) -> FaultKind | None:
    """Return what around a database refused: the disk, a lock or a permission.

    None where the database may be damaged, or the program is at fault.
    """
    kind = kind_of(error)
    return None if kind is FaultKind.DAMAGED else kind


REFUSED = (DBAPIError, sqlite3.Error, UnicodeDecodeError)
"""What a database refuses with: as SQLAlchemy raises it, and as its driver itself does."""


def refusal(error: BaseException) -> NotSavedError | None:
    """Return in a cook's words what a disk refused to work nobody asked for; None for a fault."""
    if isinstance(error, OSError):
        known = error.errno in _DISK and error.errno not in _READ
        why = disk_words(error) if known else None
    else:
        kind = refused_by(error)
        why = None if kind is None else _WHY[kind]
    if why is None:
        return None
    return NotSavedError(f"{why[0]} What goes on by itself is tried again.", why[1])


def is_text_fault(error: BaseException) -> bool:
    """Whether a text in a row is no UTF-8."""
    cause = error.orig if isinstance(error, DBAPIError) else error
    return isinstance(cause, sqlite3.Error) and DECODING in str(cause).lower()


_DISKS = {FaultKind.FAILED, FaultKind.FORBIDDEN, FaultKind.READ_ONLY}
"""Kinds that SQLite gives for any number of a system it does not know: a limit, too many files."""


def asked_of(folder: Path) -> tuple[str, str] | None:
    """Return why the disk lets nothing be written in a folder, and what to do; None if it does.

    SQLite keeps the number that the system gave to itself, so the disk is asked again.
    """
    part = part_of(folder / "asked")
    try:
        with part.open("xb") as file:
            file.write(b"\0" * _ENOUGH)
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        return disk_words(error)
    finally:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
    if sys.platform != "win32":
        import resource  # noqa: PLC0415 - not there on every system

        if resource.getrlimit(resource.RLIMIT_FSIZE)[0] != resource.RLIM_INFINITY:
            return _DISK[errno.EFBIG]
    return None


@contextlib.contextmanager
def passing(message: str, parent: Path) -> Iterator[None]:
    """Say what a passing folder was refused with, without its name: nobody knows that one.

    Parameters
    ----------
    message
        Says what could not be made, and names the place.
    parent
        Where the place and the folder beside it lie.

    Raises
    ------
    NotSavedError
        If the disk, the folder or a lock refused.
    """
    try:
        yield
    except OSError as error:
        words, hint = disk_words(error)
        raise NotSavedError(f"{message} {words}", hint) from error
    except (CannotOpenError, NotSavedError) as error:
        words, hint = _of_passing(error, parent)
        raise NotSavedError(f"{message} {words}", hint) from error


def _of_passing(error: CannotOpenError | NotSavedError, parent: Path) -> tuple[str, str]:
    asked = asked_of(parent)
    if asked is not None:
        return asked
    if isinstance(error, NotSavedError):
        return error.why if error.why[0] else (str(error.args[0]), error.hint)
    kind = None if error.__cause__ is None else kind_of(error.__cause__)
    return _WHY[kind] if kind else ("The disk refused.", "Look at the disk, or choose another.")


_ENOUGH = 65_536
"""Bytes that are written to ask: as much as an index of a log takes, and some pages."""


def not_saved(error: BaseException, path: Path | None = None) -> NotSavedError | None:
    """Return in a cook's words why something was not saved; None for a fault of the program.

    Parameters
    ----------
    path
        The database's, whose disk is asked where SQLite does not say.
    """
    kind = kind_of(error)
    if kind is None:
        return None
    if kind is FaultKind.DAMAGED:
        return damaged_under_way()
    asked = None
    if path is not None and kind in _DISKS and os.access(path, os.W_OK):
        asked = asked_of(path.parent)
    why = asked or _WHY[kind]
    return NotSavedError(f"Not saved yet. {why[0]}", HELD, kind, why)


def without_window(error: JournalError) -> JournalError:
    """Return what is said where no window keeps what was not saved, nor tries again."""
    if not isinstance(error, NotSavedError) or error.fault is None:
        return error
    why, hint = error.why if error.why[0] else _WHY[error.fault]
    return NotSavedError(f"Not saved. {why}", hint)


def damaged_under_way() -> NotSavedError:
    """Return what is said where the database was damaged while it is open."""
    message = (
        f"Not saved yet. {_WHY[FaultKind.DAMAGED][0]} "
        "Close the window to save what can be read elsewhere, or restore a backup."
    )
    return NotSavedError(message, "What you entered is kept here until then.", FaultKind.DAMAGED)


def not_read(error: BaseException, path: Path) -> JournalError | None:
    """Return in a cook's words why something was not read; None for a fault of the program."""
    kind = kind_of(error)
    if kind is None:
        return None
    if kind is FaultKind.DAMAGED:
        message = f"A part of the journal's database is damaged: {path}."
        return DamagedError(message, "Restore a backup, or save what can be read.")
    if kind is FaultKind.LOCKED:
        return JournalError("Another program holds the journal.", "Try again in a moment.")
    if kind is FaultKind.FULL:
        return NotSavedError(*_WHY[kind])
    if not path.exists():
        return JournalError(f"The journal is no longer in {path.parent}.", "Bring it back.")
    return JournalError(f"The journal in {path.parent} cannot be read now.", "Look at its disk.")


def cannot_open(error: BaseException, path: Path) -> CannotOpenError | None:
    """Return why a journal does not open; None for a fault of the program."""
    kind = kind_of(error)
    if kind is None:
        return None
    if kind is FaultKind.DAMAGED:
        return damaged(path)
    trouble = Trouble.FORBIDDEN if path.exists() else Trouble.GONE
    said, hint = {
        FaultKind.FULL: ("The disk is full, so the journal cannot be opened", "Make room there."),
        FaultKind.LOCKED: ("Another program holds the journal", "Close it there and try again."),
    }.get(kind, ("The journal's database cannot be opened by you", _SEE_WHO))
    message = f"{said}: {path}."
    asked = asked_of(path.parent) if kind in _DISKS and os.access(path, os.R_OK) else None
    if asked is not None:
        message, hint = f"The journal's database cannot be opened: {path}. {asked[0]}", asked[1]
    return CannotOpenError(trouble, path.parent, message, f"{NOTHING_CHANGED} {hint}")


_SEE_WHO = "See who may read and write it."


def damaged(path: Path) -> CannotOpenError:
    """Return what is said of a database that is damaged, or is none."""
    if _is_database(path):
        message = f"The journal's database is damaged: {path}."
        hint = f"{NOTHING_CHANGED} Save what can be read of it (salvage), or restore a backup."
        return CannotOpenError(Trouble.DAMAGED, path.parent, message, hint)
    message = f"{path} is not a journal, or its beginning is destroyed."
    hint = (
        f"{NOTHING_CHANGED} Save what can be read of it (salvage), restore a backup, "
        "or choose another folder."
    )
    return CannotOpenError(Trouble.FOREIGN, path.parent, message, hint)


def _is_database(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return file.read(16) == b"SQLite format 3\0"
    except OSError:
        return False


@contextlib.contextmanager
def scratch() -> Iterator[Path]:
    """Give a passing folder to work in.

    Raises
    ------
    NotSavedError
        If there is no place for one.
    """
    try:
        made = tempfile.TemporaryDirectory(ignore_cleanup_errors=True)
    except OSError as error:
        where = os.environ.get("TMPDIR", "/tmp")  # noqa: S108 - only to be named
        why, hint = asked_of(Path(where)) or disk_words(error)
        message = f"Nothing can be written in {where}, the folder for passing files. {why}"
        raise NotSavedError(message, hint) from error
    with made as name:
        yield Path(name)


_DISK = {
    errno.ENOSPC: ("The disk is full.", "Make room on the disk and try again."),
    errno.EDQUOT: ("Your share of the disk is used up.", "Make room on the disk and try again."),
    errno.EFBIG: (
        "No file so large may be written: the disk or a limit of your account forbids it.",
        "Choose another disk, or raise the limit (ulimit -f).",
    ),
    errno.EACCES: ("You may not write there.", "See who may write in that folder."),
    errno.EPERM: ("You may not write there.", "See who may write in that folder."),
    errno.EROFS: ("That disk can only be read.", "Choose another, or make it writable."),
    errno.ENOENT: ("That folder is not there.", "Bring it back, or choose another."),
    errno.ENOTDIR: ("A file is in the way of that folder.", "Choose another folder."),
    errno.EEXIST: ("A file is in the way of that folder.", "Move it away, or choose another."),
    errno.ENAMETOOLONG: ("That name is too long for the disk.", "Choose a shorter one."),
    errno.EIO: ("The disk failed.", "Look at the disk, and keep a backup elsewhere."),
    errno.ELOOP: ("That is a link that leads to itself.", "Choose another place."),
    errno.EISDIR: ("A folder of that name is in the way.", "Choose another name."),
    errno.ENOTEMPTY: ("That folder is not empty.", "Choose an empty one."),
    errno.EMFILE: ("Too many files are open.", "Close other programs and try again."),
    errno.ENFILE: ("Too many files are open.", "Close other programs and try again."),
    errno.EBUSY: ("Another program holds it.", "Close it there and try again."),
    errno.ETXTBSY: ("Another program holds it.", "Close it there and try again."),
    errno.ESTALE: ("It is on a network drive that has gone.", "Connect it again."),
    errno.ETIMEDOUT: ("It is on a drive that does not answer.", "Connect it again."),
    errno.ENODEV: ("Its drive has gone.", "Connect it again."),
    errno.ENXIO: ("Its drive has gone.", "Connect it again."),
}

_READ = {
    errno.EACCES: ("You may not read it.", "See who may read it."),
    errno.EPERM: ("You may not read it.", "See who may read it."),
    errno.ENOENT: ("It is not there.", "Bring it back, or choose another."),
    errno.ENOTDIR: ("It is not there: a part of its path is no folder.", "Choose another."),
}
"""What is otherwise where something was to be read."""


_IN_USE = {32, 33}
"""Windows: ERROR_SHARING_VIOLATION and ERROR_LOCK_VIOLATION, under the number of a permission."""


def disk_words(error: OSError, *, reading: bool = False) -> tuple[str, str]:
    """Return why a disk refused and what to do about it, in a cook's words.

    Parameters
    ----------
    reading
        Whether nothing was to be written.
    """
    if reading and error.errno in _READ:
        return _READ[error.errno]
    if getattr(error, "winerror", None) in _IN_USE:
        return "Another program has that file open.", "Close it there and try again."
    known = _DISK.get(error.errno or 0)
    return known or (
        f"{error.strerror or 'The disk refused'}.",
        "Look at the disk, then try again.",
    )
