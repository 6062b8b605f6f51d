"""What differs between two databases of a journal, cook by cook."""

import contextlib
import hashlib
import os
import sqlite3
from dataclasses import dataclass, field
from pathlib import Path

from pitjournal.store import build, copies, faults, sqlite
from pitjournal.store.faults import DamagedError, NotSavedError
from pitjournal.store.schema import TABLES

ALL = 1 << 128


@dataclass(frozen=True)
class CookName:
    """A cook by its number and title."""

    number: int
    title: str

    def __str__(self) -> str:
        return f"cook {self.number} “{self.title}”" if self.title else f"cook {self.number}"


@dataclass
class _Marks:
    """A mark of each cook with all that hangs from it, and of each other record."""

    names: dict[str, CookName] = field(default_factory=dict)
    cooks: dict[str, int] = field(default_factory=dict)
    others: dict[tuple[str, str], int] = field(default_factory=dict)


@dataclass(frozen=True)
class Differences:
    """What would be otherwise with a backup in the place of today's journal.

    Attributes
    ----------
    go
        Cooks of today that are not in it.
    come
        Cooks that are in it and not in today's.
    change
        Cooks that are in both, and otherwise in it.
    others
        How many other records, on the shelf and elsewhere, are otherwise.
    today_read
        Whether today's journal could be read; else all that is in the backup comes back.
    """

    go: tuple[CookName, ...] = ()
    come: tuple[CookName, ...] = ()
    change: tuple[CookName, ...] = ()
    others: int = 0
    today_read: bool = True
    lacking: tuple[str, ...] = ()
    """Tables and columns that today's journal should have and has not."""
    today_there: bool = True
    """Whether there is a journal of today at all, or what is left of one."""

    @property
    def none(self) -> bool:
        """Whether nothing differs."""
        return not (self.go or self.come or self.change or self.others or self.lacking)


def differences(today: Path, backup: Path) -> Differences:
    """Compare today's database with a backup of it.

    Where today's cannot be read, is empty, or is no journal at all, everything comes back.

    Raises
    ------
    DamagedError
        If the backup cannot be read whole.
    """
    try:
        with contextlib.closing(sqlite.reader(backup)) as other:
            alone = _marks(other, {kind: _columns(other, kind) for kind in TABLES})
            try:
                now, then, lacking = _both(today, other)
            except (sqlite3.Error, UnicodeDecodeError) as error:
                _must_be_its_fault(error, today)
                come = _named(alone, list(alone.cooks))
                names = today.name, copies.FOLDER, "attachments"
                there = any((today.parent / name).exists() for name in names)
                return Differences(
                    come=come, others=len(alone.others), today_read=False, today_there=there
                )
    except (sqlite3.Error, UnicodeDecodeError) as error:
        if faults.refused_by(error):
            raise faults.not_read(error, backup) or error from error
        raise DamagedError("They cannot be compared: the backup is damaged.") from error
    both = now.cooks.keys() & then.cooks.keys()
    changed = [cook_id for cook_id in both if now.cooks[cook_id] != then.cooks[cook_id]]
    others = {
        key
        for key in now.others.keys() | then.others.keys()
        if now.others.get(key) != then.others.get(key)
    }
    return Differences(
        go=_named(now, now.cooks.keys() - then.cooks.keys()),
        come=_named(then, then.cooks.keys() - now.cooks.keys()),
        change=_named(now, changed),
        others=len(others),
        lacking=lacking,
    )


def _must_be_its_fault(error: BaseException, today: Path) -> None:
    """Refuse where today's may be whole and only cannot be read now: a full disk, or a lock."""
    kind = faults.refused_by(error)
    if kind is None or not today.exists():
        return
    why = faults.asked_of(today.parent) if sqlite.may(today, os.R_OK) else None
    if why is not None:
        raise NotSavedError(f"Today's journal cannot be read now. {why[0]}", why[1]) from error
    if kind is faults.FaultKind.LOCKED:
        raise faults.not_read(error, today) or error from error


def _both(today: Path, backup: sqlite3.Connection) -> tuple[_Marks, _Marks, tuple[str, ...]]:
    """Return the marks of both, by the columns that both have."""
    with contextlib.closing(sqlite.reader(today)) as one:
        if not _columns(one, "cook"):  # an emptied file, or another program's
            raise sqlite3.DatabaseError
        mine, other = ({kind: _columns(c, kind) for kind in TABLES} for c in (one, backup))
        # A column that one side does not know is older or newer, but a table that is not there
        # has no rows where the other one has some.
        shared = {kind: mine[kind] & other[kind] for kind in TABLES}
        return (
            _marks(one, {kind: shared[kind] or mine[kind] for kind in TABLES}),
            _marks(backup, {kind: shared[kind] or other[kind] for kind in TABLES}),
            build.look(one).lacking,
        )


def _named(marks: _Marks, cook_ids: object) -> tuple[CookName, ...]:
    assert isinstance(cook_ids, set | list)
    found = (marks.names.get(cook_id, CookName(0, "")) for cook_id in cook_ids)
    return tuple(sorted(found, key=lambda name: (name.number, name.title)))


def _columns(connection: sqlite3.Connection, kind: str) -> set[str]:
    rows = connection.execute("SELECT name FROM pragma_table_info(?)", (kind,)).fetchall()
    return {name for (name,) in rows}


def _marks(connection: sqlite3.Connection, shared: dict[str, set[str]]) -> _Marks:
    marks = _Marks()
    for kind, columns in shared.items():
        if "id" not in columns:
            continue
        names = sorted(columns)
        query = f"SELECT {sqlite.quoted(names)} FROM {kind}"  # noqa: S608 - names of our own schema
        own = names.index("id" if kind == "cook" else "cook_id") if _hangs(kind, columns) else None
        for row in connection.execute(query):
            mark = _mark(kind, row)
            if own is None:
                marks.others[kind, str(row[names.index("id")])] = mark
                continue
            cook_id = str(row[own])
            marks.cooks[cook_id] = (marks.cooks.get(cook_id, 0) + mark) % ALL
            if kind == "cook":
                number, title = (row[names.index(part)] for part in ("number", "title"))
                marks.names[cook_id] = CookName(
                    number if isinstance(number, int) else 0,
                    title if isinstance(title, str) else "",
                )
    for cook_id in marks.cooks.keys() - marks.names.keys():  # what hangs from no cook is none
        marks.others["", cook_id] = marks.cooks.pop(cook_id)
    return marks


def _hangs(kind: str, columns: set[str]) -> bool:
    return kind == "cook" or "cook_id" in columns


def _mark(kind: str, row: tuple[object, ...]) -> int:
    digest = hashlib.blake2b(repr((kind, row)).encode(), digest_size=16).digest()
    return int.from_bytes(digest, "big")
