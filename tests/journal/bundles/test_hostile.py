"""A bundle may come from anyone: what could hurt is refused in one line, and nothing is kept."""

import csv
import hashlib
import io
import json
import stat
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from pitjournal.domain.cook import Cook
from pitjournal.errors import JournalError
from pitjournal.files import strangers
from pitjournal.files.bundle import Unpacked, read_bundle
from pitjournal.journal import open_journal
from pitjournal.journal.bundles.incoming import Incoming, incoming
from pitjournal.journal.jobs import Progress
from tests.journal.bundles.conftest import changed

META, PACKAGE = "nine-racks/ro-crate-metadata.json", "nine-racks/datapackage.json"


def refused(path: Path, part: str) -> None:
    with pytest.raises(JournalError) as found:
        read_bundle(str(path))
    assert part in str(found.value)
    assert "\n" not in str(found.value)


@pytest.mark.parametrize(
    "name", ["../out.txt", "/etc/out.txt", "nine-racks/../../out", "C:/out.txt", "a\\..\\out"]
)
def test_a_name_that_leads_out(least: Path, tmp_path: Path, name: str) -> None:
    path = changed(least, tmp_path / "x.eln", lambda _, data: data)
    with zipfile.ZipFile(path, "a") as file:
        file.writestr(name, b"x")
    refused(path, "outside")


def test_a_link(least: Path, tmp_path: Path) -> None:
    path = changed(least, tmp_path / "x.eln", lambda _, data: data)
    link = zipfile.ZipInfo("nine-racks/link")
    link.external_attr = (stat.S_IFLNK | 0o777) << 16
    with zipfile.ZipFile(path, "a") as file:
        file.writestr(link, "/etc/passwd")
    refused(path, "outside")


def test_a_table_that_was_changed(least: Path, tmp_path: Path) -> None:
    path = changed(
        least,
        tmp_path / "x.eln",
        lambda name, data: data.replace(b"St. Louis", b"S. Louis!") if "piece" in name else data,
    )
    refused(path, "changed after it was written")


@pytest.mark.parametrize("end", ["readings-01.csv", "tables/piece.csv", "about.txt"])
def test_a_part_that_is_missing(least: Path, tmp_path: Path, end: str) -> None:
    path = changed(
        least, tmp_path / "x.eln", lambda name, data: None if name.endswith(end) else data
    )
    refused(path, "missing")


def test_a_newer_version(least: Path, tmp_path: Path) -> None:
    refused(_retold(least, tmp_path, "pitjournal", {"version": 99}), "newer")


@pytest.mark.parametrize("own", [None, "x", {"version": "1"}, []])
def test_a_bundle_of_other_software(least: Path, tmp_path: Path, own: object) -> None:
    refused(_retold(least, tmp_path, "pitjournal", own), "other software")


def _retold(least: Path, tmp_path: Path, key: str, value: object) -> Path:
    """Return the bundle with another data package, rightly described."""

    def package(data: bytes) -> bytes:
        return json.dumps({**json.loads(data), key: value}).encode()

    return rewritten(least, tmp_path / "x.eln", {PACKAGE: package})


def rewritten(source: Path, target: Path, parts: dict[str, Callable[[bytes], bytes]]) -> Path:
    """Write a bundle with other files in it, and with the SHA-256 and sizes of those."""
    with zipfile.ZipFile(source) as old:
        made = {name: part(old.read(name)) for name, part in parts.items()}
        told = json.loads(old.read(META))
    for one in told["@graph"]:
        data = made.get(one["@id"].replace("./", "nine-racks/", 1))
        if data is not None:
            one["sha256"], one["contentSize"] = hashlib.sha256(data).hexdigest(), str(len(data))
    made[META] = json.dumps(told).encode()
    return changed(source, target, made.get)


@pytest.mark.parametrize(
    ("data", "part"),
    [
        (b"", "no ZIP"),
        (b"PK\x03\x04 no more", "no ZIP"),
        (b"id,title\n1,ribs\n", "no ZIP"),
    ],
)
def test_what_is_no_zip(tmp_path: Path, data: bytes, part: str) -> None:
    path = tmp_path / "x.eln"
    path.write_bytes(data)
    refused(path, part)


def test_a_zip_cut_off_anywhere(least: Path, tmp_path: Path) -> None:
    data = least.read_bytes()
    for at in range(0, len(data), len(data) // 12):
        path = tmp_path / "x.eln"
        path.write_bytes(data[:at])
        refused(path, "x.eln")


def test_a_zip_of_anything(tmp_path: Path) -> None:
    path = tmp_path / "x.eln"
    with zipfile.ZipFile(path, "w") as file:
        file.writestr("a/b.txt", b"x")
        file.writestr("c.txt", b"x")
    refused(path, "no bundle of cooks")


@pytest.mark.parametrize("graph", [None, {}, [], [1, "x"], [{"@type": "File", "@id": 5}]])
def test_a_description_of_nothing(least: Path, tmp_path: Path, graph: object) -> None:
    data = json.dumps({"@graph": graph}).encode()
    path = changed(least, tmp_path / "x.eln", lambda name, old: data if name == META else old)
    refused(path, "x.eln")


def test_a_bomb_is_not_unpacked(
    least: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A table that unpacks to a thousand times what it takes."""
    monkeypatch.setattr("pitjournal.files.bundle.reading.MOST_OF_TABLES", 1_000_000)
    path = tmp_path / "x.eln"
    with zipfile.ZipFile(least) as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for info in old.infolist():
            bomb = info.filename.endswith("/piece.csv")
            new.writestr(info.filename, b"\0" * (1 << 24) if bomb else old.read(info))
    refused(path, "more than is read at once")


def test_too_many_entries(least: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("pitjournal.files.bundle.reading.MOST_ENTRIES", 20)
    refused(least, "20 is the most")


def test_a_file_that_was_changed_is_not_kept(least: Path, tmp_path: Path) -> None:
    path = changed(
        least,
        tmp_path / "x.eln",
        lambda name, data: data[:-1] + bytes([data[-1] ^ 1]) if name.endswith(".bin") else data,
    )
    with pytest.raises(JournalError, match="not what it was"):
        _brought(path, tmp_path)
    journal = open_journal(tmp_path / "j")
    assert journal.find(Cook) == []
    journal.close()


def _brought(path: Path, tmp_path: Path) -> Incoming:
    journal = open_journal(tmp_path / "j", new=True)
    try:
        found = incoming(journal, strangers.bundle(path), path.name)
        with Unpacked(path) as unpacked:
            command = found.kept(journal, unpacked, theirs=False, progress=Progress())
        if command is not None:
            journal.do(command)
        assert journal.database.integrity() == (True, True)
    finally:
        journal.close()
    return found


def _with_cell(least: Path, tmp_path: Path, table: str, column: str, cell: str) -> Path:
    """Return the bundle with another cell in the first row of a table, rightly described."""

    def part(data: bytes) -> bytes:
        heads, first, *others = csv.reader(io.StringIO(data.decode(), newline=""))
        first[heads.index(column)] = cell
        out = io.StringIO(newline="")
        csv.writer(out).writerows([heads, first, *others])
        return out.getvalue().encode()

    return rewritten(least, tmp_path / "x.eln", {f"nine-racks/tables/{table}.csv": part})


@pytest.mark.parametrize(
    ("table", "column", "cell"),
    [
        ("piece", "id", "../../etc/passwd"),
        ("piece", "id", ""),
        ("piece", "cook_id", "0" * 32),
        ("piece", "position", "first"),
        ("piece", "thickness_1", "nan"),
        ("piece", "thickness_1", "1e999"),
        ("piece", "frozen", "maybe"),
        ("trace", "samples", "../../../../etc/passwd"),
        ("trace", "starts_at", "yesterday"),
        ("trace", "sits", "on a cloud"),
        ("trace", "left_out", "[[["),
        ("event", "details", "[" * 100_000),
        ("weighing", "stage", "lost"),
    ],
)
def test_a_row_that_is_none_costs_that_row(
    least: Path, tmp_path: Path, table: str, column: str, cell: str
) -> None:
    found = _brought(_with_cell(least, tmp_path, table, column, cell), tmp_path)
    assert len(found.cooks) == 1
    assert (found.left[0].table, found.left[0].row) == (table, 2)
    assert found.left[0].why


def test_a_cook_that_is_none_takes_what_hangs_from_it_along(least: Path, tmp_path: Path) -> None:
    path = _with_cell(least, tmp_path, "cook", "zone", "Mars/Olympus")
    found = _brought(path, tmp_path)
    assert found.cooks == ()
    assert found.left[0].table == "cook"
    assert all("missing" in one.why for one in found.left[1:])


def test_columns_of_a_newer_program_and_missing_ones_are_borne(least: Path, tmp_path: Path) -> None:
    def part(data: bytes) -> bytes:
        rows = list(csv.reader(io.StringIO(data.decode(), newline="")))
        gone = rows[0].index("grade")
        made = [
            [*row[:gone], *row[gone + 1 :], "new" if at == 0 else "x"]
            for at, row in enumerate(rows)
        ]
        out = io.StringIO(newline="")
        csv.writer(out).writerows(made)
        return out.getvalue().encode()

    path = rewritten(least, tmp_path / "x.eln", {"nine-racks/tables/piece.csv": part})
    found = _brought(path, tmp_path)
    assert (len(found.cooks), found.left) == (1, ())
