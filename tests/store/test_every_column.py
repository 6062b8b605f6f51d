"""Every column of every table, made from the schema, with each sort of value it cannot have."""

import contextlib
import io
import itertools
import json
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing
from dataclasses import replace
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from pitjournal.cli.main import main
from pitjournal.domain.record import Record, new_id
from pitjournal.domain.samples import Samples
from pitjournal.files.probe_log import ReadOptions
from pitjournal.files.samples import pack
from pitjournal.journal import open_journal
from pitjournal.journal.checks import check_folder
from pitjournal.journal.repair import repair_folder
from pitjournal.store.columns import fields_of, moment_text
from pitjournal.store.schema import RECORDS
from tests.builders import NOON, add_judged

INF = float("inf")
BYTES = b"\xff\x00\xfe"
NUMBERS = {"inf": INF, "-inf": -INF, "text": "much", "huge": 2**63 - 1, "blob": BYTES}
TIMES = {
    "no such day": "2026-02-30T00:00:00.000Z",
    "text": "someday",
    "number": 7,
    "no offset": "2026-02-03T00:00:00",
    "the first year": "0001-01-01T00:00:00.000Z",
    "the last year": "9999-12-31T23:59:59.999Z",
    "blob": BYTES,
}
WORD = {"unknown": "no such", "empty": "", "blob": BYTES}
JSON = {"cut": '{"a": ', "null": "null", "number": "7", "blob": BYTES}
LISTS = JSON | {"a mapping": "{}", "inside": '[7, null, {"a": [1]}]', "inf": "[1e999]"}
MAPPINGS = JSON | {"a list": "[1]", "inf": '{"a": 1e999}', "nan": '{"a": NaN}'}
BY_TYPE: tuple[tuple[type, Mapping[str, object]], ...] = (
    (bool, {"inf": INF, "text": "no such", "number": 7, "half": 0.5, "blob": BYTES}),
    (str, {"nul": "a\0b", "blob": BYTES}),
    (int, NUMBERS | {"half": 1.5}),
    (float, NUMBERS | {"vast": 1e300}),
    (datetime, TIMES),
    (tuple, LISTS),
    (Mapping, MAPPINGS),
)
ALSO_WORDS = {("own_variable", name) for name in ("level", "kind", "dimension")}


def faults(kind: type[Record], name: str) -> Mapping[str, object]:
    """Return values that a column cannot have, by what is wrong with them."""
    plain, _ = fields_of(kind)[name]
    if name == "id":
        return {"blob": BYTES}
    if name in {**kind.PARENTS, **kind.LOOSE}:
        return {"dangling": "no such", "number": 7, "blob": BYTES}
    if issubclass(plain, StrEnum) or (kind.KIND, name) in ALSO_WORDS:
        return WORD
    if name == "zone":
        return {"unknown": "No/Such", "nul": "UTC\0", "blob": BYTES}
    return next(found for base, found in BY_TYPE if issubclass(plain, base))


def sound(kind: type[Record], name: str, ids: dict[str, str]) -> object:
    """Return a value that a column may have, as it is kept."""
    plain, optional = fields_of(kind)[name]
    target = {**kind.PARENTS, **kind.LOOSE}.get(name)
    known: dict[str, object] = {
        "level": "cook",
        "dimension": "number",
        "zone": "UTC",
        "attachment": ids["file"],
        "thumbnail": ids["file"],
        "samples": ids["file"],
        "count": 3,
    }
    if target is not None:
        return ids[target]
    if (kind.KIND, name) == ("own_variable", "kind"):
        return "number"
    if name in known or optional:
        return known.get(name)
    if issubclass(plain, StrEnum):
        return str(next(iter(plain)))
    if issubclass(plain, datetime):
        return moment_text(NOON)
    return {str: "words", tuple: "[]", bool: 0}.get(
        plain, "{}" if issubclass(plain, Mapping) else 1
    )


class Rows:
    """Adds rows to a journal behind its back."""

    def __init__(self, connection: sqlite3.Connection, sha: str) -> None:
        self._connection, self._ids = connection, {"file": sha}
        self._count = itertools.count()
        for kind in RECORDS:
            self._ids[kind.KIND] = self.add(kind)

    def add(self, kind: type[Record], /, **spoilt: object) -> str:
        """Add a row that is sound but for what is said; return its id."""
        row = {name: sound(kind, name, self._ids) for name in fields_of(kind)} | {"id": new_id()}
        if kind.KIND == "weighing":  # one of a stage for each piece
            row["piece_id"] = self.add(next(k for k in RECORDS if k.KIND == "piece"))
        row |= {n: f"{next(self._count)}" for n in ("owner_id", "taster") if n in kind.UNIQUE}
        row |= spoilt
        names = ", ".join(f'"{name}"' for name in row)
        marks = ", ".join("?" * len(row))
        words = f"INSERT INTO {kind.KIND} ({names}) VALUES ({marks})"
        self._connection.execute(words, tuple(row.values()))
        return str(row["id"])


Spoilt = list[tuple[str, str, str, str]]
"""Table, id, column and what is wrong with it."""

Journals = tuple[Path, Spoilt, dict[Any, Any], object]


@pytest.fixture(scope="module")
def spoilt(tmp_path_factory: pytest.TempPathFactory) -> Journals:
    """Make a journal in which each column has each fault once; return also its sound rows."""
    folder = tmp_path_factory.mktemp("every") / "journal"
    with closing(open_journal(folder, new=True)) as journal:
        add_judged(journal, "Judged", [(6.0, 7.0), (5.0, 6.0)])
        times = NOON.timestamp() + np.array([0.0, 60.0, 120.0])
        sha = journal.database.attachments.keep(pack(Samples(times, np.ones(3, np.float32))))
    before = io.StringIO()
    with contextlib.redirect_stdout(before):
        main(["findings", str(folder), "Judged", "--json"])
    made: Spoilt = []
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection, connection:
        connection.execute("PRAGMA foreign_keys=OFF")
        connection.execute("INSERT INTO attachment VALUES (?, 3, 'a/b', 'samples')", (sha,))
        rows = Rows(connection, sha)
        good = whole_rows(connection)
        for kind in RECORDS:
            for name in fields_of(kind):
                for what, value in faults(kind, name).items():
                    try:
                        row_id = rows.add(kind, **{name: value})
                    except sqlite3.IntegrityError:  # a number without an end is null to SQLite
                        continue
                    made.append((kind.KIND, row_id, name, what))
        good |= {key: row for key, row in whole_rows(connection).items() if key[0] == "piece"}
        good = {key: row for key, row in good.items() if key not in {one[:2] for one in made}}
    return folder, made, good, json.loads(before.getvalue())


def whole_rows(connection: sqlite3.Connection) -> dict[Any, Any]:
    found: dict[Any, Any] = {}
    for kind in RECORDS:
        cursor = connection.execute(f"SELECT * FROM {kind.KIND}")
        place = [column[0] for column in cursor.description].index("id")
        found |= {(kind.KIND, str(row[place])): row for row in cursor}
    return found


def test_that_check_names_table_row_and_column_of_each(
    spoilt: Journals,
) -> None:
    folder, made, good, _ = spoilt
    found = check_folder(folder)
    named = {(row.kind, row.id): row.why for row in found.rows}
    silent = [one for one in made if one[2] not in named.get(one[:2], "")]
    assert len(made) > 900
    assert not silent
    assert not good.keys() & named.keys()
    assert not found.held


@pytest.mark.parametrize(
    "words",
    [
        "cooks J",
        "cooks J --json",
        "trends J --show yield --by wrap",
        "findings J Judged --json",
        "plan J Judged --json",
        "summary J Judged --to OUT/s.html --detail grams",
        "summary J Judged --to OUT/s.csv",
        "check J --json",
        "backup J --to OUT/b.zip",
        "salvage J --to OUT/salvaged",
    ],
)
def test_that_no_command_shows_a_fault_and_the_sound_cook_is_answered(
    spoilt: Journals,
    words: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    parts = [word.replace("OUT", str(tmp_path)) for word in words.split()]
    parts = [str(spoilt[0]) if word == "J" else word for word in parts]
    assert main(parts) == (1 if parts[0] in {"check", "salvage"} else 0)
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    if parts[:1] == ["cooks"]:
        assert "Judged" in out
        assert "is left out" in err
    if parts[0] == "findings":
        assert json.loads(out) == spoilt[3]


def test_that_a_repair_leaves_a_whole_journal_with_each_sound_row(
    spoilt: Journals,
) -> None:
    folder, made, good, _ = spoilt
    repaired = repair_folder(folder)
    # Every number of the rows made for this is one, also both ends of a scale.
    assert replace(repaired.check, impossible=()).held, repaired.check
    assert replace(check_folder(folder), impossible=()).held
    lines = "\n".join(repaired.done)
    assert not [one for one in made if one[1] not in lines]
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection:
        now = whole_rows(connection)
    without_notes = {key: row for key, row in good.items() if key[0] != "cook"}
    assert {key: now.get(key) for key in without_notes} == without_notes
    assert {key for key in good if key not in now} == set()


HISTORY = (
    ("operation", "label", BYTES),
    ("operation", "at", "someday"),
    ("operation", "at", BYTES),
    ("operation", "merge_key", BYTES),
    ("operation", "undone", "no such"),
    ("row_image", "kind", "no such"),
    ("row_image", "kind", BYTES),
    ("row_image", "row_id", BYTES),
    ("row_image", "after", '{"a": '),
    ("row_image", "before", BYTES),
    ("attachment", "id", BYTES),
    ("attachment", "size", "much"),
    ("attachment", "media_type", BYTES),
    ("attachment", "name", BYTES),
)


@pytest.mark.parametrize(("table", "column", "value"), HISTORY)
def test_that_the_journals_own_tables_are_named_and_mended_too(
    tmp_path: Path, table: str, column: str, value: object, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "journal"
    with closing(open_journal(folder, new=True)) as journal:
        add_judged(journal, "Judged", [(6.0, 7.0)])
        sha = journal.database.attachments.keep(b"a file")
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection, connection:
        connection.execute("INSERT INTO attachment VALUES (?, 6, 'a/b', 'file')", (sha,))
        words = f"UPDATE {table} SET {column} = ? WHERE rowid = 1"
        connection.execute(words, (value,))
    assert any(row.kind == table and column in row.why for row in check_folder(folder).rows)
    assert main(["cooks", str(folder)]) == 0
    assert "Judged" in capsys.readouterr().out
    repaired = repair_folder(folder)
    assert repaired.check.held
    with closing(open_journal(folder)) as journal:
        assert len(journal.cooks.page()) == 1
        while journal.undo() is not None:
            pass


def test_that_options_of_a_probe_file_are_words_and_yes_or_no_alone() -> None:
    """As `store/columns` says of what is kept of them."""
    assert all(isinstance(v, bool | str | None) for v in vars(ReadOptions()).values())


def test_that_a_bad_session_takes_no_other_out_of_the_catalogue(tmp_path: Path) -> None:
    with closing(open_journal(tmp_path / "journal", new=True)) as journal:
        add_judged(journal, "First", [(6.0, 7.0)])
        add_judged(journal, "Second", [(6.0, 7.0)])
        before = list(journal.catalogue())
    path = tmp_path / "journal" / "journal.sqlite"
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("UPDATE tasting SET seed = x'00' WHERE rowid = 1")
    with closing(open_journal(tmp_path / "journal")) as journal:
        assert list(journal.catalogue()) == before


def each_column() -> Iterator[tuple[str, str]]:
    for kind in RECORDS:
        yield from ((kind.KIND, name) for name in fields_of(kind))


def test_that_every_column_has_a_fault_to_be_tried() -> None:
    kinds = {kind.KIND: kind for kind in RECORDS}
    assert not [one for one in each_column() if not faults(kinds[one[0]], one[1])]
