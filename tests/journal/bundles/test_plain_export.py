"""Every table as CSV: whole, described, and read alike by csv, pandas and Frictionless."""

import csv
from pathlib import Path

import pandas as pd
import pytest

from pitjournal.domain.cook import Cook
from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.bundles.plain_export import export_plain
from pitjournal.store.schema import RECORDS


@pytest.fixture(scope="module")
def journal(demonstration_folder: Path) -> Journal:
    return open_journal(demonstration_folder, read_only=True)


@pytest.fixture(scope="module")
def folder(journal: Journal, tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("plain") / "tables of mine"
    export_plain(journal, place)
    return place


def test_that_every_record_stands_in_a_table(folder: Path, journal: Journal) -> None:
    for kind in RECORDS:
        if kind.KIND != "setting":
            path = folder / "tables" / f"{kind.KIND}.csv"
            with path.open(encoding="utf-8", newline="") as file:
                rows = list(csv.DictReader(file))
            assert {row["id"] for row in rows} == {one.id for one in journal.find(kind)}


@pytest.mark.filterwarnings("ignore")
def test_that_it_is_a_data_package(folder: Path) -> None:
    from frictionless import Package, system  # noqa: PLC0415 - a second to load

    with system.use_context(trusted=True):
        package = Package(str(folder / "datapackage.json"))
        report = package.validate()
    assert report.flatten(["rowNumber", "fieldName", "type", "message"]) == []
    assert {path.relative_to(folder).as_posix() for path in folder.rglob("*.csv")} == {
        one.path for one in package.resources
    }


def test_that_pandas_reads_what_was_worked_out(folder: Path, journal: Journal) -> None:
    frame = pd.read_csv(folder / "tables" / "worked_out.csv")
    units = pd.read_csv(folder / "tables" / "variables.csv").set_index("variable")["unit"]
    assert units["yield_off"] == "1" or pd.isna(units["yield_off"])
    assert units["mass_off"] == "g"
    some = frame[frame["variable"] == "yield_off"].set_index("owner_id")["value"].astype(float)
    mine = {
        owner: said["yield_off"]
        for owner, _, level, said in journal.values()
        if level == "piece" and "yield_off" in said
    }
    assert some.to_dict() == pytest.approx(mine)


def test_that_every_column_is_named_in_words(folder: Path) -> None:
    words = (folder / "README.txt").read_text(encoding="utf-8").splitlines()
    for path in (folder / "tables").glob("*.csv"):
        begin = words.index(f"tables/{path.name}")
        heads = path.read_text(encoding="utf-8").splitlines()[0].split(",")
        told = [line.strip().split(":")[0] for line in words[begin + 2 : begin + 2 + len(heads)]]
        assert told == heads


def test_that_what_is_there_is_never_written_over(journal: Journal, tmp_path: Path) -> None:
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "a.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(JournalError, match="is there already"):
        export_plain(journal, mine)
    assert [path.name for path in tmp_path.iterdir()] == ["mine"]
    empty = tmp_path / "empty"
    empty.mkdir()
    export_plain(journal, empty)
    assert len(list((empty / "cooks").iterdir())) <= len(journal.find(Cook))
