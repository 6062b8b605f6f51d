"""Ordered steps from an older schema to this one, each in the transaction of the opening.

A step is a function of a connection, registered for the version it makes. Before any step
runs, a copy of the journal's database goes to `backups`.
"""

from collections.abc import Callable, Mapping

from sqlalchemy import Connection, insert, select, update

from pitjournal.errors import JournalError
from pitjournal.store.schema import SCHEMA_VERSION, metadata, version

Version = tuple[int, int]
Step = Callable[[Connection], None]


def _first(connection: Connection) -> None:
    metadata.create_all(connection)
    connection.execute(insert(version).values(major=1, minor=0))


STEPS: Mapping[Version, Step] = {(1, 0): _first}
"""Step by the version it makes."""


def version_of(connection: Connection) -> Version | None:
    """Return the schema version of a database; None for an empty one."""
    if not connection.dialect.has_table(connection, version.name):
        return None
    row = connection.execute(select(version.c.major, version.c.minor)).first()
    return None if row is None else (int(row[0]), int(row[1]))


def steps_from(
    found: Version | None, steps: Mapping[Version, Step] = STEPS, target: Version = SCHEMA_VERSION
) -> list[tuple[Version, Step]]:
    """Return the steps still to take, in order.

    Raises
    ------
    JournalError
        If the journal is of a newer major version than this program.
    """
    if found is not None and found[0] > target[0]:
        message = (
            f"This journal was made by a newer Pitjournal (its format is {found[0]}.{found[1]}, "
            f"this program reads up to {target[0]}.x)."
        )
        raise JournalError(message, "Nothing was changed. Use the newer program to open it.")
    return sorted(
        (made, step)
        for made, step in steps.items()
        if made <= target and (found is None or made > found)
    )


def take(connection: Connection, steps: list[tuple[Version, Step]]) -> None:
    """Take the steps and write down the version they made."""
    for (major, minor), step in steps:
        step(connection)
        connection.execute(update(version).values(major=major, minor=minor))
