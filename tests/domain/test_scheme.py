"""Scales and rules of a scheme. The schemes of the program: common practice, no source."""

import math

import pytest

from pitjournal.domain.scheme import Asks, Criterion, Rules, Scale, Scored, rules_from
from pitjournal.domain.tasting import HOME_PANEL, Tasting
from pitjournal.errors import JournalError
from pitjournal.files.schemes import USUAL, shipped, shipped_schemes

CONTEST = Criterion(name="taste", low=2, high=9, weight=2.2972, penalty=1)


@pytest.mark.parametrize("value", [1, 2, 6, 9])
def test_that_a_contest_takes_two_to_nine_and_one_as_a_penalty(value: float) -> None:
    assert not CONTEST.refusal(value, 6)


@pytest.mark.parametrize("value", [0, 10, 6.5, -2, math.nan, math.inf])
def test_that_a_contest_takes_nothing_else_and_says_what_it_takes(value: float) -> None:
    assert "2 to 9, or 1 as a penalty" in CONTEST.refusal(value, 6)


@pytest.mark.parametrize(
    ("scale", "taken", "refused"),
    [
        (Scale.WHOLE, 7, 7.5),
        (Scale.HALF, 7.5, 7.25),
        (Scale.LINE, 7.25, 9.01),
        (Scale.JUST_RIGHT, 5, 5.5),
        (Scale.RANK, 4, 5),
        (Scale.YES_NO, 1, 2),
    ],
)
def test_that_each_scale_takes_its_own_steps(scale: Scale, taken: float, refused: float) -> None:
    criterion = Criterion(name="bark", scale=scale)
    assert not criterion.refusal(taken, 4)
    assert criterion.refusal(refused, 4)


def test_that_scores_are_read_as_they_are_said() -> None:
    half = Criterion(name="bark", scale=Scale.HALF)
    assert half.read(" 7,5 ") == 7.5
    assert half.read("") is None
    again = Criterion(name="again", scale=Scale.YES_NO)
    assert [again.read(said) for said in ("Y", "yes", "n", "No")] == [1.0, 1.0, 0.0, 0.0]
    assert again.shown(0.0) == "no"
    assert again.words() == "yes or no"
    assert half.shown(None) == ""
    assert half.words() == "1 to 9 in half points"
    assert again.ends_at_once("y", 6)
    assert not again.ends_at_once("", 6)
    with pytest.raises(JournalError, match="“seven” is no score: 1 to 9 in half points"):
        half.read("seven")


def test_that_a_digit_ends_a_score_only_where_nothing_can_follow() -> None:
    assert CONTEST.ends_at_once("7", 6)
    assert CONTEST.ends_at_once("1", 6)
    assert not CONTEST.ends_at_once("0", 6)
    assert not Criterion(name="bark", scale=Scale.HALF).ends_at_once("7", 6)
    line = Criterion(name="bark", scale=Scale.WHOLE, low=0, high=20)
    assert not line.ends_at_once("1", 6)
    assert line.ends_at_once("15", 6)
    assert not Criterion(name="place", scale=Scale.RANK).ends_at_once("1", 12)
    assert Criterion(name="place", scale=Scale.RANK).ends_at_once("2", 12)


@pytest.mark.parametrize("scheme_id", ["contest-1", "contest-2"])
def test_that_a_contest_total_is_at_most_180(scheme_id: str) -> None:
    """Six cards, one left out, weights that sum to 4: 5 × 4 × 9 (common practice, no source)."""
    rules = shipped(scheme_id).reads
    assert sum(c.weight or 0 for c in rules.criteria) == pytest.approx(4.0)
    assert rules.most == pytest.approx(180.0)
    assert (rules.judges, rules.drop) == (6, 1)


def test_that_both_sets_of_weights_are_there() -> None:
    """Weights from trade.md: common practice, no source."""
    weights = {
        scheme.version: [c.weight for c in scheme.reads.criteria]
        for scheme in shipped_schemes()
        if scheme.name == "contest"
    }
    assert weights == {1: [0.5714, 2.2858, 1.1428], 2: [0.56, 2.2972, 1.1428]}


def test_that_every_scheme_of_the_program_can_be_scored_with() -> None:
    for scheme in shipped_schemes():
        assert not scheme.reads.fault(), scheme.title
        assert rules_from(scheme.rules) == scheme.reads
    assert {s.reads.asks for s in shipped_schemes()} == set(Asks)
    assert shipped(USUAL).reads.names == HOME_PANEL
    with pytest.raises(KeyError):
        shipped("none")


def test_that_the_ideal_lies_in_the_middle_of_just_about_right() -> None:
    rules = shipped("just-about-right-1").reads
    ideals = {c.name: c.ideal for c in rules.criteria}
    assert ideals == {"liking": None, "tender": 3.0, "salt": 3.0, "smoke": 3.0}


@pytest.mark.parametrize(
    ("rules", "said"),
    [
        (Rules(), "needs something to score"),
        (Rules(criteria=(Criterion(name=" "),)), "needs a name"),
        (Rules(criteria=(Criterion(name="bark"), Criterion(name="Bark"))), "the same name"),
        (Rules(criteria=(Criterion(name="bark", low=9, high=9),)), "must end above 9"),
        (Rules(criteria=(Criterion(name="bark", high=9.5),)), "whole numbers"),
        (Rules(criteria=(Criterion(name="bark", penalty=5),)), "outside the scale"),
        (Rules(criteria=(Criterion(name="b" * 31),)), "30 letters"),
        (
            Rules(criteria=(Criterion(name="salt", scale=Scale.JUST_RIGHT, low=1, high=4),)),
            "no middle",
        ),
        (Rules(criteria=(CONTEST,), judges=1, drop=1), "can't leave out 1"),
        (Rules(asks=Asks.TRIANGLE), "what the tasters are asked"),
    ],
)
def test_that_rules_that_cannot_be_scored_with_say_why(rules: Rules, said: str) -> None:
    assert said in rules.fault()


def test_that_scales_of_no_ends_need_none() -> None:
    place = Criterion(name="place", scale=Scale.RANK, low=0, high=0)
    line = Criterion(name="bark", scale=Scale.LINE, low=0, high=7.5)
    assert not Rules(criteria=(place, line)).fault()


def test_that_a_total_needs_all_that_is_weighted() -> None:
    rules = shipped("contest-2").reads
    assert rules.only(("taste", "tenderness")).most is None
    assert rules.only(rules.names) == rules


def test_that_scores_of_another_scale_bear_the_name_of_their_scheme() -> None:
    def drawn(scheme_id: str) -> Tasting:
        scheme = shipped(scheme_id)
        return Tasting(
            cook_id="c",
            scheme=scheme.name,
            criteria=scheme.reads.names,
            low=1,
            high=9,
            rules=scheme.rules,
        )

    assert drawn(USUAL).variables == HOME_PANEL
    assert drawn("contest-2").variables == (
        "appearance (contest)",
        "taste (contest)",
        "tenderness (contest)",
        "total (contest)",
    )
    # A penalty of 1 below 2 to 9 makes the contest's scale as long as the panel's
    contest = {one.name: one for one in drawn("contest-2").scored}
    panel = {one.name: one for one in drawn(USUAL).scored}
    assert contest["tenderness (contest)"] == Scored("tenderness (contest)", "tenderness", (1, 9))
    assert panel["tenderness"] == Scored("tenderness", "tenderness", (1, 9))
    assert contest["total (contest)"].criterion == ""
    assert contest["total (contest)"].ends == pytest.approx((0, 180), abs=0.01)
    assert shipped("contest-2").scored == drawn("contest-2").scored
    assert shipped(USUAL).scored == ()
    assert drawn("just-about-right-1").variables[0] == "liking"
    assert drawn("triangle-1").variables == ()


def test_that_a_session_older_than_schemes_has_whole_numbers() -> None:
    old = Tasting(cook_id="c", scheme="home panel", criteria=("tenderness",), low=1, high=9)
    assert old.asked.criteria == (Criterion(name="tenderness"),)
    assert old.variables == ("tenderness",)


@pytest.mark.parametrize(
    ("criterion", "refused", "borne"),
    [
        (
            Criterion(name="bark", scale=Scale.WHOLE, low=1, high=9),
            ("0", "10", "95"),
            ("1", "9", ""),
        ),
        (
            Criterion(name="bark", scale=Scale.WHOLE, low=5, high=20),
            ("3", "21", "0"),
            ("1", "2", "5"),
        ),
        (Criterion(name="bark", scale=Scale.HALF), ("10", "99"), ("0", "1", "8")),
        (Criterion(name="again", scale=Scale.YES_NO), (), ("3", "x")),
    ],
)
def test_that_digits_are_refused_once_no_score_begins_with_them(
    criterion: Criterion, refused: tuple[str, ...], borne: tuple[str, ...]
) -> None:
    assert [text for text in refused if not criterion.cannot_become(text, 6)] == []
    assert [text for text in borne if criterion.cannot_become(text, 6)] == []
