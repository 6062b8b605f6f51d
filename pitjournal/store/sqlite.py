"""The particulars of SQLite: the one place that knows which database this is."""

import sqlite3
from collections.abc import Callable
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.exc import DatabaseError

FILE_NAME = "journal.sqlite"


def engine_for(path: Path, *, read_only: bool = False, synced: bool = True) -> Engine:
    """Return an engine on a journal's file: WAL, foreign keys on, each commit synced to disk.

    What is written without `synced` may be lost with the power, but only all of it together.
    """
    query = {"mode": "ro" if read_only else "rwc", "uri": "true"}
    address = URL.create("sqlite+pysqlite", database=path.absolute().as_uri(), query=query)
    engine = create_engine(address, connect_args={"timeout": 2.0})

    def prepare(connection: sqlite3.Connection, _record: object) -> None:
        connection.isolation_level = None  # the driver's own BEGIN leaves table changes out
        connection.execute("PRAGMA foreign_keys=ON")
        connection.execute(f"PRAGMA synchronous={'FULL' if synced else 'NORMAL'}")
        if not read_only:
            connection.execute("PRAGMA journal_mode=WAL")

    def begin(connection: Connection) -> None:
        # A transaction that reads before it writes would be refused at once when another wrote
        # meanwhile; one that takes the lock first waits for it.
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    event.listen(engine, "connect", prepare)
    event.listen(engine, "begin", begin)
    return engine


def integrity(path: Path) -> tuple[bool, bool]:
    """Return whether SQLite's own check holds, and whether every foreign key does."""
    with sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True) as connection:
        try:
            whole = connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            keys = connection.execute("PRAGMA foreign_key_check").fetchone() is None
        except sqlite3.DatabaseError:
            return False, False
    connection.close()
    return whole, keys


def copy_live(path: Path, target: Path, progress: Callable[[int, int, int], None] | None) -> None:
    """Copy a database that may be open, whole and consistent (SQLite's online backup)."""
    source = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
    copy = sqlite3.connect(target)
    try:
        source.backup(copy, progress=progress, pages=1024)
    finally:
        copy.close()
        source.close()


def why_not_saved(error: DatabaseError) -> str | None:
    """Return in a cook's words why the disk or a lock refused, or None for any other fault."""
    text = str(error.orig).lower()
    if "disk is full" in text or "disk i/o" in text:
        return "The disk is full or cannot be written."
    if "locked" in text or "busy" in text:
        return "Another program holds the journal."
    if "readonly" in text or "read-only" in text:
        return "The journal can only be read."
    return None
