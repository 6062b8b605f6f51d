"""A journal as one file: a ZIP of its database and attachments, consistent while in use."""

import tempfile
import zipfile
from datetime import UTC, datetime
from pathlib import Path

from pitjournal.errors import JournalError
from pitjournal.store.database import Database


def backup(database: Database, target: Path | None = None) -> Path:
    """Write a backup and return its path; with no target, into the journal's `backups`.

    Raises
    ------
    JournalError
        If the file cannot be written, or is there already; nothing is left half-way.
    """
    if target is None:
        stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S")
        target = database.folder / "backups" / f"journal-{stamp}.zip"
    if target.exists():
        raise JournalError(f"{target} is there already.", "Choose another name.")
    part = target.with_name(target.name + ".part")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory() as folder, zipfile.ZipFile(part, "w") as archive:
            copy = Path(folder) / database.path.name
            database.copy_to(copy)
            archive.write(copy, database.path.name, zipfile.ZIP_DEFLATED)
            for sha in database.attachment_ids():
                path = database.attachments.path(sha)
                if path.exists():
                    archive.write(path, f"attachments/{sha[:2]}/{sha}")
        part.replace(target)
    except OSError as error:
        part.unlink(missing_ok=True)
        message = f"The backup could not be written: {error.strerror}."
        raise JournalError(message, "Choose another place.") from error
    return target
