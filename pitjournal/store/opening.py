"""What lies in a journal's folder, before it is opened: a journal, or why there is none."""

import contextlib
import os
import sqlite3
import stat
from dataclasses import dataclass
from pathlib import Path

from filelock import FileLock, Timeout
from sqlalchemy import Connection

from pitjournal.store import build, migrations, sqlite
from pitjournal.store.disk import DISK, part_of
from pitjournal.store.faults import (
    NOTHING_CHANGED,
    CannotOpenError,
    Trouble,
    cannot_open,
    disk_words,
)
from pitjournal.store.ground import beside, in_the_way, own_file
from pitjournal.store.schema import SCHEMA_VERSION

LOCK_NAME = ".in-use"
OTHER_WINDOW = (
    "This journal is open in another window or command, so here it can only be read.",
    "Close it there, or wait until the command is done, and open it again.",
)
MOVE_IT = "Move it away, then try again."
_ASKED = ("This journal was opened for reading only.", "Open it in the window to change it.")


@dataclass(frozen=True)
class Access:
    """How a journal may be used.

    Attributes
    ----------
    why_read_only
        Why it can only be read, and what to do about that; None where it can be changed.
    fixed
        Whether nothing can be written beside it either, not even what readers share.
    """

    why_read_only: tuple[str, str] | None = None
    fixed: bool = False


def size_there(folder: Path) -> int | None:
    """Return the size of the database in a folder; None where there is none.

    Raises
    ------
    CannotOpenError
        If it may not be read, or something else has its name.
    """
    path = folder / sqlite.FILE_NAME
    try:
        found = path.stat()
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        raise forbidden(folder, error) from error
    if not stat.S_ISREG(found.st_mode):  # reading a pipe would wait for ever
        what = "a folder" if stat.S_ISDIR(found.st_mode) else "no file"
        message = f"{path} is not a journal: it is {what}."
        hint = f"{NOTHING_CHANGED} Move it away and restore a backup, or choose another folder."
        raise CannotOpenError(Trouble.FOREIGN, folder, message, hint)
    if not sqlite.may(path, os.R_OK):
        raise forbidden(folder, PermissionError(13, "Permission denied"))
    way = in_the_way(path)
    if way is not None:
        message = f"The journal cannot be opened: a folder is in the way, {way}."
        raise CannotOpenError(Trouble.FORBIDDEN, folder, message, f"{NOTHING_CHANGED} {MOVE_IT}")
    return found.st_size


def build_of(folder: Path) -> build.Build | None:
    """Return how a journal's database is built; None where SQLite's own check does not hold.

    Raises
    ------
    CannotOpenError
        If it cannot be looked at.
    """
    path = folder / sqlite.FILE_NAME
    try:
        if not sqlite.integrity(path)[0]:
            return None
        with contextlib.closing(sqlite.reader(path)) as connection:
            if sqlite.has_version(connection):
                return build.look(connection)
    except sqlite3.Error as error:
        raise cannot_open(error, path) or error from error
    return build.Build()  # another program's: that is said as it is opened


def journal_is_in(folder: Path) -> bool:
    """Whether something by a journal's name is in a folder, also what does not open."""
    try:
        return size_there(folder) is not None
    except CannotOpenError:
        return True


def may_be_made_in(folder: Path) -> bool:
    """Whether a folder is not there yet, or is empty."""
    try:
        return not any(folder.iterdir())
    except FileNotFoundError:
        return True
    except OSError:
        return False


def forbidden(folder: Path, error: OSError) -> CannotOpenError:
    """Return what is said of a journal that may not be read."""
    if isinstance(error, PermissionError):
        message = f"You may not read the journal in {folder}."
        hint = f"{NOTHING_CHANGED} See who may read that folder and its files."
    else:
        why, hint = disk_words(error, reading=True)
        message = f"The journal in {folder} cannot be reached. {why}"
    return CannotOpenError(Trouble.FORBIDDEN, folder, message, hint)


def must_be_there(folder: Path, *, new: bool) -> bool:
    """Say whether a journal is to be made; refuse where it would have to be and may not.

    Raises
    ------
    CannotOpenError
        If there is no journal, or what is there is not one to begin anew.
    """
    size = size_there(folder)
    if size:
        return False
    if size == 0 and (not new or any((folder / n).exists() for n in ("attachments", "backups"))):
        message = f"The journal's database is empty: {folder / sqlite.FILE_NAME}."
        hint = f"{NOTHING_CHANGED} Restore a backup, or choose another folder."
        raise CannotOpenError(Trouble.EMPTY, folder, message, hint)
    if not new:
        message = f"There is no journal in {folder}."
        hint = (
            "Look for it in another folder, or restore a backup: "
            "pitjournal restore FOLDER --from FILE"
        )
        raise CannotOpenError(Trouble.GONE, folder, message, hint)
    if any(_holds_something(folder / name) for name in ("attachments", "backups")):
        message = f"The journal in {folder} is gone, but its backups or kept files are there."
        hint = f"{NOTHING_CHANGED} Restore a backup, or choose another folder."
        raise CannotOpenError(Trouble.GONE, folder, message, hint)
    return True


def _holds_something(folder: Path) -> bool:
    try:
        return any(folder.iterdir())
    except (FileNotFoundError, NotADirectoryError):
        return False
    except OSError:  # it is there and may not be read
        return True


def take(folder: Path, lock: FileLock, *, read_only: bool, make: bool) -> Access:
    """Take a journal for this program; say how it may be used.

    Raises
    ------
    CannotOpenError
        If it has to be made, and cannot be.
    """
    try:
        if make:
            folder.mkdir(parents=True, exist_ok=True)
        if read_only:
            return Access(_ASKED, fixed=_nothing_can_be_written(folder))
        lock.acquire(timeout=0)
    except Timeout:
        return Access(OTHER_WINDOW)
    except OSError as error:
        if not make:
            return Access(_only_read(folder, error), fixed=_nothing_can_be_written(folder))
        message = f"No journal can be made in {folder}. {disk_words(error)[0]}"
        hint = "Choose a folder that can be written."
        raise CannotOpenError(Trouble.UNMADE, folder, message, hint) from error
    why = "" if make else _why_only_read(folder / sqlite.FILE_NAME)
    if why:
        lock.release()
        return Access((why, "See who may write it."), fixed=_nothing_can_be_written(folder))
    return Access()


def _why_only_read(path: Path) -> str:
    """Say why nothing can be saved although the journal could be taken; nothing if it can be."""
    if not sqlite.may(path, os.W_OK):
        return f"You may only read the journal's file {path}, so nothing can be saved in it."
    beside_it = own_file(path).parent  # where the log lies
    if not sqlite.may(beside_it, os.W_OK):
        return f"Nothing can be written in the folder {beside_it}, so nothing can be saved there."
    return ""


def _only_read(folder: Path, error: OSError) -> tuple[str, str]:
    why, hint = disk_words(error)
    if (folder / LOCK_NAME).is_dir():
        way = f"a folder is in the way, {folder / LOCK_NAME}."
        return f"The journal in {folder} can only be read: {way}", MOVE_IT
    if isinstance(error, PermissionError) and sqlite.may(folder, os.W_OK):
        name = folder / LOCK_NAME
        return f"The journal in {folder} can only be read: you may not write {name}.", hint
    return f"The journal in {folder} can only be read. {why}", hint


def _nothing_can_be_written(folder: Path) -> bool:
    """Whether the folder can only be read, and no log waits that readers must have.

    Raises
    ------
    CannotOpenError
        If one waits, and what readers share of it is gone and cannot be made there.
    """
    path = folder / sqlite.FILE_NAME
    shut = not sqlite.may(own_file(path).parent, os.W_OK)
    if shut and sqlite.log_waits(path) and not beside(path, "-shm").exists():
        message = (
            f"Nothing can be written in {folder}, and what was saved last there waits to be put "
            "into the journal's file."
        )
        hint = f"{NOTHING_CHANGED} Copy the whole folder to where you can write, and open that."
        raise CannotOpenError(Trouble.FORBIDDEN, folder, message, hint)
    return sqlite.is_fixed(path)


def version_found(connection: Connection, folder: Path) -> migrations.Version:
    """Return the format of what is there.

    Raises
    ------
    CannotOpenError
        If it is another program's database, or a newer journal.
    """
    path = folder / sqlite.FILE_NAME
    found = migrations.version_of(connection)
    if found is None and connection.dialect.has_table(connection, "row_image"):
        raise lacks(path, ("the number of its format",))
    if found is None:
        message = f"{path} is not a journal: another program made it."
        hint = f"{NOTHING_CHANGED} Choose another folder for the journal."
        raise CannotOpenError(Trouble.FOREIGN, folder, message, hint)
    if migrations.is_newer(found):
        message = (
            f"This journal was made by a newer Pitjournal (its format is {found[0]}.{found[1]}, "
            f"this program reads up to {SCHEMA_VERSION[0]}.x): {folder}."
        )
        hint = f"{NOTHING_CHANGED} Use the newer program to open it, or choose another folder."
        raise CannotOpenError(Trouble.NEWER, folder, message, hint)
    return found


def must_be_brought_up_to_date(folder: Path) -> CannotOpenError:
    """Return what is said of an older journal that can only be read."""
    message = f"The journal in {folder} must be brought up to date first."
    hint = "Open it once in the window: a copy is put aside first."
    return CannotOpenError(Trouble.OLDER, folder, message, hint)


def lacks(path: Path, what: tuple[str, ...]) -> CannotOpenError:
    """Return what is said of a journal's database in which tables or columns are missing."""
    listed = ", ".join(what[:5]) + (f" and {len(what) - 5} more" if len(what) > 5 else "")
    message = f"The journal's database is damaged: {path}. It lacks {listed}."
    hint = f"{NOTHING_CHANGED} Restore a backup, or save what can be read of it (salvage)."
    return CannotOpenError(Trouble.DAMAGED, path.parent, message, hint)


def make(path: Path, steps: list[tuple[migrations.Version, migrations.Step]]) -> None:
    """Make a new database, whole or not at all: a journal by half would be nobody's."""
    part = part_of(path)
    engine = sqlite.engine_for(part, mode="rwc")
    try:
        with engine.begin() as connection:
            migrations.take(connection, steps)
        engine.dispose()
        DISK.sync_file(part)
        DISK.settle(part, path)
    except BaseException:
        engine.dispose()
        part.unlink(missing_ok=True)
        raise
