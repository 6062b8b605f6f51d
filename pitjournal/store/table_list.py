"""A database's list of its tables, made anew for a salvage where its pages are destroyed.

Where the first page is gone nothing says where a table begins, though all tables may be whole.
The list's other pages are found by their looks; what these lack is taken from a backup, or from
a journal that is made for it.
"""

import contextlib
import sqlite3
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

SIZES = (4096, 1024, 2048, 8192, 16384, 32768, 512)
"""Sizes of a page, the likeliest first; the first is what SQLite takes by itself."""

_HEAD = 100
"""So many bytes of the first page are the head (sqlite.org, "Database File Format", 1.3)."""

_LEAF = 13
"""The mark of a page with rows of a table (1.6 there)."""

_KINDS = {"table", "index", "trigger", "view"}
_LIST = "SELECT type, name, tbl_name, rootpage, sql FROM sqlite_schema"


class Built(NamedTuple):
    """A row of the list: a table or an index, and the page with which it begins."""

    kind: str
    name: str
    table: str
    page: int
    sql: str | None


def with_log(path: Path, target: Path) -> None:
    """Copy a database with what waits in its log, as far as that was kept.

    The log's frames are laid over the pages in order, up to the last that ends a transaction
    ("WAL File Format", 4 there); SQLite itself reads none once the first page is gone.
    """
    data = bytearray(path.read_bytes())
    log = path.with_name(path.name + "-wal")
    waits = log.read_bytes() if log.exists() else b""
    size = int.from_bytes(waits[8:12], "big")
    pages: dict[int, bytes] = {}
    if size in SIZES or size == 1 << 16:
        later: dict[int, bytes] = {}
        for at in range(32, len(waits) - size - 23, size + 24):
            if waits[at + 8 : at + 16] != waits[16:24]:  # of a round before
                break
            number = int.from_bytes(waits[at : at + 4], "big")
            later[number] = waits[at + 24 : at + 24 + size]
            if any(waits[at + 4 : at + 8]):
                pages |= later
                later.clear()
    for number, page in sorted(pages.items()):
        start = (number - 1) * size
        data.extend(bytes(max(0, start - len(data))))
        data[start : start + size] = page
    target.write_bytes(data)


def found_in(path: Path, size: int) -> list[Built]:
    """Return what the pages of a list still say, in a file with pages of a size."""
    data = path.read_bytes()
    found: dict[str, Built] = {}
    for start in range(0, len(data) - size + 1, size):
        rows = _rows(data[start : start + size], 0 if start else _HEAD)
        for row in rows:
            found.setdefault(row.name, row)
    return list(found.values())


def _rows(page: bytes, head: int) -> list[Built]:
    """Return the rows of a page of the list; none where it is a page of something else."""
    if page[head] != _LEAF:
        return []
    count = int.from_bytes(page[head + 3 : head + 5], "big")
    rows = []
    for place in range(head + 8, head + 8 + 2 * count, 2):
        try:
            row = _row(page, int.from_bytes(page[place : place + 2], "big"))
        except (IndexError, UnicodeDecodeError):
            row = None
        if row is None:
            return []
        rows.append(row)
    return rows


def _row(page: bytes, at: int) -> Built | None:
    """Return a row of the list that begins at a place of its page; None where it is none."""
    _, at = _number(page, at)  # bytes of the row
    _, at = _number(page, at)  # its number
    begin = at
    ends, at = _number(page, at)
    types = []
    while at < begin + ends:
        one, at = _number(page, at)
        types.append(one)
    if len(types) != 5 or not all(t >= 13 and t % 2 for t in types[:3]) or types[3] > 9:
        return None
    values: list[bytes] = []
    for one in types:
        long = (one - 12) // 2 if one >= 12 else (0, 1, 2, 3, 4, 6, 8, 8, 0, 0)[one]
        values.append(page[at : at + long])
        at += long
    whole = len(values[4]) == max(0, (types[4] - 12) // 2)  # else it goes on in another page
    kind, name, table = (value.decode() for value in values[:3])
    if kind not in _KINDS or not whole:
        return None
    number = int.from_bytes(values[3], "big") if types[3] < 8 else types[3] - 8
    return Built(kind, name, table, number, values[4].decode() if types[4] else None)


def _number(page: bytes, at: int) -> tuple[int, int]:
    """Return a number of varying length, and where what follows it begins (1.6 there)."""
    value = 0
    for step in range(8):
        value = value << 7 | page[at + step] & 0x7F
        if page[at + step] < 0x80:
            return value, at + step + 1
    return value << 8 | page[at + 8], at + 9


def listed(path: Path) -> list[Built]:
    """Return the list of a database that can be read; nothing of one that cannot."""
    with (
        contextlib.suppress(sqlite3.Error),
        contextlib.closing(sqlite3.connect(path)) as connection,
    ):
        return [Built(*row) for row in connection.execute(_LIST).fetchall()]
    return []


def agree(some: Iterable[Built], others: Iterable[Built]) -> bool:
    """Whether all that stands in two lists begins at the same page in both."""
    pages = {one.name: one.page for one in others}
    return all(pages.get(one.name, one.page) == one.page for one in some)


def make(path: Path, size: int, *lists: Iterable[Built]) -> None:
    """Write lists into a database with pages of a size, in the place of its first page.

    Of two that have a name, or begin at a page, the first counts. Views, triggers and tables
    without pages are left out, for nothing is read by them; and what begins beyond the end, where
    the list itself will lie.
    """
    pages = path.stat().st_size // size
    with path.open("r+b") as file:
        file.write(_first_page(size, pages))
    with contextlib.closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("PRAGMA writable_schema=ON")
        connection.executemany(
            "INSERT INTO sqlite_schema VALUES (?, ?, ?, ?, ?)", _that_count(lists, pages)
        )


def _that_count(lists: Iterable[Iterable[Built]], last: int) -> Iterator[Built]:
    names: set[str] = set()
    pages = {0, 1}
    for one in (one for some in lists for one in some):
        if one.page <= last and one.name not in names and one.page not in pages:
            names.add(one.name)
            pages.add(one.page)
            yield one


def _first_page(size: int, pages: int) -> bytes:
    """Return a first page with an empty list ("Database File Format", 1.3 and 1.6)."""
    page = bytearray(size)
    page[:16] = b"SQLite format 3\0"
    page[16:18] = size.to_bytes(2, "big")
    page[18:24] = bytes((1, 1, 0, 64, 32, 32))  # no log, nothing set aside, the set shares
    page[24:28] = page[92:96] = (1).to_bytes(4, "big")  # so that the size below counts
    page[28:32] = pages.to_bytes(4, "big")
    page[44:48] = (4).to_bytes(4, "big")  # the schema's format
    page[56:60] = (1).to_bytes(4, "big")  # UTF-8
    page[_HEAD] = _LEAF
    page[_HEAD + 5 : _HEAD + 7] = size.to_bytes(2, "big")  # where rows begin: there are none
    return bytes(page)
