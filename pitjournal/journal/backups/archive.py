"""A journal as one file: a ZIP of its database and attachments, consistent while in use."""

import os
import sqlite3
import zipfile
from collections import Counter
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from pitjournal.errors import JournalError
from pitjournal.store import copies
from pitjournal.store.database import Database
from pitjournal.store.disk import DISK, PART
from pitjournal.store.faults import NotSavedError, disk_words


@dataclass(frozen=True)
class Archive:
    """A backup that was written, and how many kept files are not in it: gone, or not as kept."""

    path: Path
    missing: int
    changed: int


def backup(database: Database, target: Path | None = None) -> Path:
    """Write a backup and return its path; see `archive`."""
    return archive(database, target).path


def archive(database: Database, target: Path | None = None) -> Archive:
    """Write a backup; with no target, into the journal's `backups`.

    A kept file that is missing or has other bytes than its name says is left out and counted.

    Raises
    ------
    JournalError
        If the file cannot be written, or is there already; nothing is left half-way.
    """
    if target is None:
        stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S")
        target = database.folder / copies.FOLDER / f"journal-{stamp}.zip"
    if target.exists():
        raise JournalError(f"{target} is there already.", "Choose another name.")
    part, copy = (target.with_name(f".{target.name}{end}{PART}") for end in ("", "-database"))
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        for left in (part, copy):  # by one that was ended half-way
            copies.drop(left)
        database.copy_to(copy)
        copies.look_into_made(copy, database.path)
        left_out = _write(database, copy, part)
        DISK.settle(part, target)
    except OSError as error:
        why, hint = disk_words(error)
        raise NotSavedError(f"The backup could not be written. {why}", hint) from error
    except sqlite3.Error as error:
        raise copies.refused(error, database.path, target.parent) from error
    finally:
        for left in (part, copy):
            copies.drop(left)  # with the log of a copy that was ended by a full disk
    return Archive(target, left_out["missing"], left_out["changed"])


def _write(database: Database, copy: Path, part: Path) -> Counter[str]:
    """Write database and kept files; return how many of these are missing or changed."""
    left_out: Counter[str] = Counter()
    with part.open("wb") as file:
        with zipfile.ZipFile(file, "w") as made:
            made.write(copy, database.path.name, zipfile.ZIP_DEFLATED)
            for sha in database.attachment_ids():
                path = database.attachments.path(sha)
                how = database.attachments.how(sha) or _elsewhere(path, database.attachments.folder)
                if how:
                    left_out[how] += 1
                else:
                    made.write(path, f"attachments/{sha[:2]}/{sha}")
        file.flush()
        os.fsync(file.fileno())
    return left_out


def _elsewhere(path: Path, folder: Path) -> str:
    """Return "changed" for a link that leads out of the folder: it is not what was kept."""
    return "" if path.resolve().is_relative_to(folder.resolve()) else "changed"
