"""Take the cooks of a bundle over: all that is new of them, in one step to undo."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from pitjournal.domain.record import Record
from pitjournal.journal.commands.bench import Choose
from pitjournal.journal.commands.bring import BringCooks
from pitjournal.journal.commands.files import KeptFile
from pitjournal.store.schema import KINDS
from pitjournal.store.transaction import Transaction


@dataclass(frozen=True)
class BringBundle:
    """Add records, change fields of others, and name the files they need.

    `changes` are a kind, an id, and what its fields become. Cooks are numbered on from the last.
    `alike` are settings that keep what both sides now know, by name.
    """

    records: tuple[Record, ...]
    changes: tuple[tuple[str, str, Mapping[str, Any]], ...]
    files: tuple[KeptFile, ...]
    label: str
    alike: tuple[tuple[str, str], ...] = ()
    merge_key: str = ""
    large: ClassVar[str] = "import"

    def run(self, transaction: Transaction) -> None:
        """Take it all over, or nothing."""
        files = ((one.sha, one.size, one.media_type, one.name) for one in self.files)
        transaction.name_attachments(files)
        BringCooks(self.records, self.label).run(transaction)
        for kind, row_id, fields in self.changes:
            transaction.change(KINDS[kind], row_id, fields)
        for name, value in self.alike:
            Choose(name, value, self.label).run(transaction)
