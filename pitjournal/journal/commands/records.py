"""Commands on any record: add, change a field, remove."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from pitjournal.domain.cook import Cook
from pitjournal.domain.plausible import LOOK_AGAIN, impossible
from pitjournal.domain.record import Measured, Record
from pitjournal.errors import JournalError
from pitjournal.store.transaction import Transaction


@dataclass(frozen=True)
class Add:
    """Add records, parents first."""

    records: tuple[Record, ...]
    label: str
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Add them."""
        transaction.add(*self.records)


@dataclass(frozen=True)
class AddCook:
    """Add a cook with its arms, pieces and the rest; it gets the next number."""

    cook: Cook
    parts: tuple[Record, ...] = ()
    label: str = "Start a cook"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Add it under the next free number."""
        last = max((cook.number for cook in transaction.find(Cook)), default=0)
        transaction.add(replace(self.cook, number=last + 1), *self.parts)


@dataclass(frozen=True)
class Change:
    """Change fields of one record. Typing in one field is one step to undo.

    `typed` maps a quantity's field to the words the cook typed.
    """

    kind: type[Record]
    record_id: str
    fields: Mapping[str, Any]
    label: str = "Edit"
    typed: Mapping[str, str] = field(default_factory=dict)

    @property
    def merge_key(self) -> str:
        """One step for one field of one record."""
        return f"{self.record_id}:{','.join(sorted(self.fields))}"

    def run(self, transaction: Transaction) -> None:
        """Change them."""
        fields = dict(self.fields)
        record = transaction.get(self.kind, self.record_id)
        refuse_impossible(record, fields)
        if self.typed and isinstance(record, Measured):
            fields["typed"] = {**record.typed, **self.typed}
        transaction.change(self.kind, self.record_id, fields)


def refuse_impossible(old: Record, fields: Mapping[str, Any]) -> None:
    """Refuse a quantity that cannot be; what was kept once can be mended in other things.

    Raises
    ------
    JournalError
        With why it cannot be.
    """
    for name, value in fields.items():
        why = impossible(old.KIND, name, value) if value != getattr(old, name) else ""
        if why:
            raise JournalError(why, LOOK_AGAIN)


@dataclass(frozen=True)
class Remove:
    """Remove one record and what hangs from it."""

    kind: type[Record]
    record_id: str
    label: str = "Remove"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Remove it."""
        transaction.remove(self.kind, self.record_id)


@dataclass(frozen=True)
class Together:
    """Several commands as one step."""

    commands: tuple[Any, ...]
    label: str
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Run them in turn."""
        for command in self.commands:
            command.run(transaction)
