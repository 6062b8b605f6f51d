"""What is said of an answer: chance counted for the looks, and what else explains it.

The chances of Holm are those of his method worked by hand.
"""

import pytest

from pitjournal.analysis.trends.inference.explanation import explaining
from pitjournal.analysis.trends.inference.significance import Sitting, infer
from pitjournal.analysis.trends.question import By, Part, Picture, Question
from pitjournal.domain.catalogue import Catalogue
from pitjournal.units import UnitSystem
from tests.analysis.trends.invented import a_journal

CATALOGUE = Catalogue()
METRIC = UnitSystem.METRIC
TENDER = "score.tenderness"


def test_that_each_question_of_a_sitting_is_a_look_however_it_is_drawn() -> None:
    sitting = Sitting()
    first = Question(TENDER, (By("cooker"),))
    assert sitting.look(first) == 1
    assert sitting.look(Question(TENDER, (By("cooker"),), picture=Picture.SPREAD)) == 1
    assert sitting.look(Question(TENDER, (By("wood"),))) == 2


def test_that_chances_are_counted_for_the_looks_by_holm() -> None:
    sitting = Sitting()
    ways = [Question(TENDER, (By(key),)) for key in ("cooker", "wood", "cut")]
    for question in ways:
        sitting.look(question)
    # Two looks are not judged yet and count as 1: 3 × 0.01.
    assert sitting.judged(ways[0], 0.01) == pytest.approx(0.03)
    # 0.01 is the least, 3 × 0.01; then 2 × 0.04; then 1.
    assert sitting.judged(ways[1], 0.04) == pytest.approx(0.08)
    assert sitting.judged(ways[2], None) is None


def test_that_a_hidden_effect_is_worth_a_test_and_a_decoy_is_not() -> None:
    frame, sitting = a_journal(60), Sitting()
    hidden = Question(TENDER, (By("treatment"),), within=True)
    decoy = Question(TENDER, (By("wood"),))
    for question in (hidden, decoy):
        sitting.look(question)
    got = infer(frame, hidden, CATALOGUE, METRIC, sitting)
    assert got.adjusted is not None
    assert got.adjusted < 0.001
    none = infer(frame, decoy, CATALOGUE, METRIC, sitting)
    assert none.adjusted is not None
    assert none.adjusted > 0.2


def test_that_chance_is_told_of_what_is_left_when_a_variable_is_held() -> None:
    frame = a_journal(120, hot=1.0)
    plain = Question(TENDER, (By("cooker"),))
    held = Question(TENDER, (By("cooker"),), held=("pit_mean",))
    before, after = (
        infer(frame, one, CATALOGUE, METRIC, Sitting()).chance for one in (plain, held)
    )
    assert before is not None
    assert after is not None
    assert before < 0.001
    assert after > 0.02


def test_that_a_line_goes_through_each_series_and_finds_the_slope() -> None:
    frame = a_journal(90, hot=1.0)
    question = Question(TENDER, (By("pit_mean"), By("treatment")))
    got = infer(frame, question, CATALOGUE, METRIC, Sitting())
    assert {series for series, _ in got.lines} == {"injected", "left alone"}
    for line in got.lines.values():  # 1 point for 10 °C
        assert line.low < 0.1 < line.high
    assert got.chance is not None
    assert got.chance < 0.001


def test_that_the_hotter_pit_explains_the_cooker() -> None:
    frame = a_journal(120, hot=1.0)
    got = explaining(frame, Question(TENDER, (By("cooker"),)), CATALOGUE, METRIC)
    assert got is not None
    assert got.variable.key == "pit_mean"
    assert got.apart is not None
    assert abs(got.apart) == pytest.approx(12, abs=3)
    assert abs(got.after) < abs(got.before) / 2


def test_that_nothing_explains_what_nothing_goes_with() -> None:
    frame = a_journal(60)
    assert explaining(frame, Question(TENDER), CATALOGUE, METRIC) is None
    within = Question(TENDER, (By("treatment"),), within=True)
    assert explaining(frame, within, CATALOGUE, METRIC) is None
    held = Question(TENDER, (By("cooker"),), held=("pit_mean",))
    assert explaining(frame, held, CATALOGUE, METRIC) is None
    seasons = Question(TENDER, (By("date", Part.SEASON),))
    assert explaining(a_journal(2), seasons, CATALOGUE, METRIC) is None


def related(one: str, two: str) -> bool:
    return CATALOGUE[one].related(CATALOGUE[two])


def test_that_what_says_the_same_in_another_way_explains_nothing() -> None:
    assert related("yield_off", "cook_loss")
    assert related("score.tenderness", "score.flavour")
    assert related("time_on", "time_on")
    assert not related("time_on", "thickness")
    assert related("time_on", "cook_value")


def test_that_what_a_cook_comes_to_explains_no_other_outcome() -> None:
    # Lethality, cook value and carry-over are read from the trace of the meat once it has cooked.
    for key in ("lethality", "cook_value", "carry_over", "time_4_60", "stall_level"):
        assert CATALOGUE[key].outcome
    assert CATALOGUE["score.tenderness"].outcome
    for key in ("pit_mean", "thickness", "internal_off", "feel_off", "treatment"):
        assert not CATALOGUE[key].outcome
