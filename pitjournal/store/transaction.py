"""One transaction: every row it touches is kept as it was and as it became."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, TypeVar

from sqlalchemy import Connection, bindparam, delete, insert, select, update
from sqlalchemy.dialects.sqlite import insert as sqlite_insert

from pitjournal.domain.record import Record
from pitjournal.errors import JournalError
from pitjournal.store.rows import Missed, records_again, records_of, row_of
from pitjournal.store.schema import CHILDREN, LOOSE_ENDS, TABLES, attachment
from pitjournal.store.sqlite import Plain, PreparedSelect

R = TypeVar("R", bound=Record)

_NAME = Plain(sqlite_insert(attachment).on_conflict_do_nothing(index_elements=["id"]))
"""A file that is kept already keeps its first name."""


@cache
def _insert(kind: str) -> Plain:
    """Return what adds records of a kind, made once: making it takes longer than running it."""
    return Plain(insert(TABLES[kind]))


@cache
def _query(kind: str, known: tuple[str, ...], unknown: tuple[str, ...]) -> PreparedSelect:
    """Return the question for records by these fields, and by these that are not recorded."""
    table = TABLES[kind]
    fields = [table.c[name] == bindparam(name) for name in known]
    empty = [table.c[name].is_(None) for name in unknown]
    return PreparedSelect(select(table).where(*fields, *empty).order_by(table.c.id), table)


@dataclass(frozen=True)
class Touched:
    """A row before and after; None is "no such row"."""

    kind: str
    row_id: str
    before: Record | None
    after: Record | None


class Transaction:
    """What a command may do to the journal.

    Parameters
    ----------
    connection
        A connection in a transaction that the caller commits or rolls back.
    missed
        Where rows that cannot be read are noted.
    """

    def __init__(self, connection: Connection, missed: Missed | None = None) -> None:
        self._connection = connection
        self._missed = Missed() if missed is None else missed
        self.touched: list[Touched] = []

    def get(self, kind: type[R], row_id: str) -> R:
        """Return a record.

        Raises
        ------
        JournalError
            If it is gone.
        """
        found = self.find(kind, id=row_id)
        if not found:
            raise JournalError("That is no longer in the journal.", "Undo brings it back.")
        return found[0]

    def find(self, kind: type[R], /, **where: object) -> list[R]:
        """Return the records whose fields have these values, oldest first."""
        known = {name: value for name, value in where.items() if value is not None}
        query = _query(kind.KIND, tuple(known), tuple(sorted(where.keys() - known.keys())))
        if "cook_id" not in known:
            return records_of(kind, query.ask(self._connection, known), self._missed)
        return records_again(kind, query.stored(self._connection, known), query.made, self._missed)

    def add(self, *records: Record) -> None:
        """Add new records; parents must come before their children."""
        for kind, group in _runs(records):
            rows = [row_of(record) for record in group]
            _insert(kind).run(self._connection, rows)
            self.touched += [Touched(kind, record.id, None, record) for record in group]

    def change(self, kind: type[R], row_id: str, fields: Mapping[str, Any]) -> R:
        """Change some fields of a record and return it as it became."""
        before = self.get(kind, row_id)
        after = replace(before, **fields)
        if after != before:
            self.put(before, after)
        return after

    def put(self, before: Record, after: Record) -> None:
        """Write `after` over `before`, which has the same id."""
        table = TABLES[before.KIND]
        values = {name: value for name, value in row_of(after).items() if name != "id"}
        query = update(table).where(table.c.id == before.id).values(**values)
        self._connection.execute(query)
        self.touched.append(Touched(before.KIND, before.id, before, after))

    def remove(self, kind: type[Record], row_id: str) -> None:
        """Remove a record and all that hangs from it; what outlives it forgets it."""
        record = self.get(kind, row_id)
        for child, field in CHILDREN.get(kind.KIND, ()):
            for found in self.find(child, **{field: row_id}):
                if self.find(child, id=found.id):
                    self.remove(child, found.id)
        for other, field in LOOSE_ENDS.get(kind.KIND, ()):
            for found in self.find(other, **{field: row_id}):
                nothing: dict[str, Any] = {field: None}
                self.put(found, replace(found, **nothing))
        self._delete(record)

    def _delete(self, record: Record) -> None:
        table = TABLES[record.KIND]
        self._connection.execute(
            delete(table).where(table.c.id == bindparam("gone")), {"gone": record.id}
        )
        self.touched.append(Touched(record.KIND, record.id, record, None))

    def name_attachments(self, files: Iterable[tuple[str, int, str, str]]) -> None:
        """Note in the database that the journal keeps these: SHA-256, bytes, type and name."""
        rows = [dict(zip(attachment.c.keys(), one, strict=True)) for one in files]
        if rows:
            _NAME.run(self._connection, rows)

    def restore(self, kind: type[Record], row_id: str, wanted: Record | None) -> None:
        """Make one row what it is to be: for undo and redo."""
        found = self.find(kind, id=row_id)
        if wanted is None:
            for record in found:
                self._delete(record)
        elif found:
            self.put(found[0], wanted)
        else:
            self.add(wanted)


def _runs(records: Iterable[Record]) -> Iterable[tuple[str, list[Record]]]:
    """Group neighbours of one kind, so that each run is one statement."""
    run: list[Record] = []
    for record in records:
        if run and run[-1].KIND != record.KIND:
            yield run[0].KIND, run
            run = []
        run.append(record)
    if run:
        yield run[0].KIND, run
