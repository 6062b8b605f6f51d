"""Read a bundle that may come from anyone: what it says it holds, each table, no file's bytes.

It is read in a process of its own (`files.apart`): a small ZIP may unpack to anything.
"""

import csv
import hashlib
import io
import json
import stat
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any

from pitjournal.errors import JournalError
from pitjournal.files.bundle.content import METADATA, PACKAGE, TABLES, VERSION
from pitjournal.files.places import cannot_be_read, name_of

MOST_ENTRIES = 200_000
MOST_OF_TABLES = 400_000_000
"""Bytes of all tables together: some ten thousand cooks."""

_MOST_OF_WORDS = 200_000_000
"""Bytes of one description."""

_SHA = frozenset("0123456789abcdef")


@dataclass(frozen=True)
class TableRead:
    """A table as it stands in a bundle: its heads, and rows of as many cells."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class FileRead:
    """A file of a bundle: the name of its entry, its size in bytes, its SHA-256."""

    entry: str
    size: int
    sha256: str
    name: str
    media_type: str


@dataclass(frozen=True)
class BundleRead:
    """What a bundle holds.

    Attributes
    ----------
    title
        As whoever made it called it.
    tables
        Heads and rows by the kind of record.
    files
        All other files, by SHA-256.
    left_out
        By kind, the columns that are empty because what they hold stayed at home.
    protocol
        Whether it is a plan to cook, not what was cooked.
    """

    title: str
    tables: Mapping[str, TableRead]
    files: Mapping[str, FileRead]
    left_out: Mapping[str, tuple[str, ...]]
    protocol: bool = False


def read_bundle(path: str) -> BundleRead:
    """Read a bundle's descriptions and tables.

    Parameters
    ----------
    path
        Where it lies.

    Raises
    ------
    JournalError
        If it is no bundle of cooks, was changed or cut off, was made by a newer Pitjournal, or
        asks for too much; one line that says which.
    """
    name = name_of(Path(path))
    try:
        with zipfile.ZipFile(path) as found:
            return _Reader(found, name).read()
    except OSError as error:
        raise cannot_be_read(name, error) from error
    except (zipfile.BadZipFile, NotImplementedError, EOFError, ValueError) as error:
        raise _damaged(name, "it is no ZIP, or was cut off") from error
    except RuntimeError as error:  # a password is asked for
        raise JournalError(f"{name} is locked with a password.", "Unlock it first.") from error


class _Reader:
    def __init__(self, found: zipfile.ZipFile, name: str) -> None:
        self._zip, self._name = found, name

    def read(self) -> BundleRead:
        entries = self._entries()
        folder = self._folder(entries)
        told = self._parsed(self._bytes(entries[f"{folder}/{METADATA}"], _MOST_OF_WORDS), METADATA)
        files = _files_of(told, folder, self._name)
        package = self._package(entries, folder, files)
        tables = self._tables(entries, files)
        return BundleRead(
            title=_title(told),
            tables=tables,
            files=self._others(entries, files),
            left_out=_left_out(package["pitjournal"].get("left_out")),
            protocol=package["pitjournal"].get("protocol") is True,
        )

    def _entries(self) -> dict[str, zipfile.ZipInfo]:
        """Return the files of the ZIP by name, if each name is one that stays in its folder."""
        infos = self._zip.infolist()
        if len(infos) > MOST_ENTRIES:
            raise JournalError(
                f"{self._name} has {len(infos)} files, and {MOST_ENTRIES} is the most that is read.",
                "Ask for the cooks in several bundles.",
            )
        found: dict[str, zipfile.ZipInfo] = {}
        for info in infos:
            if info.is_dir():
                continue
            if _leads_out(info):
                raise JournalError(
                    f"{self._name} has a file that would lie outside of it: {info.filename[:60]!r}.",
                    "Nothing of it was taken over.",
                )
            if info.filename in found:
                raise _damaged(self._name, f"it has {info.filename[:60]!r} twice")
            found[info.filename] = info
        return found

    def _folder(self, entries: Mapping[str, zipfile.ZipInfo]) -> str:
        tops = {name.split("/", 1)[0] for name in entries}
        named = next(iter(tops), "")
        if len(tops) != 1 or f"{named}/{METADATA}" not in entries:
            raise JournalError(
                f"{self._name} is no bundle of cooks: it has no {METADATA} in one folder.",
                "Choose an .eln that Pitjournal wrote, or a table of cooks.",
            )
        return named

    def _package(
        self,
        entries: Mapping[str, zipfile.ZipInfo],
        folder: str,
        files: Mapping[str, FileRead],
    ) -> dict[str, Any]:
        info = entries.get(f"{folder}/{PACKAGE}")
        if info is None or PACKAGE not in files:
            raise JournalError(
                f"{self._name} was made by other software: no cook in it can be read here.",
                "Its files can be looked at with any program that opens a ZIP.",
            )
        data = self._bytes(info, _MOST_OF_WORDS)
        self._same(data, PACKAGE, files[PACKAGE].sha256)
        found = self._parsed(data, PACKAGE)
        own = found.get("pitjournal")
        if not isinstance(own, dict) or not isinstance(own.get("version"), int):
            raise JournalError(
                f"{self._name} was made by other software: no cook in it can be read here.",
                "Its tables can be read with any program that opens CSV.",
            )
        if own["version"] > VERSION:
            raise JournalError(
                f"{self._name} was made by a newer Pitjournal.", "Bring this one up to date first."
            )
        return found

    def _tables(
        self,
        entries: Mapping[str, zipfile.ZipInfo],
        files: Mapping[str, FileRead],
    ) -> dict[str, TableRead]:
        found: dict[str, TableRead] = {}
        left = MOST_OF_TABLES
        for path, said in files.items():
            plain = PurePosixPath(path)
            if len(plain.parts) != 2 or plain.parts[0] != TABLES or plain.suffix != ".csv":
                continue
            data = self._bytes(self._entry(entries, path, said), left)
            left -= len(data)
            self._same(data, path, said.sha256)
            found[plain.stem] = self._table(data, path)
        return found

    def _entry(
        self, entries: Mapping[str, zipfile.ZipInfo], path: str, said: FileRead
    ) -> zipfile.ZipInfo:
        """Return the entry of a file that the description names."""
        info = entries.get(said.entry)
        if info is None:
            raise _damaged(self._name, f"{path[:60]} is missing")
        return info

    def _table(self, data: bytes, path: str) -> TableRead:
        try:
            text = data.decode("utf-8")
            rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
        except (UnicodeDecodeError, csv.Error) as error:
            raise _damaged(self._name, f"{path} is no table") from error
        if not rows or any(len(row) != len(rows[0]) for row in rows):
            raise _damaged(self._name, f"{path} has rows of different lengths")
        return TableRead(tuple(rows[0]), tuple(map(tuple, rows[1:])))

    def _others(
        self,
        entries: Mapping[str, zipfile.ZipInfo],
        files: Mapping[str, FileRead],
    ) -> dict[str, FileRead]:
        found = {}
        for path, said in files.items():
            if path == PACKAGE or path.startswith(f"{TABLES}/"):
                continue
            if self._entry(entries, path, said).file_size != said.size:
                raise _damaged(self._name, f"{path[:60]} is not as large as it was")
            found[said.sha256] = said
        return found

    def _parsed(self, data: bytes, path: str) -> dict[str, Any]:
        try:
            found = json.loads(data)
        except (ValueError, RecursionError) as error:
            raise _damaged(self._name, f"{path} cannot be read") from error
        if not isinstance(found, dict):
            raise _damaged(self._name, f"{path} cannot be read")
        return found

    def _bytes(self, info: zipfile.ZipInfo, most: int) -> bytes:
        """Return an entry's bytes, if they are no more than that, whatever it says of itself."""
        with self._zip.open(info) as file:
            data = file.read(most + 1)
        if len(data) > most:
            raise JournalError(
                f"{self._name} holds more than is read at once.",
                "Ask for the cooks in several bundles.",
            )
        return data

    def _same(self, data: bytes, path: str, sha: str) -> None:
        if hashlib.sha256(data).hexdigest() != sha:
            raise _damaged(self._name, f"{path} was changed after it was written")


def _leads_out(info: zipfile.ZipInfo) -> bool:
    """Whether an entry is a link, or has a name that leads out of where it is unpacked."""
    name = info.filename
    parts = PurePosixPath(name).parts
    return (
        stat.S_ISLNK(info.external_attr >> 16)
        or name.startswith("/")
        or "\\" in name
        or "\0" in name
        or ".." in parts
        or ":" in (parts[0] if parts else "")
    )


def _files_of(told: Mapping[str, Any], folder: str, name: str) -> dict[str, FileRead]:
    """Return each file that the description names, by its path."""
    graph = told.get("@graph")
    if not isinstance(graph, list):
        raise _damaged(name, f"{METADATA} names no files")
    found = {}
    for one in graph:
        if not isinstance(one, dict) or one.get("@type") != "File":
            continue
        path, sha = str(one.get("@id", "")).removeprefix("./"), one.get("sha256")
        size = str(one.get("contentSize"))
        known = isinstance(sha, str) and len(sha) == 64 and _SHA.issuperset(sha)
        if known and size.isascii() and size.isdecimal() and len(size) < 16:
            media = str(one.get("encodingFormat", "application/octet-stream"))
            said = FileRead(
                f"{folder}/{path}", int(size), str(sha), str(one.get("name", "")), media
            )
            found[path] = said
    return found


def _left_out(said: object) -> dict[str, tuple[str, ...]]:
    if not isinstance(said, dict):
        return {}
    lists = {kind: columns for kind, columns in said.items() if isinstance(columns, list)}
    return {str(kind): tuple(map(str, columns)) for kind, columns in lists.items()}


def _title(told: Mapping[str, Any]) -> str:
    graph = told["@graph"]
    root = next((one for one in graph if isinstance(one, dict) and one.get("@id") == "./"), {})
    return str(root.get("name", ""))[:200]


def _damaged(name: str, why: str) -> JournalError:
    return JournalError(f"{name} is damaged: {why}.", "Ask for it again. Nothing was taken over.")
