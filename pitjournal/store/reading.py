"""Reading an open database, where what is damaged is said in plain words or left out."""

import contextlib
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any, TypeVar

from sqlalchemy import Connection, Engine, Executable, bindparam, select
from sqlalchemy.sql import Select

from pitjournal.domain.record import Record
from pitjournal.store import faults, sqlite
from pitjournal.store.faults import DamagedError
from pitjournal.store.rows import Missed, records_of
from pitjournal.store.schema import TABLES
from pitjournal.store.transaction import Transaction

R = TypeVar("R", bound=Record)
T = TypeVar("T")

_KEPT = "kept while unchanged"


class Reading:
    """What can be read of a database in a journal's folder.

    Attributes
    ----------
    missed
        The rows that could not be read so far and were left out.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.missed = Missed()
        self._tolerant = False
        self._engine: Engine

    @property
    def path(self) -> Path:
        """The database file."""
        return self.folder / sqlite.FILE_NAME

    @contextlib.contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a connection for queries of this layer; what it refuses is said in plain words."""
        try:
            with self._engine.connect() as connection:
                yield connection
        except faults.REFUSED as error:
            told = faults.not_read(error, self.path)
            if told is None:
                raise
            raise told from error

    def _read(self, work: Callable[[Connection], T]) -> T:
        """Read; where a text is no UTF-8, again with signs in the place of what is wrong."""
        try:
            with self.reading() as connection:
                return work(connection)
        except DamagedError as error:
            if not self._be_tolerant(error):
                raise
        with self.reading() as connection:
            return work(connection)

    def _be_tolerant(self, error: BaseException) -> bool:
        """Bear texts that are no UTF-8 from now on; return whether that may help."""
        if self._tolerant or not faults.is_text_fault(error.__cause__ or error):
            return False
        self._tolerant = True
        self._engine.dispose()
        return True

    def rows(self, query: Select[Any]) -> list[Any]:
        """Return the rows of a query made in this layer."""
        return self._read(lambda connection: list(connection.execute(query).all()))

    def ask(self, question: sqlite.PreparedSelect, **values: object) -> list[tuple[Any, ...]]:
        """Return the whole rows that a question made once finds."""
        return self._read(lambda connection: question.ask(connection, values))

    def values(self, query: Executable) -> list[Any]:
        """Return the first column of a query made in this layer."""
        return self._read(lambda connection: list(connection.execute(query).scalars().all()))

    def ids(self, query: Executable) -> list[str]:
        """Return the ids that a query made in this layer finds; what is none is left out."""
        return [found for found in self.values(query) if isinstance(found, str)]

    def while_unchanged(self, work: Callable[[Connection], T]) -> T:
        """Return what work in this layer finds, asked anew only once anybody has written.

        Each connection keeps its own answer, as it alone knows what it has seen.
        """

        def look(connection: Connection) -> T:
            kept: dict[Any, tuple[object, T]] = connection.info.setdefault(_KEPT, {})
            seen = sqlite.seen(connection)
            if work not in kept or kept[work][0] != seen:
                kept[work] = seen, work(connection)
            return kept[work][1]

        return self._read(look)

    def find(self, kind: type[R], /, **where: object) -> list[R]:
        """Return the records whose fields have these values, oldest first."""
        return self._read(lambda c: Transaction(c, self.missed).find(kind, **where))

    def of_cooks(
        self, kinds: Iterable[type[Record]], cook_ids: Iterable[str]
    ) -> dict[type[Record], list[Record]]:
        """Return the records by kind that belong to these cooks, or are them, oldest first."""
        asked, wanted = list(kinds), {"cooks": list(cook_ids)}

        def read(connection: Connection) -> dict[type[Record], list[Record]]:
            if len(wanted["cooks"]) == 1:  # twenty questions: SQLAlchemy takes longer than SQLite
                (own,) = wanted["cooks"]
                one = Transaction(connection, self.missed)
                return {
                    kind: list(one.find(kind, **{"id" if kind.KIND == "cook" else "cook_id": own}))
                    for kind in asked
                }
            return {
                kind: records_of(
                    kind, connection.execute(_OF_COOKS[kind.KIND], wanted), self.missed
                )
                for kind in asked
            }

        return self._read(read)


_OF_COOKS = {
    kind: select(table)
    .where(
        (table.c.id if kind == "cook" else table.c.cook_id).in_(bindparam("cooks", expanding=True))
    )
    .order_by(table.c.id)
    for kind, table in TABLES.items()
    if kind == "cook" or "cook_id" in table.c
}
"""Made once: reading a cook takes many."""
