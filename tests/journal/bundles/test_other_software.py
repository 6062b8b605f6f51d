"""A bundle is read by software that knows nothing of this program.

RO-Crate 1.1 by the validator of its community (roc-validator), the data package by Frictionless'
own library, the tables by pandas.
"""

import csv
import hashlib
import json
import zipfile
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from pitjournal.domain.piece import Piece, Weighing
from pitjournal.files.probe_log import read_probe_log
from pitjournal.journal import open_journal

SCHEMA_ORG = (
    *("CreativeWork", "Dataset", "Organization", "about", "sdPublisher", "name", "description"),
    *("datePublished", "license", "hasPart", "encodingFormat", "contentSize", "dateCreated"),
)
CONTEXT = {term: f"http://schema.org/{term}" for term in SCHEMA_ORG} | {
    "File": "http://schema.org/MediaObject",
    "conformsTo": "http://purl.org/dc/terms/conformsTo",
}
"""An excerpt, of the terms a bundle uses, from https://w3id.org/ro/crate/1.1/context (version
1.1.3, CC0), which a validator fetches otherwise: tests reach no network."""


@pytest.fixture(scope="module")
def folder(least: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the one folder of a bundle, unpacked."""
    place = tmp_path_factory.mktemp("unpacked")
    with zipfile.ZipFile(least) as found:
        found.extractall(place)
    (only,) = place.iterdir()
    return only


class Answer:
    """An answer of a server that has the published context."""

    status_code = 200
    ok = True
    headers = {"Content-Type": "application/ld+json"}  # noqa: RUF012 - as a response has it

    def json(self) -> Any:
        return {"@context": CONTEXT}

    @property
    def text(self) -> str:
        return json.dumps(self.json())

    @property
    def content(self) -> bytes:
        return self.text.encode()

    def raise_for_status(self) -> None:
        pass


@pytest.mark.filterwarnings("ignore")
def test_that_the_folder_is_a_crate(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from rocrate_validator import models, services  # noqa: PLC0415 - a second to load
    from rocrate_validator.utils.http import HttpRequester  # noqa: PLC0415 - with it

    for method in ("get", "head"):
        monkeypatch.setattr(HttpRequester, method, lambda *_, **__: Answer(), raising=False)
    settings = services.ValidationSettings(
        rocrate_uri=models.URI(str(folder)), profile_identifier="ro-crate-1.1"
    )
    found = services.validate(settings)
    assert [f"{one.check.identifier}: {one.message}" for one in found.get_issues()] == []

    # The validator is one that finds something.
    (folder / "about-nothing.txt").unlink(missing_ok=True)
    told = json.loads((folder / "ro-crate-metadata.json").read_text(encoding="utf-8"))
    told["@graph"][1].pop("datePublished")
    broken = folder.parent / "broken"
    broken.mkdir()
    (broken / "ro-crate-metadata.json").write_text(json.dumps(told), encoding="utf-8")
    settings = services.ValidationSettings(
        rocrate_uri=models.URI(str(broken)), profile_identifier="ro-crate-1.1"
    )
    assert services.validate(settings).get_issues()


@pytest.mark.filterwarnings("ignore")
def test_that_the_tables_are_a_data_package(folder: Path) -> None:
    from frictionless import Package, system  # noqa: PLC0415 - a second to load

    with system.use_context(trusted=True):
        package = Package(str(folder / "datapackage.json"))
        report = package.validate()
        assert report.flatten(["rowNumber", "fieldName", "type", "message"]) == []
        assert len(package.resources) > 20
        assert report.stats["tasks"] == len(package.resources)


def test_that_it_is_one_folder_named_as_the_file(least: Path) -> None:
    """The ELN file format: one folder at the root, its name that of the archive."""
    with zipfile.ZipFile(least) as found:
        names = found.namelist()
    assert {name.split("/")[0] for name in names} == {"nine-racks"}
    assert "nine-racks/ro-crate-metadata.json" in names


def test_that_each_file_has_the_sha_and_size_that_are_told(folder: Path) -> None:
    told = json.loads((folder / "ro-crate-metadata.json").read_text(encoding="utf-8"))
    files = {one["@id"]: one for one in told["@graph"] if one["@type"] == "File"}
    there = {f"./{path.relative_to(folder).as_posix()}" for path in folder.rglob("*.*")}
    assert there - {"./ro-crate-metadata.json"} == set(files)
    for path, one in files.items():
        data = (folder / path).read_bytes()
        assert hashlib.sha256(data).hexdigest() == one["sha256"]
        assert str(len(data)) == one["contentSize"]


def test_that_pandas_reads_weights_as_the_journal_has_them(
    folder: Path, demonstration_folder: Path
) -> None:
    frame = pd.read_csv(folder / "tables" / "weighing.csv")
    journal = open_journal(demonstration_folder, read_only=True)
    cook_id = journal.cooks.find("28")
    mine = {one.id: one.mass for one in journal.find(Weighing, cook_id=cook_id)}
    labels = {one.id: one.label for one in journal.find(Piece, cook_id=cook_id)}
    journal.close()
    assert dict(zip(frame["id"], frame["mass"], strict=True)) == mine
    pieces = pd.read_csv(folder / "tables" / "piece.csv", dtype={"label": str})
    assert dict(zip(pieces["id"], pieces["label"], strict=True)) == labels


def test_that_csv_reads_the_readings_back(folder: Path) -> None:
    path = next(folder.rglob("readings-01.csv"))
    with path.open(encoding="utf-8", newline="") as file:
        heads, *rows = csv.reader(file)
    log = read_probe_log(path.read_bytes(), path.name)
    assert heads[0] == "time"
    assert [f"{channel.name} °C" for channel in log.channels] == heads[1:]
    assert {channel.unit_in_file for channel in log.channels} == {"degC"}
    for column, channel in enumerate(log.channels, start=1):
        cells = [float(row[column]) for row in rows if row[column]]
        assert channel.values_c.tolist() == pytest.approx(cells, abs=1e-3)
