"""Whether a database is built as this program builds it, and what in it is another's.

A trigger that another program left runs with each tap, unseen, and a table that is gone takes
its records with it although the database hangs together.
"""

import re
import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from pitjournal.store import text_search
from pitjournal.store.schema import SCHEMA_VERSION, TABLES, attachment, metadata, operation
from pitjournal.store.schema import row_image as image_table

_KEPT = {*TABLES, attachment.name, operation.name, image_table.name}
"""Tables of which nothing can be worked out again."""

_SEARCH = "cook_words"
_BUILT = (
    "SELECT built.type, built.name, coalesce(built.sql, ''), column.name "
    "FROM sqlite_schema AS built LEFT JOIN pragma_table_info(built.name) AS column "
    "ON built.type = 'table'"
)
_WRITES = re.compile(
    r"\b(?:insert\s+into|replace\s+into|insert\s+or\s+\w+\s+into|delete\s+from|update(?!\s+(?:of|set)\b)"
    r"(?:\s+or\s+\w+)?)\s+[\"'\[`]?(\w+)",
    re.IGNORECASE,
)


class Foreign(NamedTuple):
    """What another program put into a journal: "trigger", "view", "table" or "index", its name."""

    kind: str
    name: str
    sql: str

    def __str__(self) -> str:
        return f"the {self.kind} {self.name}"

    @property
    def acts(self) -> bool:
        """Whether it does something by itself when the journal is written."""
        return self.kind in {"trigger", "index"}


@dataclass(frozen=True)
class Build:
    """How a database is built.

    Attributes
    ----------
    foreign
        What is in it that no version of this program makes.
    lacking
        Tables and columns of records that are not there, in words; of a journal that is to be
        brought up to date first nothing is known.
    unmade
        Of what only serves the search of words, what is not there or not as it is made.
    """

    foreign: tuple[Foreign, ...] = ()
    lacking: tuple[str, ...] = ()
    unmade: tuple[str, ...] = ()


def look(connection: sqlite3.Connection) -> Build:
    """Look at how a database is built: one query."""
    built: dict[tuple[str, str], str] = {}
    columns: dict[str, set[str]] = {}
    for kind, name, sql, column in connection.execute(_BUILT).fetchall():
        built[kind, name] = sql
        if column is not None:
            columns.setdefault(name, set()).add(column)
    age = age_of(connection)
    return Build(
        tuple(_foreign(built, age)),
        ()
        if age < 0
        else tuple(_lacking(built, columns, numbered=_format_of(connection) is not None)),
        () if age else tuple(_unmade(built)),
    )


def taken_out_words(what: Sequence[str]) -> str:
    """Return what is said of things of another program that were taken out; nothing of none."""
    if not what:
        return ""
    return (
        f"Another program had put {' and '.join(what)} into this journal. It was taken out "
        "before it ran, and lies among the backups (aside)."
    )


def strip(connection: sqlite3.Connection) -> tuple[Foreign, ...]:
    """Take out what another program put in that acts by itself; return what that was.

    In a transaction it is part of it.
    """
    gone = tuple(one for one in look(connection).foreign if one.acts)
    for one in gone:
        quoted = one.name.replace('"', '""')
        connection.execute(f'DROP {one.kind} IF EXISTS "{quoted}"')
    return gone


def age_of(connection: sqlite3.Connection) -> int:
    """Return whether the format is older (-1), today's (0) or newer (1)."""
    found = _format_of(connection) or SCHEMA_VERSION
    return int(found > SCHEMA_VERSION) - int(found < SCHEMA_VERSION)


def _format_of(connection: sqlite3.Connection) -> tuple[int, int] | None:
    try:
        found = connection.execute("SELECT major, minor FROM schema_version").fetchone()
    except sqlite3.OperationalError:  # "no such table"
        return None
    numbers = found is not None and all(isinstance(number, int) for number in found)
    return (found[0], found[1]) if numbers else None


def _foreign(built: dict[tuple[str, str], str], age: int) -> Iterator[Foreign]:
    ours = {*metadata.tables, _SEARCH, "derived"}  # the last where minor 0 kept them
    own = dict(text_search.own_triggers())
    for (kind, name), sql in built.items():
        if kind == "trigger":
            harmless = text_search.is_own_trigger(name) and _only_words(sql)
            if sql != own.get(name) and not harmless:
                yield Foreign(kind, name, sql)
        elif kind == "view":
            yield Foreign(kind, name, sql)
        elif kind == "index":
            # One that is no more than quicker harms nothing; a unique one refuses rows.
            if sql.upper().startswith("CREATE UNIQUE"):
                yield Foreign(kind, name, sql)
        elif age <= 0 and name not in ours and not name.startswith((f"{_SEARCH}_", "sqlite_")):
            yield Foreign(kind, name, sql)


def _only_words(sql: str) -> bool:
    """Whether a trigger writes nowhere but into the words that are searched."""
    _, _, body = sql.partition("BEGIN")
    return {name.lower() for name in _WRITES.findall(body)} <= {"cook_text", _SEARCH}


def _lacking(
    built: dict[tuple[str, str], str], columns: dict[str, set[str]], *, numbered: bool
) -> Iterator[str]:
    if not numbered:
        yield "the number of its format"
    for table in metadata.sorted_tables:
        if table.name not in _KEPT:
            continue
        if ("table", table.name) not in built:
            instead = " (a view has its name)" if ("view", table.name) in built else ""
            yield f"the table {table.name}{instead}"
            continue
        for column in table.c:
            if column.name not in columns.get(table.name, set()):
                yield f"the column {column.name} of the table {table.name}"


def _unmade(built: dict[tuple[str, str], str]) -> Iterator[str]:
    for name in (*sorted(set(metadata.tables) - _KEPT), _SEARCH):
        if ("table", name) not in built:
            yield f"the table {name}"
    for name, sql in text_search.own_triggers():
        if built.get(("trigger", name)) != sql:
            yield f"the trigger {name}"
