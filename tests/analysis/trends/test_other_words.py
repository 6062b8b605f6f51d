"""The trade's other words: each is understood, means one thing, and stands back for real names."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.analysis.trends.language.sentence import completions, parse_sentence
from pitjournal.analysis.trends.language.sentence_parts import Sort, parts_of
from pitjournal.analysis.trends.language.synonyms import OTHER_WORDS, names_of
from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.domain.catalogue import Catalogue, Kind
from pitjournal.domain.scheme import Scored
from pitjournal.domain.shelf import OwnVariable
from pitjournal.units import UnitSystem

US = UnitSystem.US
CATALOGUE = Catalogue(
    tuple(Scored(name, name, (0.0, 9.0)) for name in ("tenderness", "flavour", "juiciness"))
)


def read(text: str, catalogue: Catalogue = CATALOGUE) -> Question:
    return parse_sentence(text, catalogue, US)


# Common practice, no source: what cooks say for the names of the catalogue.
@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("flavor by wrap", "flavour by wrap"),
        ("Taste by rest time", "flavour by time rested"),
        ("rest time by cut", "time rested by cut"),
        ("cook time by weight", "time on by weight on"),
        ("leeway by treatment", "right for at least by treatment"),
        ("pull temp by grade", "internal when off by grade"),
        ("shrinkage by wrap", "cooking loss by wrap"),
        ("burn rate by smoker", "fuel per hour by cooker"),
        ("stall by thick", "length of the stall by thickness"),
        ("yield by position", "yield by slot"),
        ("yield where pit over 250 F", "yield where pit temperature above 250 F"),
        ("yield where rest time under 30 min", "yield where time rested below 30 min"),
        ("yield where thickness no more than 2 in", "yield where thickness at most 2 in"),
        ("yield where pit between 225 F and 275 F", "yield where pit temperature from 225 F to 275 F"),
        ("yield by wrap holding weight", "yield by wrap holding weight on"),
    ],
)  # fmt: skip
def test_that_the_trades_other_words_ask_the_same(said: str, meant: str) -> None:
    assert read(said) == read(meant)


@pytest.mark.parametrize("key", OTHER_WORDS)
def test_that_each_other_word_means_its_variable(key: str) -> None:
    if key not in CATALOGUE:
        pytest.skip("a score of another scheme")
    variable = CATALOGUE[key]
    for words in OTHER_WORDS[key]:
        if variable.measure:
            assert read(f"{words} by kind of cook").measure == key, words
        if variable.kind is not Kind.WORDS:
            assert read(f"yield by {words}").by == (By(key),), words


def test_that_other_words_are_many_and_none_means_two_things_or_a_name_there_is() -> None:
    every = Counter(words for several in OTHER_WORDS.values() for words in several)
    assert len(every) > 150
    assert every.most_common(1)[0][1] == 1
    names = {variable.label.casefold() for variable in CATALOGUE.values()} | set(CATALOGUE)
    assert not names & set(every)
    assert set(OTHER_WORDS) - {"score.appearance"} <= set(CATALOGUE)


def test_that_a_cooks_own_variable_comes_before_an_other_word() -> None:
    own = OwnVariable(id="0" * 32, name="leeway", level="cook", kind="number")
    catalogue = Catalogue((), (own,))
    assert names_of(catalogue)["leeway"].label == "leeway"
    assert read("yield by leeway", catalogue).by != read("yield by leeway").by


def test_that_an_other_word_goes_on_as_the_name_it_stands_for() -> None:
    assert "flavour" in completions("flav", CATALOGUE, US)
    assert "yield by time rested" in completions("yield by resting", CATALOGUE, US)
    assert "yield by cooker" in completions("yield by smok", CATALOGUE, US)


def test_that_a_filter_by_an_other_word_has_its_sign() -> None:
    got = read("yield where carryover is not 5 F and charcoal isn't lump")
    assert [(where.key, where.sign) for where in got.where] == [
        ("carry_over", Sign.IS_NOT),
        ("fuel", Sign.IS_NOT),
    ]
    assert got.where[1] == Where("fuel", Sign.IS_NOT, ("lump",))


def test_that_the_words_of_a_sentence_are_told_apart_also_of_half_a_one() -> None:
    text = "tenderness by treatment split at 2, 3 where cut is ribs or brisket and pit above 130 C"
    said = [(text[start:end], sort) for start, end, sort in parts_of(text)]
    glue = {words for words, sort in said if sort is Sort.GLUE}
    assert glue == {"by", "split", "at", ",", "where", "or", "and"}
    assert [words for words, sort in said if sort is Sort.NAME] == ["cut", "is", "pit", "above"]
    assert [words for words, sort in said if sort is Sort.ASKED] == [
        "tenderness", "treatment", "2", "3", "ribs", "brisket", "130", "C",
    ]  # fmt: skip
    assert [sort for _, _, sort in parts_of("yield where cut")] == [
        Sort.ASKED,
        Sort.GLUE,
        Sort.NAME,
    ]


@given(st.text(max_size=60))
def test_that_any_text_has_parts_that_do_not_overlap(text: str) -> None:
    ends = [0]
    for start, end, _ in parts_of(text):
        assert ends[-1] <= start < end <= len(text)
        ends.append(end)
