"""What a cook calls the kept files of a journal, which lie on disk by their SHA-256 alone."""

import contextlib
import sqlite3
from collections.abc import Iterable
from pathlib import Path

from pitjournal.store import sqlite

_NAMED = (
    ("photo", "SELECT attachment, name, cook_id FROM photo"),
    ("small picture of the photo", "SELECT thumbnail, name, cook_id FROM photo"),
    ("log", "SELECT attachment, name, cook_id FROM probe_file"),
    (
        "readings of a channel of the log",
        "SELECT samples, name, trace.cook_id FROM trace JOIN probe_file AS log ON log.id = probe_file_id",
    ),
)
_SHOWN = 3


def named(path: Path, shas: Iterable[str]) -> tuple[str, ...]:
    """Return each kept file as a cook knows it, with its place: in the order in which they come.

    Parameters
    ----------
    path
        The database that names them; what of it cannot be read names none.
    shas
        Their SHA-256.
    """
    wanted = list(shas)
    if not wanted:
        return ()
    called: dict[str, str] = {}
    with (
        contextlib.suppress(sqlite3.Error, UnicodeDecodeError),
        contextlib.closing(sqlite.reader(path)) as connection,
    ):
        titles = _titles(connection)
        for what, query in _NAMED:
            with contextlib.suppress(sqlite3.Error, UnicodeDecodeError):
                for sha, name, cook_id in connection.execute(query):
                    where = titles.get(cook_id, "")
                    called.setdefault(sha, f"the {what} {name}{where}")
    return tuple(
        f"{called.get(sha, 'a file that no record names')} ({sha[:12]}…)" for sha in wanted
    )


def _titles(connection: sqlite3.Connection) -> dict[str, str]:
    with contextlib.suppress(sqlite3.Error, UnicodeDecodeError):
        rows = connection.execute("SELECT id, title FROM cook").fetchall()
        return {cook_id: f" of “{title}”" for cook_id, title in rows}
    return {}


def some(names: tuple[str, ...]) -> str:
    """Return the first of some names, and how many there are more."""
    more = len(names) - _SHOWN
    return "; ".join(names[:_SHOWN]) + (f"; and {more} more" if more > 0 else "")
