"""Bring cooks of before along: many cooks in one step to undo."""

from dataclasses import dataclass, replace
from itertools import groupby
from typing import ClassVar

from pitjournal.domain.cook import Cook
from pitjournal.domain.record import Record
from pitjournal.journal.commands.bench import Choose
from pitjournal.store.schema import RECORDS
from pitjournal.store.transaction import Transaction

_ORDER = {record.KIND: place for place, record in enumerate(RECORDS)}


@dataclass(frozen=True)
class BringCooks:
    """Add cooks with their parts, numbered on from the last in the order given."""

    records: tuple[Record, ...]
    label: str
    kept: tuple[str, str] | None = None
    """What was said of the table's columns, by a setting's name: asked no second time."""
    merge_key: str = ""
    large: ClassVar[str] = "import"

    def run(self, transaction: Transaction) -> None:
        """Add them, a kind at a time, parents first."""
        number = max((cook.number for cook in transaction.find(Cook)), default=0)
        ordered = sorted(self.records, key=lambda record: _ORDER[record.KIND])
        for _kind, group in groupby(ordered, key=lambda record: record.KIND):
            records = list(group)
            if isinstance(records[0], Cook):
                cooks = [record for record in records if isinstance(record, Cook)]
                records = [replace(cook, number=number + at) for at, cook in enumerate(cooks, 1)]
            transaction.add(*records)
        if self.kept is not None:
            Choose(*self.kept, self.label).run(transaction)
