"""Put a backup in the place of a journal's database: at no moment is there none."""

import contextlib
import shutil
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from filelock import FileLock, Timeout

from pitjournal.errors import JournalError
from pitjournal.store import copies, faults, sqlite
from pitjournal.store.copies import Copy
from pitjournal.store.disk import DISK, part_of
from pitjournal.store.faults import DamagedError, NotSavedError
from pitjournal.store.ground import beside, in_the_way, own_file
from pitjournal.store.opening import LOCK_NAME, MOVE_IT, OTHER_WINDOW

OPEN_ELSEWHERE = "This journal is open in a window or in another command."
_LOGS = ("-wal", "-shm")


@dataclass(frozen=True)
class Kept:
    """What became of today's database: a backup of it, or where its damaged files lie."""

    backup: Copy | None = None
    aside: Path | None = None


@contextlib.contextmanager
def alone(folder: Path) -> Iterator[None]:
    """Hold a journal that no window has.

    Raises
    ------
    JournalError
        If one has it, or the folder cannot be written.
    """
    lock = FileLock(folder / LOCK_NAME)
    try:
        lock.acquire(timeout=0)
    except Timeout as error:
        raise JournalError(OPEN_ELSEWHERE, OTHER_WINDOW[1]) from error
    except OSError as error:
        if Path(lock.lock_file).is_dir():
            message = f"A folder is in the way: {lock.lock_file}."
            raise JournalError(message, MOVE_IT) from error
        words, hint = faults.disk_words(error)
        raise JournalError(f"Nothing can be written in {folder}. {words}", hint) from error
    way = in_the_way(folder / sqlite.FILE_NAME)
    if way is not None:
        lock.release()
        raise JournalError(f"A folder is in the way: {way}.", MOVE_IT)
    try:
        yield
    finally:
        lock.release()


def put_in_place(source: Path, path: Path) -> Kept:
    """Put a database in the place of a journal's own, which is kept first.

    A whole one is copied and checked again beside the old one, which is moved over last of all:
    ended at any moment, the one or the other is there.

    Parameters
    ----------
    source
        The backup's database; it stays where it is.
    path
        The journal's. The caller holds the journal.

    Raises
    ------
    DamagedError
        If the backup is not whole; nothing was changed.
    NotSavedError
        If the disk refuses; nothing was changed.
    """
    copies.look_into(source)
    if path.exists() and not path.is_file():
        raise NotSavedError(f"{path} is in the way: it is no file.", "Move it away first.")
    own = own_file(path)  # the path may be a link, which then leads to the new one too
    part = part_of(own)
    try:
        shutil.copyfile(source, part)
        sqlite.strip_copy(part)
        DISK.sync_file(part)
        copies.look_into(part)
        kept = _keep_todays(path)
        for end in _LOGS:  # empty, or kept aside: else it would be read into the new one
            beside(path, end).unlink(missing_ok=True)
        DISK.sync_folder(own.parent)
        DISK.settle(part, own)
    except OSError as error:
        words, hint = faults.disk_words(error)
        raise NotSavedError(f"The backup could not be put in place. {words}", hint) from error
    finally:
        copies.drop(part)
    return kept


def _keep_todays(path: Path) -> Kept:
    if not path.exists() or not path.stat().st_size:
        return Kept()
    try:
        copy = copies.keep(path, "before-restore")
        _empty_log(path)
    except (DamagedError, sqlite3.DatabaseError, UnicodeDecodeError) as error:
        if faults.refused_by(error):
            raise copies.refused(error, path) from error  # the disk or a lock, and no damage
        return Kept(aside=move_aside(path))
    return Kept(backup=copy)


def _empty_log(path: Path) -> None:
    """Write the log into the file, so that the file is whole without it."""
    with contextlib.closing(sqlite3.connect(path, timeout=2.0)) as connection:
        busy, _, _ = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    if busy:
        raise NotSavedError("Another program holds the journal.", "Close it and try again.")


def move_aside(path: Path, *, also: tuple[str, ...] = _LOGS) -> Path:
    """Copy a damaged database with its log to a folder of its own among the backups."""
    folder = copies.aside_folder(path.parent)
    for end in ("", *also):
        source = beside(path, end)
        if source.exists():
            DISK.copy(source, folder / f"{path.name}{end}")
    return folder


def can_be_read(path: Path) -> bool:
    """Whether a database is whole."""
    try:
        copies.look_into(path)
    except DamagedError:
        return False
    return True
