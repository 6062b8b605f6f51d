"""Write a bundle as it is read: one file and one row at a time, the two descriptions last."""

import csv
import hashlib
import io
import zipfile
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import IO

from pitjournal.files.bundle.content import (
    METADATA,
    PACKAGE,
    TABLES,
    Bundle,
    Entry,
    Table,
    Written,
)
from pitjournal.files.bundle.crate import crate
from pitjournal.files.bundle.package import package

_PACKED = ("image/", "video/", "application/zip", "application/octet-stream")
"""Media types that no packing makes smaller."""

_HELPING = 1 << 18
"""Characters of a table that are handed on at a time."""

_LONG_AGO = (1980, 1, 1, 0, 0, 0)
"""The time of each entry: when a cook's files were made is nobody's business."""

CSV = "text/csv"


def write_bundle(bundle: Bundle, out: IO[bytes]) -> tuple[str, ...]:
    """Write a bundle; return the names of files whose bytes are not those they were kept with.

    Parameters
    ----------
    bundle
        What goes into it. Its rows and files are asked for one after another.
    out
        An empty file, open for writing.
    """
    with zipfile.ZipFile(out, "w", allowZip64=True) as made:
        into = _Folder(made, bundle.folder)
        changed: list[str] = []
        entries: list[tuple[Entry, list[Written]]] = []
        for entry in bundle.entries:
            parts = []
            for part in entry.parts:
                named = Written(
                    part.path, part.name, part.media_type, part.words, columns=part.columns
                )
                parts.append(into.write(named, part.data()))
                if part.sha256 not in {"", parts[-1].sha256}:
                    changed.append(part.name)
            entries.append((entry, parts))
        tables = [into.write(file_of(table), lines_of(table)) for table in bundle.tables]
        files = [part for _, parts in entries for part in parts]
        described = Written(PACKAGE, PACKAGE, "application/json", "What each table holds")
        packed = into.write(described, [package(bundle, [*tables, *files])])
        told = crate(bundle, entries, [packed, *tables])
        into.write(Written(METADATA, METADATA, "application/ld+json"), [told])
    return tuple(changed)


def file_of(table: Table) -> Written:
    """Return what a table's file is called, before it is written."""
    name = f"{table.name}.csv"
    path = f"{TABLES}/{name}"
    return Written(path, name, CSV, table.words, columns=table.columns, links=table.links)


class _Folder:
    """The one folder of the ZIP."""

    def __init__(self, made: zipfile.ZipFile, name: str) -> None:
        self._made, self._name = made, name

    def write(self, file: Written, parts: Iterable[bytes]) -> Written:
        """Write a file, and say how large it is and what its SHA-256 is."""
        entry = zipfile.ZipInfo(f"{self._name}/{file.path}", _LONG_AGO)
        stored = file.media_type.startswith(_PACKED)
        entry.compress_type = zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED
        entry.external_attr = 0o644 << 16
        with self._made.open(entry, "w", force_zip64=True) as into:
            return measured(file, parts, into.write)


def measured(file: Written, parts: Iterable[bytes], write: Callable[[bytes], object]) -> Written:
    """Hand a file's bytes on; return it with its size and its SHA-256."""
    digest, size = hashlib.sha256(), 0
    for part in parts:
        digest.update(part)
        size += len(part)
        write(part)
    return replace(file, size=size, sha256=digest.hexdigest())


def lines_of(table: Table) -> Iterator[bytes]:
    """Give a table as CSV (RFC 4180) in UTF-8, its heads first, a helping at a time."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([column.name for column in table.columns])
    for row in table.rows:
        writer.writerow(row)
        if text.tell() > _HELPING:
            yield text.getvalue().encode()
            text.seek(0)
            text.truncate()
    yield text.getvalue().encode()
