"""The tables of a journal, made from the records of the domain, and those of its own."""

from sqlalchemy import (
    Column,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

from pitjournal.domain.alarm import Alarm
from pitjournal.domain.conclusion import Conclusion
from pitjournal.domain.contest import Carried, Category, Contest, JudgeCard
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.event import DonenessCheck, Event, Note, Photo
from pitjournal.domain.piece import Piece, Weighing
from pitjournal.domain.record import Record
from pitjournal.domain.scheme import Scheme
from pitjournal.domain.shelf import OwnValue, OwnVariable, SavedQuestion, Setting, ShelfItem
from pitjournal.domain.tasting import Sample, Score, Tasting, TastingNote
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.domain.treatment import FuelLoad, Seasoning, Treatment, WoodAddition
from pitjournal.store.columns import Moment, column_of, default_text, fields_of

SCHEMA_VERSION = (1, 7)
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
    Conclusion,
    OwnValue,
    Contest,
    Category,
    JudgeCard,
    Carried,
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

derived_block = Table(
    "derived_block",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("cooks", Text, nullable=False),
    Column("counts", Text, nullable=False),
    Column("pieces", Text, nullable=False),
)
"""Some cooks whose worked-out values lie together; a cache that can always be made again.

`cooks` and `pieces` are JSON lists of ids, `counts` of how many pieces each cook has.
"""

derived_column = Table(
    "derived_column",
    metadata,
    Column("block", ForeignKey("derived_block.id"), primary_key=True),
    Column("level", String(8), primary_key=True),
    Column("key", Text, primary_key=True, index=True),
    Column("numbers", LargeBinary),
    Column("codes", LargeBinary),
    Column("names", Text),
)
"""One variable over a block, as `domain.blocks.Column` has it; `names` is a JSON list."""

derived_place = Table(
    "derived_place",
    metadata,
    Column("cook_id", String(64), primary_key=True),
    Column("block", ForeignKey("derived_block.id"), nullable=False),
)
"""In which block a cook's values are."""

stale = Table(
    "stale",
    metadata,
    Column("cook_id", String(64), primary_key=True),
    Column("change", Integer, nullable=False, server_default="0"),
)
"""Cooks whose worked-out values are older than their records; `change` names the last change.

Whoever works a cook out notes the change first, and takes the row away only while it names the
same one: so no change is missed, whoever works at the same time.
"""

cook_text = Table(
    "cook_text",
    metadata,
    Column("seq", Integer, primary_key=True),
    Column("cook_id", String(64), nullable=False, unique=True),
    Column("words", Text, nullable=False),
)
"""All the words of a cook, for `text_search`; triggers keep it."""

version = Table(
    "schema_version",
    metadata,
    Column("major", Integer, primary_key=True),
    Column("minor", Integer, nullable=False),
)


def _table_of(record: type[Record]) -> Table:
    columns: list[Column[object]] = []
    for name, (_, optional) in fields_of(record).items():
        if name == "id":
            columns.append(Column("id", String(64), primary_key=True))
            continue
        target = record.PARENTS.get(name) or record.LOOSE.get(name)
        if target is None:
            default = None if optional else default_text(record, name)
            columns.append(
                Column(name, column_of(record, name), nullable=optional, server_default=default)
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

ROWS_INDEX = Index("row_image_by_row", row_image.c.row_id)
"""What became of one record is asked for each time a cook's findings are."""
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
