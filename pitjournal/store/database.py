"""A journal's database: opening it, reading it, and changing it in transactions."""

import contextlib
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from sqlalchemy import Connection, Engine, select
from sqlalchemy.exc import IntegrityError

from pitjournal.domain.past import RowStep
from pitjournal.domain.record import Record
from pitjournal.store import (
    copies,
    drafts,
    faults,
    flaws,
    history,
    mending,
    migrations,
    opening,
    sqlite,
)
from pitjournal.store.attachments import Attachments
from pitjournal.store.build import Build, Foreign
from pitjournal.store.drafts import Drafts
from pitjournal.store.faults import NotSavedError
from pitjournal.store.ground import Standing, file_of
from pitjournal.store.on_its_ground import OnItsGround
from pitjournal.store.schema import attachment
from pitjournal.store.staleness import mark_stale
from pitjournal.store.transaction import Touched, Transaction

T = TypeVar("T")
Work = Callable[[Connection], tuple[T, list[Touched]]]

MERGE_WITHIN = 120.0
"""Typing in one field within this many seconds is one step to undo."""


class Database(OnItsGround):
    """An open journal on disk.

    Parameters
    ----------
    folder
        The journal's folder.
    read_only
        Open for reading only. A second opening of the same journal is read-only by itself, and
        so is one whose folder cannot be written.
    new
        Make it, with its folder, when it is not there.

    Raises
    ------
    CannotOpenError
        If the folder holds no journal this program can open; it is not touched then.
    """

    def __init__(self, folder: Path, *, read_only: bool = False, new: bool = False) -> None:
        super().__init__(folder)
        self.taken_out: tuple[str, ...] = ()
        """What another program had put in that acts by itself, as it was taken out."""
        self.attachments = Attachments(folder / "attachments", self._must_stand)
        self.drafts = Drafts(folder / drafts.FILE_NAME, self._must_stand)
        make = opening.must_be_there(folder, new=new)
        self._access = opening.take(folder, self._lock, read_only=read_only, make=make)
        self._locked = file_of(self._lock.lock_file)
        try:
            self._open(make)
        except faults.REFUSED as error:
            self.close()
            told = faults.cannot_open(error, self.path)
            if told is None:
                raise
            raise told from error
        except BaseException:
            self.close()
            raise

    def _open(self, make: bool) -> None:
        steps = migrations.steps_from(None if make else self._version())
        if steps and self.read_only:
            raise opening.must_be_brought_up_to_date(self.folder)
        mode = "fixed" if self._access.fixed else "ro" if self.read_only else "rw"
        if steps and not make:
            copies.keep(self.path, f"before-{steps[-1][0][0]}.{steps[-1][0][1]}")
        if make:
            opening.make(self.path, steps)
        self._engine = sqlite.engine_for(
            self.path,
            mode=mode,
            also=self._begin_with,
            before=self._look_at_index,
            taken_out=self._keep_foreign,
        )
        self._writer = sqlite.Writer(self._engine)
        if steps and not make:
            with self._engine.execution_options(writes=True).begin() as connection:
                migrations.take(connection, steps)
        if not make:
            self._build_anew()
        with self._engine.connect() as connection:
            self._newest = history.newest(connection)
        self._ground.note()

    def _build_anew(self) -> None:
        """Refuse where tables lack; make anew what only serves, and leave nothing foreign in."""
        with self._engine.connect() as connection:
            found = mending.look(connection)
        if found.lacking:
            raise opening.lacks(self.path, found.lacking)
        if self.read_only or not (found.unmade or any(one.acts for one in found.foreign)):
            return
        copies.keep(self.path, "before-mending")
        with self._engine.execution_options(writes=True).begin() as connection:
            if found.unmade:
                mending.make_what_serves(connection)

    def _keep_foreign(self, what: tuple[Foreign, ...]) -> None:
        """Keep the words of what another program had put in, which was taken out."""
        self.taken_out = (*self.taken_out, *map(str, what))
        with contextlib.suppress(OSError):
            aside = copies.aside_folder(self.folder) / "taken-out.sql"
            aside.write_text("".join(f"{one.sql};\n" for one in what), "utf-8")

    def _version(self) -> migrations.Version:
        # Without a log all is in the file, and nothing needs to be put beside it to read it.
        mode = "ro" if sqlite.log_waits(self.path) else "fixed"
        engine = sqlite.engine_for(self.path, mode=mode)
        try:
            with engine.connect() as connection:
                return opening.version_found(connection, self.folder)
        finally:
            engine.dispose()

    # changing

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
            transaction = Transaction(connection, self.missed)
            work(transaction)
            if transaction.touched:
                step[:] = history.write(
                    connection,
                    label,
                    transaction.touched,
                    merge_key=merge_key,
                    within=MERGE_WITHIN,
                    undone=self._undone is not False,
                )
            return None, transaction.touched

        step: list[Any] = []
        touched = self._write(run)[1]
        if touched:
            self._undone, self._newest = False, (step[0], step[1])
        return touched

    def undo(self) -> tuple[history.Step, list[Touched]] | None:
        """Take back the newest operation."""
        return self._step(history.next_undo, history.undo)

    def redo(self) -> tuple[history.Step, list[Touched]] | None:
        """Do the last undone operation again."""
        return self._step(history.next_redo, history.redo)

    def undo_hides(self) -> bool:
        """Whether the next undo would take a reveal back."""
        with self.reading() as connection:
            step = history.next_undo(connection)
            return step is not None and history.reveals(connection, step)

    def undo_touches(self) -> list[Touched]:
        """Return the rows that the next undo would put back."""

        def look(connection: Connection) -> list[Touched]:
            step = history.next_undo(connection)
            return [] if step is None else history.rows_of(connection, step)

        return self._read(look)

    def steps_after_reveal(
        self, cook_id: str, tastings: Iterable[str], others: Iterable[str]
    ) -> list[RowStep]:
        """Return what became of a cook's records once codes were seen; see `store.history`."""
        mine, rest = tuple(tastings), tuple(others)  # a damaged page may make it read twice
        return self._read(lambda c: history.steps_after_reveal(c, cook_id, mine, rest))

    def past_of(self, row_id: str) -> list[tuple[datetime, Record]]:
        """Return what a record became, and when, oldest first; see `store.history`."""
        return self._read(lambda c: history.past_of(c, row_id))

    def next_steps(self) -> tuple[history.Step | None, history.Step | None]:
        """Return what undo and redo would do."""
        return self._read(lambda c: (history.next_undo(c), history.next_redo(c)))

    def _step(
        self,
        choose: Callable[[Connection], history.Step | None],
        walk: Callable[[Connection, history.Step], list[Touched]],
    ) -> tuple[history.Step, list[Touched]] | None:
        def run(connection: Connection) -> tuple[history.Step | None, list[Touched]]:
            step = choose(connection)
            touched = [] if step is None else walk(connection, step)
            newest[:] = [history.newest(connection)]
            return step, touched

        self._undone = None  # to be looked at again
        newest: list[tuple[int, str] | None] = []
        step, touched = self._write(run)
        self._newest = newest[0]
        return None if step is None else (step, touched)

    def _write(self, run: Work[T]) -> tuple[T, list[Touched]]:
        if (why := self.why_read_only) is not None:
            raise NotSavedError(*why)
        try:
            return self._commit(run)
        except faults.REFUSED as error:
            if self._be_tolerant(error):
                return self._write(run)
            self._tell(error)
            raise

    def _commit(self, run: Work[T]) -> tuple[T, list[Touched]]:
        with self._turn:
            self._must_stand(whole=True)
            with self._writer.begin() as connection:
                result, touched = run(connection)
                mark_stale(connection, touched)
                self._must_stand()
            self._ground.note()
        return result, touched

    @contextlib.contextmanager
    def writing(self) -> Iterator[Connection]:
        """Give a connection for mending; it is no step, and no record is checked.

        Raises
        ------
        NotSavedError
            If the disk refuses; nothing was changed.
        """
        if (why := self.why_read_only) is not None:
            raise NotSavedError(*why)
        try:
            with self._turn:
                self._must_stand(whole=True)
                with self._writer.connect() as connection:
                    # What points at nothing is what is to be mended, so it is no obstacle.
                    connection.connection.execute("PRAGMA foreign_keys=OFF")
                    try:
                        with connection.begin():
                            yield connection
                            self._must_stand()
                    finally:
                        connection.connection.execute("PRAGMA foreign_keys=ON")
                self._ground.note()
        except faults.REFUSED as error:
            self._tell(error)
            raise

    @contextlib.contextmanager
    def quiet_write(self) -> Iterator[Connection]:
        """Give a connection for writing what can always be worked out again."""
        with self._turn:
            self._must_stand(whole=True)
            with self._quiet_engine.begin() as connection:
                yield connection
            self._ground.note()

    def settle(self) -> None:
        """Put what was saved from the log into the database's file, as far as nobody reads.

        The log alone holds what was saved since; whoever cuts that off takes it away. Nothing is
        said where it cannot be done: it is done at the latest when the journal is closed.
        """
        if self.read_only or not sqlite.log_waits(self.path):
            return
        refused = contextlib.suppress(NotSavedError, *faults.REFUSED)
        with self._turn, refused:
            self._must_stand(whole=True)
            with self._quiet_engine.connect() as connection:
                self._look_at_index()
                sqlite.driver_of(connection).execute("PRAGMA wal_checkpoint(PASSIVE)")
            self._ground.note()

    @cached_property
    def _quiet_engine(self) -> Engine:
        engine = sqlite.engine_for(
            self.path,
            synced=False,
            also=self._begin_with,
            before=self._look_at_index,
            taken_out=self._keep_foreign,
        )
        return engine.execution_options(writes=True)

    def attachment_ids(self) -> list[str]:
        """Return the SHA-256 of every file the journal keeps."""
        return self.ids(select(attachment.c.id).order_by(attachment.c.id))

    def attachment_sizes(self) -> dict[str, int]:
        """Return how many bytes each kept file was noted to have, by its SHA-256."""
        rows = self.rows(select(attachment.c.id, attachment.c.size))
        return {row.id: row.size for row in rows if isinstance(row.size, int)}

    def integrity(self) -> tuple[bool, bool]:
        """Return whether the database is whole, and whether its foreign keys hold."""
        self._look_at_index()
        try:
            return sqlite.integrity(self.path)
        except sqlite3.Error as error:
            raise faults.not_read(error, self.path) or error from error

    def build(self) -> Build:
        """Return how it is built, and what another program put in."""
        return self._read(mending.look)

    def flaws(self) -> list[tuple[str, str, str]]:
        """Return what is wrong in rows that can be read: table, id, and column with why."""
        return self._read(flaws.named)

    def copy_to(self, target: Path) -> None:
        """Write a consistent copy of the database, also while it is in use.

        Raises
        ------
        JournalError
            If it cannot be read.
        OSError
            If the copy cannot be written.
        """
        self._must_stand()
        self._look_at_index()
        sqlite.copy_live(self.path, target)

    def rebuild_indexes(self) -> None:
        """Make the indexes anew from their tables.

        Raises
        ------
        NotSavedError
            If a table itself is damaged, or the disk refuses.
        """
        try:
            with self.writing() as connection:
                connection.exec_driver_sql("REINDEX")
        except IntegrityError as error:  # a row is there twice
            raise NotSavedError("A table of the journal is damaged.", "Salvage it.") from error

    def back_up(self, why: str) -> copies.Copy:
        """Put a checked copy of the database into the journal's `backups`.

        Raises
        ------
        NotSavedError
            If it cannot be written.
        DamagedError
            If the database cannot be read whole.
        """
        self._must_stand()
        self._look_at_index()
        return copies.keep(self.path, why)

    def copy_open_into(self, target: Path, say: Callable[[float], None]) -> None:
        """Copy what the open file has into another, also where its path is gone.

        What it raises is the driver's or the system's; `store.carrying` has the words.
        """
        self._look_at_index()
        with self._turn:
            self._put_writer_away()  # or the only open connection would not be among those to copy
        sqlite.copy_open(self._engine, target, say)

    def step_that_stands(self) -> tuple[int, str] | None:
        """Return the newest step that is not undone: its number and when it was taken."""
        return self._read(history.standing)

    def close(self) -> None:
        """Let go of the files."""
        there = self._ground.look(whole=False) in {Standing.SAME, Standing.LOG_LOST}
        self._let_go_of_engines(gone=not there)
        self._lock.release()
