"""Read what can be read of a damaged database, row by row, and what its history still has."""

import contextlib
import json
import re
import shutil
import sqlite3
from dataclasses import MISSING, dataclass, field, fields, replace
from enum import StrEnum
from pathlib import Path
from typing import Any

from sqlalchemy.dialects.sqlite import pysqlite

from pitjournal.domain.cook import Cook
from pitjournal.domain.record import Record
from pitjournal.store import build, migrations, opening, sqlite, table_list
from pitjournal.store.columns import fields_of
from pitjournal.store.ground import beside
from pitjournal.store.reachable import BROKEN, known_columns, open_tolerant, rows_of
from pitjournal.store.repairing import Mended, as_read, instead_of, odd_in
from pitjournal.store.rows import Missed, record_of_image, records_of
from pitjournal.store.schema import KINDS, SCHEMA_VERSION, TABLES, metadata

_ID = re.compile(r"[0-9a-f]{32}")
_DIALECT = pysqlite.dialect()


@dataclass
class WhatWasRead:
    """What could be read of a database.

    Attributes
    ----------
    records
        By kind and id.
    from_history
        Those that only the steps for undo still had.
    missed
        Rows that were there and could not be read: why, by kind and id.
    broken
        Kinds of records of which a part could not be reached.
    files
        Size, media type and name of the kept files, by SHA-256.
    """

    records: dict[str, dict[str, Record]] = field(default_factory=dict)
    from_history: set[tuple[str, str]] = field(default_factory=set)
    missed: Missed = field(default_factory=Missed)
    broken: set[str] = field(default_factory=set)
    files: dict[str, tuple[int, str, str]] = field(default_factory=dict)
    unknown: tuple[str, ...] = ()
    """Columns and tables of a newer program's journal that this one does not know."""
    images: dict[tuple[str, str], str | None] = field(default_factory=dict)
    """What each record was after the last step that stands, as the steps for undo have it."""
    steps_whole: bool = False
    """Whether all steps for undo could be reached; they know every record there ever was."""
    raw: dict[tuple[str, str], dict[str, object]] = field(default_factory=dict)
    """Rows that could be reached and not be read, as they are kept."""
    patched: dict[tuple[str, str], str] = field(default_factory=dict)
    """What stands in the place of values that nobody knows any more, by kind and id."""
    from_backup: dict[tuple[str, str], str] = field(default_factory=dict)
    """Those that only the backup still had: why they could not be read, by kind and id."""
    moved: list[str] = field(default_factory=list)
    """What did not lie where it belongs, and where it came from, a line each."""

    def before(self, kind: type[Record], row_id: str) -> Record | None:
        """Return what a record was by the steps for undo; None where these do not know it."""
        image = self.images.get((kind.KIND, row_id))
        with contextlib.suppress(ValueError, TypeError, KeyError, json.JSONDecodeError):
            record = None if image is None else record_of_image(kind, image)
            if record is not None and record.id == row_id and _can_be(record):
                return record
        return None


def salvage(path: Path, schema_of: Path | None, scratch: Path) -> WhatWasRead:
    """Read all that can be read; nothing is changed.

    Parameters
    ----------
    path
        The damaged database.
    schema_of
        A backup of the same journal. Where the pages that say where everything lies are
        destroyed, those of the backup are taken: tables stay where they were made.
    scratch
        A folder to work in.
    """
    copy = scratch / sqlite.FILE_NAME
    for end in ("", "-wal"):
        source = beside(path, end)
        if source.exists():
            shutil.copyfile(source, copy.with_name(copy.name + end))
    if _tables(copy) < len(TABLES):
        copy = _listed_anew(copy, schema_of)
    if not _tables(copy):  # the log may be what is damaged
        copy.with_name(copy.name + "-wal").unlink(missing_ok=True)
    found = WhatWasRead()
    with contextlib.closing(open_tolerant(copy)) as connection:
        found.unknown = _unknown(connection)
        for kind, table in KINDS.items():
            found.records[kind] = _records(connection, table, found)
        _look_at_steps(connection, found)
        _from_history(found)
        _fill_columns(connection, found, schema_of)
        if schema_of is not None and any(found.records.values()):  # else restoring gives as much
            _from_backup(found, schema_of)
        _patch(found)
        for sha, *rest in rows_of(connection, "attachment", "id, size, media_type, name", set()):
            if isinstance(sha, str):
                found.files[sha] = (rest[0], rest[1], rest[2])
    return found


def _tables(path: Path) -> int:
    """Return of how many of our tables it can be read where they lie and what columns they have."""
    try:
        with contextlib.closing(open_tolerant(path)) as connection:
            return sum(bool(known_columns(connection, kind)) for kind in TABLES)
    except BROKEN:
        return 0


def _listed_anew(copy: Path, backup: Path | None) -> Path:
    """Return a copy whose list of tables is made anew, if more can be read by that one."""
    flat = copy.with_name("flat.sqlite")
    table_list.with_log(copy, flat)
    every = ((size, table_list.found_in(flat, size)) for size in table_list.SIZES)
    size, known = next((one for one in every if one[1]), (table_list.SIZES[0], []))
    lent = [] if backup is None else table_list.listed(backup)
    fresh = _of_a_new_journal(copy.with_name("fresh.sqlite"))
    table_list.make(flat, size, known, lent)
    if _tables(flat) < len(TABLES) and table_list.agree([*known, *lent], fresh):
        # It may have been made as journals are made now, and not brought up to date since.
        more = copy.with_name("more.sqlite")
        table_list.with_log(copy, more)
        table_list.make(more, size, known, lent, fresh)
        if _has_steps(more):
            flat = more
    return flat if _tables(flat) > _tables(copy) else copy


def _of_a_new_journal(path: Path) -> list[table_list.Built]:
    opening.make(path, migrations.steps_from(None))
    return table_list.listed(path)


def _has_steps(path: Path) -> bool:
    """Whether steps for undo lie where they would in such a journal, and what they are."""
    with contextlib.suppress(*BROKEN), contextlib.closing(open_tolerant(path)) as connection:
        kinds = connection.execute("SELECT DISTINCT kind FROM row_image LIMIT 100").fetchall()
        return bool(kinds) and all(kind in KINDS for (kind,) in kinds)
    return False


def _records(
    connection: sqlite3.Connection, kind: type[Record], found: WhatWasRead
) -> dict[str, Record]:
    table = TABLES[kind.KIND]
    place = _place_of(connection, kind.KIND)
    known = known_columns(connection, place)
    if not known:
        found.broken.add(kind.KIND)
        return {}
    names = list(fields_of(kind))
    columns = ", ".join(f'"{name}"' if name in known else f'NULL AS "{name}"' for name in names)
    made = [table.c[name].type.result_processor(_DIALECT, None) for name in names]
    defaults = _defaults(kind, names, known)
    records: dict[str, Record] = {}
    if place != kind.KIND:
        words = kind.KIND.replace("_", " ")
        found.moved.append(f"the {words} records lay in a table named {place}")
    for raw in rows_of(connection, place, columns, found.broken):
        row = tuple(
            value if make is None else make(value) for value, make in zip(raw, made, strict=True)
        )
        row = tuple(defaults.get(n, v) if v is None else v for n, v in zip(names, row, strict=True))
        read = records_of(kind, [row], found.missed)
        for record in read:
            records[record.id] = record
        values = dict(zip(names, raw, strict=True))
        if not read and _ID.fullmatch(str(values["id"])):
            values |= {name: defaults[name] for name in defaults if values[name] is None}
            found.raw[kind.KIND, values["id"]] = {
                column.name: values[column.name] for column in table.c
            }
    return records


def _patch(found: WhatWasRead) -> None:
    """Put what a value is without one where nobody knows it any more, and tell its cook.

    One word that cannot be read would else take a cook along, with all that hangs from it.
    """
    told = Mended()
    for key in [key for key in found.raw if key in found.missed]:
        kind, raw = KINDS[key[0]], found.raw[key]
        trial, said = dict(raw), []
        odd = odd_in(kind, raw)
        if 3 * len(odd) > len(raw):
            continue  # it is hardly such a row
        for name, why in odd.items():
            instead = instead_of(kind, name, raw)
            if instead is not None:
                trial[name] = instead[0]
                said.append(f"{why}; now {instead[1]}")
                told.note(kind, raw, name, instead[1])
        row = as_read(kind, trial)
        for record in records_of(kind, [row], WhatWasRead().missed):
            found.records[kind.KIND][record.id] = record
            found.patched[key] = "; ".join(said)
            del found.missed[key]
    for cook_id, lines in told.notes.items():
        cook = found.records[Cook.KIND].get(cook_id)
        if isinstance(cook, Cook):
            note = "\n".join(filter(None, (cook.note, *lines)))
            found.records[Cook.KIND][cook_id] = replace(cook, note=note)


def _defaults(kind: type[Record], names: list[str], known: set[str]) -> dict[str, Any]:
    """Return what the fields are that an older journal does not have yet."""
    lacking = [one for one in fields(kind) if one.name in names and one.name not in known]
    return {
        one.name: one.default if one.default_factory is MISSING else one.default_factory()
        for one in lacking
        if (one.default, one.default_factory) != (MISSING, MISSING)
    }


def _place_of(connection: sqlite3.Connection, kind: str) -> str:
    """Return the table in which a kind's records lie: another one where it was renamed."""
    if known_columns(connection, kind):
        return kind
    with contextlib.suppress(*BROKEN):
        tables = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
        wanted = set(fields_of(KINDS[kind]))
        for (name,) in tables.fetchall():
            plain = name.isidentifier() and name not in metadata.tables
            if plain and wanted == known_columns(connection, name):
                return str(name)
    return kind


def _unknown(connection: sqlite3.Connection) -> tuple[str, ...]:
    """Name what a newer program added to a journal."""
    try:
        newest = connection.execute("SELECT max(major), minor FROM schema_version").fetchone()
        if newest <= SCHEMA_VERSION:
            return ()
        tables = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
        names = sorted(name for (name,) in tables)
    except (*BROKEN, TypeError):
        return ()
    ours = metadata.tables
    own = ("sqlite_", "cook_words")
    added = [f"the table {n}" for n in names if n not in ours and not n.startswith(own)]
    for kind in KINDS:
        more = sorted(known_columns(connection, kind) - set(ours[kind].c.keys()))
        added += [f"the column {name} of the {kind.replace('_', ' ')} records" for name in more]
    return tuple(added)


def _look_at_steps(connection: sqlite3.Connection, found: WhatWasRead) -> None:
    """Note of each record the last image among the steps for undo."""
    images, reached = found.images, set[str]()
    undone = dict(rows_of(connection, "operation", "seq, undone", reached))
    columns = "seq, id, kind, row_id, before, after"
    rows = [
        row
        for row in rows_of(connection, "row_image", columns, reached)
        if isinstance(row[0], int) and row[2] in KINDS
    ]
    found.steps_whole = not reached and {row[0] for row in rows} <= undone.keys()
    for seq, _, kind, row_id, before, after in sorted(rows, key=lambda row: row[:2]):
        how = undone.get(seq, 0)
        if how == 0:
            images[kind, row_id] = after
        elif how == 1:
            images.setdefault((kind, row_id), before)


def _from_history(found: WhatWasRead) -> None:
    """Add the records of which only the steps for undo have something left."""
    for (kind, row_id), image in found.images.items():
        if image is None or row_id in found.records[kind] or kind not in found.broken | _of(found):
            continue
        record = found.before(KINDS[kind], row_id)
        if record is not None:
            found.records[kind][row_id] = record
            found.from_history.add((kind, row_id))
            found.missed.pop((kind, row_id), None)
        else:
            why = "its row cannot be read, nor can what the steps for undo have of it"
            found.missed.setdefault((kind, row_id), why)


def _from_backup(found: WhatWasRead, backup: Path) -> None:
    """Add the records of which only a backup has something left, unless they were taken away."""
    for kind in sorted(found.broken | _of(found)):
        table = KINDS.get(kind)
        with (
            contextlib.suppress(*BROKEN),
            contextlib.closing(sqlite.reader(backup)) as connection,
        ):
            kept = {} if table is None else _records(connection, table, WhatWasRead())
        for row_id, record in kept.items():
            key = (kind, row_id)
            there = found.images.get(key, None if found.steps_whole else "")
            if row_id in found.records[kind] or (there is None and key not in found.missed):
                continue
            found.records[kind][row_id] = record
            found.from_backup[key] = found.missed.pop(key, "its page cannot be read")


def _can_be(record: Record) -> bool:
    """Whether a record from an image has only what it can have."""
    kind = type(record)
    values = (getattr(record, name) for name in fields_of(kind))
    row = [str(value) if isinstance(value, StrEnum) else value for value in values]
    return bool(records_of(kind, [row], Missed()))


def _fill_columns(connection: sqlite3.Connection, found: WhatWasRead, backup: Path | None) -> None:
    """Fill columns that were taken away, by the steps for undo or a backup; say how far."""
    try:
        if build.age_of(connection) < 0:
            return  # an older journal does not have them yet
    except BROKEN:
        return
    for kind, table in KINDS.items():
        place = _place_of(connection, kind)
        known = known_columns(connection, place)
        for name in (name for name in fields_of(table) if known and name not in known):
            kept = {} if backup is None else _column_of(backup, table, name)
            found.moved.append(_fill(found, table, name, kept))


def _fill(found: WhatWasRead, kind: type[Record], name: str, kept: dict[str, Record]) -> str:
    steps = copied = 0
    records = found.records[kind.KIND]
    for row_id, record in records.items():
        past = found.before(kind, row_id)
        steps += past is not None
        copied += past is None and row_id in kept
        past = past or kept.get(row_id)
        if past is not None:
            records[row_id] = replace(record, **{name: getattr(past, name)})
    unknown = len(records) - steps - copied
    return (
        f"the column {name} of the {kind.KIND.replace('_', ' ')} records is gone: {steps} values "
        f"came from the steps for undo, {copied} from a backup, {unknown} are not known"
    )


def _column_of(backup: Path, kind: type[Record], name: str) -> dict[str, Record]:
    """Return the records of a backup, if it has a column."""
    with contextlib.suppress(*BROKEN), contextlib.closing(sqlite.reader(backup)) as connection:
        if name in known_columns(connection, kind.KIND):
            return _records(connection, kind, WhatWasRead())
    return {}


def _of(found: WhatWasRead) -> set[str]:
    return {kind for kind, _ in found.missed}


def attachment_ids(path: Path) -> list[str]:
    """Return the SHA-256 of the kept files that a database names, as far as it can be read."""
    with contextlib.suppress(*BROKEN), contextlib.closing(sqlite.reader(path)) as connection:
        rows = rows_of(connection, "attachment", "id", set())
        return [row[0] for row in rows if isinstance(row[0], str)]
    return []
