"""What a database or a disk refused, in a cook's words: each kind of fault is said once, here."""

import errno
import sqlite3
from enum import StrEnum
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from pitjournal.errors import JournalError

NOTHING_CHANGED = "Nothing was changed."
HELD = "What you entered is kept here and tried again."
DECODING = "could not decode"
"""What the driver says of a text that is no UTF-8."""


class NotSavedError(JournalError):
    """The disk, the folder or a lock refused: nothing was lost but nothing was kept either.

    `fault` is what sort of refusal it was where the database itself refused: the window keeps
    what was entered then, and tries again.
    """

    def __init__(self, message: str, hint: str = "", fault: "FaultKind | None" = None) -> None:
        super().__init__(message, hint)
        self.fault = fault


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

_WHY_NOT_SAVED = {
    FaultKind.FULL: "The disk is full.",
    FaultKind.FAILED: "The disk cannot be written.",
    FaultKind.LOCKED: "Another program holds the journal.",
    FaultKind.READ_ONLY: "The journal's file can only be read.",
    FaultKind.FORBIDDEN: "The journal's folder cannot be written by you.",
    FaultKind.DAMAGED: "The journal's database is damaged.",
}

_WHAT_TO_DO = {
    FaultKind.FULL: "Make room on the disk and try again.",
    FaultKind.FAILED: "Look at the disk, then try again.",
    FaultKind.LOCKED: "Close it there and try again.",
    FaultKind.READ_ONLY: "See who may write it, then try again.",
    FaultKind.FORBIDDEN: "See who may write in that folder, then try again.",
    FaultKind.DAMAGED: "Restore a backup, or save what can be read (salvage).",
}


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


def is_text_fault(error: BaseException) -> bool:
    """Whether a text in a row is no UTF-8."""
    cause = error.orig if isinstance(error, DBAPIError) else error
    return isinstance(cause, sqlite3.Error) and DECODING in str(cause).lower()


def not_saved(error: BaseException) -> NotSavedError | None:
    """Return in a cook's words why something was not saved; None for a fault of the program."""
    kind = kind_of(error)
    if kind is None:
        return None
    if kind is FaultKind.DAMAGED:
        return damaged_under_way()
    return NotSavedError(f"Not saved yet. {_WHY_NOT_SAVED[kind]}", HELD, kind)


def without_window(error: JournalError) -> JournalError:
    """Return what is said where no window keeps what was not saved, nor tries again."""
    if not isinstance(error, NotSavedError) or error.fault is None:
        return error
    return NotSavedError(f"Not saved. {_WHY_NOT_SAVED[error.fault]}", _WHAT_TO_DO[error.fault])


def damaged_under_way() -> NotSavedError:
    """Return what is said where the database was damaged while it is open."""
    message = (
        f"Not saved yet. {_WHY_NOT_SAVED[FaultKind.DAMAGED]} "
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
    said = {
        FaultKind.FULL: "The disk is full, so the journal cannot be opened",
        FaultKind.LOCKED: "Another program holds the journal",
    }.get(kind, "The journal's database cannot be opened by you")
    message = f"{said}: {path}."
    hint = "Make room there." if kind is FaultKind.FULL else "See who may read and write it."
    return CannotOpenError(trouble, path.parent, message, f"{NOTHING_CHANGED} {hint}")


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


_DISK = {
    errno.ENOSPC: ("The disk is full.", "Make room on the disk and try again."),
    errno.EDQUOT: ("Your share of the disk is used up.", "Make room on the disk and try again."),
    errno.EFBIG: ("The disk takes no file so large.", "Choose another disk, or make room."),
    errno.EACCES: ("You may not write there.", "See who may write in that folder."),
    errno.EPERM: ("You may not write there.", "See who may write in that folder."),
    errno.EROFS: ("That disk can only be read.", "Choose another, or make it writable."),
    errno.ENOENT: ("That folder is not there.", "Bring it back, or choose another."),
    errno.ENOTDIR: ("A file is in the way of that folder.", "Choose another folder."),
    errno.EEXIST: ("A file is in the way of that folder.", "Move it away, or choose another."),
    errno.ENAMETOOLONG: ("That name is too long for the disk.", "Choose a shorter one."),
    errno.EIO: ("The disk failed.", "Look at the disk, and keep a backup elsewhere."),
}


_IN_USE = {32, 33}
"""Windows: ERROR_SHARING_VIOLATION and ERROR_LOCK_VIOLATION, under the number of a permission."""


def disk_words(error: OSError) -> tuple[str, str]:
    """Return why a disk refused and what to do about it, in a cook's words."""
    if getattr(error, "winerror", None) in _IN_USE:
        return "Another program has that file open.", "Close it there and try again."
    known = _DISK.get(error.errno or 0)
    return known or (
        f"{error.strerror or 'The disk refused'}.",
        "Look at the disk, then try again.",
    )
