"""The one notice of change that an operation gives."""

from collections.abc import Iterable
from dataclasses import dataclass

from pitjournal.store.staleness import cooks_of
from pitjournal.store.transaction import Touched


@dataclass(frozen=True)
class Changes:
    """What an operation changed, and who asked.

    Attributes
    ----------
    kinds
        Kinds of record that were touched, such as ``"event"``.
    ids
        Ids of the records.
    cooks
        Ids of the cooks they belong to.
    label
        What was done, in a cook's words; for undo, "Undid: …".
    initiator
        Whoever asked, so that a view need not follow its own change.
    """

    kinds: frozenset[str]
    ids: frozenset[str]
    cooks: frozenset[str]
    label: str
    initiator: object | None = None

    def __bool__(self) -> bool:
        return bool(self.ids)


def changes_of(touched: Iterable[Touched], label: str, initiator: object | None) -> Changes:
    """Sum up the rows an operation touched."""
    rows = list(touched)
    return Changes(
        kinds=frozenset(row.kind for row in rows),
        ids=frozenset(row.row_id for row in rows),
        cooks=frozenset(cooks_of(rows)),
        label=label,
        initiator=initiator,
    )
