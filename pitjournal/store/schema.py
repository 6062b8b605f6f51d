"""The tables of a journal, made from the records of the domain, and those of its own."""

from sqlalchemy import (
    Column,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

from pitjournal.domain.alarm import Alarm
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.event import DonenessCheck, Event, Note, Photo
from pitjournal.domain.piece import Piece, Weighing
from pitjournal.domain.record import Record
from pitjournal.domain.scheme import Scheme
from pitjournal.domain.shelf import OwnValue, OwnVariable, SavedQuestion, Setting, ShelfItem
from pitjournal.domain.tasting import Sample, Score, Tasting, TastingNote
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.domain.treatment import FuelLoad, Seasoning, Treatment, WoodAddition
from pitjournal.store.columns import Moment, column_type, default_text, fields_of

SCHEMA_VERSION = (1, 1)
"""Major and minor: a program opens any minor of its own major, and no newer major."""

RECORDS: tuple[type[Record], ...] = (
    ShelfItem,
    Scheme,
    OwnVariable,
    SavedQuestion,
    Setting,
    Cook,
    Arm,
    Piece,
    Weighing,
    Treatment,
    Seasoning,
    FuelLoad,
    WoodAddition,
    Event,
    DonenessCheck,
    Note,
    Photo,
    ProbeFile,
    Trace,
    Alarm,
    Tasting,
    Sample,
    Score,
    TastingNote,
    OwnValue,
)
"""Every kind of record, parents before children."""

metadata = MetaData()

attachment = Table(
    "attachment",
    metadata,
    Column("id", String(64), primary_key=True),
    Column("size", Integer, nullable=False),
    Column("media_type", Text, nullable=False),
    Column("name", Text, nullable=False),
)
"""A file kept by its SHA-256; the bytes lie in the journal's folder."""

operation = Table(
    "operation",
    metadata,
    Column("seq", Integer, primary_key=True, autoincrement=True),
    Column("label", Text, nullable=False),
    Column("at", Moment, nullable=False),
    Column("merge_key", Text, nullable=False),
    Column("undone", Integer, nullable=False),
)
"""What was done, newest last: the way back and forth."""

row_image = Table(
    "row_image",
    metadata,
    Column("id", Integer, primary_key=True, autoincrement=True),
    Column("seq", ForeignKey("operation.seq", ondelete="CASCADE"), nullable=False, index=True),
    Column("kind", Text, nullable=False),
    Column("row_id", String(64), nullable=False),
    Column("before", Text),
    Column("after", Text),
)
"""A row before and after an operation, as JSON; null is "no such row"."""

derived = Table(
    "derived",
    metadata,
    Column("owner_id", String(64), primary_key=True),
    Column("cook_id", ForeignKey("cook.id", ondelete="CASCADE"), nullable=False, index=True),
    Column("level", String(8), nullable=False),
    Column("numbers", Text, nullable=False),
)
"""What was worked out from the records: a cache that can always be made again."""

stale = Table(
    "stale",
    metadata,
    Column("cook_id", String(64), primary_key=True),
)
"""Cooks whose derived rows are older than their records."""

version = Table(
    "schema_version",
    metadata,
    Column("major", Integer, primary_key=True),
    Column("minor", Integer, nullable=False),
)


def _table_of(record: type[Record]) -> Table:
    columns: list[Column[object]] = []
    for name, (kind, optional) in fields_of(record).items():
        if name == "id":
            columns.append(Column("id", String(64), primary_key=True))
            continue
        target = record.PARENTS.get(name) or record.LOOSE.get(name)
        if target is None:
            default = None if optional else default_text(record, name)
            columns.append(
                Column(name, column_type(kind), nullable=optional, server_default=default)
            )
        else:
            key = ForeignKey(f"{target}.id")
            columns.append(Column(name, String(64), key, nullable=optional, index=True))
    table = Table(record.KIND, metadata, *columns)
    if record.UNIQUE:
        table.append_constraint(UniqueConstraint(*record.UNIQUE))
    return table


TABLES: dict[str, Table] = {record.KIND: _table_of(record) for record in RECORDS}
"""Table by kind of record."""

KINDS: dict[str, type[Record]] = {record.KIND: record for record in RECORDS}

Index("cook_by_day", TABLES["cook"].c.starts_at, TABLES["cook"].c.number)
Index("event_by_time", TABLES["event"].c.cook_id, TABLES["event"].c.happened_at)


def _holders(field: str) -> dict[str, tuple[tuple[type[Record], str], ...]]:
    found: dict[str, tuple[tuple[type[Record], str], ...]] = {}
    for record in RECORDS:
        links = record.PARENTS if field == "PARENTS" else record.LOOSE
        for name, target in links.items():
            found[target] = (*found.get(target, ()), (record, name))
    return found


CHILDREN = _holders("PARENTS")
"""For each kind: the records and fields that go when it goes."""

LOOSE_ENDS = _holders("LOOSE")
"""For each kind: the records and fields that become unknown when it goes."""
