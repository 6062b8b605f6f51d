"""Names what the window's thread reads that a job should: many rows at once, or kept files.

A read is quick by itself; but that of a column grows with the years, and a file lies on a disk
that may sleep.
"""

import sys
import threading
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, TypeVar
from unittest.mock import patch

from sqlalchemy import Connection

from pitjournal.store.attachments import Attachments
from pitjournal.store.reading import Reading
from tests.benchmarks.heartbeat import named

T = TypeVar("T")

MOST_ROWS = 2_000
"""So many rows may be read at once on the window's thread: those of a long cook, not of all."""

MOST_BYTES = 100_000
"""So many bytes of columns and pictures may."""


class Reads(Counter[str]):
    """How often each place read too much on the thread that made this."""

    def __init__(self) -> None:
        super().__init__()
        self._thread = threading.get_ident()

    @contextmanager
    def watched(self) -> Iterator[None]:
        """Note what is read meanwhile."""
        ask, read = Reading._read, Attachments.read

        def asked(database: Reading, work: Callable[[Connection], T]) -> T:
            found = ask(database, work)
            if threading.get_ident() == self._thread:
                rows, held = size_of(found)
                if rows > MOST_ROWS or held > MOST_BYTES:
                    self[f"{rows} rows, {held} bytes: {named(sys._getframe(1))}"] += 1
            return found

        def kept(files: Attachments, sha: str) -> bytes:
            found = read(files, sha)
            if threading.get_ident() == self._thread and len(found) > MOST_BYTES:
                self[f"a file of {len(found)} bytes: {named(sys._getframe(1))}"] += 1
            return found

        with patch.object(Reading, "_read", asked), patch.object(Attachments, "read", kept):
            yield


def size_of(found: object) -> tuple[int, int]:
    """Return how many rows and bytes stand in what was read."""
    if isinstance(found, bytes):
        return 0, len(found)
    if isinstance(found, dict):
        found = list(found.values())
    if not isinstance(found, list):
        return 0, 0
    inner: list[Any] = [part for part in found if isinstance(part, list | dict)]
    rows, held = len(found) - len(inner), 0
    for part in inner:
        more, bytes_more = size_of(part)
        rows, held = rows + more, held + bytes_more
    for row in found:
        if isinstance(row, tuple):
            held += sum(len(value) for value in row if isinstance(value, bytes))
    return rows, held
