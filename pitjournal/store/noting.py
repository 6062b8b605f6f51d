"""Note anew what can be counted: readings of traces, bytes of kept files, numbers of cooks."""

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Column, update

from pitjournal.store.database import Database
from pitjournal.store.schema import TABLES, attachment


def set_counts(database: Database, counts: Mapping[str, int]) -> None:
    """Note how many readings traces have."""
    _set(database, TABLES["trace"].c.count, counts)


def set_numbers(database: Database, numbers: Mapping[str, int]) -> None:
    """Give cooks other numbers."""
    _set(database, TABLES["cook"].c.number, numbers)


def set_sizes(database: Database, sizes: Mapping[str, int]) -> None:
    """Note how many bytes kept files have."""
    _set(database, attachment.c.size, sizes)


def _set(database: Database, column: Column[Any], values: Mapping[str, int]) -> None:
    table = column.table
    with database.writing() as connection:
        for row_id, value in values.items():
            change = update(table).where(table.c.id == row_id).values({column: value})
            connection.execute(change)
