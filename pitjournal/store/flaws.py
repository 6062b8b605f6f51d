"""What is wrong in rows that can be read: they point at nothing, or hold a sign no text has."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from pitjournal.domain.event import Photo
from pitjournal.domain.record import Record, one_of
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.store.columns import fields_of
from pitjournal.store.schema import RECORDS, TABLES
from pitjournal.store.sqlite import quoted

KEPT: dict[type[Record], tuple[str, ...]] = {
    Photo: ("attachment", "thumbnail"),
    ProbeFile: ("attachment",),
    Trace: ("samples",),
}
"""Fields that name a kept file by its SHA-256."""

_IMAGE = "{0} IS NOT NULL AND (typeof({0}) <> 'text' OR NOT json_valid({0}))"
_KINDS = ", ".join(f"'{kind.KIND}'" for kind in RECORDS)
_HISTORY = {
    "operation": {
        "label": "typeof({0}) <> 'text'",
        "at": "typeof({0}) <> 'text' OR datetime({0}) IS NULL",
        "merge_key": "typeof({0}) <> 'text'",
        "undone": "typeof({0}) <> 'integer'",
    },
    "row_image": {
        "seq": "{0} NOT IN (SELECT seq FROM operation)",
        "kind": f"{{0}} NOT IN ({_KINDS})",
        "row_id": "typeof({0}) <> 'text'",
        "before": _IMAGE,
        "after": _IMAGE,
    },
}
"""When a column of the steps for undo is one that no step has."""


@dataclass(frozen=True)
class Flaw:
    """A value that its row cannot have although the row can be read.

    Attributes
    ----------
    kind
        The record.
    row
        All of its columns, as they are kept.
    name
        The column.
    why
        What is wrong with it, without the column's name.
    """

    kind: type[Record]
    row: dict[str, Any]
    name: str
    why: str


def named(connection: Connection) -> list[tuple[str, str, str]]:
    """Return all of these: table, id, and what is wrong with which column."""
    found = [
        (flaw.kind.KIND, str(flaw.row["id"]), f"{flaw.name} {flaw.why}")
        for flaw in (*pointers(connection), *nuls(connection))
    ]
    found += [
        (table, str(number), f"{name} is none that a step for undo has")
        for table, number, name in broken_steps(connection)
    ]
    found += [
        ("attachment", sha, f"{name} is none that a kept file has")
        for sha, name in broken_names(connection)
    ]
    return found


def pointers(connection: Connection) -> Iterator[Flaw]:
    """Yield what points at a record, or at a kept file, that is not there."""
    for kind in RECORDS:
        targets = {**kind.PARENTS, **kind.LOOSE} | dict.fromkeys(KEPT.get(kind, ()), "attachment")
        for name, target in targets.items():
            what = "a kept file" if target == "attachment" else one_of(target)
            where = f'"{name}" IS NOT NULL AND "{name}" NOT IN (SELECT id FROM {target})'  # noqa: S608 - our own names
            for row in _rows(connection, kind, where):
                yield Flaw(kind, row, name, f"points at {what} that is not there")


def nuls(connection: Connection) -> Iterator[Flaw]:
    """Yield texts with a NUL in them, which ends a text wherever C reads it."""
    for kind in RECORDS:
        texts = [name for name, (plain, _) in fields_of(kind).items() if plain is str]
        has = "typeof({0}) = 'text' AND instr({0}, char(0)) > 0"
        where = " OR ".join(has.format(quoted([name])) for name in texts)
        for row in _rows(connection, kind, where):
            for name in texts:
                if isinstance(row[name], str) and "\0" in row[name]:
                    yield Flaw(kind, row, name, "has a NUL in it, which is no sign")


def _rows(connection: Connection, kind: type[Record], where: str) -> Iterator[dict[str, Any]]:
    names = [column.name for column in TABLES[kind.KIND].c]
    query = f"SELECT {quoted(names)} FROM {kind.KIND} WHERE {where}"  # noqa: S608 - our own names
    for row in connection.exec_driver_sql(query).fetchall():
        yield dict(zip(names, row, strict=True))


def broken_steps(connection: Connection) -> list[tuple[str, int, str]]:
    """Return the rows of the steps for undo that no step has: table, number, column."""
    found = []
    for table, columns in _HISTORY.items():
        for name, wrong in columns.items():
            where = wrong.format(quoted([name]))
            query = f"SELECT rowid FROM {table} WHERE {where}"  # noqa: S608 - our own names
            found += [(table, row[0], name) for row in connection.exec_driver_sql(query)]
    return found


def broken_names(connection: Connection) -> list[tuple[str, str]]:
    """Return the kept files that are noted with a size, type or name that is none: id, column."""
    columns = {"id": "text", "size": "integer", "media_type": "text", "name": "text"}
    found = []
    for name, plain in columns.items():
        query = f"SELECT id FROM attachment WHERE typeof({name}) <> '{plain}'"  # noqa: S608 - our own names
        found += [(str(row[0]), name) for row in connection.exec_driver_sql(query)]
    return found
