"""Which cooks' worked-out values no longer hold after a change."""

import secrets
from collections.abc import Iterable

from sqlalchemy import Connection, insert, select

from pitjournal.store.schema import TABLES, stale
from pitjournal.store.sqlite import Plain
from pitjournal.store.transaction import Touched

_COOK = TABLES["cook"]
_MARK_STALE = Plain(insert(stale).prefix_with("OR REPLACE"), "cook_id", "change")


def mark_stale(connection: Connection, touched: list[Touched]) -> None:
    """Note the cooks whose worked-out values no longer hold."""
    cooks = cooks_of(touched)
    cookers = {touch.row_id for touch in touched if touch.kind == "shelf_item"}
    if cookers:  # a cook takes its cooker's name and class
        query = select(_COOK.c.id).where(_COOK.c.cooker_id.in_(cookers))
        cooks |= set(connection.execute(query).scalars())
    if cooks:
        change = secrets.randbits(62)
        rows = [{"cook_id": cook_id, "change": change} for cook_id in sorted(cooks)]
        _MARK_STALE.run(connection, rows)


def cooks_of(touched: Iterable[Touched]) -> set[str]:
    """Return the ids of the cooks whose records were touched."""
    found = set()
    for touch in touched:
        record = touch.after or touch.before
        cook_id = touch.row_id if touch.kind == "cook" else getattr(record, "cook_id", None)
        if cook_id:
            found.add(cook_id)
    return found
