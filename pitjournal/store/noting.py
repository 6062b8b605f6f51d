"""Note anew what can be counted: readings of traces, bytes of kept files, numbers of cooks."""

from collections.abc import Mapping

from sqlalchemy import update

from pitjournal.store.database import Database
from pitjournal.store.schema import TABLES, attachment


def set_counts(database: Database, counts: Mapping[str, int]) -> None:
    """Note how many readings traces have."""
    table = TABLES["trace"]
    with database.writing() as connection:
        for trace_id, many in counts.items():
            change = update(table).where(table.c.id == trace_id).values(count=many)
            connection.execute(change)


def set_numbers(database: Database, numbers: Mapping[str, int]) -> None:
    """Give cooks other numbers."""
    table = TABLES["cook"]
    with database.writing() as connection:
        for cook_id, number in numbers.items():
            connection.execute(update(table).where(table.c.id == cook_id).values(number=number))


def set_sizes(database: Database, sizes: Mapping[str, int]) -> None:
    """Note how many bytes kept files have."""
    with database.writing() as connection:
        for sha, size in sizes.items():
            change = update(attachment).where(attachment.c.id == sha).values(size=size)
            connection.execute(change)
