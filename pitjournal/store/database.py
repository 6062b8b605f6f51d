"""A journal's database: opening it, reading it, and changing it in transactions."""

import contextlib
import secrets
from collections.abc import Callable, Iterable, Iterator
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from filelock import FileLock, Timeout
from sqlalchemy import Connection, Engine, Executable, bindparam, insert, select
from sqlalchemy.exc import DatabaseError
from sqlalchemy.sql import Select

from pitjournal.domain.past import RowStep
from pitjournal.domain.record import Record
from pitjournal.errors import JournalError
from pitjournal.store import history, migrations, sqlite
from pitjournal.store.attachments import Attachments
from pitjournal.store.rows import records_of
from pitjournal.store.schema import TABLES, attachment, stale
from pitjournal.store.transaction import Touched, Transaction

R = TypeVar("R", bound=Record)
T = TypeVar("T")

MERGE_WITHIN = 120.0
"""Typing in one field within this many seconds is one step to undo."""


class NotSavedError(JournalError):
    """The disk or a lock refused: nothing was lost but nothing was kept either."""


class Database:
    """An open journal on disk.

    Parameters
    ----------
    folder
        The journal's folder; made, with an empty database, when it is not there.
    read_only
        Open for reading only. A second opening of the same journal is read-only by itself.

    Raises
    ------
    JournalError
        If the folder holds no journal this program can open; it is not touched then.
    """

    def __init__(self, folder: Path, *, read_only: bool = False) -> None:
        self.folder = folder
        self.attachments = Attachments(folder / "attachments")
        self._lock = FileLock(folder / ".in-use")
        self._undone: bool | None = None
        self.read_only = read_only or not self._take_lock()
        try:
            self._engine: Engine = sqlite.engine_for(self.path, read_only=self.read_only)
            self._writer = self._engine.execution_options(writes=True)
            self._prepare()
        except DatabaseError as error:
            self.close()
            message = f"{self.path} is not a journal, or it is damaged."
            raise JournalError(message, "Nothing was changed. Try a copy from a backup.") from error
        except BaseException:
            self.close()
            raise

    @property
    def path(self) -> Path:
        """The database file."""
        return self.folder / sqlite.FILE_NAME

    def _take_lock(self) -> bool:
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            self._lock.acquire(timeout=0)
        except Timeout:
            return False
        except OSError as error:
            if self.path.exists():
                return False
            message = f"No journal can be made in {self.folder}: {error.strerror}."
            raise JournalError(message, "Choose a folder that can be written.") from error
        return True

    def _prepare(self) -> None:
        if self.path.exists() and self.path.stat().st_size:
            with self._reading_only() as connection:
                found = migrations.version_of(connection)
            if found is None:
                raise JournalError(
                    f"{self.path} is not a journal.", "Choose another folder for the journal."
                )
        else:
            found = None
        steps = migrations.steps_from(found)
        if not steps:
            return
        if self.read_only:
            message = f"The journal in {self.folder} must be brought up to date first."
            hint = "Open it once in the window: a copy is put aside first."
            raise JournalError(message, hint)
        if found is not None:
            self._copy_aside(found)
        with self._engine.begin() as connection:
            migrations.take(connection, steps)

    @contextlib.contextmanager
    def _reading_only(self) -> Iterator[Connection]:
        engine = sqlite.engine_for(self.path, read_only=True)
        try:
            with engine.connect() as connection:
                yield connection
        finally:
            engine.dispose()

    def _copy_aside(self, found: migrations.Version) -> None:
        backups = self.folder / "backups"
        backups.mkdir(exist_ok=True)
        stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S")
        name = f"before-{found[0]}.{found[1]}-{stamp}.sqlite"
        sqlite.copy_live(self.path, backups / name, None)

    @contextlib.contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a connection for queries of this layer."""
        with self._engine.connect() as connection:
            yield connection

    def rows(self, query: Select[Any]) -> list[Any]:
        """Return the rows of a query made in this layer."""
        with self._engine.connect() as connection:
            return list(connection.execute(query).all())

    def ask(self, question: sqlite.Question, **values: object) -> list[tuple[Any, ...]]:
        """Return the whole rows that a question made once finds."""
        with self._engine.connect() as connection:
            return question.ask(connection, values)

    def values(self, query: Executable) -> list[Any]:
        """Return the first column of a query made in this layer."""
        with self._engine.connect() as connection:
            return list(connection.execute(query).scalars().all())

    def find(self, kind: type[R], /, **where: object) -> list[R]:
        """Return the records whose fields have these values, oldest first."""
        with self._engine.connect() as connection:
            return Transaction(connection).find(kind, **where)

    def of_cooks(
        self, kinds: Iterable[type[Record]], cook_ids: Iterable[str]
    ) -> dict[type[Record], list[Record]]:
        """Return the records by kind that belong to these cooks, or are them, oldest first."""
        wanted = {"cooks": list(cook_ids)}
        with self._engine.connect() as connection:
            if len(wanted["cooks"]) == 1:  # twenty questions: SQLAlchemy takes longer than SQLite
                (own,) = wanted["cooks"]
                asked = Transaction(connection)
                return {
                    kind: list(
                        asked.find(kind, **{"id" if kind.KIND == "cook" else "cook_id": own})
                    )
                    for kind in kinds
                }
            return {
                kind: records_of(kind, connection.execute(_OF_COOKS[kind.KIND], wanted))
                for kind in kinds
            }

    def change(
        self, label: str, work: Callable[[Transaction], None], *, merge_key: str = ""
    ) -> list[Touched]:
        """Run the work in one transaction, with its history; return what it touched.

        Raises
        ------
        NotSavedError
            If the disk is full or the journal is locked; nothing was changed.
        """

        def run(connection: Connection) -> tuple[None, list[Touched]]:
            transaction = Transaction(connection)
            work(transaction)
            if transaction.touched:
                history.write(
                    connection,
                    label,
                    transaction.touched,
                    merge_key=merge_key,
                    within=MERGE_WITHIN,
                    undone=self._undone is not False,
                )
            return None, transaction.touched

        touched = self._write(run)[1]
        self._undone = False if touched else self._undone
        return touched

    def undo(self) -> tuple[history.Step, list[Touched]] | None:
        """Take back the newest operation."""
        return self._step(history.next_undo, history.undo)

    def redo(self) -> tuple[history.Step, list[Touched]] | None:
        """Do the last undone operation again."""
        return self._step(history.next_redo, history.redo)

    def undo_hides(self) -> bool:
        """Whether the next undo would take a reveal back."""
        with self._engine.connect() as connection:
            step = history.next_undo(connection)
            return step is not None and history.reveals(connection, step)

    def steps_of(self, row_ids: Iterable[str]) -> list[RowStep]:
        """Return what became of these records, step by step, oldest first."""
        with self._engine.connect() as connection:
            return history.steps_of(connection, row_ids)

    def next_steps(self) -> tuple[history.Step | None, history.Step | None]:
        """Return what undo and redo would do."""
        with self._engine.connect() as connection:
            return history.next_undo(connection), history.next_redo(connection)

    def _step(
        self,
        choose: Callable[[Connection], history.Step | None],
        walk: Callable[[Connection, history.Step], list[Touched]],
    ) -> tuple[history.Step, list[Touched]] | None:
        def run(connection: Connection) -> tuple[history.Step | None, list[Touched]]:
            step = choose(connection)
            return step, [] if step is None else walk(connection, step)

        self._undone = None  # to be looked at again
        step, touched = self._write(run)
        return None if step is None else (step, touched)

    def _write(
        self, run: Callable[[Connection], tuple[T, list[Touched]]]
    ) -> tuple[T, list[Touched]]:
        if self.read_only:
            raise NotSavedError(
                "This journal is open in another window, so here it can only be read.",
                "Close the other window and open it again.",
            )
        try:
            with self._writer.begin() as connection:
                result, touched = run(connection)
                self._mark_stale(connection, touched)
        except DatabaseError as error:
            why = sqlite.why_not_saved(error)
            if why is None:
                raise
            raise NotSavedError(f"Not saved yet. {why}", "It is kept here: try again.") from error
        return result, touched

    @staticmethod
    def _mark_stale(connection: Connection, touched: list[Touched]) -> None:
        """Note the cooks whose worked-out values no longer hold."""
        cooks = cooks_of(touched)
        cookers = {touch.row_id for touch in touched if touch.kind == "shelf_item"}
        if cookers:  # a cook takes its cooker's name and class
            query = select(_COOK.c.id).where(_COOK.c.cooker_id.in_(cookers))
            cooks |= set(connection.execute(query).scalars())
        if cooks:
            change = secrets.randbits(62)
            rows = [{"cook_id": cook_id, "change": change} for cook_id in sorted(cooks)]
            _MARK_STALE.run(connection, rows)

    @contextlib.contextmanager
    def quiet_write(self) -> Iterator[Connection]:
        """Give a connection for writing what can always be worked out again."""
        with self._quiet_engine.begin() as connection:
            yield connection

    @cached_property
    def _quiet_engine(self) -> Engine:
        engine = sqlite.engine_for(self.path, synced=False)
        return engine.execution_options(writes=True)

    def attachment_ids(self) -> list[str]:
        """Return the SHA-256 of every file the journal keeps."""
        return [row.id for row in self.rows(select(attachment.c.id).order_by(attachment.c.id))]

    def integrity(self) -> tuple[bool, bool]:
        """Return whether the database is whole, and whether its foreign keys hold."""
        return sqlite.integrity(self.path)

    def copy_to(self, target: Path) -> None:
        """Write a consistent copy of the database, also while it is in use."""
        sqlite.copy_live(self.path, target, None)

    def close(self) -> None:
        """Let go of the files."""
        for name in ("_engine", "_quiet_engine"):
            engine = self.__dict__.get(name)  # one that failed to open has none
            if engine is not None:
                engine.dispose()
        self._lock.release()


_COOK = TABLES["cook"]
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

_MARK_STALE = sqlite.Plain(insert(stale).prefix_with("OR REPLACE"), "cook_id", "change")


def cooks_of(touched: Iterable[Touched]) -> set[str]:
    """Return the ids of the cooks whose records were touched."""
    found = set()
    for touch in touched:
        record = touch.after or touch.before
        cook_id = touch.row_id if touch.kind == "cook" else getattr(record, "cook_id", None)
        if cook_id:
            found.add(cook_id)
    return found
