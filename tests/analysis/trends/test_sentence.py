"""The grammar of questions, both ways."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.analysis.trends.question import By, Part, Question, Sign, Where
from pitjournal.analysis.trends.sentence import completions, parse_sentence, write_sentence
from pitjournal.analysis.trends.starters import STARTERS
from pitjournal.domain.catalogue import Catalogue, Kind
from pitjournal.errors import JournalError
from pitjournal.units import UnitSystem

CATALOGUE = Catalogue()
METRIC = UnitSystem.METRIC
MEASURES = [v.key for v in CATALOGUE.values() if v.measure]
GROUPS = [v.key for v in CATALOGUE.values() if v.kind is not Kind.TIME]
CHOICES = [v.key for v in CATALOGUE.values() if v.kind is Kind.CHOICE]
WORDS = (
    st.text("abcdefghij ", min_size=1, max_size=12).map(lambda t: " ".join(t.split())).filter(bool)
)


def read(text: str) -> Question:
    return parse_sentence(text, CATALOGUE, METRIC)


def test_that_a_sentence_is_understood() -> None:
    got = read(
        "yield by wrap and cooker where cut is brisket or back ribs and pit temperature above 130 C since 2025"
    )
    assert got.measure == "yield_off"
    assert got.by == (By("wrap"), By("cooker"))
    assert got.where == (
        Where("cut", Sign.IS, ("brisket", "back ribs")),
        Where("pit_mean", Sign.MORE, (130.0,)),
        Where("date", Sign.AT_LEAST, ("2025",)),
    )


def test_that_units_months_and_the_same_cook_are_understood() -> None:
    got = read("tenderness by month where thickness at least 1 in within the same cook")
    assert got.by == (By("date", Part.MONTH),)
    assert got.where[0].values[0] == pytest.approx(0.0254)
    assert got.within


@given(
    measure=st.sampled_from(MEASURES),
    by=st.lists(
        st.one_of(
            st.sampled_from(GROUPS).map(By),
            st.sampled_from(list(Part)).map(lambda p: By("date", p)),
        ),
        max_size=3,
        unique=True,
    ),
    where=st.lists(
        st.builds(
            Where,
            st.sampled_from(CHOICES),
            st.sampled_from([Sign.IS, Sign.IS_NOT]),
            st.lists(WORDS, min_size=1, max_size=2).map(tuple),
        ),
        max_size=2,
    ),
    within=st.booleans(),
)
def test_that_what_is_written_reads_back(
    measure: str, by: list[By], where: list[Where], within: bool
) -> None:
    question = Question(measure, tuple(by), tuple(where), within)
    assert read(write_sentence(question, CATALOGUE, METRIC)) == question


@pytest.mark.parametrize("number", range(len(STARTERS)))
def test_that_the_ready_questions_can_be_typed(number: int) -> None:
    question = STARTERS[number][1]
    assert read(write_sentence(question, CATALOGUE, METRIC)) == question


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "Ask something"),
        ("tendrness by cut", "tendrness"),
        ("yield by colour of the moon", "colour of the moon"),
        ("yield where cut", "is no filter"),
        ("yield where thickness above soon", "soon"),
        ("cut by cooker", "is no number"),
        ("yield where cut above brisket", "no more or less"),
    ],
)
def test_that_nonsense_is_refused_with_the_words_in_question(text: str, words: str) -> None:
    with pytest.raises(JournalError, match=words):
        read(text)


def test_that_a_word_begun_is_completed() -> None:
    assert "yield" in completions("yi", CATALOGUE)
    assert "yield by treatment" in completions("yield by tre", CATALOGUE)
    assert "yield by month" in completions("yield by mon", CATALOGUE)
