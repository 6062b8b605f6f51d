"""The particulars of SQLite: the one place that knows which database this is."""

import contextlib
import ctypes
import os
import sqlite3
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, Insert, Select, Table, create_engine, event
from sqlalchemy.dialects.sqlite import pysqlite
from sqlalchemy.exc import DBAPIError

from pitjournal.errors import JournalError
from pitjournal.store import build, faults
from pitjournal.store.build import Foreign
from pitjournal.store.ground import beside, own_file

FILE_NAME = "journal.sqlite"
_BUILD = "PRAGMA schema_version"
"""A number that SQLite changes with each table, index, view or trigger made or dropped."""


def engine_for(
    path: Path,
    *,
    mode: str = "rw",
    synced: bool = True,
    also: Callable[[sqlite3.Connection], None] | None = None,
    before: Callable[[], object] | None = None,
    taken_out: Callable[[tuple[Foreign, ...]], object] = lambda _what: None,
) -> Engine:
    """Return an engine on a journal's file: WAL, foreign keys on, each commit synced to disk.

    What is written without `synced` may be lost with the power, but only all of it together.

    Parameters
    ----------
    path
        The database file.
    mode
        "rw" never makes a file, "rwc" does, "ro" only reads, and "fixed" reads what nobody can
        write, such as a disk that can only be read.
    synced
        Whether a commit waits for the disk.
    also
        What is done to each new connection first; it may refuse it.
    before
        What is done before each transaction.
    taken_out
        Told what another program had put in that acts by itself: no transaction that writes goes
        on before that is out, also where it was put in while the journal is open.
    """
    fixed = mode == "fixed"
    query = {"mode": "ro" if fixed else mode, "uri": "true"} | ({"immutable": "1"} if fixed else {})
    address = URL.create("sqlite+pysqlite", database=path.absolute().as_uri(), query=query)
    engine = create_engine(address, connect_args={"timeout": 2.0})
    built: list[tuple[int]] = []  # the number of the build that was looked at last

    def prepare(connection: sqlite3.Connection, _record: object) -> None:
        if also is not None:
            also(connection)
        connection.isolation_level = None  # the driver's own BEGIN leaves table changes out
        connection.execute("PRAGMA foreign_keys=ON")
        connection.execute(f"PRAGMA synchronous={'FULL' if synced else 'NORMAL'}")
        if sys.platform == "darwin":  # a plain sync leaves it in the drive's own memory there
            connection.execute("PRAGMA fullfsync=ON")
            connection.execute("PRAGMA checkpoint_fullfsync=ON")
        if mode in {"rw", "rwc"}:
            connection.execute("PRAGMA journal_mode=WAL")

    def begin(connection: Connection) -> None:
        # A transaction that reads before it writes would be refused at once when another wrote
        # meanwhile; one that takes the lock first waits for it.
        writes = connection.get_execution_options().get("writes", False)
        words = "BEGIN IMMEDIATE" if writes else "BEGIN"
        if before is not None:
            before()
        driver = driver_of(connection)
        with _as_sqlalchemy(words):
            driver.execute(words)
            if writes and driver.execute(_BUILD).fetchone() not in built:
                foreign = build.strip(driver)
                if foreign:
                    taken_out(foreign)
                built[:] = driver.execute(_BUILD).fetchall()

    event.listen(engine, "connect", prepare)
    event.listen(engine, "begin", begin)
    return engine


class Writer:
    """The connection that writes, kept from tap to tap.

    To fetch one from the pool and to give it back takes longer than all that SQLite does for a
    tap. Whoever uses it keeps others out meanwhile.

    Parameters
    ----------
    engine
        The engine it comes from, and to which it goes back with `put_away`.
    """

    def __init__(self, engine: Engine) -> None:
        self._engine = engine.execution_options(writes=True)
        self._kept: Connection | None = None

    @contextlib.contextmanager
    def begin(self) -> Iterator[Connection]:
        """Give it in a transaction, which is committed, or rolled back where something raises."""
        if self._kept is None:
            self._kept = self._engine.connect()
        try:
            with self._kept.begin():
                yield self._kept
        except BaseException:
            self.put_away()  # the next one is begun on what the pool made clean
            raise

    def connect(self) -> Connection:
        """Give one that was not in use, for what changes how a connection works."""
        return self._engine.connect()

    def put_away(self) -> None:
        """Give it back, unless it is in the middle of a transaction."""
        kept = self._kept
        if kept is not None and not kept.in_transaction():
            self._kept = None
            kept.close()


def let_go(engine: Engine) -> None:
    """Let go of a file whose path may lead to another one by now.

    The last connection to close removes the write-ahead log by its name, which may be another
    journal's meanwhile. So one connection is kept open until the process ends, and the others
    are then not the last.
    """
    with contextlib.suppress(JournalError, *faults.REFUSED):
        kept = engine.raw_connection()
        kept.detach()
        # One reference too many, or the interpreter would close it at its own end.
        ctypes.pythonapi.Py_IncRef(ctypes.py_object(kept.driver_connection))
    engine.dispose()


def tolerate(connection: sqlite3.Connection) -> None:
    """Read a text that is no UTF-8 with signs in the place of what is wrong."""
    connection.text_factory = lambda data: data.decode("utf-8", "replace")


def driver_of(connection: Connection) -> sqlite3.Connection:
    """Return the driver's connection.

    A tap asks and writes through it: SQLAlchemy's cursor and results take several times as long
    as SQLite itself.
    """
    driver = connection.connection.driver_connection
    assert isinstance(driver, sqlite3.Connection)
    return driver


def _begun(connection: Connection) -> sqlite3.Connection:
    """Return the driver's connection in a transaction, which SQLAlchemy begins by itself else."""
    if not connection.in_transaction():
        connection.begin()
    return driver_of(connection)


def seen(connection: Connection) -> tuple[int, int]:
    """Return what stays the same until this connection or another has written."""
    driver = _begun(connection)
    (others,) = driver.execute("PRAGMA data_version").fetchone()
    return others, driver.total_changes


@contextlib.contextmanager
def _as_sqlalchemy(words: str) -> Iterator[None]:
    """Raise what the driver raises as SQLAlchemy does, which is what all above hear of."""
    try:
        yield
    except sqlite3.Error as error:
        raise DBAPIError.instance(words, None, error, sqlite3.Error) from error


class Plain:
    """An insert as the driver takes it, made once: a tap must not spend its time on making it.

    Parameters
    ----------
    statement
        An insert into all columns, or into those named.
    names
        The columns; all where none is named.
    """

    def __init__(self, statement: Insert, *names: str) -> None:
        dialect = pysqlite.dialect()
        columns = statement.table.c
        keys = list(names) or [column.key for column in columns]
        compiled = statement.compile(dialect=dialect, column_keys=keys)
        self._words = str(compiled)
        self._columns = tuple(
            (name, columns[name].type.bind_processor(dialect))
            for name in compiled.positiontup or ()
        )

    def run(self, connection: Connection, rows: Sequence[Mapping[str, object]]) -> int:
        """Insert rows; return the number that the last one got."""
        values = [
            tuple(row[name] if made is None else made(row[name]) for name, made in self._columns)
            for row in rows
        ]
        driver = _begun(connection)
        with _as_sqlalchemy(self._words):
            if len(values) > 1:
                return driver.executemany(self._words, values).lastrowid or 0
            return driver.execute(self._words, values[0]).lastrowid or 0


class PreparedSelect:
    """A select of whole rows as the driver takes it, made once for the same reason.

    Parameters
    ----------
    statement
        A select of all columns of a table; what is bound is named as its column.
    table
        The table.
    """

    def __init__(self, statement: Select[Any], table: Table) -> None:
        dialect = pysqlite.dialect()
        compiled = statement.compile(dialect=dialect)
        self._words = str(compiled)
        self._columns = tuple(
            (name, table.c[name].type.bind_processor(dialect))
            for name in compiled.positiontup or ()
        )
        processors = (column.type.result_processor(dialect, None) for column in table.c)
        self._made = tuple(
            (place, made) for place, made in enumerate(processors) if made is not None
        )

    def ask(self, connection: Connection, values: Mapping[str, object]) -> list[tuple[Any, ...]]:
        """Return the rows."""
        return list(map(self.made, self.stored(connection, values)))

    def stored(self, connection: Connection, values: Mapping[str, object]) -> list[tuple[Any, ...]]:
        """Return the rows as the driver gives them; `made` makes what they mean of them."""
        bound = tuple(
            values[name] if made is None else made(values[name]) for name, made in self._columns
        )
        driver = _begun(connection)
        with _as_sqlalchemy(self._words):
            return driver.execute(self._words, bound).fetchall()

    def made(self, row: Sequence[Any]) -> tuple[Any, ...]:
        """Return a stored row with moments, lists and whatever else is no plain value."""
        values_of = list(row)
        for place, made in self._made:
            values_of[place] = made(values_of[place])
        return tuple(values_of)


def quoted(names: Iterable[str]) -> str:
    """Return names of columns as a statement takes them: some are words of SQL."""
    return ", ".join(f'"{name}"' for name in names)


def may(path: Path, what: int) -> bool:
    """Whether this program may do something with a path: os.R_OK or os.W_OK."""
    return os.access(path, what, effective_ids=os.access in os.supports_effective_ids)


def log_waits(path: Path) -> bool:
    """Whether a write-ahead log holds what is not in a database's file yet."""
    try:
        return beside(path, "-wal").stat().st_size > 0
    except OSError:
        return False


def is_fixed(path: Path) -> bool:
    """Whether nothing can be written beside a database, and all of it is in its file.

    It can then only be read as one that nobody changes: readers share a file beside it else.
    """
    return not may(own_file(path).parent, os.W_OK) and not log_waits(path)


def reader(path: Path) -> sqlite3.Connection:
    """Return a connection of the driver's own that can only read, and bears any text."""
    if path.exists() and not path.is_file():  # a pipe would be waited for
        message = "file is not a database"
        raise sqlite3.DatabaseError(message)
    immutable = "&immutable=1" if is_fixed(path) else ""
    address = f"{path.absolute().as_uri()}?mode=ro{immutable}"
    connection = sqlite3.connect(address, uri=True, timeout=2.0)
    tolerate(connection)
    return connection


def has_version(connection: sqlite3.Connection) -> bool:
    """Whether a database has the table that says of which format a journal is."""
    query = "SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = 'schema_version'"
    return connection.execute(query).fetchone() is not None


def integrity(path: Path) -> tuple[bool, bool]:
    """Return whether SQLite's own check holds, and whether every foreign key does."""
    with contextlib.closing(reader(path)) as connection:
        try:
            whole = connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            keys = connection.execute("PRAGMA foreign_key_check").fetchone() is None
        except (sqlite3.DatabaseError, UnicodeDecodeError) as error:
            if faults.refused_by(error):
                raise  # the disk or another program: nothing speaks against the database
            return False, False
    return whole, keys


PAGES_AT_ONCE = 2_000
"""So many pages are copied between two looks at whether the copy is still wanted."""


def copy_open(
    engine: Engine, target: Path, say: Callable[[float], None] = lambda _part: None
) -> None:
    """Copy what an open connection has, also where its path leads elsewhere by now.

    Parameters
    ----------
    say
        Told how much is copied, 0 to 1; where it raises, copying ends there.
    """

    def told(_code: int, left: int, every: int) -> None:
        say(1.0 - left / max(every, 1))

    open_one = engine.raw_connection()
    try:
        source = open_one.driver_connection
        assert isinstance(source, sqlite3.Connection)
        with contextlib.closing(sqlite3.connect(target)) as copy:
            source.backup(copy, pages=PAGES_AT_ONCE, progress=told)
    finally:
        open_one.close()


def is_sound(path: Path) -> bool:
    """Whether a file is a database whose pages hang together."""
    try:
        with contextlib.closing(reader(path)) as connection:
            return bool(connection.execute("PRAGMA quick_check(1)").fetchone() == ("ok",))
    except (sqlite3.DatabaseError, UnicodeDecodeError):
        return False


_STEPS = "SELECT count(*) FROM operation"


def holds_step(path: Path, step: tuple[int, str] | None) -> bool:
    """Whether a journal's file is sound, and has this step: its number and when it was taken.

    So it is the same journal, at least as new as the step.
    """
    try:
        with contextlib.closing(reader(path)) as connection:
            if connection.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
                return False
            if step is None:
                none_taken: tuple[object] = connection.execute(_STEPS).fetchone()
                return none_taken == (0,)
            query = "SELECT at FROM operation WHERE seq = ?"
            return bool(connection.execute(query, step[:1]).fetchone() == step[1:])
    except (sqlite3.DatabaseError, UnicodeDecodeError):
        return False


def copy_live(path: Path, target: Path) -> None:
    """Copy a database that may be open, whole and consistent (SQLite's online backup).

    The copy is one file that needs no log beside it, and no trigger of another program is in it.
    """
    with (
        contextlib.closing(reader(path)) as source,
        contextlib.closing(sqlite3.connect(target)) as copy,
    ):
        source.backup(copy)
    strip_copy(target)


def strip_copy(path: Path) -> None:
    """Make a copy one file, and take out what another program left in it that acts by itself."""
    with contextlib.closing(sqlite3.connect(path)) as copy:
        copy.execute("PRAGMA journal_mode=DELETE")
        build.strip(copy)
