"""Mend a database: what is derived is made anew, and rows that are broken are moved aside."""

import json
import os
from collections.abc import Callable, Sequence
from dataclasses import MISSING, dataclass, field, fields
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, delete, insert, select
from sqlalchemy.dialects.sqlite import pysqlite

from pitjournal.domain.record import Record
from pitjournal.store import sqlite, text_search
from pitjournal.store.columns import fields_of, moment_text
from pitjournal.store.database import Database
from pitjournal.store.rows import Missed, records_of
from pitjournal.store.schema import (
    CHILDREN,
    KINDS,
    RECORDS,
    TABLES,
    derived_block,
    derived_column,
    derived_place,
    stale,
)

_DIALECT = pysqlite.dialect()


@dataclass
class Mended:
    """What a repair did to the rows: a line each, and the rows as they were."""

    lines: list[str] = field(default_factory=list)
    rows: list[dict[str, object]] = field(default_factory=list)

    def keep(self, kind: str, row: dict[str, object], what: str) -> None:
        """Note a row as it was, and what becomes of it."""
        self.rows.append({"table": kind, "what": what, "row": row})
        self.lines.append(f"a {kind.replace('_', ' ')} ({row['id']}): {what}")


def repair(database: Database, aside: Callable[[], Path]) -> Mended:
    """Mend the rows and make what is derived anew, in one transaction.

    A value that cannot be read becomes what it is without one, or, for a time, when its record
    was made, as its id says (RFC 9562, 5.7); where neither can be, the row goes with what
    hangs from it. Each such row is first written, as it was, to a file aside.

    Parameters
    ----------
    aside
        Makes the folder for that file when there is something to put there.
    """
    mended = Mended()
    with database.writing() as connection:
        for kind in RECORDS:
            _mend_rows(connection, kind, mended)
        while _mend_pointers(connection, mended):
            pass
        connection.exec_driver_sql(
            "DELETE FROM row_image WHERE seq NOT IN (SELECT seq FROM operation)"
        )
        _derive_anew(connection)
        if mended.rows:
            _write_aside(aside() / "rows.jsonl", mended.rows)
    return mended


def _write_aside(path: Path, rows: Sequence[dict[str, object]]) -> None:
    with path.open("x", encoding="utf-8") as file:
        for row in rows:
            file.write(json.dumps(row, ensure_ascii=False, default=repr) + "\n")
        file.flush()
        os.fsync(file.fileno())


def _derive_anew(connection: Connection) -> None:
    for table in (derived_column, derived_place, derived_block, stale):
        connection.execute(delete(table))
    connection.execute(insert(stale).from_select(["cook_id"], select(TABLES["cook"].c.id)))
    text_search.prepare(connection)
    connection.exec_driver_sql("INSERT INTO cook_words (cook_words) VALUES ('rebuild')")


def _mend_rows(connection: Connection, kind: type[Record], mended: Mended) -> None:
    table = TABLES[kind.KIND]
    names = [column.name for column in table.c]
    made = [column.type.result_processor(_DIALECT, None) for column in table.c]
    query = f"SELECT rowid, {sqlite.quoted(names)} FROM {kind.KIND}"  # noqa: S608 - our own names
    for number, *raw in connection.exec_driver_sql(query).fetchall():
        row = [v if make is None else make(v) for v, make in zip(raw, made, strict=True)]
        missed = Missed()
        if records_of(kind, [row], missed):
            continue
        _mend_row(connection, kind, (number, dict(zip(names, raw, strict=True))), missed, mended)


def _mend_row(
    connection: Connection,
    kind: type[Record],
    found: tuple[int, dict[str, object]],
    missed: Missed,
    mended: Mended,
) -> None:
    number, raw = found
    (why,) = missed.values()
    name = why.split(" is ", 1)[0]
    instead = _instead(kind, name, raw)
    if instead is None:
        _move_aside(connection, kind, raw, why, mended)
        return
    trial = {**raw, name: instead[0]}
    connection.exec_driver_sql(
        f'UPDATE {kind.KIND} SET "{name}" = ? WHERE rowid = ?',  # noqa: S608 - our own names
        (instead[0], number),
    )
    mended.keep(kind.KIND, raw, f"{why}; now {instead[1]}")
    again = Missed()
    table = TABLES[kind.KIND]
    made = [column.type.result_processor(_DIALECT, None) for column in table.c]
    row = [
        value if make is None else make(value)
        for value, make in zip(trial.values(), made, strict=True)
    ]
    if not records_of(kind, [row], again):
        _mend_row(connection, kind, (number, trial), again, mended)


def _instead(kind: type[Record], name: str, raw: dict[str, object]) -> tuple[Any, str] | None:
    """Return what a column becomes, as it is kept and in words; None where nothing can be."""
    plain, optional = fields_of(kind)[name]
    if name in kind.PARENTS or name == "id":
        return None
    if optional:
        return None, "not recorded"
    own = next(one for one in fields(kind) if one.name == name)
    value = own.default if own.default_factory is MISSING else own.default_factory()
    if value is not MISSING:
        bind = TABLES[kind.KIND].c[name].type.bind_processor(_DIALECT)
        kept = value if bind is None else bind(value)
        return str(kept) if isinstance(kept, str) else kept, repr(value)
    if name == "zone":
        return "UTC", "UTC"
    made = _made_at(str(raw["id"])) if issubclass(plain, datetime) else None
    return None if made is None else (moment_text(made), f"{made:%Y-%m-%d %H:%M} UTC")


def _made_at(row_id: str) -> datetime | None:
    """Return when a record was made, as its id says."""
    try:
        number = int(row_id, 16)
    except ValueError:
        return None
    if len(row_id) != 32 or row_id[12] != "7":
        return None
    return datetime.fromtimestamp((number >> 80) / 1000, UTC)


def _move_aside(
    connection: Connection, kind: type[Record], raw: dict[str, object], why: str, mended: Mended
) -> None:
    row_id = raw["id"]
    for child, name in CHILDREN.get(kind.KIND, ()):
        names = [column.name for column in TABLES[child.KIND].c]
        query = f'SELECT {sqlite.quoted(names)} FROM {child.KIND} WHERE "{name}" = ?'  # noqa: S608
        for own in connection.exec_driver_sql(query, (row_id,)).fetchall():
            hung = dict(zip(names, own, strict=True))
            _move_aside(connection, child, hung, f"belongs to a lost {kind.KIND}", mended)
    query = f"DELETE FROM {kind.KIND} WHERE id IS ?"  # noqa: S608 - our own names
    connection.exec_driver_sql(query, (row_id,))
    mended.keep(kind.KIND, raw, f"{why}; moved aside")


def _mend_pointers(connection: Connection, mended: Mended) -> bool:
    """Mend what points at nothing; return whether there was something."""
    found = False
    for kind in RECORDS:
        names = [column.name for column in TABLES[kind.KIND].c]
        for name, target in {**kind.PARENTS, **kind.LOOSE}.items():
            query = (
                f"SELECT {sqlite.quoted(names)} FROM {kind.KIND} "  # noqa: S608 - our own names
                f'WHERE "{name}" IS NOT NULL AND "{name}" NOT IN (SELECT id FROM {target})'
            )
            for raw in connection.exec_driver_sql(query).fetchall():
                found = True
                row = dict(zip(names, raw, strict=True))
                why = f"points at a {target.replace('_', ' ')} that is gone"
                if name in kind.PARENTS:
                    _move_aside(connection, KINDS[kind.KIND], row, why, mended)
                    continue
                change = f'UPDATE {kind.KIND} SET "{name}" = NULL WHERE id = ?'  # noqa: S608
                connection.exec_driver_sql(change, (row["id"],))
                mended.keep(kind.KIND, row, f"{why}; now none")
    return found
