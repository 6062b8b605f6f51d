"""Ordered steps from an older schema to this one, each in the transaction of the opening.

A step is a function of a connection, registered for the version it makes. Before any step
runs, a copy of the journal's database goes to `backups`.

A version that only adds records and fields needs no step of its own: `widen` brings any
older minor up to the tables of today. A step is written by hand only where what is already
kept must change.
"""

from collections.abc import Callable, Mapping

from sqlalchemy import Connection, delete, insert, inspect, select, update
from sqlalchemy.schema import CreateColumn, CreateIndex

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.shelf import QUARTER_CUP, ShelfItem, ShelfKind
from pitjournal.domain.used_recipe import densities_of, details_of, to_keep
from pitjournal.store import text_search
from pitjournal.store.schema import (
    ROWS_INDEX,
    SCHEMA_VERSION,
    TABLES,
    derived_block,
    derived_column,
    derived_place,
    metadata,
    stale,
    version,
)

Version = tuple[int, int]
Step = Callable[[Connection], None]


def _first(connection: Connection) -> None:
    metadata.create_all(connection)
    connection.execute(insert(version).values(major=1, minor=0))


def widen(connection: Connection) -> None:
    """Add the tables and columns that a journal of an older minor does not have yet.

    What is worked out is forgotten, for it may hold less than today's program works out.
    """
    metadata.create_all(connection)
    found = inspect(connection)
    for table in metadata.sorted_tables:
        known = {column["name"] for column in found.get_columns(table.name)}
        added = [column for column in table.columns if column.name not in known]
        for column in added:
            words = CreateColumn(column).compile(dialect=connection.dialect)
            target = "".join(
                f" REFERENCES {key.column.table.name} ({key.column.name})"
                for key in column.foreign_keys
            )
            connection.exec_driver_sql(f"ALTER TABLE {table.name} ADD COLUMN {words}{target}")
        for index in table.indexes:
            if any(column in added for column in index.columns):
                connection.execute(CreateIndex(index))
    text_search.prepare(connection)
    connection.exec_driver_sql("DROP TABLE IF EXISTS derived")  # where minor 0 kept them
    for table in (derived_column, derived_place, derived_block):
        connection.execute(delete(table))
    connection.execute(delete(stale))
    connection.execute(insert(stale).from_select(["cook_id"], select(TABLES["cook"].c.id)))


def _with_rows_index(connection: Connection) -> None:
    """Widen, and find a record's steps without looking through the whole history."""
    widen(connection)
    ROWS_INDEX.create(connection, checkfirst=True)


def _with_recipes_used(connection: Connection) -> None:
    """Widen, and keep the recipes of cooks that have begun as the Shelf has them now."""
    widen(connection)
    shelf, cook, treatment = (TABLES[kind].c for kind in ("shelf_item", "cook", "treatment"))
    items = [
        ShelfItem(kind=ShelfKind(kind), name=name, details=details)
        for kind, name, details in connection.execute(select(shelf.kind, shelf.name, shelf.details))
        if kind in _WEIGHED_KINDS and isinstance(name, str) and isinstance(details, Mapping)
    ]
    setting = TABLES["setting"].c
    jar = connection.execute(select(setting.value).where(setting.id == QUARTER_CUP)).scalar()
    recipes, densities = details_of(items), densities_of(items, _number(jar))
    begun = select(cook.id).where(cook.status != CookStatus.PLANNED)
    named = select(treatment.id, treatment.recipe).where(
        treatment.recipe != "", treatment.cook_id.in_(begun)
    )
    for row_id, name in connection.execute(named).all():
        kept = to_keep(name, recipes, densities) if isinstance(name, str) else {}
        if kept:
            table = TABLES["treatment"]
            connection.execute(update(table).where(table.c.id == row_id).values(made_of=kept))


_WEIGHED_KINDS = frozenset({ShelfKind.RECIPE, ShelfKind.RUB, ShelfKind.INGREDIENT})


def _number(kept: object) -> str:
    """Return a number that was kept as text, or an empty text where it is none."""
    try:
        return str(kept) if kept and float(str(kept)) > 0 else ""
    except ValueError:
        return ""


STEPS: Mapping[Version, Step] = {
    (1, 0): _first,
    (1, 1): widen,
    (1, 2): _with_rows_index,
    (1, 3): _with_recipes_used,
    (1, 4): widen,
    (1, 5): widen,
    (1, 6): widen,
    (1, 7): widen,
}
"""Step by the version it makes."""


def version_of(connection: Connection) -> Version | None:
    """Return the schema version of a database; None for an empty one."""
    if not connection.dialect.has_table(connection, version.name):
        return None
    row = connection.execute(select(version.c.major, version.c.minor)).first()
    if row is None or not all(isinstance(number, int) for number in row):
        return None
    return int(row[0]), int(row[1])


def is_newer(found: Version) -> bool:
    """Whether a journal of this version is too new for this program."""
    return found[0] > SCHEMA_VERSION[0]


def steps_from(
    found: Version | None, steps: Mapping[Version, Step] = STEPS, target: Version = SCHEMA_VERSION
) -> list[tuple[Version, Step]]:
    """Return the steps still to take, in order."""
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
