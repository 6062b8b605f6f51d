"""Restore a backup: say what would differ, keep today's as another backup, bring files back."""

import contextlib
import hashlib
import shutil
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from pitjournal.errors import JournalError
from pitjournal.journal.backups.keeping import FILES
from pitjournal.store import (
    compare,
    copies,
    faults,
    kept_names,
    replacing,
    salvaging,
    sqlite,
)
from pitjournal.store.attachments import Attachments, how_is, is_sha
from pitjournal.store.compare import CookName, Differences
from pitjournal.store.copies import Copy
from pitjournal.store.faults import NotSavedError, disk_words
from pitjournal.store.replacing import Kept
from pitjournal.units.figures import counted


@dataclass(frozen=True)
class Offer:
    """A backup that was looked into.

    Attributes
    ----------
    path
        Where it lies.
    at
        When it was made; None where its name does not say.
    cooks
        How many cooks are in it.
    differences
        What would be otherwise.
    files_back
        How many photos and logs would come back.
    missing
        The photos and logs that are neither in it nor here, in a cook's words.
    """

    path: Path
    at: datetime | None
    cooks: int
    differences: Differences
    files_back: int = 0
    missing: tuple[str, ...] = ()


@dataclass(frozen=True)
class Restored:
    """What a restoring did: where today's went, and the files that came back or are missing."""

    kept: Kept
    files_back: int
    missing: tuple[str, ...]

    def words(self) -> str:
        """Return in a cook's words what was done, for a line."""
        said = "Restored. The journal as it was is kept among the backups."
        return f"{said} {missing_words(self.missing)}" if self.missing else said


def missing_words(missing: tuple[str, ...]) -> str:
    """Return which photos and logs a restore could not bring back, and what to do."""
    what = "1 photo or log is" if len(missing) == 1 else f"{len(missing)} photos or logs are"
    return (
        f"{what} missing in it, and here too: {kept_names.some(missing)}. "
        "An older backup or ZIP may have them: pitjournal check JOURNAL --repair looks."
    )


@dataclass(frozen=True)
class Chosen:
    """The backup that is taken where none is named.

    Attributes
    ----------
    path
        Where it lies.
    cooks
        How many cooks are in it.
    remarks
        Why it is not the one that its name makes the newest, a line each.
    """

    path: Path
    cooks: int
    remarks: tuple[str, ...]


def choose(folder: Path) -> Chosen:
    """Return the newest backup in a journal's folder that is whole.

    The date of one that is dated in the future says nothing: of those, and the newest of the
    others, the one with the most steps is taken.

    Raises
    ------
    JournalError
        If there is none, or the backups may not be read.
    """
    remarks: list[str] = []
    best: tuple[int, Copy, int] | None = None
    ahead = []
    for copy in copies.offered(folder / copies.FOLDER):
        try:
            with _opened(copy.path) as (database, _files):
                inside = copies.look_into(database)
        except JournalError:
            remarks.append(f"{copy.path.name} is newer, and damaged: it is passed over.")
            continue
        best = (inside.step[0] if inside.step else 0, copy, inside.cooks)
        if not copies.is_ahead(copy):
            break
        ahead.append(best)
        remarks.append(f"{copy.path.name} is dated in the future: a clock was wrong.")
    if best is None:
        message = f"There is no backup in {folder / copies.FOLDER}."
        if remarks:
            message = f"No backup in {folder / copies.FOLDER} is whole."
        raise JournalError(message, "Name one with --from FILE, or save what can be read.")
    for other in ahead:
        best = max(best, other, key=lambda one: one[0])
    return Chosen(best[1].path, best[2], tuple(remarks))


def newest_backup(folder: Path) -> Path:
    """Return where the newest backup lies that is whole; see `choose`."""
    return choose(folder).path


def look_at(folder: Path, source: Path) -> Offer:
    """Say what a backup has, and what would differ.

    Raises
    ------
    JournalError
        If it is not there, or is no whole journal.
    """
    with _opened(source) as (database, files):
        inside = copies.look_into(database, source.name)
        found = compare.differences(folder / sqlite.FILE_NAME, database)
        back, missing = _files_in(folder, database, files)
    at = next((one.at for one in _beside(source) if one.path.name == source.name), None)
    return Offer(source, at, inside.cooks, found, back, missing)


def _beside(source: Path) -> list[Copy]:
    with contextlib.suppress(JournalError):
        return copies.offered(source.parent)
    return []


def restore(folder: Path, source: Path) -> Restored:
    """Put a backup in the place of today's journal, which is kept as another backup.

    Parameters
    ----------
    folder
        The journal's; no window may have it open. It is made where it is gone.
    source
        A copy among the backups, a ZIP, or the folder of a copied journal.

    Raises
    ------
    JournalError
        If it cannot be done; today's journal is as it was then.
    """
    with _opened(source) as (database, files):
        copies.look_into(database, source.name)
        was_there = folder.exists()
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            words, hint = disk_words(error)
            raise NotSavedError(f"The journal cannot be put in {folder}. {words}", hint) from error
        try:
            with replacing.alone(folder):
                kept = replacing.put_in_place(database, folder / sqlite.FILE_NAME)
                copies.sweep_journal(folder)  # of one that was ended half-way
                return Restored(kept, *_bring_files(folder, files))
        except BaseException:
            if not was_there and not (folder / sqlite.FILE_NAME).exists():
                shutil.rmtree(folder, ignore_errors=True)
            raise


def _bring_files(folder: Path, files: "Files") -> tuple[int, tuple[str, ...]]:
    path, attachments = folder / sqlite.FILE_NAME, Attachments(folder / "attachments")
    back, missing = 0, []
    for sha in salvaging.attachment_ids(path):
        if not attachments.how(sha):
            continue
        data = files.read(sha)
        if data is None:
            missing.append(sha)
        else:
            attachments.keep(data)
            back += 1
    return back, kept_names.named(path, missing)


def _files_in(folder: Path, database: Path, files: "Files") -> tuple[int, tuple[str, ...]]:
    """Return how many photos and logs a restoring would bring back, and which it could not."""
    attachments = Attachments(folder / "attachments")
    lost = [sha for sha in salvaging.attachment_ids(database) if attachments.how(sha)]
    missing = [sha for sha in lost if files.read(sha) is None]
    return len(lost) - len(missing), kept_names.named(database, missing)


class Files:
    """The kept files that come with a backup: in folders, or in a ZIP."""

    def __init__(self, *folders: Path, archive: zipfile.ZipFile | None = None) -> None:
        self._folders, self._archive = folders, archive

    def read(self, sha: str) -> bytes | None:
        """Return a file's bytes; None where there is none that is whole."""
        if not is_sha(sha):  # as a damaged row has it
            return None
        for folder in self._folders:
            path = folder / sha[:2] / sha
            if not how_is(path, sha):
                return path.read_bytes()
        if self._archive is not None:
            with contextlib.suppress(KeyError, zipfile.BadZipFile, OSError, zlib.error):
                data = self._archive.read(f"attachments/{sha[:2]}/{sha}")
                # As a check would find it: other bytes than its name says are none.
                return data if hashlib.sha256(data).hexdigest() == sha else None
        return None


def in_zips(folder: Path, sha: str) -> bytes | None:
    """Return a kept file's bytes from the newest ZIP in a folder that has it whole."""
    for path in sorted(folder.glob("*.zip"), reverse=True):
        with (
            contextlib.suppress(zipfile.BadZipFile, OSError, RuntimeError, zlib.error),
            zipfile.ZipFile(path) as archive,
        ):
            data = Files(archive=archive).read(sha)
            if data is not None:
                return data
    return None


@contextlib.contextmanager
def _opened(source: Path) -> Iterator[tuple[Path, Files]]:
    if source.is_dir():
        yield source / sqlite.FILE_NAME, Files(source / "attachments", source / "backups" / FILES)
        return
    if not source.is_file():
        there = source.exists() or source.is_symlink()
        said = f"{source} is no file." if there else f"There is no backup {source}."
        raise JournalError(said, "Name another with --from FILE.")
    if not source.stat().st_size:
        raise JournalError(f"{source.name} is empty.", "Use another backup.")
    if not zipfile.is_zipfile(source):
        yield source, Files(source.parent / FILES, source.parent.parent / "attachments")
        return
    with faults.scratch() as scratch, zipfile.ZipFile(source) as archive:
        target = scratch / sqlite.FILE_NAME
        _unpack(archive, source, target)
        yield target, Files(archive=archive)


def _unpack(archive: zipfile.ZipFile, source: Path, target: Path) -> None:
    """Unpack the database of a ZIP piece by piece, if it begins as one does."""
    no_backup = JournalError(f"{source.name} is no whole backup of a journal.", "Use another one.")
    with contextlib.ExitStack() as stack:
        try:
            part = stack.enter_context(archive.open(sqlite.FILE_NAME))
            head = part.read(len(_BEGINS))
        except _BROKEN as error:
            raise no_backup from error
        if head != _BEGINS:
            raise no_backup
        try:
            with target.open("wb") as out:
                while head:
                    out.write(head)
                    try:
                        head = part.read(_AT_ONCE)
                    except _BROKEN as error:
                        raise no_backup from error
        except OSError as error:
            words, hint = disk_words(error)
            message = f"{source.name} cannot be unpacked in {target.parent.parent}. {words}"
            raise NotSavedError(message, hint) from error


_BEGINS = b"SQLite format 3\x00"
"""How each database begins (SQLite, Database File Format, 1.3.1)."""

_AT_ONCE = 1 << 20
_BROKEN = (KeyError, zipfile.BadZipFile, OSError, RuntimeError, zlib.error, EOFError)


def difference_words(found: Differences) -> list[str]:
    """Return in a cook's words what would be otherwise, a line each."""
    if not found.today_there:
        many = counted(len(found.come), "cook")
        which = f": {_some(found.come)}" if found.come else "."
        return [f"There is no journal there yet: it would have {many}{which}"]
    if not found.today_read:
        many = "1 cook comes" if len(found.come) == 1 else f"{len(found.come)} cooks come"
        which = f": {_some(found.come)}" if found.come else "."
        return [
            f"Today's journal cannot be read: {many} back{which}",
            "Where it is only damaged, saving what can be read (salvage) may give newer cooks.",
        ]
    if found.none:
        return ["Nothing would differ: all records in it are as in today's journal."]
    lines = [f"Today's journal lacks {lack}: it comes back." for lack in found.lacking[:5]]
    for cooks, one, many in (
        (found.go, "cook of today is not in it", "cooks of today are not in it"),
        (found.change, "cook is otherwise in it", "cooks are otherwise in it"),
        (found.come, "cook comes back", "cooks come back"),
    ):
        if cooks:
            words = one if len(cooks) == 1 else many
            lines.append(f"{len(cooks)} {words}: {_some(cooks)}")
    if found.others:
        what = "record" if found.others == 1 else "records"
        lines.append(f"{found.others} other {what} (shelf, questions, choices) would differ.")
    return lines


def _some(cooks: tuple[CookName, ...]) -> str:
    shown = "; ".join(str(name) for name in cooks[:5])
    return f"{shown}; and {len(cooks) - 5} more." if len(cooks) > 5 else f"{shown}."
