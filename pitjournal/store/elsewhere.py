"""What else knows a value that cannot be read any more: the steps for undo, and the backups."""

import contextlib
import json
import sqlite3
from collections.abc import Iterator, Sequence
from typing import Any

from sqlalchemy import Connection
from sqlalchemy.dialects.sqlite import pysqlite

from pitjournal.domain.record import Record
from pitjournal.domain.times.moments import utc_words
from pitjournal.store import copies, sqlite
from pitjournal.store.copies import Copy
from pitjournal.store.faults import DamagedError
from pitjournal.store.rows import record_of_image
from pitjournal.store.schema import TABLES

_DIALECT = pysqlite.dialect()
_LAST_IMAGE = (
    "SELECT row_image.after FROM row_image JOIN operation ON operation.seq = row_image.seq "
    "WHERE row_image.kind = ? AND row_image.row_id = ? AND operation.undone = 0 "
    "ORDER BY row_image.seq DESC, row_image.id DESC LIMIT 1"
)


class Elsewhere:
    """Where a column of a damaged row may still be read as it was.

    Parameters
    ----------
    connection
        To the damaged journal: its steps for undo are the newest that can be known.
    backups
        Newest first; each is looked into when it is needed, and only if it is whole.
    """

    def __init__(self, connection: Connection, backups: Sequence[Copy]) -> None:
        self._connection, self._backups = connection, backups
        self._readers: dict[Copy, sqlite3.Connection | None] = {}

    def close(self) -> None:
        """Let go of the backups."""
        for reader in self._readers.values():
            if reader is not None:
                reader.close()

    def values(self, kind: type[Record], row_id: object, name: str) -> Iterator[tuple[Any, str]]:
        """Yield what the column was, as it is kept, and who says so; the likeliest first."""
        with contextlib.suppress(ValueError, TypeError, KeyError, json.JSONDecodeError):
            found = self._connection.exec_driver_sql(_LAST_IMAGE, (kind.KIND, row_id)).first()
            if found is not None and found[0] is not None and name in json.loads(found[0]):
                value = getattr(record_of_image(kind, found[0]), name)
                yield as_kept(kind, name, value), "from the steps for undo"
        for copy in self._backups:
            reader = self._reader(copy)
            if reader is None:
                continue
            query = f'SELECT "{name}" FROM {kind.KIND} WHERE id = ?'  # noqa: S608 - our own names
            with contextlib.suppress(sqlite3.Error):
                row = reader.execute(query, (row_id,)).fetchone()
                if row is not None:
                    yield row[0], f"from the backup of {utc_words(copy.at)}"

    def _reader(self, copy: Copy) -> sqlite3.Connection | None:
        """Return what reads a backup; None where it is not whole."""
        if copy not in self._readers:
            self._readers[copy] = None
            with contextlib.suppress(DamagedError):
                copies.look_into(copy.path)
                self._readers[copy] = sqlite.reader(copy.path)
        return self._readers[copy]


def as_kept(kind: type[Record], name: str, value: object) -> Any:  # noqa: ANN401 - any column's
    """Return a field's value as its column keeps it."""
    bind = TABLES[kind.KIND].c[name].type.bind_processor(_DIALECT)
    kept = value if bind is None else bind(value)
    return str(kept) if isinstance(kept, str) else kept
