"""Random questions to a journal: the same answers as hand-written SQL, and as pandas."""

import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pitjournal.analysis.trends.answer import Answer
from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.journal import Journal
from pitjournal.units import UnitSystem
from tests.journal.trends.by_sql import (
    PARTS,
    Answered,
    against_control_by_pandas,
    by_pandas,
    by_sql,
    not_recorded_by_pandas,
)
from tests.journal.trends.conftest import CUTS, KINDS, WORDS

EVEN = st.sampled_from([Sign.IS, Sign.IS_NOT])
ORDERED = st.sampled_from([Sign.LESS, Sign.AT_MOST, Sign.MORE, Sign.AT_LEAST])


def texts(*choices: str) -> st.SearchStrategy[tuple[str, ...]]:
    return st.lists(st.sampled_from(choices), min_size=1, max_size=2, unique=True).map(tuple)


MEASURES = st.sampled_from(
    ["yield_off", "score.tenderness", "score.juiciness", "thickness", "set_point", "non_intact"]
)
BY = st.one_of(
    st.sampled_from(["cut", "grade", "treatment", "control", "non_intact", "cooker"]).map(By),
    st.sampled_from(PARTS).map(lambda part: By("date", part)),
)
WHERE = st.one_of(
    st.builds(Where, st.just("cut"), EVEN, texts(*CUTS[:3], "no such cut")),
    st.builds(Where, st.just("treatment"), EVEN, texts(*map(str, KINDS))),
    st.builds(Where, st.just("non_intact"), EVEN, texts("yes", "no")),
    st.builds(Where, st.just("grade"), EVEN, texts("choice", "prime")),
    st.builds(
        Where, st.just("set_point"), ORDERED, st.sampled_from([(107.0,), (121.0,), (115.0,)])
    ),
    st.builds(Where, st.just("thickness"), ORDERED, st.sampled_from([(0.03,), (0.045,)])),
    st.builds(
        Where,
        st.just("date"),
        st.one_of(EVEN, ORDERED),
        st.sampled_from([("2024",), ("2025",), ("2024-07",), ("2025-02-14",)]),
    ),
    st.builds(Where, st.just("text"), EVEN, texts(*WORDS, "lemon pepper", "pep", "no such word")),
)
QUESTIONS = st.builds(
    Question,
    MEASURES,
    st.lists(BY, max_size=3, unique=True).map(tuple),
    st.lists(WHERE, max_size=3).map(tuple),
    st.booleans(),
)


def answered(answer: Answer) -> Answered:
    return {
        group.key: (
            group.cooks,
            group.pieces,
            group.mean,
            math.nan if group.sd is None else group.sd,
            group.median,
        )
        for group in answer.groups
    }


def same(got: Answered, want: Answered) -> None:
    assert got.keys() == want.keys()
    for key, numbers in want.items():
        assert got[key] == pytest.approx(numbers, rel=1e-9, abs=1e-12, nan_ok=True)


AT_LENGTH = settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


@AT_LENGTH
@given(question=QUESTIONS)
def test_that_random_questions_are_answered_as_sql_and_pandas_do(
    mixed: Journal, question: Question
) -> None:
    found = mixed.trends.ask(question, UnitSystem.US)
    same(answered(found), by_sql(mixed.database.path, question))
    same(answered(found), by_pandas(mixed.database.path, question))
    assert found.not_recorded == not_recorded_by_pandas(mixed.database.path, question)


@AT_LENGTH
@given(question=QUESTIONS.map(lambda q: replace(q, within=False, against_control=True)))
def test_that_differences_from_the_control_are_those_of_pandas(
    mixed: Journal, question: Question
) -> None:
    found = mixed.trends.ask(question, UnitSystem.US)
    same(answered(found), against_control_by_pandas(mixed.database.path, question))
