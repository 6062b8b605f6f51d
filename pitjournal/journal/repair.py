"""Repair a journal: make anew what is derived, sweep, move aside what is broken."""

import contextlib
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from pitjournal.domain.trace import Trace
from pitjournal.errors import JournalError
from pitjournal.journal.backups.keeping import FILES
from pitjournal.journal.backups.restoring import Files, in_zips
from pitjournal.journal.checks import Check, check_journal, readings_of
from pitjournal.journal.impossible_values import doubled_numbers, wrong_sizes
from pitjournal.journal.journal import Journal, open_journal
from pitjournal.store import copies, kept_names, noting, repairing
from pitjournal.store.disk import DISK
from pitjournal.store.faults import DamagedError, NotSavedError, disk_words

A_DAY = 86_400.0
"""A kept file that no record names is rubbish once it is so old, s: a younger one may belong to
an import under way."""


@dataclass(frozen=True)
class Repaired:
    """What a repair did, and how the journal is now.

    Attributes
    ----------
    done
        What was mended, a line each.
    left
        What could not be, a line each.
    swept, swept_bytes
        How many files of no use were removed.
    aside
        Where what was broken lies now; None where nothing had to be moved.
    check
        The journal afterwards.
    """

    done: tuple[str, ...]
    left: tuple[str, ...]
    swept: int
    swept_bytes: int
    aside: Path | None
    check: Check

    def as_json(self) -> dict[str, object]:
        """Return the documented keys."""
        return {
            "done": list(self.done),
            "left": list(self.left),
            "swept": {"files": self.swept, "bytes": self.swept_bytes},
            "aside": None if self.aside is None else str(self.aside),
            "check": self.check.as_json(),
        }


def repair_folder(folder: Path) -> Repaired:
    """Repair the journal in a folder; a backup of it as it is is made first.

    Raises
    ------
    JournalError
        If it is open elsewhere, cannot be written, or its database is damaged so that only a
        backup or a salvage helps; nothing was changed then.
    """
    with closing(open_journal(folder)) as journal:
        if journal.why_read_only is not None:
            raise JournalError(*journal.why_read_only)
        try:
            return _repair(journal)
        except OSError as error:
            words, hint = disk_words(error)
            raise NotSavedError(f"The repair stopped half-way. {words}", hint) from error


def _repair(journal: Journal) -> Repaired:
    database = journal.database
    done = [f"{what} was another program's; it was taken out" for what in database.taken_out]
    if not database.integrity()[0]:
        with contextlib.suppress(NotSavedError):  # where a table itself is damaged
            database.rebuild_indexes()
        if not database.integrity()[0]:
            message = f"The journal's database is damaged: {database.path}."
            raise DamagedError(message, "Restore a backup, or save what can be read (salvage).")
        done.append("indexes made anew")
    before = database.back_up("before-repair")
    made = []

    @cache
    def aside() -> Path:
        made.append(copies.aside_folder(journal.folder))
        return made[0]

    done += repairing.repair(database, aside, journal.backups.kept()).lines
    back, left = _files(journal, aside)
    done += [*back, *_counts(journal), *_numbers(journal), *_sizes(journal)]
    if not done and not made:  # nothing was changed that is not worked out: no copy is needed
        with contextlib.suppress(OSError):
            before.path.unlink()
    journal.worked_out.catch_up()
    swept, size = journal.backups.sweep()
    more, more_size = _sweep_unnamed(journal)
    database.missed.clear()
    return Repaired(
        tuple(done),
        tuple(left),
        swept + more,
        size + more_size,
        made[0] if made else None,
        check_journal(journal),
    )


def _counts(journal: Journal) -> list[str]:
    """Note of traces how many readings they have; return a line for each that said otherwise."""
    found = [(trace, readings_of(journal, trace)) for trace in journal.find(Trace)]
    wrong = {t.id: many for t, many in found if many is not None and many != t.count}
    if wrong:
        noting.set_counts(journal.database, wrong)
    return [f"a trace ({trace_id}): it has {many} readings" for trace_id, many in wrong.items()]


def _numbers(journal: Journal) -> list[str]:
    """Give each cook whose number an older one has a free one; return a line for each."""
    doubled = doubled_numbers(journal)
    if doubled:
        noting.set_numbers(journal.database, {c: free for c, (_, free) in doubled.items()})
    return [
        f"a cook ({c}): number {now} was there twice, it has {free} now"
        for c, (now, free) in doubled.items()
    ]


def _sizes(journal: Journal) -> list[str]:
    """Note of kept files how many bytes they have; return a line for each that said otherwise."""
    wrong = wrong_sizes(journal)
    if wrong:
        noting.set_sizes(journal.database, {sha: real for sha, (_, real) in wrong.items()})
    return [f"a kept file ({sha[:12]}…): it has {real} bytes" for sha, (_, real) in wrong.items()]


def _files(journal: Journal, aside: Callable[[], Path]) -> tuple[list[str], list[str]]:
    """Bring back kept files that are missing or changed; return which came back, which did not."""
    attachments = journal.database.attachments
    back: list[str] = []
    left: list[str] = []
    spare = Files(journal.folder / copies.FOLDER / FILES)
    unlike = list(attachments.unlike(iter(journal.database.attachment_ids())))
    called = kept_names.named(journal.database.path, (sha for sha, _ in unlike))
    for (sha, how), name in zip(unlike, called, strict=True):
        if how == "changed":
            DISK.settle(attachments.path(sha), aside() / sha)
        data = spare.read(sha)
        if data is None:
            data = in_zips(journal.folder / copies.FOLDER, sha)
        if data is None:
            left.append(f"{name} is {how}, and no backup has it")
        else:
            attachments.keep(data)
            back.append(f"{name} was {how} and came back from the backups")
    return back, left


def _sweep_unnamed(journal: Journal) -> tuple[int, int]:
    """Remove kept files that no record ever named: of an import that was ended half-way."""
    named = set(journal.database.attachment_ids())
    files = size = 0
    for path in journal.database.attachments.folder.glob("??/*"):
        with contextlib.suppress(OSError):
            found = path.stat()
            if path.name not in named and found.st_mtime < time.time() - A_DAY:
                path.unlink()
                files, size = files + 1, size + found.st_size
    return files, size
