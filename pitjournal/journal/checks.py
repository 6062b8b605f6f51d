"""Check that a journal is whole: database, kept files, traces, worked-out values."""

import gc
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from pitjournal.domain.trace import Trace
from pitjournal.errors import JournalError
from pitjournal.files.samples import unpack
from pitjournal.journal import impossible_values
from pitjournal.journal.jobs import Progress
from pitjournal.journal.journal import Journal, open_journal
from pitjournal.store import copies, kept_names, opening
from pitjournal.store.build import Foreign


@dataclass(frozen=True)
class BadRow:
    """A row that cannot be read: what sort of record, its id, and why."""

    kind: str
    id: str
    why: str


@dataclass(frozen=True)
class Check:
    """What a check found.

    Attributes
    ----------
    database, foreign_keys
        Whether the database is whole, and every record that is pointed at is there.
    checked, missing, changed
        How many kept files were looked at, are gone, or have other bytes than they had.
    unlike
        Which are gone or changed, in a cook's words.
    traces
        Whether each trace's readings can be unpacked and are as many as noted.
    derived
        Whether each kept worked-out value is what its records give now.
    older
        Whether they come from formulas of an older program: they will be worked out anew, and
        nothing is wrong.
    rows
        The rows that cannot be read and are left out, or have a value that cannot be.
    impossible
        The values that cannot be, in records that can be read: they stay, and count as unknown.
    rubbish
        How many files were left half-written; they harm nothing.
    looked
        Whether the database could be opened, so that all but itself could be looked at.
    lacking
        Tables and columns that are not there.
    foreign
        What another program put into the journal; what of it acts by itself does not hold.
    """

    database: bool
    foreign_keys: bool
    checked: int = 0
    missing: int = 0
    changed: int = 0
    unlike: tuple[str, ...] = ()
    traces: bool = False
    derived: bool = False
    rows: tuple[BadRow, ...] = ()
    impossible: tuple[BadRow, ...] = ()
    rubbish: int = 0
    older: bool = False
    looked: bool = True
    lacking: tuple[str, ...] = ()
    foreign: tuple[Foreign, ...] = ()

    @property
    def held(self) -> bool:
        """Whether everything held."""
        files = not self.missing and not self.changed
        known = files and self.traces and self.derived and not (self.rows or self.impossible)
        return self.database and self.foreign_keys and known and self.built

    @property
    def built(self) -> bool:
        """Whether all tables are there, and nothing of another program acts in them."""
        return not self.lacking and not any(one.acts for one in self.foreign)

    def as_json(self) -> dict[str, object]:
        """Return the documented keys; what was not looked at is null."""
        if not self.looked:
            names = (
                "foreign_keys",
                "attachments",
                "traces",
                "derived",
                "derived_older",
                "rows",
                "impossible",
            )
            return {
                "database": self.database,
                **dict.fromkeys(names),
                "lacking": list(self.lacking),
                "foreign": list(map(str, self.foreign)),
                "rubbish": self.rubbish,
                "held": False,
            }
        return {
            "database": self.database,
            "foreign_keys": self.foreign_keys,
            "attachments": {
                "checked": self.checked,
                "missing": self.missing,
                "changed": self.changed,
                "which": list(self.unlike),
            },
            "traces": self.traces,
            "derived": self.derived,
            "derived_older": self.older,
            "rows": [vars(row) for row in self.rows],
            "impossible": [vars(row) for row in self.impossible],
            "lacking": list(self.lacking),
            "foreign": list(map(str, self.foreign)),
            "rubbish": self.rubbish,
            "held": self.held,
        }


def check_folder(folder: Path, progress: Progress | None = None) -> Check:
    """Check the journal in a folder; nothing is changed.

    Raises
    ------
    JournalError
        If there is no journal, or it is one that this program cannot read.
    """
    folder = folder.expanduser()
    if opening.size_there(folder):
        built = opening.build_of(folder)
        if built is None or built.lacking:
            return Check(
                database=built is not None,
                foreign_keys=False,
                rubbish=copies.count_rubbish(folder),
                looked=False,
                lacking=built.lacking if built else (),
                foreign=built.foreign if built else (),
            )
    with closing(open_journal(folder, read_only=True)) as journal:
        return check_journal(journal, progress)


@contextmanager
def _uncollected() -> Iterator[None]:
    """Have no garbage looked for meanwhile: to look millions of records through takes a fifth.

    Records hold each other in no rings, so that what is let go of goes by itself. Where nobody
    collects anyway, as in the window, it stays so.
    """
    collects = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collects:
            gc.enable()


def check_journal(journal: Journal, progress: Progress | None = None) -> Check:
    """Check an open journal; `progress` is told how far it is, and may end it."""
    with _uncollected():
        return _check(journal, progress)


def _check(journal: Journal, progress: Progress | None) -> Check:
    database = journal.database
    whole, keys = database.integrity()
    built = database.build()
    kept = database.attachment_ids()
    unlike = []
    for place, sha in enumerate(kept):
        if progress is not None:
            progress.report(place / len(kept), f"{place} of {len(kept)} kept files")
        unlike.append(database.attachments.how(sha))
    wrong = [(sha, how) for sha, how in zip(kept, unlike, strict=True) if how]
    called = kept_names.named(database.path, (sha for sha, _ in wrong))
    odd, derived = odd_traces(journal), derived_hold(journal, progress)
    impossible = impossible_values.named(journal)
    found = Check(
        database=whole,
        foreign_keys=keys,
        checked=len(kept),
        missing=unlike.count("missing"),
        changed=unlike.count("changed"),
        unlike=tuple(f"{name} is {how}" for name, (_, how) in zip(called, wrong, strict=True)),
        traces=not odd,
        derived=derived,
        rows=(*bad_rows(journal), *odd),
        impossible=tuple(BadRow(*one) for one in impossible),
        rubbish=copies.count_rubbish(journal.folder),
        older=journal.worked_out.older,
        lacking=built.unmade,
        foreign=built.foreign,
    )
    if progress is not None:
        progress.report(1.0, "all looked at")
    return found


def bad_rows(journal: Journal) -> tuple[BadRow, ...]:
    """Name each record that could not be read so far, and what is wrong in those that can be."""
    database = journal.database
    found = [BadRow(kind, row_id, why) for (kind, row_id), why in sorted(database.missed.items())]
    return (*found, *(BadRow(*flaw) for flaw in database.flaws()))


def odd_traces(journal: Journal) -> tuple[BadRow, ...]:
    """Name each trace whose kept readings cannot be unpacked, or are not as many as noted."""
    found = ((trace, readings_of(journal, trace)) for trace in journal.find(Trace))
    return tuple(
        BadRow(
            Trace.KIND,
            trace.id,
            "samples cannot be read"
            if many is None
            else f"count is {trace.count}, and its readings are {many}",
        )
        for trace, many in found
        if many != trace.count
    )


def readings_of(journal: Journal, trace: Trace) -> int | None:
    """Return how many readings are kept of a trace; None where they cannot be unpacked."""
    try:
        return len(unpack(journal.files.read(trace.samples)).times)
    except JournalError:
        return None


def derived_hold(journal: Journal, progress: Progress | None = None) -> bool:
    """Whether each kept worked-out value is what its records give now.

    A cook that is to be worked out again anyhow is not looked at.
    """
    try:
        return journal.worked_out.agree(progress)
    except (JournalError, ValueError, TypeError, LookupError):  # the kept columns are damaged
        return False
