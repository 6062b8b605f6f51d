"""Mend a database: what is derived is made anew, and rows that are broken are moved aside."""

import contextlib
import json
import mimetypes
import os
from collections.abc import Callable, Mapping, Sequence
from dataclasses import MISSING, dataclass, field, fields
from datetime import UTC, datetime
from pathlib import Path, PurePath
from typing import Any

from sqlalchemy import Connection, delete, insert, select
from sqlalchemy.dialects.sqlite import pysqlite

from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Photo
from pitjournal.domain.record import Record, one_of
from pitjournal.domain.times.moments import utc_words
from pitjournal.domain.trace import ProbeFile
from pitjournal.store import flaws, sqlite, text_search
from pitjournal.store.attachments import Attachments, is_sha
from pitjournal.store.columns import fields_of, moment_text
from pitjournal.store.copies import Copy
from pitjournal.store.database import Database
from pitjournal.store.elsewhere import Elsewhere, as_kept
from pitjournal.store.flaws import Flaw
from pitjournal.store.rows import odd_fields
from pitjournal.store.schema import (
    CHILDREN,
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
    notes: dict[str, list[str]] = field(default_factory=dict)
    """What a cook is to be told of its own values that nobody knows any more, by cook."""

    def note(self, kind: type[Record], row: dict[str, object], name: str, now: str) -> None:
        """Note for the cook that a value could not be read, and what stands in its place."""
        cook_id = row["id"] if kind is Cook else row.get("cook_id")
        if cook_id is None:
            return
        whose = "Its" if kind is Cook else f"The {_of_a(kind)}'s"
        what = _CALLED.get(name, name.replace("_", " "))
        line = f"{whose} {what} could not be read; it now says: {now}."
        self.notes.setdefault(str(cook_id), []).append(line)

    def keep(self, kind: str, row: dict[str, object], what: str) -> None:
        """Note a row as it was, and what becomes of it."""
        self.rows.append({"table": kind, "what": what, "row": row})
        self.lines.append(f"{one_of(kind)} ({row['id']}): {what}")


def _of_a(kind: type[Record]) -> str:
    return kind.KIND.replace("_", " ")


_CALLED = {
    "starts_at": "date",
    "serve_at": "time to serve",
    "happened_at": "time",
    "planned_at": "planned time",
    "at": "time",
    "zone": "time zone",
    "typed": "numbers as they were typed",
}
"""Fields by other words than their names."""


def repair(database: Database, aside: Callable[[], Path], backups: Sequence[Copy]) -> Mended:
    """Mend the rows and make what is derived anew, in one transaction.

    A value that cannot be read is taken from the steps for undo or from the newest whole backup
    that knows it. Where none does, it becomes what it is without one, or, for a time, when its
    record was made, as its id says (RFC 9562, 5.7), and its cook gets a note that says so; where
    neither can be, the row goes with what hangs from it. Each such row is first written, as it
    was, to a file aside. A kept file that lies in its folder and is not noted is noted; a log
    that lies nowhere any more does not take the readings with it.

    Parameters
    ----------
    aside
        Makes the folder for that file when there is something to put there.
    backups
        The backups, newest first.
    """
    mended = Mended()
    with (
        database.writing() as connection,
        contextlib.closing(Elsewhere(connection, backups)) as elsewhere,
    ):
        for kind in RECORDS:
            _mend_rows(connection, kind, elsewhere, mended)
        _mend_nuls(connection, mended)
        _note_kept(connection, database.attachments, mended)
        _stand_in(connection, database.attachments, elsewhere, mended)
        while _mend_pointers(connection, elsewhere, mended):
            pass
        _tell_cooks(connection, mended)
        _mend_steps(connection, mended)
        _mend_names(connection, mended)
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


def _mend_rows(
    connection: Connection, kind: type[Record], elsewhere: Elsewhere, mended: Mended
) -> None:
    names = [column.name for column in TABLES[kind.KIND].c]
    query = f"SELECT rowid, {sqlite.quoted(names)} FROM {kind.KIND}"  # noqa: S608 - our own names
    for number, *values in connection.exec_driver_sql(query).fetchall():
        raw = dict(zip(names, values, strict=True))
        if odd_in(kind, raw):
            _mend_row(connection, kind, (number, raw), elsewhere, mended)


def odd_in(kind: type[Record], raw: Mapping[str, object]) -> dict[str, str]:
    """Return why each column of a row, as it is kept, cannot be read."""
    return odd_fields(kind, as_read(kind, raw))


def as_read(kind: type[Record], raw: Mapping[str, object]) -> list[Any]:
    """Return a row's values as they are read, of columns as they are kept, in their order."""
    made = [column.type.result_processor(_DIALECT, None) for column in TABLES[kind.KIND].c]
    return [v if make is None else make(v) for v, make in zip(raw.values(), made, strict=True)]


def _mend_row(
    connection: Connection,
    kind: type[Record],
    row: tuple[int, dict[str, object]],
    elsewhere: Elsewhere,
    mended: Mended,
) -> None:
    number, raw = row
    trial, said = dict(raw), []
    odd = odd_in(kind, raw)
    for name, why in odd.items():
        found = _known_elsewhere(kind, name, raw, elsewhere)
        instead = found or instead_of(kind, name, raw)
        if instead is None:
            _move_aside(connection, kind, raw, "; ".join(odd.values()), mended)
            return
        trial[name] = instead[0]
        said.append(f"{why}; now {instead[1]}")
        if found is None:
            mended.note(kind, raw, name, instead[1])
    changed = ", ".join(f'"{name}" = ?' for name in odd)
    connection.exec_driver_sql(
        f"UPDATE {kind.KIND} SET {changed} WHERE rowid = ?",  # noqa: S608 - our own names
        (*(trial[name] for name in odd), number),
    )
    mended.keep(kind.KIND, raw, "; ".join(said))


def _known_elsewhere(
    kind: type[Record], name: str, raw: dict[str, object], elsewhere: Elsewhere
) -> tuple[Any, str] | None:
    """Return what a column was and who says so; None where nobody knows it."""
    if name == "id":
        return None
    for value, source in elsewhere.values(kind, raw["id"], name):
        if name not in odd_in(kind, {**raw, name: value}):
            return value, f"{_in_words(value)}, {source}"
    return None


def instead_of(kind: type[Record], name: str, raw: dict[str, object]) -> tuple[Any, str] | None:
    """Return what a column becomes, as it is kept and in words; None where nothing can be."""
    plain, optional = fields_of(kind)[name]
    if name in kind.PARENTS or name == "id":
        return None
    if optional:
        return None, "not recorded"
    own = next(one for one in fields(kind) if one.name == name)
    value = own.default if own.default_factory is MISSING else own.default_factory()
    if value is not MISSING:
        return as_kept(kind, name, value), _in_words(value)
    if name == "zone":
        return "UTC", "UTC"
    made = _made_at(str(raw["id"])) if issubclass(plain, datetime) else None
    if made is None:
        return None
    return moment_text(made), f"{utc_words(made)}, when its record was made"


def _in_words(value: object) -> str:
    if value is None:
        return "not recorded"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value) if value or value == 0 else "empty"


def _tell_cooks(connection: Connection, mended: Mended) -> None:
    """Write into each cook what of it could not be read: it must be seen where it is read."""
    for cook_id, lines in mended.notes.items():
        connection.exec_driver_sql(
            "UPDATE cook SET note = CASE note WHEN '' THEN ? ELSE note || char(10) || ? END "
            "WHERE id = ?",
            ("\n".join(lines), "\n".join(lines), cook_id),
        )


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
        query = f'SELECT {sqlite.quoted(names)} FROM {child.KIND} WHERE "{name}" = ?'  # noqa: S608 - names of our own
        for own in connection.exec_driver_sql(query, (row_id,)).fetchall():
            hung = dict(zip(names, own, strict=True))
            _move_aside(connection, child, hung, f"belongs to a lost {kind.KIND}", mended)
    query = f"DELETE FROM {kind.KIND} WHERE id IS ?"  # noqa: S608 - our own names
    connection.exec_driver_sql(query, (row_id,))
    mended.keep(kind.KIND, raw, f"{why}; moved aside")


def _unkept(connection: Connection) -> list[Flaw]:
    """Return what names a kept file that is not noted."""
    return [f for f in flaws.pointers(connection) if f.name in flaws.KEPT.get(f.kind, ())]


def _note_kept(connection: Connection, files: Attachments, mended: Mended) -> None:
    """Note each kept file that a record names, and that lies there whole."""
    for flaw in _unkept(connection):
        sha = flaw.row[flaw.name]
        if is_sha(sha) and not files.how(sha):
            name = str(flaw.row.get("name", "file"))
            _note_file(connection, sha, files.path(sha).stat().st_size, name)
            mended.lines.append(
                f"{one_of(flaw.kind.KIND)} ({flaw.row['id']}): its {flaw.name} was not noted; it is"
            )


def _note_file(connection: Connection, sha: str, size: int, name: str) -> None:
    kept = mimetypes.guess_type(PurePath(name).name)[0] or _OF_A_FILE["media_type"]
    connection.exec_driver_sql(
        "INSERT OR IGNORE INTO attachment (id, size, media_type, name) VALUES (?, ?, ?, ?)",
        (sha, size, kept, name),
    )


_LOST = "This log was lost when the journal was damaged. Its readings may still be there.\n"


def _stand_in(
    connection: Connection, files: Attachments, elsewhere: Elsewhere, mended: Mended
) -> None:
    """Put something in the place of a kept file that is lost, where its record is worth keeping.

    Of a photo, the small picture and the large one stand for each other. A log's traces have
    their readings in files of their own: a line that says so stands for the log.
    """
    for flaw in _unkept(connection):
        if _pointed_at_before(connection, flaw, elsewhere) is not None:
            continue
        instead: object = None
        if flaw.kind is Photo:
            other = next(n for n in flaws.KEPT[Photo] if n != flaw.name)
            instead, now = flaw.row[other], f"the {other} stands for it"
            if not _is_there(connection, "attachment", instead):
                continue
        elif flaw.kind is ProbeFile:
            instead, now = files.keep(_LOST.encode()), "its readings stay"
            _note_file(connection, str(instead), len(_LOST), "lost.txt")
        else:
            continue
        _set(connection, flaw, instead)
        mended.keep(flaw.kind.KIND, flaw.row, f"{flaw.name} {flaw.why}; {now}")
        line = f"The file {flaw.row['name']} is lost; {now}."
        mended.notes.setdefault(str(flaw.row["cook_id"]), []).append(line)


def _mend_pointers(connection: Connection, elsewhere: Elsewhere, mended: Mended) -> bool:
    """Mend what points at nothing; return whether there was something."""
    gone: set[object] = set()
    found = False
    for flaw in list(flaws.pointers(connection)):
        found = True
        if flaw.row["id"] in gone or not _is_there(connection, flaw.kind.KIND, flaw.row["id"]):
            continue
        known = _pointed_at_before(connection, flaw, elsewhere)
        if known is not None:
            _set(connection, flaw, known[0])
            mended.keep(flaw.kind.KIND, flaw.row, f"{flaw.name} {flaw.why}; now {known[1]}")
        elif flaw.name in flaw.kind.LOOSE:
            _set(connection, flaw, None)
            mended.keep(flaw.kind.KIND, flaw.row, f"{flaw.name} {flaw.why}; now none")
        else:
            _move_aside(connection, flaw.kind, flaw.row, f"{flaw.name} {flaw.why}", mended)
            gone.add(flaw.row["id"])
    return found


def _is_there(connection: Connection, table: str, row_id: object) -> bool:
    query = f"SELECT 1 FROM {table} WHERE id IS ?"  # noqa: S608 - our own names
    return connection.exec_driver_sql(query, (row_id,)).first() is not None


def _pointed_at_before(
    connection: Connection, flaw: Flaw, elsewhere: Elsewhere
) -> tuple[str, str] | None:
    """Return what the field pointed at, if that is there, and who says so."""
    target = {**flaw.kind.PARENTS, **flaw.kind.LOOSE}.get(flaw.name, "attachment")
    for value, source in elsewhere.values(flaw.kind, flaw.row["id"], flaw.name):
        if isinstance(value, str) and _is_there(connection, target, value):
            return value, f"{value}, {source}"
    return None


def _mend_nuls(connection: Connection, mended: Mended) -> None:
    """Take NULs out of texts."""
    for flaw in list(flaws.nuls(connection)):
        _set(connection, flaw, flaw.row[flaw.name].replace("\0", ""))
        mended.keep(flaw.kind.KIND, flaw.row, f"{flaw.name} {flaw.why}; taken out")


def _set(connection: Connection, flaw: Flaw, value: object) -> None:
    change = f'UPDATE {flaw.kind.KIND} SET "{flaw.name}" = ? WHERE id = ?'  # noqa: S608 - names of our own
    connection.exec_driver_sql(change, (value, flaw.row["id"]))


_OF_A_STEP = {"label": "Change", "at": "1970-01-01T00:00:00.000Z", "merge_key": "", "undone": 0}
"""What stands in the place of a step's column that cannot be read: nothing joins it then."""


def _mend_steps(connection: Connection, mended: Mended) -> None:
    """Mend the steps for undo; those of which an image cannot be read go."""
    gone = 0
    for table, number, name in flaws.broken_steps(connection):
        if table == "operation":
            query = f'UPDATE operation SET "{name}" = ? WHERE seq = ?'  # noqa: S608 - our own names
            connection.exec_driver_sql(query, (_OF_A_STEP[name], number))
            mended.lines.append(f"a step for undo ({number}): its {name} could not be read")
            continue
        query = "DELETE FROM operation WHERE seq = (SELECT seq FROM row_image WHERE rowid = ?)"
        gone += connection.exec_driver_sql(query, (number,)).rowcount
        connection.exec_driver_sql("DELETE FROM row_image WHERE rowid = ?", (number,))
    connection.exec_driver_sql("DELETE FROM row_image WHERE seq NOT IN (SELECT seq FROM operation)")
    if gone:
        mended.lines.append(f"steps for undo that could not be read: {gone} taken out")


_OF_A_FILE = {"size": 0, "media_type": "application/octet-stream", "name": "file"}


def _mend_names(connection: Connection, mended: Mended) -> None:
    """Give kept files a plain name, type and size where what was noted cannot be read."""
    for sha, name in flaws.broken_names(connection):
        if name == "id":
            connection.exec_driver_sql("DELETE FROM attachment WHERE typeof(id) <> 'text'")
            mended.lines.append("a kept file: its id could not be read, so nothing has it")
            continue
        query = f"UPDATE attachment SET {name} = ? WHERE id = ?"  # noqa: S608 - our own names
        connection.exec_driver_sql(query, (_OF_A_FILE[name], sha))
        mended.lines.append(f"a kept file ({sha[:12]}…): its {name} could not be read")
