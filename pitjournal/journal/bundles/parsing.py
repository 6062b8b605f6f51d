"""From the tables of a bundle to records; a row that cannot be one is left out, and named."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any

from pitjournal.domain.record import Record
from pitjournal.domain.shelf import OwnVariable, ShelfItem, plain_name
from pitjournal.domain.times.moments import time_zone
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.errors import JournalError
from pitjournal.files.bundle import BundleRead, TableRead
from pitjournal.journal.bundles.cells import values_of
from pitjournal.journal.bundles.records_out import TABLE_WORDS
from pitjournal.journal.journal import Journal
from pitjournal.store.attachments import is_sha
from pitjournal.store.columns import fields_of
from pitjournal.store.flaws import KEPT
from pitjournal.store.schema import KINDS, RECORDS

_ID = re.compile(r"[0-9a-f]{32}")
_SHIPPED = re.compile(r"[\w.-]{1,64}")
"""Ids of schemes that the program ships are words."""


@dataclass(frozen=True)
class Left:
    """A row that was left out: its table, its number as a spreadsheet shows it, and why."""

    table: str
    row: int
    why: str


@dataclass
class Parsed:
    """What the tables hold.

    Attributes
    ----------
    records
        Every record, parents before children.
    left
        Rows that are none.
    renamed
        Ids of things on the Shelf and of own variables that are here under another id.
    """

    records: list[Record] = field(default_factory=list)
    left: list[Left] = field(default_factory=list)
    renamed: dict[str, str] = field(default_factory=dict)


def parse(journal: Journal, read: BundleRead) -> Parsed:
    """Return the records of a bundle, with what is here already under another id put right."""
    parser = _Parser(journal)
    for kind in RECORDS:
        table = read.tables.get(kind.KIND)
        if table is not None and kind.KIND in TABLE_WORDS:
            parser.take(kind, table)
    return parser.found


class _Parser:
    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        self.found = Parsed()
        self._there: dict[str, set[str]] = {}
        self._shelf = {(i.kind, plain_name(i.name)): i.id for i in journal.find(ShelfItem)}
        own = journal.find(OwnVariable)
        self._own = {(v.level, v.kind, plain_name(v.name)): v.id for v in own}

    def take(self, kind: type[Record], table: TableRead) -> None:
        """Take the rows of one table."""
        known = self._known(kind.KIND)
        for number, row in enumerate(table.rows, start=2):
            cells = dict(zip(table.heads, row, strict=True))
            try:
                record = self._record(kind, cells)
                self._belongs(record)
            except (ValueError, TypeError, JournalError) as error:
                self.found.left.append(Left(kind.KIND, number, _why(error)))
                continue
            if record.id in self.found.renamed:
                continue
            if record.id in known:
                self.found.left.append(Left(kind.KIND, number, "it stands there twice"))
                continue
            known.add(record.id)
            self.found.records.append(record)

    def _known(self, kind: str) -> set[str]:
        """Return the ids of a kind in the bundle so far."""
        return self._there.setdefault(kind, set())

    def _record(self, kind: type[Record], cells: Mapping[str, str]) -> Record:
        values: dict[str, Any] = values_of(kind, cells)
        if kind is Treatment:
            _in_other_words(values)
        for name, (plain, _) in fields_of(kind).items():
            if issubclass(plain, StrEnum) and values.get(name) is not None:
                if values[name] not in list(plain):
                    message = f"{name}: {str(values[name])[:40]!r} is none of: {', '.join(plain)}"
                    raise ValueError(message)
                values[name] = plain(values[name])
        if "zone" in values:
            time_zone(str(values["zone"]))
        self._check_names(kind, values)
        record = kind(**values)
        mine = self._under_another_id(record)
        if mine is not None and mine != record.id:
            self.found.renamed[record.id] = mine
        return self._linked(record)

    @staticmethod
    def _check_names(kind: type[Record], values: Mapping[str, object]) -> None:
        """See that ids are ids and files are named by a SHA-256: they become names on the disk."""
        allowed = _SHIPPED if kind.KIND == "scheme" else _ID
        if not allowed.fullmatch(str(values.get("id"))):
            raise ValueError("its id is none")
        for name in KEPT.get(kind, ()):
            if not is_sha(values.get(name)):
                message = f"{name} names no file"
                raise ValueError(message)

    def _under_another_id(self, record: Record) -> str | None:
        if isinstance(record, ShelfItem):
            return self._shelf.get((record.kind, plain_name(record.name)))
        if isinstance(record, OwnVariable):
            return self._own.get((record.level, record.kind, plain_name(record.name)))
        return None

    def _linked(self, record: Record) -> Record:
        """Return a record whose links lead to what is here under another id."""
        links = (*record.PARENTS, *record.LOOSE)
        changed: dict[str, Any] = {}
        for name in links:
            value = getattr(record, name)
            if value in self.found.renamed:
                changed[name] = self.found.renamed[value]
        for name, target in record.LOOSE.items():
            value = changed.get(name, getattr(record, name))
            if value is not None and not self._is_there(target, value):
                changed[name] = None
        return replace(record, **changed) if changed else record

    def _belongs(self, record: Record) -> None:
        for name, target in record.PARENTS.items():
            value = getattr(record, name)
            if value is not None and not self._is_there(target, value):
                message = f"its {TABLE_WORDS[target].split(':')[0].casefold()} row is missing"
                raise ValueError(message)

    def _is_there(self, kind: str, row_id: str) -> bool:
        if row_id in self._known(kind):
            return True
        return bool(self._journal.find(KINDS[kind], id=row_id))


def _in_other_words(values: dict[str, Any]) -> None:
    """Keep a treatment that is called otherwise here: what was done to meat is never left out."""
    said = str(values.get("kind") or "").strip()
    if said and said not in list(TreatmentKind):
        note = str(values.get("note") or "").strip()
        values.update(kind=TreatmentKind.OTHER, note=f"{said}: {note}" if note else said)


def _why(error: Exception) -> str:
    if isinstance(error, JournalError):
        return error.message
    if isinstance(error, TypeError):
        return "something it needs is missing"
    return str(error)


def files_of(records: list[Record]) -> Iterator[str]:
    """Give the SHA-256 of each file that records name, once."""
    seen: set[str] = set()
    for record in records:
        for name in KEPT.get(type(record), ()):
            sha = getattr(record, name)
            if sha not in seen:
                seen.add(sha)
                yield sha
