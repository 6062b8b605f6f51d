"""Worked-out values as kept blocks: which cooks are behind, reading, and writing anew."""

import contextlib
import json
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Any

from sqlalchemy import (
    BindParameter,
    Connection,
    Row,
    Table,
    bindparam,
    delete,
    func,
    insert,
    select,
    text,
)

from pitjournal.domain.blocks import Block, Column, Head, Key, Name
from pitjournal.store import faults, sqlite
from pitjournal.store.database import Database
from pitjournal.store.faults import DamagedError, NotSavedError
from pitjournal.store.schema import TABLES, derived_block, derived_column, derived_place, stale

AT_ONCE = 500
"""So many ids stand in one query at most."""

_FORMULAS = text("PRAGMA user_version")
_ANY_PLACE = select(derived_place.c.cook_id).limit(1)
_STALE_TOO = insert(stale).prefix_with("OR IGNORE")
_HEADS = select(derived_block.c.id, derived_block.c.cooks, derived_block.c.counts)
_PIECES = select(derived_block.c.id, derived_block.c.pieces)
_LAST = select(func.max(derived_block.c.id))


class DerivedBlocks:
    """The blocks of a journal; where the disk takes nothing, what is new stays in memory.

    This is a cache of what can always be worked out again: writing it is no operation, so
    there is nothing to undo, and nothing is lost when it can't be written.
    """

    def __init__(self, database: Database) -> None:
        self._database = database
        self._own: dict[int, Block] = {}
        self._own_changes: dict[str, int] = {}
        self._last_written: tuple[int, Block] | None = None
        self._older = False

    @contextlib.contextmanager
    def _parsing(self) -> Iterator[None]:
        """Throw all away where what is kept cannot be read: it is only a cache."""
        try:
            yield
        except (ValueError, TypeError, LookupError) as error:
            self.forget()
            message = "What was worked out of the cooks was damaged, and was thrown away."
            raise DamagedError(message, "Ask again: it is worked out anew.") from error

    def forget(self) -> None:
        """Have every cook worked out anew."""
        self._own, self._own_changes, self._last_written = {}, {}, None
        if self._database.read_only:
            return
        unwritten = contextlib.suppress(NotSavedError, *faults.REFUSED)  # it is damaged itself
        with unwritten, self._database.quiet_write() as connection:
            for table in (derived_column, derived_place, derived_block, stale):
                connection.execute(delete(table))
            every = select(TABLES["cook"].c.id)
            connection.execute(insert(stale).from_select(["cook_id"], every))

    def made_by(self, formulas: int) -> None:
        """Have every cook worked out anew where other formulas made what is kept.

        Their number stands in the head of the database, where a copy of the file takes it along.
        In a journal that can only be read they count as behind, and what is new stays in memory.

        Parameters
        ----------
        formulas
            Those of this program.
        """
        kept = self._database.values(_FORMULAS)[0]
        if kept == formulas:
            return
        self._older = bool(self._database.rows(_ANY_PLACE))
        if self._database.read_only:
            return
        try:
            with self._database.quiet_write() as connection:
                every = select(TABLES["cook"].c.id)
                connection.execute(_STALE_TOO.from_select(["cook_id"], every))
                connection.exec_driver_sql(f"PRAGMA user_version = {int(formulas)}")
        except (NotSavedError, *faults.REFUSED):
            return  # the disk takes nothing: they count as behind until it does
        self._older = False

    @property
    def older(self) -> bool:
        """Whether what is kept was made by other formulas, and could not be marked as stale."""
        return self._older

    def stale(
        self, cook_ids: Iterable[str] | None = None, *, most: int | None = None
    ) -> dict[str, int]:
        """Return the cooks, or which of these, are to be worked out, with their last change.

        With `most`, so many are enough.
        """
        own = self._own_changes
        if self._older:
            asked = None if cook_ids is None else set(cook_ids)
            changes = dict(self._database.ask(_ALL_BEHIND))
            every = self._database.ids(select(TABLES["cook"].c.id))
            found = {c: changes.get(c, 0) for c in every if asked is None or c in asked}
            return {c: change for c, change in found.items() if own.get(c) != change}
        if cook_ids is not None:
            rows = _of_these(self._database, stale, _BEHIND, cook_ids)
        elif most is None or own:
            rows = self._database.ask(_ALL_BEHIND)
        else:
            rows = self._database.rows(select(stale).limit(most))
        return {c: n for c, n in rows if isinstance(c, str) and own.get(c) != n}

    def places(self, cook_ids: Iterable[str]) -> dict[str, int]:
        """Return the number of the block of each of these cooks that has one."""
        asked = list(cook_ids)
        rows = _of_these(self._database, derived_place, _PLACES, asked)
        found = {cook_id: block for cook_id, block in rows if block not in self._own}
        own = {cook_id: number for number, block in self._own.items() for cook_id in block.cooks}
        return found | {cook_id: own[cook_id] for cook_id in asked if cook_id in own}

    def last(self) -> int:
        """Return the number of the newest block, 0 when there is none."""
        return max(self._database.rows(_LAST)[0][0] or 0, *self._own, 0)

    def heads(self) -> dict[int, Head]:
        """Return what the lines of each block are of, by its number."""
        rows = self._database.rows(_HEADS.order_by(derived_block.c.id))
        with self._parsing():
            kept = {
                row.id: _sound_head(json.loads(row.cooks), json.loads(row.counts)) for row in rows
            }
        return kept | {number: block.head for number, block in self._own.items()}

    def read(self, number: int) -> Block:
        """Return a whole block; an empty one where there is none yet."""
        if number in self._own:
            return self._own[number]
        if self._last_written is not None and self._last_written[0] == number:
            return self._last_written[1]  # one edit is seldom alone
        heads = self._database.rows(select(derived_block).where(derived_block.c.id == number))
        if not heads:
            return Block()
        query = select(derived_column).where(derived_column.c.block == number)
        rows = self._database.rows(query)
        with self._parsing():
            pieces = _pieces_of(heads[0])
            head = _sound_head(json.loads(heads[0].cooks), [len(own) for own in pieces])
            columns = {(row.level, row.key): _column(row, head) for row in rows}
            return Block(head.cooks, pieces, columns)

    def pieces(self) -> dict[int, tuple[tuple[str, ...], ...]]:
        """Return the pieces of each cook of each block, by its number."""
        rows = self._database.rows(_PIECES)
        with self._parsing():
            kept = {row.id: _pieces_of(row) for row in rows}
        return kept | {number: block.pieces for number, block in self._own.items()}

    def column(self, key: str, heads: Mapping[int, Head]) -> dict[tuple[int, str], Column]:
        """Return a variable's columns by block and level; `heads` are those of the blocks."""
        query = select(derived_column).where(derived_column.c.key == key)
        rows = self._database.rows(query)
        with self._parsing():
            kept = {
                (row.block, row.level): _column(row, heads[row.block])
                for row in rows
                if row.block in heads and row.block not in self._own
            }
        return kept | {
            (number, level): column
            for number, block in self._own.items()
            for (level, name), column in block.columns.items()
            if name == key
        }

    def write(self, number: int, before: Block, after: Block, changes: Mapping[str, int]) -> None:
        """Keep a block in which these cooks were worked out anew.

        Parameters
        ----------
        before
            The block as it is kept; only what differs is written.
        changes
            The last change of each of those cooks before its records were read. One that has
            changed since stays behind.
        """
        if not self._database.read_only:
            try:
                self._write(number, before, after, changes)
            except NotSavedError:
                pass
            except faults.REFUSED as error:
                if faults.kind_of(error) is None:
                    raise
            else:
                return
        self._own[number] = after
        self._own_changes |= changes

    def _write(self, number: int, before: Block, after: Block, changes: Mapping[str, int]) -> None:
        own = self._own_changes
        seen = {c: own[c] for c in after.cooks if c in own} | dict(changes)
        with self._database.quiet_write() as connection:
            if number in self._own:  # what is on the disk is not `before`, but older
                connection.execute(_NO_COLUMNS, {"in_block": number})
                before = Block()
            _replace(connection, number, before, after)
            connection.execute(_NO_PLACE, {"cooks": list(seen)})
            here = [{"cook_id": c, "block": number} for c in after.cooks if c in seen]
            if here:
                connection.execute(_PLACE, here)
            rows = [{"of_cook": cook_id, "seen": change} for cook_id, change in seen.items()]
            connection.execute(_NOT_STALE, rows)
        self._own.pop(number, None)
        for cook_id in seen:
            own.pop(cook_id, None)
        self._last_written = number, after


_ALL_BEHIND = sqlite.PreparedSelect(select(stale), stale)
_BEHIND, _PLACES = (
    sqlite.PreparedSelect(select(table).where(table.c.cook_id == bindparam("cook_id")), table)
    for table in (stale, derived_place)
)
_COOKS: BindParameter[Any] = bindparam("cooks", expanding=True)
_NO_PLACE = delete(derived_place).where(derived_place.c.cook_id.in_(_COOKS))
_PLACE = insert(derived_place)
_NOT_STALE = delete(stale).where(
    stale.c.cook_id == bindparam("of_cook"), stale.c.change == bindparam("seen")
)
_HEAD = insert(derived_block).prefix_with("OR REPLACE")
_COLUMN = insert(derived_column).prefix_with("OR REPLACE")
_NO_COLUMNS = delete(derived_column).where(derived_column.c.block == bindparam("in_block"))
_NO_COLUMN = delete(derived_column).where(
    derived_column.c.block == bindparam("in_block"),
    derived_column.c.level == bindparam("of_level"),
    derived_column.c.key == bindparam("of_key"),
)
"""Made once: to make statements takes longer than to run them."""


def _of_these(
    database: Database, table: Table, one: sqlite.PreparedSelect, cook_ids: Iterable[str]
) -> list[Any]:
    """Return the rows of these cooks, however many they are; `one` asks for those of one."""
    asked = list(cook_ids)
    if len(asked) == 1:
        return database.ask(one, cook_id=asked[0])
    return [
        row
        for start in range(0, len(asked), AT_ONCE)
        for row in database.rows(
            select(table).where(table.c.cook_id.in_(asked[start : start + AT_ONCE]))
        )
    ]


def _replace(connection: Connection, number: int, before: Block, after: Block) -> None:
    if (before.cooks, before.pieces) != (after.cooks, after.pieces) or not after.cooks:
        head = {
            "id": number,
            "cooks": json.dumps(after.cooks),
            "counts": json.dumps(after.head.pieces),
            "pieces": json.dumps(after.pieces),
        }
        connection.execute(_HEAD, head)
    gone = [
        {"in_block": number, "of_level": level, "of_key": key}
        for level, key in before.columns.keys() - after.columns.keys()
    ]
    if gone:
        connection.execute(_NO_COLUMN, gone)
    rows = [
        _row(number, key, column)
        for key, column in after.columns.items()
        if before.columns.get(key) != column
    ]
    if rows:
        connection.execute(_COLUMN, rows)


def _row(number: int, key: Key, column: Column) -> dict[str, object]:
    return {
        "block": number,
        "level": key[0],
        "key": key[1],
        "numbers": column.numbers or None,
        "codes": column.codes or None,
        "names": json.dumps(column.names, ensure_ascii=False) if column.names else None,
    }


def _sound_head(cooks: Iterable[str], counts: Iterable[int]) -> Head:
    head = Head(tuple(cooks), tuple(counts))
    if not head.is_sound:
        raise ValueError("the head of a block")
    return head


def _pieces_of(row: Row[Any]) -> tuple[tuple[str, ...], ...]:
    found = tuple(tuple(own) for own in json.loads(row.pieces))
    if not all(type(piece) is str for own in found for piece in own):
        raise ValueError("the pieces of a block")
    return found


def _column(row: Row[Any], head: Head) -> Column:
    column = Column(row.numbers or b"", row.codes or b"", _names(row.names) if row.names else ())
    bytes_only = isinstance(column.numbers, bytes) and isinstance(column.codes, bytes)
    if not (bytes_only and column.is_sound(head.lines(row.level))):
        raise ValueError("a column")
    return column


@lru_cache(maxsize=1024)
def _names(text: str) -> tuple[Name, ...]:
    """Return names as they are kept; many blocks have the same."""
    found = tuple(json.loads(text))
    if not all(isinstance(name, str | bool) for name in found):
        raise ValueError("names")
    return found
