"""An open journal written into another folder, also where its own is gone.

The database comes first: once it has its name there, whole and synced, an end in the middle
costs kept files at most, which lie where they lay. Before that, only passing files are there,
and the same folder may be named again.
"""

import contextlib
import shutil
from collections.abc import Callable
from pathlib import Path

from pitjournal.errors import JournalError
from pitjournal.store import copies, faults, sqlite
from pitjournal.store.attachments import Attachments
from pitjournal.store.database import Database
from pitjournal.store.disk import DISK, PART, part_of
from pitjournal.store.faults import NotSavedError

_FILES = "attachments"
_FOR_THE_DATABASE = 0.3
"""The part of the work that the database is taken to be."""

Say = Callable[[float | None, str], None]
"""Told how far it is, 0 to 1, and what is done; where it raises, all is given up."""


def must_be_free(folder: Path) -> None:
    """Refuse a folder that has other things in it than what a try left that was ended.

    Raises
    ------
    JournalError
        If it has, or cannot be looked into.
    """
    try:
        taken = folder.exists() and any(not _is_passing(path) for path in folder.iterdir())
    except OSError as error:
        words, hint = faults.disk_words(error, reading=True)
        raise JournalError(f"It cannot be kept in {folder}. {words}", hint) from error
    if taken:
        raise JournalError(f"{folder} has other things in it.", "Name an empty folder.")


def carry(database: Database, folder: Path, say: Say) -> int:
    """Write what an open journal has into a folder that is free.

    Kept files come along where they are still there; return how many do not.

    Raises
    ------
    JournalError
        If the folder is not free.
    NotSavedError
        If it cannot be written; nothing is left in the folder then.
    DamagedError
        If the database is damaged; nothing is left in the folder then.
    """
    must_be_free(folder)
    was_there = folder.exists()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _sweep(folder)
        _carry_database(database, folder, say)
        missing = _carry_files(database, folder, say)
    except BaseException as error:
        _give_up(folder)
        if not was_there:
            with contextlib.suppress(OSError):
                folder.rmdir()
        if isinstance(error, OSError):
            words, hint = faults.disk_words(error)
            raise NotSavedError(f"It cannot be kept there. {words}", hint) from error
        if isinstance(error, faults.REFUSED):
            raise copies.refused(error, database.path, folder) from error
        raise
    return missing


def _carry_database(database: Database, folder: Path, say: Say) -> None:
    target = folder / sqlite.FILE_NAME
    part = part_of(target)
    try:
        database.copy_open_into(part, lambda done: say(_FOR_THE_DATABASE * done, "the cooks"))
        copies.look_into(part)
        DISK.sync_file(part)
        DISK.settle(part, target)
    finally:
        copies.drop(part)


def _carry_files(database: Database, folder: Path, say: Say) -> int:
    wanted, kept = database.attachment_ids(), Attachments(folder / _FILES)
    missing = 0
    for place, sha in enumerate(wanted):
        done = _FOR_THE_DATABASE + (1.0 - _FOR_THE_DATABASE) * place / len(wanted)
        say(done, f"photo or log {place + 1} of {len(wanted)}")
        if database.attachments.how(sha):
            missing += 1
        else:
            kept.keep(database.attachments.read(sha))
    return missing


def _is_passing(path: Path) -> bool:
    return path.name.startswith(f".{sqlite.FILE_NAME}-") and PART in path.name


def _sweep(folder: Path) -> None:
    """Remove what a try that was ended half-way left."""
    for path in [path for path in folder.iterdir() if _is_passing(path)]:
        path.unlink(missing_ok=True)


def _give_up(folder: Path) -> None:
    """Remove what was written; the folder was free (`must_be_free`)."""
    with contextlib.suppress(OSError):
        _sweep(folder)
    shutil.rmtree(folder / _FILES, ignore_errors=True)
    copies.drop(folder / sqlite.FILE_NAME)
