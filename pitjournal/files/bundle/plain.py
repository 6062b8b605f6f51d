"""Write every table as CSV into a folder, with two descriptions: one for people, one for programs."""

import shutil
from collections.abc import Iterable
from pathlib import Path
from secrets import token_hex

from pitjournal.errors import JournalError
from pitjournal.files.bundle.content import PACKAGE, Bundle, Part, Table, Written
from pitjournal.files.bundle.package import GUARDED, package
from pitjournal.files.bundle.writing import file_of, lines_of, measured
from pitjournal.files.places import cannot_be_written

READ_ME = "README.txt"


def write_plain(bundle: Bundle, folder: Path) -> tuple[Written, ...]:
    """Write a bundle's tables and those of its entries into a new folder; return the tables.

    All of it is there, or nothing is.

    Parameters
    ----------
    bundle
        Its tables are written, and of its entries what has columns; no other file.
    folder
        Where to; it may be there, if it is empty.

    Raises
    ------
    JournalError
        If something is in its place, or the place cannot be written to.
    """
    if folder.is_symlink() or (folder.exists() and not (folder.is_dir() and not _any_in(folder))):
        raise JournalError(f"{folder} is there already.", "Name a new folder, or an empty one.")
    part = folder.with_name(f"{folder.name}.{token_hex(4)}.part")
    try:
        part.mkdir(parents=True)
        written = tuple(_all_of(bundle, part))
        if folder.exists():
            folder.rmdir()
        part.rename(folder)
    except OSError as error:
        raise cannot_be_written(folder, error) from error
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return written


def _any_in(folder: Path) -> bool:
    return next(folder.iterdir(), None) is not None


def _all_of(bundle: Bundle, folder: Path) -> Iterable[Written]:
    tables = [_write(folder, file_of(table), lines_of(table)) for table in bundle.tables]
    readings = [
        _write(folder, _as_written(part), part.data())
        for entry in bundle.entries
        for part in entry.parts
        if part.columns
    ]
    (folder / PACKAGE).write_bytes(package(bundle, [*tables, *readings]))
    (folder / READ_ME).write_text(_read_me(bundle, readings), encoding="utf-8", newline="\r\n")
    return [*tables, *readings]


def _as_written(part: Part) -> Written:
    return Written(part.path, part.name, part.media_type, part.words, columns=part.columns)


def _write(folder: Path, file: Written, parts: Iterable[bytes]) -> Written:
    target = folder / file.path
    target.parent.mkdir(parents=True, exist_ok=True)
    with target.open("xb") as into:
        return measured(file, parts, into.write)


def _read_me(bundle: Bundle, readings: list[Written]) -> str:
    """Return in words what each table and each of its columns is."""
    lines = [bundle.title, "", bundle.words, "", GUARDED, ""]
    lines += ["The tables are CSV (RFC 4180) in UTF-8. An empty cell was not recorded.", ""]
    for table in bundle.tables:
        lines += [*_about(table), ""]
    if readings:
        lines += ["Readings of thermometers, by cook:", ""]
        lines += [f"  {one.path}" for one in readings]
    return "\n".join(lines) + "\n"


def _about(table: Table) -> list[str]:
    """Return a table's file, its words, and a line for each column."""
    lines = [file_of(table).path, f"  {table.words}"]
    for column in table.columns:
        link = table.links.get(column.name)
        said = (column.kind, column.unit, column.words, f"leads to {link}" if link else "")
        lines.append(f"    {column.name}: {', '.join(part for part in said if part)}")
    return lines
