"""What may be said in which case: never more than the numbers carry.

The table of cases is written by hand; nouns and comparatives are common practice, no source.
"""

from dataclasses import replace

import pytest

from pitjournal.analysis.findings.across import Across, CookEffect, Series
from pitjournal.analysis.findings.comparison import ArmSummary, Borrowed, Difference, Point
from pitjournal.analysis.findings.ledger import LedgerRow
from pitjournal.analysis.findings.ledger_words import ledger_sentence, past_slope_sentence
from pitjournal.analysis.findings.leeway import NOT_PAST, ArmLeeway
from pitjournal.analysis.findings.means import Mean
from pitjournal.analysis.findings.past_slope import PastSlope
from pitjournal.analysis.findings.several_words import across_sentence, next_sentence
from pitjournal.analysis.findings.wording import (
    arm_sentence,
    difference_sentence,
    headline,
    leeway_sentence,
    short_words,
)
from pitjournal.analysis.trade_words import differed, noun_of, pieces_of
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


FIVE = tuple(CookEffect(str(n), n, "", 0.5, None, None, 12) for n in range(1, 6))
TOLD = Across("Injected", "Left alone", 1, FIVE, 0.5, 0.1, 0.9, None, None, 60, "", "rack")
TOLD = replace(TOLD, series=Series(0.01, 5), se=0.12)
OPEN = replace(TOLD, low=-0.1, series=Series())
TWO = replace(OPEN, cooks=FIVE[:2], pieces=24)
APART = (replace(FIVE[0], estimate=1.5), replace(FIVE[1], estimate=-1.25))
MATTERS = 0.9
SMALL = replace(
    WIDE, estimate=0.1, low=-0.4, high=0.6, matters=MATTERS, small_p=0.01, se=0.18, df=4.0
)

CASES = [
    (
        DIFFERENCE,
        None,
        (
            "Injected racks were 0.8 points more tender than racks left alone (95 % interval 0.1 to "
            "1.5 points; three racks of each)."
        ),
    ),
    (
        replace(DIFFERENCE, estimate=-0.8, low=-1.5, high=-0.1),
        None,
        (
            "Injected racks were 0.8 points less tender than racks left alone (95 % interval 0.1 to "
            "1.5 points; three racks of each)."
        ),
    ),
    (
        WIDE,
        None,
        (
            "Injected racks: not enough to tell (+0.8 points in tenderness, 95 % interval −0.1 to "
            "+1.5 points; three racks of each). This cook could have shown 0.9 points."
        ),
    ),
    (
        replace(WIDE, could_show=None),
        None,
        (
            "Injected racks: not enough to tell (+0.8 points in tenderness, 95 % interval −0.1 to "
            "+1.5 points; three racks of each)."
        ),
    ),
    (
        replace(DIFFERENCE, adjusted=0.07),
        None,
        (
            "Injected racks: not enough to tell (+0.8 points in tenderness, 95 % interval +0.1 to "
            "+1.5 points; three racks of each). By itself it would be, but several arms were held "
            "against the control."
        ),
    ),
    (
        replace(DIFFERENCE, low=None, high=None, why="one piece of each"),
        None,
        (
            "Injected racks were 0.8 points more tender than racks left alone, one rack of each. No "
            "interval exists, so nothing says how sure that is."
        ),
    ),
    (
        replace(DIFFERENCE, estimate=0.0, low=None, high=None, why="no spread to judge it by"),
        None,
        "Injected racks came out alike in tenderness as racks left alone; no spread to judge it by.",
    ),
    (
        replace(DIFFERENCE, estimate=None, low=None, high=None),
        None,
        "Injected racks: tenderness is not recorded for both arms.",
    ),
    (
        DIFFERENCE,
        TOLD,
        (
            "Over five cooks injected racks were 0.5 points more tender than racks left alone (95 % "
            "interval 0.1 to 0.9 points, one spread for all "
            "cooks; 60 racks). This cook alone: +0.8 points (95 % interval "
            "+0.1 to +1.5 points; three racks of each)."
        ),
    ),
    (
        WIDE,
        replace(TOLD, low=-0.1, series=Series(0.01, 1)),
        (
            "Injected racks: five cooks of the same comparison are not enough to tell (+0.5 points in "
            "tenderness, 95 % interval −0.1 to +0.9 points, one spread for all cooks; 60 racks). The "
            "first cook told by itself; with each cook as one answer, so few do not. This cook alone: "
            "+0.8 points (95 % interval −0.1 to +1.5 points; three racks of each)."
        ),
    ),
    (
        WIDE,
        OPEN,
        (
            "Injected racks: five cooks of the same comparison are not enough to tell (+0.5 points "
            "in tenderness, 95 % interval −0.1 to +0.9 points, one spread for all "
            "cooks; 60 racks). This cook alone: +0.8 "
            "points (95 % interval −0.1 to +1.5 points; three racks of each)."
        ),
    ),
    (
        WIDE,
        TWO,
        (
            "Injected racks: two cooks of the same comparison are not enough to tell (+0.5 points in "
            "tenderness, 95 % interval −0.1 to +0.9 points, one spread for all "
            "cooks; 24 racks). Together they can answer from "
            "three cooks on. This cook alone: +0.8 points (95 % interval −0.1 to +1.5 points; three "
            "racks of each)."
        ),
    ),
    (
        WIDE,
        replace(TOLD, series=Series(0.06, 5, low=-0.2, high=1.2), with_others=True),
        (
            "Injected racks: five cooks of the same comparison are not enough to tell (+0.5 points "
            "in tenderness, 95 % interval +0.1 to +0.9 points, one spread for all "
            "cooks; 60 racks). By itself this look would "
            "tell; looked at after every cook, the interval is −0.2 to +1.2 points, the other arms "
            "not yet allowed for. This cook alone: +0.8 points (95 % interval −0.1 to +1.5 points; "
            "three racks of each)."
        ),
    ),
    (
        WIDE,
        replace(TOLD, series=Series(0.06, 5, low=-0.2, high=1.2)),
        (
            "Injected racks: five cooks of the same comparison are not enough to tell (+0.5 points "
            "in tenderness, 95 % interval +0.1 to +0.9 points, one spread for all "
            "cooks; 60 racks). By itself this look would "
            "tell; looked at after every cook, the interval is −0.2 to +1.2 points. This cook alone: "
            "+0.8 points (95 % interval −0.1 to +1.5 points; three racks of each)."
        ),
    ),
    (
        WIDE,
        replace(TWO, cooks=APART, estimate=0.1, series=Series(differ_p=0.01)),
        (
            "Injected racks: the cooks contradict each other in tenderness: cook 1 +1.5 points, cook "
            "2 −1.25 points. Their mean, +0.1 points (95 % interval −0.1 to +0.9 points, one spread for all "
            "cooks; 24 racks), "
            "speaks for none of them: look for what was different. This cook alone: +0.8 points "
            "(95 % interval −0.1 to +1.5 points; three racks of each)."
        ),
    ),
    (
        WIDE,
        replace(
            OPEN,
            estimate=0.1,
            matters=MATTERS,
            series=Series(small_p=0.01, level=0.01, df=20.0),
            se=0.1,
        ),
        (
            "Over five cooks: no difference that matters to you in tenderness between injected racks "
            "and racks left alone (+0.1 points, 98 % interval −0.16 to +0.36 points, less than 0.9 "
            "points either way, one spread for all cooks; 60 racks). This cook alone: +0.8 points (95 % interval −0.1 to +1.5 "
            "points; three racks of each)."
        ),
    ),
    (
        SMALL,
        None,
        (
            "Injected racks: no difference that matters to you (+0.1 points in tenderness, 93 % "
            "interval −0.35 to +0.55 points, less than 0.9 points either way; three racks of each)."
        ),
    ),
    (
        replace(SMALL, low=0.01, high=0.19, p=0.02),
        None,
        (
            "Injected racks were 0.1 points more tender than racks left alone (95 % interval 0.01 to "
            "0.19 points; three racks of each). That is less than the 0.9 points that matter to you."
        ),
    ),
    (
        replace(DIFFERENCE, p=0.048),
        None,
        (
            "Injected racks: not enough to tell (+0.8 points in tenderness, 95 % interval +0.1 to "
            "+1.5 points; three racks of each). At 5 % it would be, but a first cook is held to "
            "3.5 %, as looking again after later ones costs too."
        ),
    ),
    (
        replace(DIFFERENCE, borrowed=Borrowed(0.2, 1.4, 0.01, 0.25, 8.0, 5, 4.0, 0.5)),
        None,
        (
            "Injected racks were 0.8 points more tender than racks left alone (95 % interval 0.2 to "
            "1.4 points, spread borrowed from your last five cooks; three racks of each)."
        ),
    ),
]
"""A difference, what all cooks say together, and the sentence: signs and digits to the letter."""


@pytest.mark.parametrize(("case", "joined", "says"), CASES)
def test_that_a_sentence_says_what_its_numbers_carry_and_no_more(
    case: Difference, joined: Across | None, says: str
) -> None:
    control, other = arm("Left alone", 3), arm("Injected", 3)
    assert arm_sentence(case, joined, control, other, TENDER, US, "rack") == says


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("time_on", -720.0, "came off 12 min earlier"),
        ("time_on", 720.0, "came off 12 min later"),
        ("mass_on", 310.0, "were 310 g heavier when they went on"),
        ("score.juiciness", -0.5, "were 0.5 points less juicy"),
        ("yield_off", 0.031, "yielded 3.1 percentage points more"),
        ("score.flavour", 0.25, "were 0.25 points better in flavour"),
        ("stall_length", 600.0, "had 10 min more length of the stall"),
    ],
)
def test_that_more_and_less_have_the_trades_words(key: str, value: float, says: str) -> None:
    assert differed(value, CATALOGUE[key], UnitSystem.METRIC) == says


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("Left alone", "racks left alone"),
        ("Injected", "injected racks"),
        ("The wet one", "racks of “The wet one”"),
        ("Foil at three hours", "racks of “Foil at three hours”"),
        ("", "racks of “”"),
    ],
)
def test_that_a_way_and_its_pieces_read_as_one(name: str, says: str) -> None:
    assert pieces_of(name, "rack") == says


def test_that_pieces_of_several_cuts_are_pieces() -> None:
    assert noun_of(["back ribs", "St. Louis ribs"]) == "rack"
    assert noun_of(["back ribs", "brisket"]) == "piece"
    assert noun_of(["lamb shoulder"]) == "shoulder"
    assert noun_of(["no such cut"]) == "piece"
    assert noun_of(["Chicken Wings", "wings"]) == "wing"
    assert noun_of([]) == "piece"


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
    assert said == "Seen right by feel: injected pieces for at least 10 to 25 min."
    assert leeway_sentence([]) == ""


def test_that_small_other_differences_are_not_made_much_of() -> None:
    row = LedgerRow("a", "Injected", 1, CATALOGUE["mass_on"], 310.0, 0.5)
    assert not ledger_sentence([row], US)
    said = ledger_sentence([replace(row, size=2.0)], UnitSystem.METRIC)
    assert said == "But injected pieces were also 310 g heavier when they went on."
    later = replace(row, variable=CATALOGUE["time_on"], difference=-720.0, size=1.0)
    both = ledger_sentence([replace(row, size=2.0), later], UnitSystem.METRIC, "rack")
    assert both == (
        "But injected racks were also 310 g heavier when they went on and came off 12 min earlier."
    )


def test_that_every_arm_that_differs_is_named() -> None:
    one = LedgerRow("a", "Injected", 1, CATALOGUE["mass_on"], 310.0, 2.0)
    two = LedgerRow("b", "Needled", 2, CATALOGUE["time_on"], -720.0, 1.5)
    assert ledger_sentence([two, one], UnitSystem.METRIC) == (
        "But injected pieces were also 310 g heavier when they went on, and needled pieces also came "
        "off 12 min earlier."
    )


def test_that_a_difference_beside_the_one_tested_is_sized_by_past_cooks() -> None:
    row = LedgerRow("a", "Injected", 1, CATALOGUE["mass_on"], 310.0, 2.0)
    assert not past_slope_sentence(row, TENDER, US, "rack")
    went = PastSlope(0.1, -0.2, 0.4, 26, 5)
    said = past_slope_sentence(replace(row, went=went), TENDER, UnitSystem.METRIC, "rack")
    assert said == (
        "+310 g in weight on went with +0.1 points in tenderness on past cooks (95 % interval −0.2 "
        "to +0.4 points; 26 racks, 5 cooks)."
    )


def test_that_the_next_cook_is_told_where_there_is_an_interval_for_it() -> None:
    assert not next_sentence(TOLD, TENDER, US)
    said = next_sentence(replace(TOLD, next_low=-0.3, next_high=1.3), TENDER, US)
    assert said == (
        "Injected: one more such cook would truly differ by −0.3 to +1.3 points (95 % interval)."
    )


@pytest.mark.parametrize("case", [DIFFERENCE, WIDE])
def test_that_a_sentence_with_an_interval_says_of_how_many_pieces(case: Difference) -> None:
    said = difference_sentence(case, arm("Left alone", 2), arm("Injected", 3), TENDER, US)
    assert "three pieces against two" in said


@pytest.mark.parametrize("joined", [TOLD, OPEN, replace(OPEN, low=None, high=None)])
def test_that_several_cooks_are_joined_with_their_pieces_told(joined: Across) -> None:
    said = across_sentence(joined, TENDER, US)
    assert "60 racks" in said
    assert ("95 % interval" in said) == (joined.low is not None)
    assert ("not enough to tell" in said) == (joined is OPEN)


def test_that_a_mean_of_some_pieces_says_so() -> None:
    assert Mean(5.0, 2, 3).of == " (2 of 3)"
    assert not Mean(5.0, 3, 3).of
    assert not Mean(None, 0, 3).of
