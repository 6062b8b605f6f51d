"""Worked-out values as kept rows: which are older than their records, and writing new ones."""

import json
from collections.abc import Iterable, Mapping

from sqlalchemy import delete, insert, select

from pitjournal.store.database import Database
from pitjournal.store.schema import derived, stale

Values = Mapping[str, float | str | bool | None]
"""Value by catalogue key."""


def stale_cooks(database: Database) -> list[str]:
    """Return the ids of cooks whose derived rows are to be worked out."""
    return [row.cook_id for row in database.rows(select(stale.c.cook_id))]


def replace_rows(
    database: Database,
    cook_id: str,
    rows: Iterable[tuple[str, str, Values]],
    revision: int | None = None,
) -> None:
    """Write a cook's derived rows ``(owner id, level, values)`` over the old ones.

    This is no operation: it changes nothing that a cook wrote, so there is nothing to undo.
    When the cook has changed since `revision`, the rows are old already: the cook stays stale.
    """
    with database.quiet_write() as connection:
        # From here on the write lock is held, so no change comes between look and commit.
        connection.execute(delete(derived).where(derived.c.cook_id == cook_id))
        if revision is not None and database.revision(cook_id) != revision:
            return
        database.forget_stale(cook_id)
        found = [
            {
                "owner_id": owner,
                "cook_id": cook_id,
                "level": level,
                "numbers": json.dumps(dict(values), ensure_ascii=False),
            }
            for owner, level, values in rows
        ]
        if found:
            connection.execute(insert(derived), found)
        connection.execute(delete(stale).where(stale.c.cook_id == cook_id))


def rows_of(
    database: Database, cook_ids: Iterable[str] | None = None
) -> list[tuple[str, str, str, Values]]:
    """Return ``(owner id, cook id, level, values)`` of these cooks, or of all."""
    query = select(derived)
    if cook_ids is not None:
        query = query.where(derived.c.cook_id.in_(list(cook_ids)))
    return [
        (row.owner_id, row.cook_id, row.level, json.loads(row.numbers))
        for row in database.rows(query)
    ]
