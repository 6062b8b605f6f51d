"""Write a bundle as it is read: one file and one row at a time, the two descriptions last."""

import csv
import hashlib
import io
import zipfile
from collections.abc import Callable, Iterable, Iterator, Sequence
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


def _nothing(words: str) -> None:
    del words


def write_bundle(
    bundle: Bundle, out: IO[bytes], told: Callable[[str], None] = _nothing
) -> tuple[str, ...]:
    """Write a bundle; return the names of files whose bytes are not those they were kept with.

    Parameters
    ----------
    bundle
        What goes into it. Its rows and files are asked for one after another.
    out
        An empty file, open for writing.
    told
        Called before each file with what is written; it raises where that is no longer wanted.
    """
    with zipfile.ZipFile(out, "w", allowZip64=True) as made:
        into = _Folder(made, bundle.folder)
        changed: list[str] = []
        entries: list[tuple[Entry, list[Written]]] = []
        for entry in bundle.entries:
            told(entry.name)
            entry_parts = list(entry.parts)
            parts = [
                into.write(
                    Written(part.path, part.name, part.media_type, part.words, 0, "", part.columns),
                    part.data(),
                )
                for part in entry_parts
            ]
            changed += [
                part.name
                for part, made_of in zip(entry_parts, parts, strict=True)
                if part.sha256 not in {"", made_of.sha256}
            ]
            entries.append((entry, parts))
        tables = []
        for table in bundle.tables:
            told(table.words)
            found = Written(
                f"{TABLES}/{table.name}.csv",
                f"{table.name}.csv",
                CSV,
                table.words,
                0,
                "",
                table.columns,
                table.links,
            )
            tables.append(into.write(found, _lines(table)))
        files = [part for _, parts in entries for part in parts]
        described = Written(PACKAGE, PACKAGE, "application/json", "What each table holds", 0, "")
        packed = into.write(described, [package(bundle, [*tables, *files])])
        into.write(
            Written(METADATA, METADATA, "application/ld+json", "", 0, ""),
            [crate(bundle, entries, [packed, *tables])],
        )
    return tuple(changed)


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
        digest, size = hashlib.sha256(), 0
        with self._made.open(entry, "w", force_zip64=True) as into:
            for part in parts:
                digest.update(part)
                size += len(part)
                into.write(part)
        return Written(
            file.path,
            file.name,
            file.media_type,
            file.words,
            size,
            digest.hexdigest(),
            file.columns,
            file.links,
        )


def _lines(table: Table) -> Iterator[bytes]:
    """Give a table as CSV (RFC 4180), its heads first."""
    heads = [column.name for column in table.columns]
    return csv_lines(heads, table.rows)


def csv_lines(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[bytes]:
    """Give rows as CSV (RFC 4180) in UTF-8, a helping at a time."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(heads)
    for row in rows:
        writer.writerow(row)
        if text.tell() > _HELPING:
            yield text.getvalue().encode()
            text.seek(0)
            text.truncate()
    yield text.getvalue().encode()
