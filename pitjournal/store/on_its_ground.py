"""A database that is open: whether its path still leads to it, before anything is written."""

import contextlib
import sqlite3
import threading
from pathlib import Path

from filelock import FileLock, Timeout
from sqlalchemy.exc import IntegrityError

from pitjournal.errors import JournalError
from pitjournal.store import faults, history, opening, sqlite
from pitjournal.store.faults import NotSavedError
from pitjournal.store.ground import Ground, Standing, file_of
from pitjournal.store.reading import Reading
from pitjournal.store.wal_index import WalIndex


class OnItsGround(Reading):
    """What can be read of a database, and what keeps writing to where it was opened.

    Parameters
    ----------
    folder
        The journal's folder.
    """

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self._ground, self._index = Ground(self.path), WalIndex(self.path)
        self._lock = FileLock(folder / opening.LOCK_NAME)
        self._access: opening.Access
        self._locked: tuple[int, int] | None = None
        self._turn = threading.RLock()
        self._newest: tuple[int, str] | None = None
        self._undone: bool | None = None

    def _begin_with(self, connection: sqlite3.Connection) -> None:
        """Begin with a connection: it must be to the same file, and bear what it finds."""
        self._look_at_index()
        if self._ground.look(whole=False) not in {Standing.SAME, Standing.LOG_LOST}:
            raise JournalError(f"The journal is no longer in {self.folder}.", "Bring it back.")
        if self._tolerant:
            sqlite.tolerate(connection)

    @property
    def read_only(self) -> bool:
        """Whether it can only be read."""
        return self._access.why_read_only is not None

    @property
    def why_read_only(self) -> tuple[str, str] | None:
        """Why it can only be read, and what to do about it; None where it can be changed."""
        return self._access.why_read_only

    # standing on the same file

    def _look_at_index(self) -> None:
        self._index.look()

    def _must_stand(self, *, whole: bool = False) -> None:
        """Refuse to write where the path no longer leads to the file that is open.

        Raises
        ------
        NotSavedError
            If the journal is gone, or another one lies there.
        """
        standing = self._ground.look(whole=whole)
        if standing is Standing.SAME:
            return
        if standing in {Standing.GONE, Standing.FORBIDDEN}:
            gone = standing is Standing.GONE
            why = "was moved or is gone" if gone else "can no longer be read"
            message = f"Not saved yet. The journal's folder {why}."
            raise NotSavedError(message, f"{faults.HELD} Bring it back: {self.folder}")
        self._take_over(standing)

    def _take_over(self, standing: Standing) -> None:
        """Go on with what lies there now, where it has all that was saved here."""
        if standing is Standing.LOG_LOST:  # the open log still has it: put it into the file
            self._put_writer_away()  # a connection that has that log open, not a new one
            with self._engine.connect() as connection:
                connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
        if not sqlite.holds_step(self.path, self._newest):
            if not sqlite.is_sound(self.path):
                raise faults.damaged_under_way()
            message = (
                f"Not saved yet. Another program changed or replaced the journal: {self.path}."
            )
            hint = f"What was saved last is not in it. {faults.HELD}"
            raise NotSavedError(message, hint)
        if standing is Standing.REPLACED:
            self._change_locks()
        self._let_go_of_engines(gone=standing is Standing.REPLACED)
        self._ground, self._index = Ground(self.path), WalIndex(self.path)
        with self._engine.connect() as connection:
            history.newest(connection)
        self._ground.note()
        self._undone = None

    def _tell(self, error: BaseException) -> None:
        """Raise in a cook's words why a write was refused; nothing of a fault of the program.

        A rule between rows that does not hold is one, unless the database is not whole.

        Raises
        ------
        NotSavedError
            If the disk, the folder, a lock or damage refused.
        """
        told = faults.not_saved(error, self.path)
        with contextlib.suppress(sqlite3.Error):
            broken = told is None and isinstance(error, IntegrityError)
            if broken and not all(sqlite.integrity(self.path)):
                told = faults.damaged_under_way()
        if told is not None:
            raise told from error

    def _change_locks(self) -> None:
        """Take the lock of the folder that came in the place of the old one."""
        lock = FileLock(self.folder / opening.LOCK_NAME)
        if file_of(lock.lock_file) == self._locked:
            return
        try:
            lock.acquire(timeout=0)
        except (Timeout, OSError) as error:
            message = f"Not saved yet. Another journal lies in {self.folder}, and is in use."
            raise NotSavedError(message, f"Close it where it is open. {faults.HELD}") from error
        self._lock.release()
        self._lock, self._locked = lock, file_of(lock.lock_file)

    def _be_tolerant(self, error: BaseException) -> bool:
        with self._turn:
            self._put_writer_away()
            stood = self._ground.look(whole=False) is Standing.SAME
            done = super()._be_tolerant(error)
            if done and stood:
                self._ground.forget_log()  # the last connection took it away as it closed
        return done

    def _put_writer_away(self) -> None:
        writer = self.__dict__.get("_writer")  # a journal that failed to open has none
        if writer is not None:
            writer.put_away()

    def _let_go_of_engines(self, *, gone: bool) -> None:
        self._look_at_index()  # the last connection to close reads it
        self._put_writer_away()
        for name in ("_engine", "_quiet_engine"):
            engine = self.__dict__.get(name)  # one that failed to open has none
            if engine is None:
                continue
            if gone:
                sqlite.let_go(engine)
            else:
                engine.dispose()
