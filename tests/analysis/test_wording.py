"""What may be said in which case: never more than the numbers carry."""

from dataclasses import replace

import pytest

from pitjournal.analysis.across_cooks import Across
from pitjournal.analysis.comparison import ArmSummary, Difference, Point
from pitjournal.analysis.findings import Mean
from pitjournal.analysis.ledger import LedgerRow
from pitjournal.analysis.leeway import NOT_PAST, ArmLeeway
from pitjournal.analysis.wording import (
    across_sentence,
    difference_sentence,
    headline,
    ledger_sentence,
    leeway_sentence,
    short_words,
)
from pitjournal.units import UnitSystem
from tests.analysis.makers import CATALOGUE

US = UnitSystem.US
TENDER = CATALOGUE["score.tenderness"]


def arm(name: str, count: int) -> ArmSummary:
    points = tuple(Point(str(n), f"A{n}", "", 6.0) for n in range(count))
    return ArmSummary(name, name, control=name == "Left alone", look=0, points=points, mean=6, sd=1)


DIFFERENCE = Difference(
    arm_id="Injected",
    arm="Injected",
    look=1,
    key="score.tenderness",
    declared=True,
    estimate=0.8,
    low=0.1,
    high=1.5,
    p=0.03,
    adjusted=None,
    pieces=6,
    control_pieces=3,
    could_show=0.9,
    method="",
    why="",
)
WIDE = replace(DIFFERENCE, low=-0.1, p=0.08)


@pytest.mark.parametrize(
    ("case", "says", "never"),
    [
        (DIFFERENCE, "+0.8 points against left alone (95 % interval +0.1", "not enough"),
        (WIDE, "not enough to tell", "against left alone ("),
        (replace(WIDE, could_show=None), "not enough to tell", "could have shown"),
        (replace(DIFFERENCE, low=0.0), "not enough to tell", "against left alone ("),
        (
            replace(DIFFERENCE, low=None, high=None, why="one piece of each"),
            "No interval exists",
            "95 %",
        ),
        (replace(DIFFERENCE, estimate=None), "not recorded", "points"),
    ],
)
def test_that_a_sentence_says_no_more_than_its_numbers(
    case: Difference, says: str, never: str
) -> None:
    said = difference_sentence(case, arm("Left alone", 3), arm("Injected", 3), TENDER, US)
    assert says in said
    assert never not in said


def test_that_an_exploratory_difference_needs_its_corrected_p_value() -> None:
    looked = replace(DIFFERENCE, declared=False, adjusted=0.3)
    assert not looked.tells
    assert short_words(looked) == "not enough to tell"
    assert replace(looked, adjusted=0.01).tells


def test_that_the_headline_is_as_modest_as_the_sentence() -> None:
    assert headline([WIDE], TENDER, US) == "not enough to tell"
    assert headline([DIFFERENCE], TENDER, US) == "Injected: tenderness +0.8 points"
    assert headline([], TENDER, US) == ""


def leeway(*, known: bool, least: tuple[float, ...]) -> ArmLeeway:
    return ArmLeeway("a", "Injected", 1, "time", 3, None, None, least, (), known, "")


def test_that_leeway_is_not_claimed_when_no_piece_went_past_right() -> None:
    assert NOT_PAST in leeway_sentence([leeway(known=False, least=(600.0,))])
    said = leeway_sentence([leeway(known=True, least=(600.0, 1500.0))])
    assert said == "Stayed right by feel: Injected at least 10 to 25 min."
    assert leeway_sentence([]) == ""


def test_that_small_other_differences_are_not_made_much_of() -> None:
    row = LedgerRow("a", "Injected", 1, CATALOGUE["mass_on"], 310.0, 0.5)
    assert not ledger_sentence([row], US)
    said = ledger_sentence([replace(row, size=2.0)], UnitSystem.METRIC)
    assert said == "But Injected also differed in weight on +310 g."


@pytest.mark.parametrize("case", [DIFFERENCE, WIDE])
def test_that_a_sentence_with_an_interval_says_of_how_many_pieces(case: Difference) -> None:
    said = difference_sentence(case, arm("Left alone", 2), arm("Injected", 3), TENDER, US)
    assert "three pieces against two" in said


@pytest.mark.parametrize(("low", "high"), [(0.1, 0.9), (-0.1, 0.9), (None, None)])
def test_that_several_cooks_are_joined_with_their_pieces_told(
    low: float | None, high: float | None
) -> None:
    joined = Across("Injected", "Left alone", 1, (), 0.5, low, high, None, None, 24, "")
    said = across_sentence(joined, TENDER, US)
    assert "24 pieces" in said
    assert ("95 % interval" in said) == (low is not None)
    assert ("not enough to tell" in said) == (low is not None and low < 0)


def test_that_a_mean_of_some_pieces_says_so() -> None:
    assert Mean(5.0, 2, 3).of == " (2 of 3)"
    assert not Mean(5.0, 3, 3).of
    assert not Mean(None, 0, 3).of
