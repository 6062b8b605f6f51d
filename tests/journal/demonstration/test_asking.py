"""The twelve questions answer from the demonstration; what matters most finds what is hidden.

The truth was written by hand, apart from the program (`truth.json`).
"""

import json
from pathlib import Path

import pytest

from pitjournal.analysis.trends.inference.variable_ranking import RankedVariable, rank_variables
from pitjournal.analysis.trends.question import Question
from pitjournal.analysis.trends.starters import STARTERS, Starter
from pitjournal.journal import Journal
from pitjournal.units import UnitSystem

TRUTH = json.loads((Path(__file__).parent / "truth.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.words)
def test_that_each_ready_question_answers(demonstration: Journal, starter: Starter) -> None:
    found = demonstration.trends.ask(starter.question, UnitSystem.US)
    assert found.groups
    assert found.cooks >= 3


def test_that_there_are_twelve_of_which_the_first_is_two() -> None:
    assert len(STARTERS) == 15
    assert len({starter.words for starter in STARTERS}) == 15


def ranked(journal: Journal, measure: str) -> dict[str, RankedVariable]:
    frame, catalogue = journal.trends.frame(), journal.catalogue()
    found = rank_variables(frame, Question(measure), catalogue, UnitSystem.US)
    return {matter.variable.key: matter for matter in found}


@pytest.mark.parametrize(
    ("measure", "variable", "what"),
    [
        ("score.tenderness", "treatment", "injecting makes ribs"),
        ("score.juiciness", "treatment", "a dry brine"),
        ("leeway_at_least", "treatment", "injected meat stays right"),
        ("fuel_rate", "fuel", "the compressed log"),
    ],
)
def test_that_what_is_hidden_matters(
    demonstration: Journal, measure: str, variable: str, what: str
) -> None:
    assert any(entry["what"].startswith(what) for entry in TRUTH["found"])
    matter = ranked(demonstration, measure)[variable]
    assert matter.tells
    assert matter.share > 0.1


def test_that_the_decoy_does_not_matter(demonstration: Journal) -> None:
    (decoy,) = (entry for entry in TRUTH["nothing"] if entry.get("by"))
    matter = ranked(demonstration, decoy["measure"])[decoy["by"]]
    assert not matter.tells
    assert matter.share == 0
