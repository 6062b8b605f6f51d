"""Grouped answers against pandas on the same values, and NIST certified univariate data.

NIST Statistical Reference Datasets: AtmWtAg (tests/science/data/README.md).
"""

import math
from functools import cache

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pitjournal.analysis.trends.answer import Answer, answer
from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.question import By, Part, Question, Sign, Where
from pitjournal.domain.blocks import Value
from pitjournal.domain.catalogue import Catalogue
from pitjournal.errors import JournalError
from pitjournal.journal.queries.values import Row
from pitjournal.units import UnitSystem
from tests.analysis.trends.frames import frame_of
from tests.science.reference import column

CATALOGUE = Catalogue()


def ask(rows: list[Row], question: Question) -> Answer:
    return answer(frame_of(rows), question, CATALOGUE, UnitSystem.US)


def a_cook(number: int, cooker: str | None, *pieces: dict[str, Value]) -> list[Row]:
    """Return the rows of one cook."""
    name = f"c{number}"
    date = f"2025-{1 + number % 12:02d}-10T12:00:00+00:00"
    rows: list[Row] = [(name, name, "cook", {"cooker": cooker, "date": date})]
    rows += [(f"{name}-{n}", name, "piece", values) for n, values in enumerate(pieces)]
    return rows


@cache
def many() -> list[Row]:
    """Return 60 cooks with holes in them, always the same."""
    rows: list[Row] = []
    for number in range(60):
        pieces: list[dict[str, Value]] = [
            {
                "cut": ("brisket", "back ribs", None)[(number + n) % 3],
                "wrap": ("foil", "paper", "none")[(number * n) % 3],
                "yield_off": None
                if (number + n) % 7 == 0
                else 0.5 + 0.01 * ((number * 13 + n) % 30),
                "thickness": 0.02 + 0.001 * ((number * 7 + n) % 20),
            }
            for n in range(1 + number % 4)
        ]
        rows += a_cook(number, ("drum", "offset", None)[number % 3], *pieces)
    return rows


def by_pandas(rows: list[Row], by: list[str], where: dict[str, str]) -> pd.DataFrame:
    """Answer with pandas: pieces, then cooks, then groups."""
    cooks = {owner: values for owner, _, level, values in rows if level == "cook"}
    table = pd.DataFrame(
        [{"cook": c, **cooks[c], **values} for _, c, level, values in rows if level == "piece"]
    )
    for key, value in where.items():
        table = table[table[key] == value]
    table = table.dropna(subset=["yield_off", *by])
    means = table.groupby([*by, "cook"])["yield_off"].mean().reset_index()
    return means.groupby(by)["yield_off"].agg(["mean", "std", "count", "median"])


@settings(max_examples=60, deadline=None)
@given(
    by=st.lists(st.sampled_from(["cooker", "wrap", "cut"]), min_size=1, max_size=3, unique=True),
    where=st.dictionaries(
        st.just("cut"), st.sampled_from(["brisket", "back ribs", "no such cut"]), max_size=1
    ),
)
def test_that_groups_are_those_of_pandas(by: list[str], where: dict[str, str]) -> None:
    filters = tuple(Where(key, Sign.IS, (value,)) for key, value in where.items())
    question = Question("yield_off", tuple(By(key) for key in by), filters)
    got = {group.key: group for group in ask(many(), question).groups}
    want = by_pandas(many(), by, where)
    keys = {key if isinstance(key, tuple) else (key,) for key in want.index}
    assert set(got) == keys
    for key, line in zip(want.index, want.itertuples(), strict=True):
        group = got[key if isinstance(key, tuple) else (key,)]
        assert group.mean == pytest.approx(line.mean)
        assert group.median == pytest.approx(line.median)
        assert group.cooks == line.count
        if group.cooks > 1:
            assert group.sd == pytest.approx(line.std)


def test_that_spreads_within_and_between_groups_are_nists_certified_ones() -> None:
    # NIST StRD, one-way analysis of variance, AtmWtAg: certified sums of squares.
    instruments = column("nist_strd_atmwtag", "instrument")
    weights = column("nist_strd_atmwtag", "ag_weight")
    rows: list[Row] = []
    for number, (instrument, weight) in enumerate(zip(instruments, weights, strict=True)):
        rows += a_cook(number, f"{instrument:g}", {"yield_off": weight})
    groups = ask(rows, Question("yield_off", (By("cooker"),))).groups
    within = sum((g.cooks - 1) * (g.sd or 0.0) ** 2 for g in groups)
    grand = math.fsum(weights) / len(weights)
    between = sum(g.cooks * (g.mean - grand) ** 2 for g in groups)
    assert within == pytest.approx(1.04951729166667e-08, rel=1e-6)
    assert between == pytest.approx(3.63834187500000e-09, rel=1e-4)


def test_that_pieces_count_through_their_cook() -> None:
    # Cook 0: two pieces 0.4 and 0.6, mean 0.5; cook 1: one piece 0.8. By hand 0.65, not 0.6.
    rows = a_cook(0, "drum", {"yield_off": 0.4}, {"yield_off": 0.6})
    rows += a_cook(1, "drum", {"yield_off": 0.8})
    (group,) = ask(rows, Question("yield_off", (By("cooker"),))).groups
    assert group.mean == pytest.approx(0.65)
    assert (group.cooks, group.pieces) == (2, 3)
    # t(1) = 12.7062, sd 0.2121: half 12.7062 × 0.2121 ÷ √2 = 1.9059.
    assert group.low == pytest.approx(0.65 - 1.9059, abs=1e-3)
    assert group.few


def test_that_what_is_not_recorded_is_counted_and_not_guessed() -> None:
    rows = a_cook(0, None, {"yield_off": 0.5}) + a_cook(1, "drum", {"yield_off": None})
    rows += a_cook(2, "drum", {"yield_off": 0.7})
    got = ask(rows, Question("yield_off", (By("cooker"),)))
    assert got.not_recorded == 2
    assert [group.cooks for group in got.groups] == [1]
    assert got.groups[0].low is None


def test_that_within_keeps_cooks_that_have_both() -> None:
    rows = a_cook(0, "drum", {"wrap": "foil", "yield_off": 0.9})
    rows += a_cook(
        1, "drum", {"wrap": "foil", "yield_off": 0.5}, {"wrap": "paper", "yield_off": 0.6}
    )
    got = ask(rows, Question("yield_off", (By("wrap"),), within=True))
    assert {group.key[0]: group.mean for group in got.groups} == {"foil": 0.5, "paper": 0.6}


def test_that_numbers_fall_into_round_bins_and_dates_into_seasons() -> None:
    got = ask(many(), Question("yield_off", (By("thickness"),)))
    assert 2 < len(got.groups) < 9
    assert all("in" in group.key[0] for group in got.groups)
    seasons = ask(many(), Question("yield_off", (By("date", Part.SEASON),)))
    assert [group.key[0] for group in seasons.groups] == ["winter", "spring", "summer", "autumn"]
    since = Where("date", Sign.AT_LEAST, ("2025-07",))
    later = ask(many(), Question("yield_off", (By("date", Part.MONTH),), (since,)))
    assert later.groups[0].key == ("2025-07",)


@pytest.mark.parametrize(
    "question",
    [
        Question("gone"),
        Question("cut"),
        Question("yield_off", (By("gone"),)),
        Question("yield_off", (), (Where("gone", Sign.IS, ("x",)),)),
        Question("yield_off", tuple(By("cut") for _ in range(4))),
    ],
)
def test_that_a_question_over_what_is_not_there_is_refused_in_words(question: Question) -> None:
    with pytest.raises(JournalError):
        ask(many(), question)


def test_that_no_cooks_and_five_thousand_groups_answer_or_refuse_quietly() -> None:
    empty: Frame = frame_of([])
    assert answer(empty, Question("yield_off", (By("cut"),)), CATALOGUE, UnitSystem.US).groups == ()
    rows: list[Row] = []
    for number in range(5100):
        rows += a_cook(number, f"cooker {number}", {"yield_off": 0.5})
    with pytest.raises(JournalError, match="too many groups"):
        ask(rows, Question("yield_off", (By("cooker"),)))
