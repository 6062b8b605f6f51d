"""What a salvage did in words: each record that is lost with its table, and what to do about it."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from pitjournal.domain.record import Record
from pitjournal.store.salvaging import WhatWasRead

_NAMES = ("title", "name", "label", "text", "note")
_LONGEST = 40
ENTER = "Enter it again, or take it from another backup."


@dataclass(frozen=True)
class Salvaged:
    """What was written into the new journal, and what was not.

    Attributes
    ----------
    folder
        The new journal's.
    cooks, records
        How many of each were written.
    from_history, from_backup
        How many of these only the steps for undo still had, and how many only a backup.
    files
        How many kept files came along.
    missing
        The photos and logs that are gone or damaged, in a cook's words.
    mended
        What was read, though not where it belongs, or not as it was: a line each.
    lost
        What could not be read, a line each: the table, the record, why, and what to do.
    """

    folder: Path
    cooks: int
    records: int
    from_history: int
    from_backup: int
    files: int
    missing: tuple[str, ...]
    mended: tuple[str, ...]
    lost: tuple[str, ...]

    @property
    def whole(self) -> bool:
        """Whether nothing is lost."""
        return not (self.lost or self.missing)


def place_of(kind: str, row_id: str, record: Record | None = None) -> str:
    """Return which record it is: its table, its id, and what a cook calls it."""
    words = (getattr(record, name, "") for name in _NAMES)
    called = next((word for word in words if isinstance(word, str) and word), "")
    return f"table {kind}, record {row_id}" + (f" “{called[:_LONGEST]}”" if called else "")


def unread(found: WhatWasRead) -> Iterator[str]:
    """Yield what could not be read."""
    for (kind, row_id), why in found.missed.items():
        yield f"{place_of(kind, row_id)}: {why}. {ENTER}"
    for (kind, row_id), said in found.patched.items():
        yield f"{place_of(kind, row_id, found.records[kind].get(row_id))}: {said}. Set it again."
    for kind in sorted(found.broken):
        if not found.steps_whole:
            yield (
                f"table {kind}: a part of its pages cannot be read. What lay there and is in no "
                "step for undo and no backup has no name any more. "
                "Compare the new journal with older backups and ZIPs."
            )
    for name in found.unknown:
        yield f"{name}: a newer program added it. Open the journal with that program."


def mended(found: WhatWasRead, backup: Path | None) -> Iterator[str]:
    """Yield what came from elsewhere."""
    yield from found.moved
    lost = {kind for kind, _ in found.missed}
    for kind in sorted(found.broken):
        back = sum(name == kind for name, _ in found.from_history)
        if back:
            many = "1 record" if back == 1 else f"{back} records"
            yield f"table {kind}: {many} came from the steps for undo, for a part of its pages cannot be read"
        elif found.steps_whole and kind not in lost:
            yield (
                f"table {kind}: a part of its pages cannot be read; "
                "by the steps for undo nothing of it is lost"
            )
    for kind, row_id in sorted(found.from_history):
        if kind not in found.broken:
            record = found.records[kind][row_id]
            yield f"{place_of(kind, row_id, record)}: it came from the steps for undo"
    name = "" if backup is None else backup.name
    for (kind, row_id), why in found.from_backup.items():
        record = found.records[kind][row_id]
        yield f"{place_of(kind, row_id, record)}: {why}. It is as {name} has it: see what changed since."
