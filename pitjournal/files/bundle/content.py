"""What a bundle holds, before it is written: tables, entries with their files, words."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

SUFFIX = ".eln"

VERSION = 1
"""Of what this program writes into a bundle; a higher one is not read."""

METADATA, PACKAGE, TABLES, COOKS = "ro-crate-metadata.json", "datapackage.json", "tables", "cooks"
"""Names of the two descriptions, and of the folders of tables and of cooks."""


@dataclass(frozen=True)
class Column:
    """One column of a table.

    `kind` is a type of Table Schema: string, number, integer, boolean, datetime, array or
    object; `unit` is that of its numbers, "" where there is none.
    """

    name: str
    kind: str
    words: str = ""
    unit: str = ""
    needed: bool = False


@dataclass(frozen=True)
class Table:
    """Rows of one kind of record, each cell as its text; `links` leads from columns to tables."""

    name: str
    words: str
    columns: tuple[Column, ...]
    rows: Iterable[Sequence[str]]
    links: Mapping[str, str] = field(default_factory=dict)
    left_out: tuple[str, ...] = ()
    """Columns that are empty because what they hold stayed at home."""


@dataclass(frozen=True)
class Part:
    """A file of a bundle: where it lies in its folder, and its bytes when they are asked for."""

    path: str
    name: str
    media_type: str
    data: Callable[[], Iterable[bytes]]
    words: str = ""
    columns: tuple[Column, ...] = ()
    """What stands in it where it is a table."""
    sha256: str = ""
    """What its bytes should have, where that is known."""


@dataclass(frozen=True)
class Entry:
    """A cook as other software shows it: a folder with a name, words and files."""

    folder: str
    name: str
    words: str
    day: str
    parts: tuple[Part, ...] = ()


@dataclass(frozen=True)
class Bundle:
    """All that goes into one file. `folder` is the name of the one folder in it."""

    folder: str
    title: str
    words: str
    made_at: datetime
    tables: tuple[Table, ...]
    entries: Iterable[Entry]
    schema: tuple[int, int]
    """The version of the records."""
    protocol: bool = False
    """Whether it is a plan for others to cook, not what was cooked."""


@dataclass(frozen=True)
class Written:
    """A file that lies in the bundle now."""

    path: str
    name: str
    media_type: str
    words: str = ""
    size: int = 0
    sha256: str = ""
    columns: tuple[Column, ...] = ()
    links: Mapping[str, str] = field(default_factory=dict)
