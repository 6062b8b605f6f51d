"""The grammar of questions, both ways."""

import contextlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pitjournal.analysis.trends.language.grammar import SentenceError
from pitjournal.analysis.trends.language.sentence import completions, parse_sentence
from pitjournal.analysis.trends.language.tokens import in_quotes, words_of
from pitjournal.analysis.trends.language.written import same, write_filter, write_sentence
from pitjournal.analysis.trends.question import By, Part, Picture, Question, Sign, Where
from pitjournal.analysis.trends.starters import STARTERS
from pitjournal.analysis.trends.stored import asked, kept
from pitjournal.domain.catalogue import Catalogue, Kind, Variable
from pitjournal.domain.scheme import Scored
from pitjournal.domain.shelf import OwnVariable
from pitjournal.errors import JournalError
from pitjournal.files.schemes import shipped
from pitjournal.units import UnitSystem

METRIC = UnitSystem.METRIC
CATALOGUE = Catalogue(shipped("contest-2").scored)
NASTY = Catalogue(
    tuple(Scored(name, name, (0.0, 100.0)) for name in ("by cut", "smoke and fire")),
    tuple(
        OwnVariable(id=f"{n:032x}", name=name, level="cook", kind=kind, choices=("a", "b"))
        for n, (name, kind) in enumerate(
            (
                ("yield by cut", "number"),
                ("yield", "number"),
                ("where", "choice"),
                ("is not", "choice"),
                ('the "big" one', "choice"),
                ("month", "choice"),
                ("salt, pepper", "choice"),
                ("not control", "yes/no"),
                ("“", "choice"),
            )
        )
    ),
)
VARIABLES = list(NASTY.values())
WORDS = st.one_of(
    st.text(min_size=1, max_size=12).map(lambda t: " ".join(t.split())).filter(bool),
    st.sampled_from(['say "when"', "hot and fast", "or", "since", "a, b", "boat or foil", "to"]),
)
NUMBERS = st.integers(1, 5_000_000).map(lambda number: number / 1000)


def read(text: str, catalogue: Catalogue = CATALOGUE) -> Question:
    return parse_sentence(text, catalogue, METRIC)


HAS = Where("text", Sign.IS, ("too salty",))


def a_by(variable: Variable, part: Part, edges: list[float]) -> By:
    if variable.kind is Kind.TIME:
        return By(variable.key, part)
    numbers = tuple(sorted(set(edges))) if variable.kind is Kind.NUMBER else ()
    return By(variable.key, None, numbers)


def a_where(variable: Variable, sign: Sign, numbers: list[float], texts: list[str]) -> Where:
    if variable.kind is Kind.NUMBER:
        return Where(variable.key, sign, tuple(numbers))
    if variable.kind is Kind.TIME:
        return Where(variable.key, sign, ("2025-08",))
    equal = sign if sign in {Sign.IS, Sign.IS_NOT} else Sign.IS
    if variable.kind is Kind.YES_NO:
        return Where(variable.key, equal, ("yes",))
    return Where(variable.key, equal, tuple(texts))


QUESTIONS = st.builds(
    Question,
    st.sampled_from([v.key for v in VARIABLES if v.measure]),
    st.lists(
        st.builds(
            a_by,
            st.sampled_from([v for v in VARIABLES if v.kind is not Kind.WORDS]),
            st.sampled_from(Part),
            st.lists(NUMBERS, max_size=3),
        ),
        max_size=3,
    ).map(tuple),
    st.lists(
        st.builds(
            a_where,
            st.sampled_from(VARIABLES),
            st.sampled_from(Sign),
            st.lists(NUMBERS, min_size=1, max_size=2),
            st.lists(WORDS, min_size=1, max_size=2),
        ),
        max_size=3,
    ).map(lambda found: tuple(sorted(found, key=lambda w: w.key == "date"))),
    st.booleans(),
    st.lists(st.sampled_from([v.key for v in VARIABLES]), max_size=2).map(tuple),
    st.one_of(st.none(), st.sampled_from(Picture)),
    against_control=st.booleans(),
)


def settled(question: Question) -> Question:
    """Return a question with its date filters where a sentence puts them: since and until last."""
    where = question.where
    ends = [w for w in where if w.key == "date" and w.sign in {Sign.AT_LEAST, Sign.AT_MOST}]
    rest = [w for w in where if w not in ends]
    return Question(
        question.measure,
        question.by,
        (*rest, *ends),
        question.within,
        question.held,
        question.picture,
        against_control=question.against_control,
    )


@settings(max_examples=150, deadline=None)
@given(QUESTIONS, st.sampled_from(UnitSystem))
def test_that_what_is_written_reads_back(question: Question, system: UnitSystem) -> None:
    text = write_sentence(question, NASTY, system)
    back = parse_sentence(text, NASTY, system)
    assert same(back, settled(question)), text
    assert same(parse_sentence(write_sentence(back, NASTY, system), NASTY, system), back)


@given(QUESTIONS)
def test_that_a_kept_question_comes_back(question: Question) -> None:
    assert asked(kept(question)) == question


@given(st.text(max_size=40))
def test_that_quotes_hold_any_text(text: str) -> None:
    (word,) = words_of(in_quotes(text))
    assert word.text == text
    assert word.quoted


@given(st.text(max_size=60))
def test_that_nonsense_is_never_more_than_a_word_to_the_cook(text: str) -> None:
    with contextlib.suppress(SentenceError):
        read(text)
    for found in completions(text, CATALOGUE, METRIC):
        # Another word for a name ("charcoal burnt") is offered as the name ("fuel used"), which
        # may be shorter; what is offered is never what stands there already.
        assert found.strip()
        assert found != text.rstrip()


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


def test_that_bins_ranges_yes_and_no_and_pictures_are_understood() -> None:
    got = read(
        "time on by thickness split at 25 mm, 1.5 in where thickness from 20 mm to 2 in and "
        "non-intact and not control and right for at least at least 30 min "
        "holding pit temperature and weight on since March 2025 as scatter"
    )
    assert got.by[0].edges == pytest.approx((0.025, 0.0381))
    assert got.where == (
        Where("thickness", Sign.AT_LEAST, (0.02,)),
        Where("thickness", Sign.AT_MOST, (0.0508,)),
        Where("non_intact", Sign.IS, ("yes",)),
        Where("control", Sign.IS, ("no",)),
        Where("leeway_at_least", Sign.AT_LEAST, (1800.0,)),
        Where("date", Sign.AT_LEAST, ("2025-03",)),
    )
    assert got.held == ("pit_mean", "mass_on")
    assert got.picture is Picture.SCATTER


def test_that_words_seasons_and_the_control_are_understood() -> None:
    got = read(
        'tenderness against its control by treatment where text has "too salty" or bitter '
        "and text has not windy and date is winter or Saturday"
    )
    assert got.against_control
    assert got.where == (
        Where("text", Sign.IS, ("too salty", "bitter")),
        Where("text", Sign.IS_NOT, ("windy",)),
        Where("date", Sign.IS, ("winter", "Saturday")),
    )
    assert read("yield by cut against control").against_control
    assert "text has too salty" in write_sentence(
        Question("yield_off", (), (HAS,)), CATALOGUE, METRIC
    )


def test_that_a_value_the_journal_knows_needs_no_quotes() -> None:
    got = parse_sentence(
        "yield where rub is salt and pepper and cut is brisket",
        CATALOGUE,
        METRIC,
        lambda variable: ["salt and pepper"] if variable.key == "rub" else [],
    )
    assert [where.values for where in got.where] == [("salt and pepper",), ("brisket",)]


@pytest.mark.parametrize("number", range(len(STARTERS)))
def test_that_the_ready_questions_can_be_typed(number: int) -> None:
    question = STARTERS[number].question
    assert read(write_sentence(question, CATALOGUE, METRIC)) == question


@pytest.mark.parametrize(
    ("text", "words", "where"),
    [
        ("", "Ask something", ""),
        ("tendrness by cut", "tendrness.*tenderness", "tendrness"),
        ("yield by colour of the moon", "colour of the moon", "colour of the moon"),
        ("yield where cut", "is no filter", "cut"),
        ("yield where thickness above soon", "soon", "soon"),
        ("yield by thickness split at soon, 4 mm", "soon", "soon"),
        ("cut by cooker", "is no number", "cut by cooker"),
        ("yield where cut above brisket", "no more or less", "brisket"),
        ("yield since yesterday", "no date", "yesterday"),
        ("yield as pie", "no way to draw", "pie"),
        ("yield please", "please", "please"),
        ("yield by", "missing", ""),
        ("yield by text", "makes no groups", "text"),
        ('yield where cut is "brisk" where', "missing", ""),
    ],
)
def test_that_nonsense_is_refused_where_it_stands(text: str, words: str, where: str) -> None:
    with pytest.raises(SentenceError, match=words) as caught:
        read(text)
    assert text[caught.value.start : caught.value.end] == where


@pytest.mark.parametrize(
    ("text", "goes_on"),
    [
        ("yi", "yield"),
        ("yield ", "yield by"),
        ("yield by tre", "yield by treatment"),
        ("yield by mon", "yield by month"),
        ("fuel per we", "fuel per weight of meat"),
        ("yield by cut w", "yield by cut where"),
        ("yield where cu", "yield where cut"),
        ("yield where cut ", "yield where cut is"),
        ("yield where cut is bri", "yield where cut is brisket"),
        ("yield where cut is brisket ", "yield where cut is brisket or"),
        ("yield as sc", "yield as scatter"),
        ("yield where no", "yield where not control"),
    ],
)
def test_that_a_word_begun_is_completed(text: str, goes_on: str) -> None:
    assert goes_on in completions(text, CATALOGUE, METRIC)


def test_that_a_deleted_variable_is_said_in_words() -> None:
    question = Question("gone", (By("gone"),), (Where("gone", Sign.IS, ("x",)),))
    assert "what is no longer there" in write_sentence(question, CATALOGUE, METRIC)
    assert "what is no longer there" in write_filter(question.where[0], CATALOGUE, METRIC)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"version": 2, "measure": "yield_off"}, "newer version"),
        ({"version": 1}, "can't be read"),
        ({"version": 1, "measure": "yield_off", "where": [{"key": "cut"}]}, "can't be read"),
        ({"measure": "yield_off", "picture": "hologram"}, "can't be read"),
    ],
)
def test_that_a_question_kept_otherwise_is_refused_in_words(
    values: dict[str, object], words: str
) -> None:
    with pytest.raises(JournalError, match=words):
        asked(values)
