"""Rows of a damaged database, as far as they can be reached."""

import contextlib
import sqlite3
from collections.abc import Generator, Iterator
from pathlib import Path
from typing import Any

from pitjournal.store import sqlite

AT_ONCE = 64
"""So many rows are read at a time; around a damaged place, one by one."""

MOST_GAP = 1 << 20
"""A stretch of so many row numbers without a readable row ends the walk from one side."""

BROKEN = (sqlite3.Error, UnicodeDecodeError)
"""What a damaged database refuses with."""


def open_tolerant(path: Path) -> sqlite3.Connection:
    """Open a damaged database, as far as it goes."""
    connection = sqlite3.connect(path)
    sqlite.tolerate(connection)
    with contextlib.suppress(*BROKEN):
        connection.execute("PRAGMA writable_schema=ON")  # bear a schema that does not parse
    return connection


def _is_view(connection: sqlite3.Connection, name: str) -> bool:
    with contextlib.suppress(*BROKEN):
        query = "SELECT 1 FROM sqlite_schema WHERE type = 'view' AND name = ?"
        return connection.execute(query, (name,)).fetchone() is not None
    return False


def known_columns(connection: sqlite3.Connection, table: str) -> set[str]:
    """Return the columns that a table has by the list; none of a view."""
    if _is_view(connection, table):
        return set()
    try:
        rows = connection.execute("SELECT name FROM pragma_table_info(?)", (table,)).fetchall()
    except BROKEN:
        return set()
    return {name for (name,) in rows}


def rows_of(
    connection: sqlite3.Connection, table: str, columns: str, broken: set[str]
) -> Iterator[tuple[Any, ...]]:
    """Yield the rows of a table that can be reached, from both sides of what is damaged.

    A table of which a part cannot be reached is added to `broken`.
    """
    seen: set[int] = set()
    for step in (1, -1):
        whole = yield from _walk(connection, (table, columns), step, seen)
        if whole:
            return
        broken.add(table)


def _walk(
    connection: sqlite3.Connection, what: tuple[str, str], step: int, seen: set[int]
) -> Generator[tuple[Any, ...], None, bool]:
    """Walk through a table by row number; return whether nothing was in the way."""
    table, columns = what
    order, sign = ("", ">") if step > 0 else ("DESC", "<")
    query = (
        f"SELECT rowid, {columns} FROM {table} NOT INDEXED "  # noqa: S608 - our own names
        f"WHERE rowid {sign} ? ORDER BY rowid {order} LIMIT ?"
    )
    at, skip, many, whole = -step * (1 << 62), 1, AT_ONCE, True
    while True:
        try:
            rows = connection.execute(query, (at, many)).fetchall()
            if rows and step * (rows[-1][0] - at) <= 0:  # swapped pages lead round in a ring
                raise sqlite3.DatabaseError
        except BROKEN:
            whole = False
            if many > 1:
                many = 1
                continue
            if abs(at) >= 1 << 61 or skip > MOST_GAP:
                return whole
            at += step * skip  # over what is damaged, in longer and longer steps
            skip *= 2
            continue
        if not rows:
            return whole
        for row in rows:
            if row[0] not in seen:
                seen.add(row[0])
                yield row[1:]
        at, skip, many = rows[-1][0], 1, AT_ONCE
