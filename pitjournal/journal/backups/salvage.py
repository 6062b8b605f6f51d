"""Write what can be read of a damaged journal into a new one, and name the rest."""

import contextlib
import shutil
import tempfile
import time
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from pitjournal.domain.cook import Cook
from pitjournal.domain.record import Record, one_of
from pitjournal.errors import JournalError
from pitjournal.journal.backups.keeping import FILES
from pitjournal.journal.backups.restoring import Files, choose
from pitjournal.store import (
    carrying,
    copies,
    faults,
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
class Salvaged:
    """What was written into the new journal, and what was not.

    Attributes
    ----------
    folder
        The new journal's.
    cooks, records
        How many of each were written.
    from_history
        How many of these only the steps for undo still had.
    files, files_missing
        How many kept files came along, and how many are gone or damaged.
    lost
        What could not be read, a line each.
    """

    folder: Path
    cooks: int
    records: int
    from_history: int
    files: int
    files_missing: int
    lost: tuple[str, ...]


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
        records = _that_hang_together(salvaging.salvage(path, backup, scratch))[0]
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
    try:
        with faults.scratch() as scratch:
            found = salvaging.salvage(path, _a_whole_backup(folder), scratch)
    except OSError as error:
        words, hint = disk_words(error)
        message = f"It cannot be read by way of {tempfile.gettempdir()}. {words}"
        raise NotSavedError(message, hint) from error
    records, lost = _that_hang_together(found)
    if not records:
        message = f"Nothing of {path} can be read."
        raise JournalError(message, "Restore a backup of it.")
    written = _write_whole(target, folder, found, records)
    return Salvaged(
        target,
        sum(isinstance(record, Cook) for record in records),
        len(records),
        len(found.from_history),
        written.files,
        written.missing,
        (
            *lost,
            *found.moved,
            *_unread(found),
            *(f"{n}: a newer program added it" for n in found.unknown),
            *written.mended,
        ),
    )


def _a_whole_backup(folder: Path) -> Path | None:
    kept = copies.kept(folder / copies.FOLDER)
    return next((copy.path for copy in kept if replacing.can_be_read(copy.path)), None)


def _that_hang_together(found: WhatWasRead) -> tuple[list[Record], list[str]]:
    """Return the records, parents first, whose parents are there; name the others."""
    taken: dict[str, set[str]] = {}
    unique: set[tuple[object, ...]] = set()
    records: list[Record] = []
    alone: Counter[str] = Counter()
    said: Counter[str] = Counter()
    for name, kind in KINDS.items():
        ids = taken.setdefault(name, set())
        for read in found.records[name].values():
            record = _pointed_as_before(found, read, taken, said)
            gone = [f for f, to in kind.PARENTS.items() if not _there(record, f, taken[to])]
            key = (name, *(getattr(record, part) for part in kind.UNIQUE))
            if gone or (kind.UNIQUE and key in unique):
                alone[name] += 1
                continue
            loose: dict[str, Any] = {
                f: None for f, to in kind.LOOSE.items() if not _there(record, f, taken[to])
            }
            for at in loose:
                said[f"{_words(name)} whose {_words(kind.LOOSE[at])} is not there; now none"] += 1
            records.append(replace(record, **loose) if loose else record)
            ids.add(record.id)
            unique.add(key)
    lost = [
        f"{_counted(count, name)} that belong to nothing that is there"
        for name, count in alone.items()
    ]
    return records, [*lost, *(f"{count} × {what}" for what, count in said.items())]


def _pointed_as_before(
    found: WhatWasRead, record: Record, taken: dict[str, set[str]], said: Counter[str]
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
    for at in back:
        which = _words(targets[at])
        said[f"{_words(kind.KIND)}: its {which} came from the steps for undo"] += 1
    return replace(record, **back)


def _words(kind: str) -> str:
    return kind.replace("_", " ")


def _there(record: Record, field: str, ids: set[str]) -> bool:
    value = getattr(record, field)
    return value is None or value in ids


def _counted(count: int, kind: str) -> str:
    return f"{count} × {kind.replace('_', ' ')}"


def _unread(found: WhatWasRead) -> list[str]:
    lines = [f"{one_of(kind)} ({row_id}): {why}" for (kind, row_id), why in found.missed.items()]
    for kind in sorted(found.broken):
        back = sum(name == kind for name, _ in found.from_history)
        also = f"; {back} came back from the steps for undo" if back else ""
        lines.append(f"a part of the {kind.replace('_', ' ')} records could not be reached{also}")
    return lines


@dataclass(frozen=True)
class Written:
    """How many kept files came and did not, and what had to be mended in what was written."""

    files: int
    missing: int
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
        here, missing = _write(database, folder, found, records)

        @cache
        def aside() -> Path:
            return copies.aside_folder(part)

        # What a row has that none can have was not all found row by row: it is mended as in any
        # journal that is damaged, so that what was written is whole.
        return Written(here, missing, tuple(repairing.repair(database, aside, ()).lines))


def _write(
    database: Database, folder: Path, found: WhatWasRead, records: list[Record]
) -> tuple[int, int]:
    files = Files(folder / "attachments", folder / copies.FOLDER / FILES)
    here = []
    for sha in (*found.files, *_named(records) - found.files.keys()):
        data = files.read(sha)
        if data is not None:
            database.attachments.keep(data)
            here.append(sha)
    noted = [sha for sha in here if sha in found.files]

    def work(transaction: Transaction) -> None:
        transaction.name_attachments((sha, *found.files[sha]) for sha in noted)
        transaction.add(*records)

    database.change("Salvage a damaged journal", work)
    return len(here), len(found.files) - len(noted)


def _named(records: list[Record]) -> set[str]:
    """Return the kept files that records name, as their rows may be what was damaged."""
    return {getattr(one, name) for one in records for name in KEPT.get(type(one), ())}
