"""Copies of a journal's database: written, synced, opened and checked before they count."""

import contextlib
import errno
import os
import re
import sqlite3
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import chain
from pathlib import Path

from pitjournal.errors import JournalError
from pitjournal.store import build, faults, sqlite
from pitjournal.store.disk import DISK, PART, part_of
from pitjournal.store.faults import CannotOpenError, DamagedError, NotSavedError, Trouble

FOLDER = "backups"
_NAME = re.compile(r"^(?P<at>\d{8}-\d{6})-(?P<why>[a-z0-9.-]+?)(~\d+)?\.sqlite$")
_FIRST_NAME = re.compile(r"^(?P<why>before-[0-9.]+)-(?P<at>\d{8}-\d{6})\.sqlite$")
"""As the first versions named what they put aside before they brought a journal up to date."""

_ZIP_NAME = re.compile(r"^journal-(?P<at>\d{8}-\d{6})\.zip$")

FRESH = 3600.0
"""A passing file younger than this, s, may be under way in another window."""


@dataclass(frozen=True)
class Copy:
    """A copy that is kept.

    Attributes
    ----------
    path
        The file.
    at
        When it was made.
    why
        What for: "close", "hour", "by-hand", "before-restore", "before-1.1", ….
    size
        In bytes.
    """

    path: Path
    at: datetime
    why: str
    size: int


@dataclass(frozen=True)
class Inside:
    """What is in a copy: how many cooks, and its newest step with when it was taken."""

    cooks: int
    step: tuple[int, str] | None


def keep(path: Path, why: str, folder: Path | None = None) -> Copy:
    """Copy a database into a folder, by default its journal's `backups`.

    Raises
    ------
    NotSavedError
        If the copy cannot be written; nothing is left half-way.
    DamagedError
        If the database cannot be read whole.
    """
    target = path.parent / FOLDER if folder is None else folder
    now = datetime.now(UTC)
    part = part_of(target / path.name)
    try:
        DISK.make_folder(target)
        sqlite.copy_live(path, part)
        DISK.sync_file(part)
        look_into_made(part, path)
        made = _free(target, f"{now:%Y%m%d-%H%M%S}-{why}")
        DISK.settle(part, made)
    except OSError as error:
        words, hint = faults.disk_words(error)
        raise NotSavedError(f"The backup could not be written. {words}", hint) from error
    except (sqlite3.Error, UnicodeDecodeError) as error:
        raise refused(error, path, target) from error
    finally:
        drop(part)
    return Copy(made, now.replace(microsecond=0), why, made.stat().st_size)


def refused(error: BaseException, path: Path, into: Path | None = None) -> JournalError:
    """Return in a cook's words why a copy could not be made.

    Parameters
    ----------
    path
        The database that was to be copied.
    into
        The folder it was to come into.
    """
    kind = faults.kind_of(error)
    if kind is faults.FaultKind.DAMAGED:
        return damaged_at(path)
    if kind is faults.FaultKind.FORBIDDEN and path.exists() and not sqlite.may(path, os.R_OK):
        message = f"You may not read the journal's file {path}."
        return NotSavedError(message, "See who may read it.")
    asked = None
    if kind in {faults.FaultKind.FAILED, faults.FaultKind.FORBIDDEN}:
        asked = faults.asked_of(path.parent if into is None else into)
    words, hint = asked or {
        faults.FaultKind.FULL: ("The disk is full.", "Make room on the disk and try again."),
        faults.FaultKind.LOCKED: ("Another program holds the journal.", "Try again in a moment."),
    }.get(
        kind or faults.FaultKind.FAILED,
        ("Its disk failed.", "Look at that disk, or choose another place."),
    )
    return NotSavedError(f"The backup could not be written. {words}", hint)


def damaged_at(path: Path) -> DamagedError:
    """Return what is said of a journal's database that cannot be copied whole."""
    message = f"A part of the journal's database is damaged: {path}."
    return DamagedError(message, "Restore a backup, or save what can be read.")


def _free(folder: Path, name: str) -> Path:
    path, number = folder / f"{name}.sqlite", 1
    while path.exists():
        number += 1
        path = folder / f"{name}~{number}.sqlite"
    return path


def aside_folder(folder: Path) -> Path:
    """Make a folder among the backups for what is broken."""
    backups = folder / FOLDER
    DISK.make_folder(backups)
    stamp = f"{datetime.now(UTC):%Y%m%d-%H%M%S}"
    made, number = backups / f"aside-{stamp}", 1
    while made.exists():
        number += 1
        made = backups / f"aside-{stamp}~{number}"
    DISK.make_folder(made)
    return made


def drop(part: Path) -> None:
    """Remove a passing database with what SQLite puts beside it."""
    for end in ("", "-wal", "-shm", "-journal"):
        with contextlib.suppress(OSError):
            part.with_name(part.name + end).unlink(missing_ok=True)


def look_into(path: Path, called: str = "") -> Inside:
    """Open a database, check all of it, and say what is in it.

    Parameters
    ----------
    path
        The database.
    called
        What it is called in what is said of it, where that is not its name.

    Raises
    ------
    DamagedError
        If it is not whole, or no journal.
    """
    called = called or path.name
    try:
        with contextlib.closing(sqlite.reader(path)) as connection:
            whole = connection.execute("PRAGMA integrity_check(1)").fetchone() == ("ok",)
            if whole:
                lacking = build.look(connection).lacking
                if lacking:
                    message = f"{called} is no whole journal: it lacks {', '.join(lacking[:5])}."
                    raise DamagedError(message, _LACKS)
                return inside(connection)
    except (sqlite3.Error, UnicodeDecodeError) as error:
        why = _not_its_fault(error, path)
        if why is not None:
            message = f"{called} cannot be looked into now. {why[0]}"
            raise NotSavedError(message, why[1]) from error
        raise DamagedError(f"{called} is no whole journal.", "Use another backup.") from error
    raise DamagedError(f"{called} is damaged.", "Use another backup.")


_LACKS = (
    "Use another backup, or save what is in it: put it as journal.sqlite into a folder of its own, "
    "and salvage that."
)


def _not_its_fault(error: BaseException, path: Path) -> tuple[str, str] | None:
    """Return why a database that may be whole cannot be read, and what to do; None if it is not."""
    kind = faults.kind_of(error)
    if kind is faults.FaultKind.LOCKED:
        return "Another program holds it.", "Try again in a moment."
    there = kind in {faults.FaultKind.FULL, faults.FaultKind.FORBIDDEN} and path.exists()
    return faults.asked_of(path.parent) if there else None


def look_into_made(copy: Path, path: Path) -> None:
    """Check a copy that was just made of a journal's database at `path`.

    Raises
    ------
    DamagedError
        If it is not whole: then the journal is not, as the copy has what was read of it.
    """
    try:
        look_into(copy)
    except DamagedError as error:
        raise damaged_at(path) from error


def inside(connection: sqlite3.Connection) -> Inside:
    """Say what is in an open database."""
    connection.execute("SELECT major, minor FROM schema_version").fetchone()
    (cooks,) = connection.execute("SELECT count(*) FROM cook").fetchone()
    step = "SELECT seq, at FROM operation WHERE undone = 0 ORDER BY seq DESC LIMIT 1"
    return Inside(int(cooks), connection.execute(step).fetchone())


def newest_step(path: Path) -> tuple[int, str] | None:
    """Return the newest step of a database that stands; None where none can be read."""
    try:
        with contextlib.closing(sqlite.reader(path)) as connection:
            return inside(connection).step
    except (sqlite3.Error, UnicodeDecodeError, OSError):
        return None


def kept(folder: Path) -> list[Copy]:
    """Return the copies in a `backups` folder, newest first."""
    found = []
    try:
        for path in folder.iterdir():
            named = _NAME.match(path.name) or _FIRST_NAME.match(path.name)
            if named is None:
                continue
            with contextlib.suppress(ValueError, OSError):
                at = datetime.strptime(named["at"], "%Y%m%d-%H%M%S").replace(tzinfo=UTC)
                if path.is_file():  # what is no file would be waited for
                    found.append(Copy(path, at, named["why"], path.stat().st_size))
    except OSError:
        return []
    return sorted(found, key=lambda copy: (copy.at, copy.path.name), reverse=True)


def offered(folder: Path) -> list[Copy]:
    """Return what may be restored from a `backups` folder, newest first: copies and ZIPs.

    A ZIP was made by hand, and is never thinned out.

    Raises
    ------
    CannotOpenError
        If the folder is there and may not be read.
    """
    found = kept(folder)
    try:
        if folder.is_dir() and not sqlite.may(folder, os.R_OK | os.X_OK):
            raise PermissionError(errno.EACCES, "Permission denied")
        for path in folder.iterdir():
            named = _ZIP_NAME.match(path.name)
            if named is not None:
                with contextlib.suppress(ValueError, OSError):
                    at = datetime.strptime(named["at"], "%Y%m%d-%H%M%S").replace(tzinfo=UTC)
                    found.append(Copy(path, at, "by-hand", path.stat().st_size))
    except (FileNotFoundError, NotADirectoryError):
        return []
    except OSError as error:
        message = (
            f"The backups in {folder} cannot be read. {faults.disk_words(error, reading=True)[0]}"
        )
        if isinstance(error, PermissionError):
            message = f"You may not read the backups in {folder}."
        hint = "See who may read that folder, or name a backup with --from FILE."
        raise CannotOpenError(Trouble.FORBIDDEN, folder.parent, message, hint) from error
    return sorted(found, key=lambda copy: (copy.at, copy.path.name), reverse=True)


def is_ahead(copy: Copy) -> bool:
    """Whether a backup is dated in the future: the clock was wrong when it was made, or is now."""
    return copy.at > datetime.now(UTC) + timedelta(minutes=5)


KEEP_EACH = 2
"""So many of the newest copies stay whatever their size."""

KEEP_MEANT = timedelta(days=30)
"""So long a copy stays that was made before something large, or by hand."""


def to_drop(copies: Iterable[Copy], now: datetime, most: int) -> list[Copy]:
    """Say which copies go, so that they thin out with age.

    One an hour stays for a day, one a day for two weeks, one a week for ten weeks, then one a
    month, all within so many bytes.

    Parameters
    ----------
    copies
        What there is, in any order.
    now
        Aware.
    most
        Bytes; the oldest go first, and the newest two never.
    """
    ordered = sorted(copies, key=lambda copy: (copy.at, copy.path.name), reverse=True)
    taken: set[str] = set()
    stay: list[Copy] = []
    for place, copy in enumerate(ordered):
        slot = _slot(copy.at, now - copy.at)
        meant = copy.why.startswith(("before-", "by-hand")) and now - copy.at < KEEP_MEANT
        if place < KEEP_EACH or meant or slot not in taken:
            stay.append(copy)
        taken.add(slot)
    total = 0
    for place, copy in enumerate(tuple(stay)):
        total += copy.size
        if total > most and place >= KEEP_EACH:
            stay.remove(copy)
    return [copy for copy in ordered if copy not in stay]


def _slot(at: datetime, age: timedelta) -> str:
    if age < timedelta(days=1):
        return f"hour {at:%Y%m%d %H}"
    if age < timedelta(days=14):
        return f"day {at:%Y%m%d}"
    if age < timedelta(weeks=10):
        return f"week {at:%G %V}"
    return f"month {at:%Y%m}"


def sweep_journal(folder: Path, older_than: float = FRESH) -> tuple[int, int]:
    """Remove what was left half-written in a journal's folder; return how many files and bytes.

    Parameters
    ----------
    folder
        The journal's.
    older_than
        Files touched within so many seconds stay: they may be under way.
    """
    files = size = 0
    for path in _rubbish(folder, older_than):
        with contextlib.suppress(OSError):
            found = path.stat().st_size
            path.unlink()
            files, size = files + 1, size + found
    return files, size


def count_rubbish(folder: Path) -> int:
    """Return how many files were left half-written in a journal's folder."""
    return sum(1 for _ in _rubbish(folder, FRESH))


def _rubbish(folder: Path, older_than: float) -> Iterator[Path]:
    last = time.time() - older_than
    looked = (
        folder.glob(f".{sqlite.FILE_NAME}-*{PART}*"),
        *((folder / name).rglob("*") for name in (FOLDER, "attachments")),
    )
    for path in chain(*looked):
        with contextlib.suppress(OSError):
            if _is_passing(path.name) and path.is_file() and path.stat().st_mtime <= last:
                yield path


def _is_passing(name: str) -> bool:
    bare = re.sub(r"-(wal|shm|journal)$", "", name)
    return bare.endswith(PART) or name.startswith(".part-")
