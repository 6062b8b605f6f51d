"""Ordered steps from an older schema to this one, each in the transaction of the opening.

A step is a function of a connection, registered for the version it makes. Before any step
runs, a copy of the journal's database goes to `backups`.

A version that only adds records and fields needs no step of its own: `widen` brings any
older minor up to the tables of today. A step is written by hand only where what is already
kept must change.
"""

from collections.abc import Callable, Mapping

from sqlalchemy import Connection, delete, insert, inspect, select, update
from sqlalchemy.schema import CreateColumn, CreateIndex

from pitjournal.store import text_search
from pitjournal.store.schema import (
    ROWS_INDEX,
    SCHEMA_VERSION,
    TABLES,
    derived_block,
    derived_column,
    derived_place,
    metadata,
    stale,
    version,
)

Version = tuple[int, int]
Step = Callable[[Connection], None]


def _first(connection: Connection) -> None:
    metadata.create_all(connection)
    connection.execute(insert(version).values(major=1, minor=0))


def widen(connection: Connection) -> None:
    """Add the tables and columns that a journal of an older minor does not have yet.

    What is worked out is forgotten, for it may hold less than today's program works out.
    """
    metadata.create_all(connection)
    found = inspect(connection)
    for table in metadata.sorted_tables:
        known = {column["name"] for column in found.get_columns(table.name)}
        added = [column for column in table.columns if column.name not in known]
        for column in added:
            words = CreateColumn(column).compile(dialect=connection.dialect)
            target = "".join(
                f" REFERENCES {key.column.table.name} ({key.column.name})"
                for key in column.foreign_keys
            )
            connection.exec_driver_sql(f"ALTER TABLE {table.name} ADD COLUMN {words}{target}")
        for index in table.indexes:
            if any(column in added for column in index.columns):
                connection.execute(CreateIndex(index))
    text_search.prepare(connection)
    connection.exec_driver_sql("DROP TABLE IF EXISTS derived")  # where minor 0 kept them
    for table in (derived_column, derived_place, derived_block):
        connection.execute(delete(table))
    connection.execute(delete(stale))
    connection.execute(insert(stale).from_select(["cook_id"], select(TABLES["cook"].c.id)))


def _with_rows_index(connection: Connection) -> None:
    """Widen, and find a record's steps without looking through the whole history."""
    widen(connection)
    ROWS_INDEX.create(connection, checkfirst=True)


STEPS: Mapping[Version, Step] = {(1, 0): _first, (1, 1): widen, (1, 2): _with_rows_index}
"""Step by the version it makes."""


def version_of(connection: Connection) -> Version | None:
    """Return the schema version of a database; None for an empty one."""
    if not connection.dialect.has_table(connection, version.name):
        return None
    row = connection.execute(select(version.c.major, version.c.minor)).first()
    if row is None or not all(isinstance(number, int) for number in row):
        return None
    return int(row[0]), int(row[1])


def is_newer(found: Version) -> bool:
    """Whether a journal of this version is too new for this program."""
    return found[0] > SCHEMA_VERSION[0]


def steps_from(
    found: Version | None, steps: Mapping[Version, Step] = STEPS, target: Version = SCHEMA_VERSION
) -> list[tuple[Version, Step]]:
    """Return the steps still to take, in order."""
    return sorted(
        (made, step)
        for made, step in steps.items()
        if made <= target and (found is None or made > found)
    )


def take(connection: Connection, steps: list[tuple[Version, Step]]) -> None:
    """Take the steps and write down the version they made."""
    for (major, minor), step in steps:
        step(connection)
        connection.execute(update(version).values(major=major, minor=minor))
