"""Bundles of the demonstration journal, made once."""

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from pitjournal.domain.cook import Cook
from pitjournal.files.bundle import write_bundle
from pitjournal.files.summary.content import Choice
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.bundles.gathering import Gathered, bundle_of
from pitjournal.journal.bundles.leaving import EVERYTHING


def written(journal: Journal, target: Path, choice: Choice, *numbers: int) -> Gathered:
    """Write a bundle of the cooks with these numbers, or of all."""
    cooks = sorted(journal.find(Cook), key=lambda cook: cook.number)
    ids = [cook.id for cook in cooks if not numbers or cook.number in numbers]
    gathered = bundle_of(journal, ids, choice, target.stem)
    with target.open("wb") as file:
        write_bundle(gathered.bundle, file)
    return gathered


@pytest.fixture(scope="session")
def all_cooks(demonstration_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a bundle of the whole demonstration; to be read, not written to."""
    target = tmp_path_factory.mktemp("bundle") / "all-cooks.eln"
    journal = open_journal(demonstration_folder, read_only=True)
    written(journal, target, EVERYTHING)
    journal.close()
    return target


@pytest.fixture(scope="session")
def least(demonstration_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a bundle of the cook with nine racks, with as little as may leave."""
    target = tmp_path_factory.mktemp("bundle") / "nine-racks.eln"
    journal = open_journal(demonstration_folder, read_only=True)
    written(journal, target, Choice(), 28)
    journal.close()
    return target


Change = Callable[[str, bytes], bytes | None]


def changed(source: Path, target: Path, change: Change) -> Path:
    """Write a ZIP anew, each entry as `change` has it by name and bytes; None leaves it out."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w") as new:
        for info in old.infolist():
            data = change(info.filename, old.read(info))
            if data is not None:
                new.writestr(info.filename, data)
    return target
