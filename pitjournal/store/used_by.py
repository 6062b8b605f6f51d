"""Where a thing of the Shelf, or a variable of the cook's own, is used: how many cooks have it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sqlalchemy import Select, func, select

from pitjournal.domain.shelf import ShelfItem, ShelfKind, plain_name
from pitjournal.store.database import Database
from pitjournal.store.schema import TABLES

NAMED_IN: Mapping[ShelfKind, tuple[str, str]] = {
    ShelfKind.FUEL: ("fuel_load", "fuel"),
    ShelfKind.WOOD: ("wood_addition", "wood"),
    ShelfKind.RUB: ("seasoning", "rub"),
    ShelfKind.RECIPE: ("treatment", "recipe"),
    ShelfKind.TASTER: ("score", "taster"),
}
"""The table and the field in which cooks have a thing of each sort by its name."""

OWN_VALUE = TABLES["own_value"]


@dataclass(frozen=True)
class OwnUse:
    """How many values of a variable there are, in how many cooks."""

    values: int
    cooks: int


def own_variables(database: Database) -> dict[str, OwnUse]:
    """Return the use of each variable that some cook has, by its id."""
    cooks = func.count(OWN_VALUE.c.cook_id.distinct())
    query = select(OWN_VALUE.c.variable_id, func.count(), cooks).group_by(OWN_VALUE.c.variable_id)
    return {row[0]: OwnUse(row[1], row[2]) for row in database.rows(query)}


def cooks_with(database: Database, items: Iterable[ShelfItem]) -> dict[str, tuple[int, ...]]:
    """Return the numbers of the cooks that have each thing, newest first, by its id.

    A cooker is meant by its id, all else by the name as the cook has it, in any case and spacing.
    """
    found: dict[str, tuple[int, ...]] = {}
    by_kind: dict[ShelfKind, dict[str, tuple[int, ...]]] = {}
    for item in items:
        if item.kind not in by_kind:
            by_kind[item.kind] = _by_name(database, item.kind)
        key = item.id if item.kind is ShelfKind.COOKER else plain_name(item.name)
        found[item.id] = by_kind[item.kind].get(key, ())
    return found


def _by_name(database: Database, kind: ShelfKind) -> dict[str, tuple[int, ...]]:
    query = _asked(kind)
    if query is None:
        return {}
    numbers: dict[str, set[int]] = {}
    for name, number in database.rows(query):
        if isinstance(name, str) and isinstance(number, int):
            numbers.setdefault(name if kind is ShelfKind.COOKER else plain_name(name), set()).add(
                number
            )
    return {name: tuple(sorted(found, reverse=True)) for name, found in numbers.items()}


def _asked(kind: ShelfKind) -> Select[tuple[str, int]] | None:
    cook = TABLES["cook"]
    if kind is ShelfKind.COOKER:
        return select(cook.c.cooker_id, cook.c.number).where(cook.c.cooker_id.is_not(None))
    if kind not in NAMED_IN:
        return None
    name, field = NAMED_IN[kind]
    table = TABLES[name]
    joined = table.join(cook, cook.c.id == table.c.cook_id)
    return select(table.c[field], cook.c.number).select_from(joined).distinct()
