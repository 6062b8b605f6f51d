"""The particulars of SQLite: the one place that knows which database this is."""

import sqlite3
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, Insert, Select, Table, create_engine, event
from sqlalchemy.dialects.sqlite import pysqlite
from sqlalchemy.exc import DatabaseError

FILE_NAME = "journal.sqlite"


def engine_for(path: Path, *, read_only: bool = False, synced: bool = True) -> Engine:
    """Return an engine on a journal's file: WAL, foreign keys on, each commit synced to disk.

    What is written without `synced` may be lost with the power, but only all of it together.
    """
    query = {"mode": "ro" if read_only else "rwc", "uri": "true"}
    address = URL.create("sqlite+pysqlite", database=path.absolute().as_uri(), query=query)
    engine = create_engine(address, connect_args={"timeout": 2.0})

    def prepare(connection: sqlite3.Connection, _record: object) -> None:
        connection.isolation_level = None  # the driver's own BEGIN leaves table changes out
        connection.execute("PRAGMA foreign_keys=ON")
        connection.execute(f"PRAGMA synchronous={'FULL' if synced else 'NORMAL'}")
        if not read_only:
            connection.execute("PRAGMA journal_mode=WAL")

    def begin(connection: Connection) -> None:
        # A transaction that reads before it writes would be refused at once when another wrote
        # meanwhile; one that takes the lock first waits for it.
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    event.listen(engine, "connect", prepare)
    event.listen(engine, "begin", begin)
    return engine


class Plain:
    """An insert as the driver takes it, made once: a tap must not spend its time on making it.

    Parameters
    ----------
    statement
        An insert into all columns, or into those named.
    names
        The columns; all where none is named.
    """

    def __init__(self, statement: Insert, *names: str) -> None:
        dialect = pysqlite.dialect()
        columns = statement.table.c
        keys = list(names) or [column.key for column in columns]
        compiled = statement.compile(dialect=dialect, column_keys=keys)
        self._words = str(compiled)
        self._columns = tuple(
            (name, columns[name].type.bind_processor(dialect))
            for name in compiled.positiontup or ()
        )

    def run(self, connection: Connection, rows: Sequence[Mapping[str, object]]) -> int:
        """Insert rows; return the number that the last one got."""
        values = [
            tuple(row[name] if made is None else made(row[name]) for name, made in self._columns)
            for row in rows
        ]
        done = connection.exec_driver_sql(self._words, values if len(values) > 1 else values[0])
        return int(done.lastrowid or 0)


class Question:
    """A select of whole rows as the driver takes it, made once for the same reason.

    Parameters
    ----------
    statement
        A select of all columns of a table; what is bound is named as its column.
    table
        The table.
    """

    def __init__(self, statement: Select[Any], table: Table) -> None:
        dialect = pysqlite.dialect()
        compiled = statement.compile(dialect=dialect)
        self._words = str(compiled)
        self._columns = tuple(
            (name, table.c[name].type.bind_processor(dialect))
            for name in compiled.positiontup or ()
        )
        self._found = tuple(c.type.result_processor(dialect, None) for c in table.c)

    def ask(self, connection: Connection, values: Mapping[str, object]) -> list[tuple[Any, ...]]:
        """Return the rows."""
        bound = tuple(
            values[name] if made is None else made(values[name]) for name, made in self._columns
        )
        rows = connection.exec_driver_sql(self._words, bound).fetchall()
        return [
            tuple(
                value if made is None else made(value)
                for value, made in zip(row, self._found, strict=True)
            )
            for row in rows
        ]


def integrity(path: Path) -> tuple[bool, bool]:
    """Return whether SQLite's own check holds, and whether every foreign key does."""
    with sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True) as connection:
        try:
            whole = connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            keys = connection.execute("PRAGMA foreign_key_check").fetchone() is None
        except sqlite3.DatabaseError:
            return False, False
    connection.close()
    return whole, keys


def copy_live(path: Path, target: Path, progress: Callable[[int, int, int], None] | None) -> None:
    """Copy a database that may be open, whole and consistent (SQLite's online backup)."""
    source = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
    copy = sqlite3.connect(target)
    try:
        source.backup(copy, progress=progress, pages=1024)
    finally:
        copy.close()
        source.close()


def why_not_saved(error: DatabaseError) -> str | None:
    """Return in a cook's words why the disk or a lock refused, or None for any other fault."""
    text = str(error.orig).lower()
    if "disk is full" in text or "disk i/o" in text:
        return "The disk is full or cannot be written."
    if "locked" in text or "busy" in text:
        return "Another program holds the journal."
    if "readonly" in text or "read-only" in text:
        return "The journal can only be read."
    return None
