"""A journal as one file: a ZIP of its database and attachments, consistent while in use."""

import os
import sqlite3
import zipfile
from datetime import UTC, datetime
from pathlib import Path

from pitjournal.errors import JournalError
from pitjournal.store import copies
from pitjournal.store.database import Database
from pitjournal.store.disk import DISK, PART
from pitjournal.store.faults import disk_words


def backup(database: Database, target: Path | None = None) -> Path:
    """Write a backup and return its path; with no target, into the journal's `backups`.

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
        copies.look_into(copy)
        _write(database, copy, part)
        DISK.settle(part, target)
    except OSError as error:
        message = f"The backup could not be written. {disk_words(error)[0]}"
        raise JournalError(message, "Choose another place with --to FILE.") from error
    except sqlite3.Error as error:
        raise copies.refused(error, database.path) from error
    finally:
        for left in (part, copy):
            copies.drop(left)  # with the log of a copy that was ended by a full disk
    return target


def _write(database: Database, copy: Path, part: Path) -> None:
    with part.open("wb") as file:
        with zipfile.ZipFile(file, "w") as archive:
            archive.write(copy, database.path.name, zipfile.ZIP_DEFLATED)
            for sha in database.attachment_ids():
                path = database.attachments.path(sha)
                if path.exists():
                    archive.write(path, f"attachments/{sha[:2]}/{sha}")
        file.flush()
        os.fsync(file.fileno())
