"""What was done to meat is never left out, whatever a bundle calls it.

A saturated brine holds 26.4 % salt at 20 °C (35.9 g in 100 g of water: handbooks of chemistry).
"""

from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import pytest

from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.files.bundle import BundleRead, TableRead
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.bundles.parsing import Left, parse
from pitjournal.journal.commands.records import AddCook
from pitjournal.journal.sharing import whole_summary
from pitjournal.units import UnitSystem
from tests.builders import a_cook


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    made = open_journal(tmp_path / "journal", new=True)
    yield made
    made.close()


def read(journal: Journal, kind: str) -> tuple[list[Treatment], list[Left]]:
    """Return what is read of a belly in a brine with curing salt, its treatment called so."""
    cook = a_cook(title="Belly")
    journal.do(AddCook(cook, ()))
    told = {
        "id": "0" * 31 + "1",
        "cook_id": cook.id,
        "kind": kind,
        "liquid": "450.0",
        "salt": "0.9",
        "cure": "0.05",
        "cure_strength": "0.0625",
        "note": "in a bag",
    }
    table = TableRead(tuple(told), (tuple(told.values()),))
    parsed = parse(journal, cast("BundleRead", SimpleNamespace(tables={"treatment": table})))
    return [one for one in parsed.records if isinstance(one, Treatment)], parsed.left


def test_that_a_treatment_called_otherwise_is_kept_with_its_word(journal: Journal) -> None:
    (kept,), left = read(journal, "cured")
    assert not left
    assert kept.kind is TreatmentKind.OTHER
    assert kept.note == "cured: in a bag"
    assert (kept.cure, kept.cure_strength) == (0.05, 0.0625)


def test_that_its_curing_salt_and_a_brine_that_cannot_be_are_said(journal: Journal) -> None:
    (kept,), _ = read(journal, "cured")
    cook = a_cook(title="Belly again")
    mine = Treatment(
        cook_id=cook.id,
        kind=kept.kind,
        note=kept.note,
        salt=kept.salt,
        cure=kept.cure,
        cure_strength=kept.cure_strength,
    )
    journal.do(AddCook(cook, (mine,)))
    protects = whole_summary(journal, cook.id, system=UnitSystem.US).protects
    assert any(
        one.startswith("Contains curing salt") and "nitrite by its label" in one for one in protects
    )
    assert any("90.0 % salt cannot be" in one for one in protects)


@pytest.mark.parametrize("words", ["pink salt", "pink powder #2", "Nitritpökelsalz"])
def test_that_curing_salt_is_said_where_a_treatment_names_it_in_words_alone(
    journal: Journal, words: str
) -> None:
    cook = a_cook(title="Belly")
    journal.do(AddCook(cook, (Treatment(cook_id=cook.id, kind=TreatmentKind.OTHER, note=words),)))
    protects = whole_summary(journal, cook.id, system=UnitSystem.US).protects
    assert any(one.startswith("Contains curing salt") for one in protects)


def test_that_the_share_of_a_label_is_not_rounded(journal: Journal) -> None:
    # 6.25 %: pink curing salt no. 1 by its label (common practice, resources/safety: cure1).
    cook = a_cook(title="Belly")
    mine = Treatment(cook_id=cook.id, kind=TreatmentKind.DRY_BRINED, cure=2.5, cure_strength=0.0625)
    journal.do(AddCook(cook, (mine,)))
    protects = whole_summary(journal, cook.id, system=UnitSystem.US).protects
    assert any("6.25 % nitrite by its label" in one for one in protects)
