"""Which cooks' worked-out values no longer hold after a change."""

import secrets
from collections.abc import Iterable

from sqlalchemy import Connection, insert, select

from pitjournal.store.schema import TABLES, stale
from pitjournal.store.sqlite import Plain
from pitjournal.store.transaction import Touched

_COOK = TABLES["cook"]
_CATEGORY = TABLES["category"]
OF_CONTESTS = frozenset({"contest", "category", "judge_card", "carried"})
"""The kinds of record of a contest."""

_MARK_STALE = Plain(insert(stale).prefix_with("OR REPLACE"), "cook_id", "change")


def mark_stale(connection: Connection, touched: list[Touched]) -> None:
    """Note the cooks whose worked-out values no longer hold."""
    cooks = cooks_of(touched)
    cookers = {touch.row_id for touch in touched if touch.kind == "shelf_item"}
    if cookers:  # a cook takes its cooker's name and class
        query = select(_COOK.c.id).where(_COOK.c.cooker_id.in_(cookers))
        cooks |= set(connection.execute(query).scalars())
    contests = {
        touch.row_id
        if touch.kind == "contest"
        else getattr(touch.after or touch.before, "contest_id", "")
        for touch in touched
        if touch.kind in OF_CONTESTS
    }
    into = {
        getattr(touch.after or touch.before, "category_id", "")
        for touch in touched
        if touch.kind == "carried"
    }
    if into:
        query = select(_CATEGORY.c.contest_id).where(_CATEGORY.c.id.in_(into))
        contests |= set(connection.execute(query).scalars())
    if contests:  # a cook takes what came of what was turned in from it
        query = select(_CATEGORY.c.cook_id).where(_CATEGORY.c.contest_id.in_(contests))
        cooks |= {found for found in connection.execute(query).scalars() if found}
    if cooks:
        change = secrets.randbits(62)
        rows = [{"cook_id": cook_id, "change": change} for cook_id in sorted(cooks)]
        _MARK_STALE.run(connection, rows)


def cooks_of(touched: Iterable[Touched]) -> set[str]:
    """Return the ids of the cooks whose records were touched."""
    found = set()
    for touch in touched:
        if touch.kind == "cook":
            found.add(touch.row_id)
            continue
        records = (touch.before, touch.after)  # what is turned in may be that of another cook now
        found |= {cook for one in records if (cook := getattr(one, "cook_id", None))}
    return found
