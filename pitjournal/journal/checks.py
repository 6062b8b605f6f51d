"""Check that a journal is whole: database, kept files, traces, worked-out values."""

from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from pitjournal.domain.trace import Trace
from pitjournal.errors import JournalError
from pitjournal.files.samples import unpack
from pitjournal.journal.journal import Journal, open_journal
from pitjournal.store import sqlite


@dataclass(frozen=True)
class Check:
    """What a check found.

    Attributes
    ----------
    database, foreign_keys
        Whether the database is whole, and every record that is pointed at is there.
    checked, missing, changed
        How many kept files were looked at, are gone, or have other bytes than they had.
    traces
        Whether each trace's readings can be unpacked and are as many as noted.
    derived
        Whether each kept worked-out value is what its records give now.
    """

    database: bool
    foreign_keys: bool
    checked: int = 0
    missing: int = 0
    changed: int = 0
    traces: bool = False
    derived: bool = False

    @property
    def held(self) -> bool:
        """Whether everything held."""
        files = not self.missing and not self.changed
        return self.database and self.foreign_keys and files and self.traces and self.derived

    def as_json(self) -> dict[str, object]:
        """Return the documented keys."""
        return {
            "database": self.database,
            "foreign_keys": self.foreign_keys,
            "attachments": {
                "checked": self.checked,
                "missing": self.missing,
                "changed": self.changed,
            },
            "traces": self.traces,
            "derived": self.derived,
            "held": self.held,
        }


def check_folder(folder: Path) -> Check:
    """Check the journal in a folder; nothing is changed.

    Raises
    ------
    JournalError
        If there is no journal, or it is one that this program cannot read.
    """
    path = folder.expanduser() / sqlite.FILE_NAME
    if path.is_file() and not sqlite.integrity(path)[0]:
        return Check(database=False, foreign_keys=False)
    with closing(open_journal(folder, read_only=True)) as journal:
        return check_journal(journal)


def check_journal(journal: Journal) -> Check:
    """Check an open journal."""
    database = journal.database
    whole, keys = database.integrity()
    kept = database.attachment_ids()
    unlike = [how for _, how in database.attachments.unlike(iter(kept))]
    return Check(
        database=whole,
        foreign_keys=keys,
        checked=len(kept),
        missing=unlike.count("missing"),
        changed=unlike.count("changed"),
        traces=traces_hold(journal),
        derived=derived_hold(journal),
    )


def traces_hold(journal: Journal) -> bool:
    """Whether each trace's kept readings can be unpacked and are as many as noted."""
    return all(_trace_holds(journal, trace) for trace in journal.find(Trace))


def _trace_holds(journal: Journal, trace: Trace) -> bool:
    try:
        kept = unpack(journal.attachment(trace.samples))
    except JournalError:
        return False
    return len(kept.times) == trace.count


def derived_hold(journal: Journal) -> bool:
    """Whether each kept worked-out value is what its records give now.

    A cook that is to be worked out again anyhow is not looked at.
    """
    return journal.worked_out.agree()
