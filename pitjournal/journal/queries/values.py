"""Worked-out values, always fresh: what is stale is worked out again before it is read."""

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from pitjournal.store import derived_rows

if TYPE_CHECKING:
    from pitjournal.analysis.derived import CookValues
    from pitjournal.journal.journal import Journal

TOGETHER = 200
"""So many cooks are read and worked out at a time, so that memory stays small."""

Row = tuple[str, str, str, derived_rows.Values]
"""Owner id, cook id, level ("cook" or "piece"), value by catalogue key."""


def worked_out(journal: "Journal", cook_ids: list[str]) -> Mapping[str, "CookValues"]:
    """Work out the values of these cooks from their records."""
    from pitjournal.analysis.derived import values_of  # noqa: PLC0415 - numpy, when first needed

    wholes = journal.wholes(cook_ids)
    return {cook_id: values_of(whole, journal.samples) for cook_id, whole in wholes.items()}


def _rows(cook_id: str, values: "CookValues") -> Iterator[Row]:
    yield cook_id, cook_id, "cook", values.cook
    for piece_id, found in values.pieces.items():
        yield piece_id, cook_id, "piece", found


def fresh_rows(journal: "Journal", cook_ids: list[str] | None = None) -> list[Row]:
    """Return the rows of these cooks, or of all, working out what is stale.

    A journal that can only be read keeps nothing: its stale cooks are worked out each time.
    """
    database = journal.database
    stale = derived_rows.stale_cooks(database)
    asked = None if cook_ids is None else set(cook_ids)
    wanted = [cook for cook in stale if asked is None or cook in asked]
    fresh: dict[str, list[Row]] = {}
    for start in range(0, len(wanted), TOGETHER):
        some = wanted[start : start + TOGETHER]
        revisions = {cook_id: database.revision(cook_id) for cook_id in some}
        found = worked_out(journal, some)
        for cook_id in some:
            rows = list(_rows(cook_id, found[cook_id])) if cook_id in found else []
            if journal.read_only:
                fresh[cook_id] = rows
                continue
            kept = [(owner, level, values) for owner, _, level, values in rows]
            derived_rows.replace_rows(database, cook_id, kept, revisions[cook_id])
    held = derived_rows.rows_of(database, cook_ids)
    if not fresh:
        return held
    return [row for row in held if row[1] not in fresh] + [
        row for rows in fresh.values() for row in rows
    ]


def agree(journal: "Journal") -> bool:
    """Whether every kept row is what its records say, save for cooks known to be stale."""
    database = journal.database
    stale = set(derived_rows.stale_cooks(database))
    kept: dict[str, list[Row]] = {}
    for row in derived_rows.rows_of(database):
        kept.setdefault(row[1], []).append(row)
    for cook_id, rows in kept.items():
        if cook_id in stale:
            continue
        values = worked_out(journal, [cook_id]).get(cook_id)
        fresh = list(_rows(cook_id, values)) if values else []
        if sorted(rows, key=lambda row: row[0]) != sorted(fresh, key=lambda row: row[0]):
            return False
    return True
