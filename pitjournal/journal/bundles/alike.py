"""What both sides had of a cook when it last came: the base that tells who changed a field since.

It is kept with the journal as a few signs of a SHA-256 for each cell, and never leaves.
"""

import hashlib
import json
from collections.abc import Collection, Iterable, Mapping
from enum import StrEnum

from pitjournal.domain.cook import Cook
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import Setting
from pitjournal.journal.bundles.cells import cells_of
from pitjournal.journal.journal import Journal
from pitjournal.store.columns import fields_of

_NAME = "alike:"
_SIGNS = 6
"""Signs of a SHA-256 that are kept of a cell: one cell of sixteen million is taken for another."""

_NOTHING, _UNSAID = "-" * _SIGNS, "?" * _SIGNS


class Changed(StrEnum):
    """Where a field was changed since both sides had it alike."""

    HERE = "here"
    THERE = "there"
    BOTH = "both"
    UNKNOWN = "unknown"


class Alike:
    """What both sides had of some cooks when these last came; nothing where they never did."""

    def __init__(self, journal: Journal, cook_ids: Iterable[str]) -> None:
        self._known: dict[str, tuple[tuple[str, ...], Mapping[str, str]]] = {}
        for cook_id in cook_ids:
            for setting in journal.find(Setting, id=f"{_NAME}{cook_id}"):
                self._read(setting.value)

    def _read(self, value: str) -> None:
        try:
            told = json.loads(value)
            for kind, (names, rows) in told.items():
                known = self._known.get(kind)
                merged = dict(rows) if known is None else {**known[1], **rows}
                self._known[kind] = (tuple(names), merged)
        except (ValueError, TypeError, AttributeError):  # damaged: nothing is known then
            return

    def changed(self, mine: Record, field: str, here: str, there: str) -> Changed:
        """Return who changed a field, by its cells here and there."""
        names, rows = self._known.get(mine.KIND, ((), {}))
        signs = rows.get(mine.id, "")
        at = names.index(field) * _SIGNS if field in names else len(signs)
        base = signs[at : at + _SIGNS]
        if len(base) < _SIGNS or base == _UNSAID:
            return Changed.UNKNOWN
        if base == _sign(there):
            return Changed.HERE
        return Changed.THERE if base == _sign(here) else Changed.BOTH


def _sign(cell: str) -> str:
    return hashlib.sha256(cell.encode()).hexdigest()[:_SIGNS] if cell else _NOTHING


def to_keep(
    records: Iterable[Record], unsaid: Mapping[type[Record], Collection[str]]
) -> dict[str, str]:
    """Return the settings that keep what came of each cook, by their names.

    Parameters
    ----------
    records
        As they came.
    unsaid
        By kind, the fields that the bundle says nothing of.
    """
    found: dict[str, dict[str, tuple[list[str], dict[str, str]]]] = {}
    for record in records:
        cook_id = record.id if isinstance(record, Cook) else getattr(record, "cook_id", None)
        if not cook_id:
            continue
        names, quiet = list(fields_of(type(record))), unsaid.get(type(record), ())
        cells = zip(names, cells_of(record), strict=True)
        signs = "".join(_UNSAID if name in quiet else _sign(cell) for name, cell in cells)
        found.setdefault(cook_id, {}).setdefault(record.KIND, (names, {}))[1][record.id] = signs
    return {
        f"{_NAME}{cook_id}": json.dumps(kinds, separators=(",", ":"))
        for cook_id, kinds in found.items()
    }
