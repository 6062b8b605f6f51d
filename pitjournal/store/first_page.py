"""The first page of a database: its head, and where the tables lie, made anew for a salvage."""

from pathlib import Path

_HEAD = 100
"""So many bytes of the first page are the head (sqlite.org, "Database File Format", 1.3)."""

_TREE = {5, 13}
"""The marks of a page of a table, which follows the head."""

SIZES = (4096, 1024, 2048, 8192, 16384, 32768, 512)
"""Sizes of a page, the likeliest first; the first is what SQLite takes by itself."""


def make_head(path: Path, size: int) -> bool:
    """Write a head for pages of a size; return whether it could be one, by what follows it."""
    with path.open("r+b") as file:
        page = file.read(_HEAD + 1)
        if len(page) <= _HEAD or page[_HEAD] not in _TREE:
            return False
        pages = path.stat().st_size // size
        head = bytearray(_HEAD)
        head[:16] = b"SQLite format 3\0"
        head[16:18] = size.to_bytes(2, "big")
        head[18:24] = bytes((1, 1, 0, 64, 32, 32))  # no log, nothing set aside, the set shares
        head[24:28] = head[92:96] = (1).to_bytes(4, "big")  # so that the size below counts
        head[28:32] = pages.to_bytes(4, "big")
        head[44:48] = (4).to_bytes(4, "big")  # the schema's format
        head[56:60] = (1).to_bytes(4, "big")  # UTF-8
        file.seek(0)
        file.write(head)
    return True


def lend(copy: Path, schema_of: Path) -> None:
    """Put a backup's pages of the schema in the place of the destroyed ones."""
    data = schema_of.read_bytes()
    size = int.from_bytes(data[16:18], "big")
    size = 65536 if size == 1 else size
    pages = copy.stat().st_size // size
    with copy.open("r+b") as file:
        for number in _schema_pages(data, size):
            page = bytearray(data[(number - 1) * size : number * size])
            if number == 1:  # sqlite.org, "Database File Format", 1.3.8: the size in pages
                page[28:32] = pages.to_bytes(4, "big")
            file.seek((number - 1) * size)
            file.write(page)


def _schema_pages(data: bytes, size: int) -> list[int]:
    """Return the numbers of the pages that say where the tables lie.

    They are a tree with its root in page 1 (sqlite.org, "Database File Format", 1.6 and 2.6).
    """
    found, todo = [], [1]
    while todo:
        number = todo.pop()
        found.append(number)
        page = data[(number - 1) * size : number * size]
        head = 100 if number == 1 else 0
        if page[head] != _INTERIOR:
            continue
        cells = int.from_bytes(page[head + 3 : head + 5], "big")
        places = (head + 12 + 2 * cell for cell in range(cells))
        starts = (int.from_bytes(page[place : place + 2], "big") for place in places)
        todo += [int.from_bytes(page[start : start + 4], "big") for start in starts]
        todo.append(int.from_bytes(page[head + 8 : head + 12], "big"))
    return found


_INTERIOR = 5
"""The mark of a page of a table that points at others."""
