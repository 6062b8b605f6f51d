"""What is said beside an answer. The numbers are worked by hand."""

import pytest

from pitjournal.analysis.trends.answer import Answer, Group
from pitjournal.analysis.trends.inference.explanation import Explanation
from pitjournal.analysis.trends.inference.significance import Inference
from pitjournal.analysis.trends.inference.variable_ranking import RankedVariable
from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.analysis.trends.starters import STARTERS
from pitjournal.domain.catalogue import Catalogue
from pitjournal.science.robust import RobustLine
from pitjournal.ui.trends.answer_words import (
    chance_words,
    explaining_words,
    line_words,
    matters_words,
    sample_words,
    to_test,
)
from pitjournal.units import UnitSystem
from tests.analysis.trends.frames import frame_of

CATALOGUE = Catalogue()
TENDER = CATALOGUE["score.tenderness"]
METRIC, US = UnitSystem.METRIC, UnitSystem.US


def a_group(*key: str, cooks: int = 5) -> Group:
    ids = tuple(f"c{n}" for n in range(cooks))
    return Group(key, cooks, 2 * cooks, 6.0, 5.5, 6.5, 0.4, 6.0, ids)


def an_answer(question: Question, *groups: Group) -> Answer:
    return Answer(
        question=question,
        measure=CATALOGUE[question.measure],
        by=tuple(CATALOGUE[by.key] for by in question.by),
        groups=groups,
        not_recorded=1,
        pieces=sum(group.pieces for group in groups),
        cooks=sum(group.cooks for group in groups),
        frame=frame_of([]),
    )


@pytest.mark.parametrize(
    ("chance", "counted", "looks", "said"),
    [
        (None, None, 3, "There is not enough here to tell it from chance."),
        (
            0.0004,
            0.0004,
            1,
            "Chance alone would show this much in fewer than 1 of 1,000 questions. Worth a test.",
        ),
        (
            0.004,
            0.024,
            6,
            (
                "Chance alone would show this much in 4 of 1,000 questions; counted for the 6 you "
                "asked, in 2 of 100 questions. Worth a test."
            ),
        ),
        (
            0.04,
            0.2,
            5,
            (
                "Chance alone would show this much in 4 of 100 questions; counted for the 5 you "
                "asked, in 20 of 100 questions. Not enough to tell."
            ),
        ),
    ],
)
def test_that_chance_is_said_as_counts_of_questions(
    chance: float | None, counted: float | None, looks: int, said: str
) -> None:
    assert chance_words(Inference(chance, counted, None), looks) == said


def test_that_what_was_counted_is_said_with_what_is_missing_and_grey() -> None:
    found = an_answer(
        Question("score.tenderness", (By("cut"),)), a_group("brisket"), a_group("ribs", cooks=2)
    )
    assert sample_words(found, 2) == (
        "Exploratory: a hint, not a test. Question 2 of this sitting. 7 cooks and 14 pieces "
        "counted; not recorded: 1 piece. Grey rests on fewer than three cooks (1)."
    )


def test_that_what_explains_is_said_in_the_cooks_units() -> None:
    hotter = Explanation(CATALOGUE["pit_mean"], "injected", "left alone", 5.0, "", 0.8, 0.6)
    assert explaining_words(hotter, TENDER, US) == (
        "Injected: pit temperature was also higher, by 9.0 °F on average. With pit temperature "
        "held, the difference to left alone goes from +0.8 points to +0.6 points."
    )
    oftener = Explanation(CATALOGUE["wrap"], "brisket", "ribs", None, "paper", -0.8, -0.1)
    assert explaining_words(oftener, TENDER, US).startswith(
        "Brisket: also more often paper (wrap). With wrap held"
    )
    later = Explanation(CATALOGUE["date"], "drum", "kettle", -30.4, "", 0.8, 0.2)
    assert "date was also earlier, by 30 days" in explaining_words(later, TENDER, US)


def test_that_a_slope_is_said_for_a_round_amount() -> None:
    # 0.02 points a minute are 1.2 an hour.
    line = RobustLine(0.02, 0.01, 0.03, 5.0, 0.4, 0.01, 20)
    along = CATALOGUE["time_rested"]
    assert line_words(line, "", TENDER, along, US) == (
        "+1.2 points for each hour more (+0.6 points to +1.8 points)"
    )
    flat = RobustLine(0.0, -0.01, 0.01, 5.0, 0.0, 0.9, 20)
    assert "which may be none" in line_words(flat, "", TENDER, along, US)
    assert line_words(flat, "ribs", TENDER, along, US) == "ribs: not enough to tell a slope"


def test_that_a_ranking_says_what_counts_nothing() -> None:
    matters = (
        RankedVariable(CATALOGUE["cut"], 0.4, 0.5, 0.0, 0.01, 20, 40),
        RankedVariable(CATALOGUE["wind"], 0.0, 0.0, 0.0, 1.0, 20, 40),
    )
    assert matters_words(matters, TENDER).startswith(
        "1 of 2 variables goes with tenderness more than shuffled numbers do; the rest count"
    )
    assert matters_words(matters[1:], TENDER).startswith("Nothing goes with tenderness")
    assert "too few cooks" in matters_words((), TENDER)


def test_that_a_test_takes_over_the_words_the_ways_and_the_cut() -> None:
    starter = STARTERS[0]
    found = an_answer(starter.question, a_group("left alone"), a_group("injected"))
    test = to_test(found)
    assert test.question == starter.words
    assert (test.variable, test.outcome) == ("treatment", "score.tenderness")
    assert test.ways == ("left alone", "injected")
    ribs = Where("cut", Sign.IS, ("back ribs",))
    own = an_answer(Question("yield_off", (By("wrap"),), (ribs,)), a_group("foil"))
    assert to_test(own).question == "Does wrap change yield?"
    assert to_test(own).cut == "back ribs"
