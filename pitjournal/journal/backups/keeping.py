"""Backups that are made by themselves, within the journal's folder."""

import contextlib
from datetime import UTC, datetime, timedelta
from pathlib import Path

from pitjournal.store import copies
from pitjournal.store.attachments import how_is
from pitjournal.store.copies import Copy
from pitjournal.store.database import Database
from pitjournal.store.disk import DISK
from pitjournal.store.faults import NotSavedError, disk_words

EVERY = timedelta(hours=1)
"""While things change, a backup is made at most so often."""

MOST_BYTES = 1_000_000_000
"""So large may the copies of the database become together."""

FILES = "files"
"""The folder, among the backups, of the kept files: each is copied once."""

MISSED = ".backup-missed"
"""Lies in a journal's folder while the backup of its last closing could not be made."""

AT_CLOSE = 100_000_000
"""So many bytes of new files are copied while the window closes; the rest the next time."""


class Backups:
    """The backups of an open journal.

    Parameters
    ----------
    database
        The journal's.
    """

    def __init__(self, database: Database) -> None:
        self._database = database

    @property
    def folder(self) -> Path:
        """Where they lie."""
        return self._database.folder / copies.FOLDER

    def kept(self) -> list[Copy]:
        """Return what there is, newest first."""
        return copies.kept(self.folder)

    def changed_since(self) -> bool:
        """Whether something was changed since the newest backup."""
        kept = self.kept()
        if not kept:
            return self._database.step_that_stands() is not None
        return copies.newest_step(kept[0].path) != self._database.step_that_stands()

    @property
    def missed(self) -> bool:
        """Whether none could be made when the journal was closed last."""
        return self._mark.exists()

    def note_missed(self) -> None:
        """Note that none could be made: a file of no bytes, for which a full disk has room."""
        with contextlib.suppress(OSError):
            self._mark.touch()

    @property
    def _mark(self) -> Path:
        return self._database.folder / MISSED

    def is_due(self, now: datetime) -> bool:
        """Whether the newest is an hour old, and something was changed since."""
        kept = self.kept()
        return (not kept or not timedelta(0) <= now - kept[0].at < EVERY) and self.changed_since()

    def make(self, why: str, *, most_bytes: int | None = None) -> Copy:
        """Make a backup: database, then files not copied before; then thin out and sweep.

        Parameters
        ----------
        why
            What for, as it stands in its name: "close", "hour", "by-hand", "before-import".
        most_bytes
            Of files copied this time; None for all.

        Raises
        ------
        NotSavedError
            If the disk refuses; nothing is left half-way.
        DamagedError
            If the database cannot be read whole.
        """
        made = self._database.back_up(why)
        with contextlib.suppress(OSError):
            self._mark.unlink(missing_ok=True)
        try:
            self._copy_files(most_bytes)
        except OSError as error:
            words, hint = disk_words(error)
            message = f"The backup has no copy of some photos or logs. {words}"
            raise NotSavedError(message, hint) from error
        for copy in copies.to_drop(self.kept(), datetime.now(UTC), MOST_BYTES):
            with contextlib.suppress(OSError):
                copy.path.unlink(missing_ok=True)
        self.sweep()
        return made

    def _copy_files(self, most_bytes: int | None) -> None:
        files, copied = self.folder / FILES, 0
        for sha in self._database.attachment_ids():
            source, target = self._database.attachments.path(sha), files / sha[:2] / sha
            if target.exists() or how_is(source, sha):
                continue  # one that is damaged has no place among the backups
            copied += source.stat().st_size
            if most_bytes is not None and copied > most_bytes:
                return
            DISK.make_folder(files)
            DISK.make_folder(target.parent)
            DISK.copy(source, target)

    def sweep(self) -> tuple[int, int]:
        """Remove what was left half-written in the journal; return how many files and bytes."""
        return copies.sweep_journal(self._database.folder)
