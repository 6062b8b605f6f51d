"""Write what can be read of a damaged journal into a new one, and name the rest."""

import contextlib
import shutil
import tempfile
import time
from contextlib import closing
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from pitjournal.domain.cook import Cook
from pitjournal.domain.record import Record
from pitjournal.errors import JournalError
from pitjournal.journal.backups import salvaged
from pitjournal.journal.backups.keeping import FILES
from pitjournal.journal.backups.restoring import Files, choose
from pitjournal.journal.backups.salvaged import ENTER, Salvaged, place_of
from pitjournal.store import (
    carrying,
    copies,
    faults,
    kept_names,
    opening,
    repairing,
    replacing,
    salvaging,
    sqlite,
)
from pitjournal.store.database import Database
from pitjournal.store.disk import DISK, PART
from pitjournal.store.faults import NotSavedError, disk_words
from pitjournal.store.flaws import KEPT
from pitjournal.store.salvaging import WhatWasRead
from pitjournal.store.schema import KINDS
from pitjournal.store.transaction import Transaction
from pitjournal.units.figures import counted


@dataclass(frozen=True)
class Prospects:
    """How many cooks a salvage of a damaged journal and its newest whole backup would give.

    Attributes
    ----------
    salvage
        How many cooks can still be read.
    backup
        How many are in the backup; None where there is none.
    """

    salvage: int
    backup: int | None

    def lines(self) -> list[str]:
        """Return both in a cook's words, a line each."""
        none = "There is no whole backup."
        return [
            f"Of the damaged journal {counted(self.salvage, 'cook')} can still be read (salvage).",
            none
            if self.backup is None
            else f"The newest backup has {counted(self.backup, 'cook')}.",
        ]

    @property
    def salvage_first(self) -> bool:
        """Whether a salvage gives at least as much as the backup."""
        return self.salvage > 0 and self.salvage >= (self.backup or 0)

    def commands(self) -> list[str]:
        """Return what may be tried, the best first."""
        one = ["pitjournal salvage JOURNAL --to FOLDER"] if self.salvage else []
        other = [] if self.backup is None else ["pitjournal restore JOURNAL"]
        return one + other if self.salvage_first else other + one


def prospects(folder: Path) -> Prospects:
    """Say what a salvage and the newest whole backup would give; nothing is changed."""
    backup, path = _a_whole_backup(folder), folder / sqlite.FILE_NAME
    records: list[Record] = []
    with (
        contextlib.suppress(OSError, JournalError),
        faults.scratch() as scratch,
    ):
        records = _that_hang_together(salvaging.salvage(path, backup, scratch)).records
    return Prospects(
        sum(isinstance(record, Cook) for record in records),
        _in_backup(folder),
    )


def _in_backup(folder: Path) -> int | None:
    with contextlib.suppress(JournalError):
        return choose(folder).cooks
    return None


def salvage(folder: Path, target: Path) -> Salvaged:
    """Write all that can be read of a journal into a new one; the old one is not touched.

    Parameters
    ----------
    folder
        The damaged journal's.
    target
        An empty folder, or one that is not there yet.

    Raises
    ------
    JournalError
        If there is nothing to read, or the new journal cannot be made.
    """
    carrying.must_be_free(target)
    path = folder / sqlite.FILE_NAME
    if not opening.size_there(folder):
        raise JournalError(f"There is nothing to read in {folder}.", "Restore a backup of it.")
    backup = _a_whole_backup(folder)
    try:
        with faults.scratch() as scratch:
            found = salvaging.salvage(path, backup, scratch)
    except OSError as error:
        words, hint = disk_words(error)
        message = f"It cannot be read by way of {tempfile.gettempdir()}. {words}"
        raise NotSavedError(message, hint) from error
    together = _that_hang_together(found)
    if not together.records:
        message = f"Nothing of {path} can be read."
        raise JournalError(message, "Restore a backup of it.")
    written = _write_whole(target, folder, found, together.records)
    return Salvaged(
        target,
        sum(isinstance(record, Cook) for record in together.records),
        len(together.records),
        len(found.from_history),
        len(found.from_backup),
        written.files,
        written.missing,
        (*salvaged.mended(found, backup), *together.mended, *written.mended),
        (*salvaged.unread(found), *together.lost),
    )


def _a_whole_backup(folder: Path) -> Path | None:
    kept = copies.kept(folder / copies.FOLDER)
    return next((copy.path for copy in kept if replacing.can_be_read(copy.path)), None)


@dataclass
class Together:
    """Records whose parents are there, parents first; what had to go, and what was put right."""

    records: list[Record]
    lost: list[str]
    mended: list[str]


def _that_hang_together(found: WhatWasRead) -> Together:
    """Return the records, parents first, whose parents are there; name the others."""
    taken: dict[str, set[str]] = {}
    unique: set[tuple[object, ...]] = set()
    made = Together([], [], [])
    for name, kind in KINDS.items():
        ids = taken.setdefault(name, set())
        for read in found.records[name].values():
            record = _pointed_as_before(found, read, taken, made)
            gone = [(f, to) for f, to in kind.PARENTS.items() if not _there(record, f, taken[to])]
            key = (name, *(getattr(record, part) for part in kind.UNIQUE))
            if gone or (kind.UNIQUE and key in unique):
                why = _belongs_nowhere(record, *gone[0]) if gone else "there is another one like it"
                made.lost.append(f"{place_of(name, record.id, record)}: {why}. {ENTER}")
                continue
            record = _without_loose_ends(record, taken, made)
            made.records.append(record)
            ids.add(record.id)
            unique.add(key)
    return made


def _belongs_nowhere(record: Record, at: str, to: str) -> str:
    return f"it belongs to the {_words(to)} {getattr(record, at)}, which cannot be read"


def _without_loose_ends(record: Record, taken: dict[str, set[str]], made: Together) -> Record:
    """Return a record that points at nothing that is not there; say what it pointed at."""
    loose: dict[str, Any] = {
        f: None for f, to in type(record).LOOSE.items() if not _there(record, f, taken[to])
    }
    for at in loose:
        to = _words(type(record).LOOSE[at])
        made.lost.append(
            f"{place_of(record.KIND, record.id, record)}: its {to} is not there; now it has none. "
            f"Choose its {to} again."
        )
    return replace(record, **loose) if loose else record


def _pointed_as_before(
    found: WhatWasRead, record: Record, taken: dict[str, set[str]], made: Together
) -> Record:
    """Return a record with what it points at as it was, by the steps for undo, where it is gone."""
    kind = type(record)
    targets = {**kind.PARENTS, **kind.LOOSE}
    gone = [at for at, to in targets.items() if not _there(record, at, taken[to])]
    before = found.before(kind, record.id) if gone else None
    if before is None:
        return record
    back: dict[str, Any] = {
        at: getattr(before, at) for at in gone if _there(before, at, taken[targets[at]])
    }
    made.mended += [
        f"{place_of(record.KIND, record.id, record)}: its {_words(targets[at])} came from the steps "
        "for undo"
        for at in back
    ]
    return replace(record, **back)


def _words(kind: str) -> str:
    return kind.replace("_", " ")


def _there(record: Record, field: str, ids: set[str]) -> bool:
    value = getattr(record, field)
    return value is None or value in ids


@dataclass(frozen=True)
class Written:
    """How many kept files came, which did not, and what had to be mended in what was written."""

    files: int
    missing: tuple[str, ...]
    mended: tuple[str, ...]


def _write_whole(target: Path, folder: Path, found: WhatWasRead, records: list[Record]) -> Written:
    """Write into a folder beside it, which gets its name last: no half of it is a journal."""
    whole = target.absolute()
    part = whole.with_name(f".{whole.name[:40]}{PART}")
    try:
        with faults.passing(f"Nothing could be written to {target}.", whole.parent):
            whole.parent.mkdir(parents=True, exist_ok=True)
            _sweep_beside(whole)
            shutil.rmtree(part, ignore_errors=True)  # of one that was ended half-way
            written = _write_part(part, folder, found, records)
            if whole.exists():
                whole.rmdir()
            part.rename(whole)
            DISK.sync_folder(whole.parent)
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return written


def _sweep_beside(target: Path) -> None:
    """Remove what salvages into other folders left there when they were ended half-way.

    A name that begins with a dot and ends as passing ones do, with a journal in it that nobody
    holds and that was not touched lately, is one of these.
    """
    last = time.time() - copies.FRESH
    for left in target.parent.glob(f".*{PART}"):
        with contextlib.suppress(OSError, JournalError):
            path = left / sqlite.FILE_NAME
            if path.is_file() and max(p.stat().st_mtime for p in (left, path)) <= last:
                with replacing.alone(left):
                    pass
                shutil.rmtree(left)


def _write_part(part: Path, folder: Path, found: WhatWasRead, records: list[Record]) -> Written:
    with closing(Database(part, new=True)) as database:
        here, gone = _write(database, folder, found, records)
        missing = kept_names.named(database.path, gone)

        @cache
        def aside() -> Path:
            return copies.aside_folder(part)

        # What a row has that none can have was not all found row by row: it is mended as in any
        # journal that is damaged, so that what was written is whole.
        return Written(here, missing, tuple(repairing.repair(database, aside, ()).lines))


def _write(
    database: Database, folder: Path, found: WhatWasRead, records: list[Record]
) -> tuple[int, list[str]]:
    files = Files(folder / "attachments", folder / copies.FOLDER / FILES)
    here = []
    for sha in (*found.files, *_named(records) - found.files.keys()):
        data = files.read(sha)
        if data is not None:
            database.attachments.keep(data)
            here.append(sha)
    noted = dict.fromkeys(sha for sha in here if sha in found.files)

    def work(transaction: Transaction) -> None:
        transaction.name_attachments((sha, *found.files[sha]) for sha in noted)
        transaction.add(*records)

    database.change("Salvage a damaged journal", work)
    return len(here), [sha for sha in found.files if sha not in noted]


def _named(records: list[Record]) -> set[str]:
    """Return the kept files that records name, as their rows may be what was damaged."""
    return {getattr(one, name) for one in records for name in KEPT.get(type(one), ())}
