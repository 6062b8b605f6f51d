"""Which picture fits, what a brush means, and how numbers fall into round steps."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.analysis.trends.brush import of_groups, of_range
from pitjournal.analysis.trends.columns.round_steps import counts_in, round_steps
from pitjournal.analysis.trends.columns.row_selection import cooks_where, edges_of
from pitjournal.analysis.trends.inference.adjusted import answered
from pitjournal.analysis.trends.picture import picture_of, pictures_of
from pitjournal.analysis.trends.question import (
    By,
    Part,
    Picture,
    Question,
    Sign,
    Where,
    joined,
)
from pitjournal.analysis.trends.side_by_side import beside
from pitjournal.analysis.trends.table import table_of
from pitjournal.domain.catalogue import Catalogue
from pitjournal.errors import JournalError
from pitjournal.units import UnitSystem
from tests.analysis.trends.invented import a_journal

CATALOGUE = Catalogue()
METRIC = UnitSystem.METRIC
TENDER = "score.tenderness"


@pytest.mark.parametrize(
    ("by", "groups", "picture"),
    [
        ((), 1, Picture.SPREAD),
        ((By("cut"),), 3, Picture.GROUPS),
        ((By("thickness"),), 5, Picture.SCATTER),
        ((By("thickness", None, (0.03,)),), 2, Picture.GROUPS),
        ((By("date", Part.MONTH),), 12, Picture.TIME),
        ((By("date", Part.SEASON),), 4, Picture.GROUPS),
        ((By("cut"), By("cooker")), 9, Picture.GROUPS),
        ((By("cut"), By("cooker")), 40, Picture.HEAT),
        ((By("cut"), By("pit_mean")), 9, Picture.SCATTER),
        ((By("date", Part.YEAR), By("cut")), 6, Picture.TIME),
    ],
)
def test_that_the_kinds_of_variables_choose_the_picture(
    by: tuple[By, ...], groups: int, picture: Picture
) -> None:
    question = Question(TENDER, by)
    assert picture_of(question, CATALOGUE, groups) is picture
    for fitting in pictures_of(question, CATALOGUE, groups):
        wanted = Question(TENDER, by, picture=fitting)
        assert picture_of(wanted, CATALOGUE, groups) is fitting


def test_that_what_is_held_is_drawn_in_groups() -> None:
    for by in ((), (By("thickness"),), (By("cut"),)):
        wanted = Question(TENDER, by, held=("pit_mean",), picture=Picture.SPREAD)
        assert picture_of(wanted, CATALOGUE, 3) is Picture.GROUPS


def test_that_a_picture_that_does_not_fit_is_not_drawn() -> None:
    question = Question(TENDER, (By("cut"),), picture=Picture.SCATTER)
    assert picture_of(question, CATALOGUE, 3) is Picture.GROUPS


@given(st.lists(st.floats(-1e4, 1e4), min_size=1, max_size=80))
def test_that_round_steps_hold_every_number_once(numbers: list[float]) -> None:
    shown = np.array(numbers)
    edges = round_steps(shown)
    assert 1 <= edges.size - 1 <= 60
    assert np.all(np.diff(edges) > 0)
    assert sum(counts_in(shown, edges)) == shown.size


def test_that_steps_are_round_numbers() -> None:
    edges = round_steps(np.array([101.3, 118.0, 139.9, 122.0, 127.5]))
    assert edges.tolist() == [100.0, 110.0, 120.0, 130.0, 140.0]


def test_that_brushed_groups_become_filters() -> None:
    names = ["under 1", "1 to 2", "2 to 3", "3 and over"]
    edges = np.array([1.0, 2.0, 3.0])
    thick = By("thickness")
    assert of_groups(thick, CATALOGUE, names, {"1 to 2", "2 to 3"}, edges) == (
        Where("thickness", Sign.AT_LEAST, (1.0,)),
        Where("thickness", Sign.LESS, (3.0,)),
    )
    assert of_groups(thick, CATALOGUE, names, {"under 1"}, edges) == (
        Where("thickness", Sign.LESS, (1.0,)),
    )
    assert of_groups(thick, CATALOGUE, names, set(names), edges) == ()
    none = np.empty(0)
    cuts = of_groups(By("cut"), CATALOGUE, ["brisket", "back ribs"], {"back ribs"}, none)
    assert cuts == (Where("cut", Sign.IS, ("back ribs",)),)
    months = By("date", Part.MONTH)
    months_names = ["2025-01", "2025-02", "2025-03"]
    assert of_groups(months, CATALOGUE, months_names, {"2025-02", "2025-03"}, none) == (
        Where("date", Sign.AT_LEAST, ("2025-02",)),
        Where("date", Sign.AT_MOST, ("2025-03",)),
    )


def test_that_a_new_filter_takes_the_place_of_its_like() -> None:
    before = (*of_range("thickness", 0.01, 0.05), Where("cut", Sign.IS, ("brisket",)))
    after = joined(before, of_range("thickness", 0.02, 0.03))
    assert after == (Where("cut", Sign.IS, ("brisket",)), *of_range("thickness", 0.02, 0.03))


def test_that_brushing_bins_keeps_the_cooks_in_them() -> None:
    frame = a_journal(30)
    question = Question(TENDER, (By("pit_mean"),))
    edges = edges_of(frame, question.by[0], question, CATALOGUE, METRIC)
    groups = answered(frame, question, CATALOGUE, METRIC).groups
    names = [group.key[0] for group in groups]
    where = of_groups(question.by[0], CATALOGUE, names, {names[1]}, edges)
    again = answered(frame, Question(TENDER, (), where), CATALOGUE, METRIC)
    assert set(again.groups[0].cook_ids) == set(groups[1].cook_ids)


def test_that_cooks_that_pass_are_listed_newest_first() -> None:
    frame = a_journal(30)
    got = cooks_where(frame, (Where("cooker", Sign.IS, ("drum",)),), CATALOGUE)
    assert len(got) == 10
    codes, names = frame.choices("date")
    dates = {name: names[code] for name, code in zip(frame.cook_ids, codes, strict=True)}
    assert [dates[one] for one in got] == sorted((dates[one] for one in got), reverse=True)
    with pytest.raises(JournalError, match="no longer there"):
        cooks_where(frame, (Where("gone", Sign.IS, ("x",)),), CATALOGUE)


def test_that_cooks_side_by_side_tell_what_differs() -> None:
    frame = a_journal(6)
    got = {one.variable.key: one for one in beside(frame, CATALOGUE, ["c000", "c001", "gone"])}
    assert got["cooker"].values == ("drum", "offset", None)
    assert got["cooker"].differs
    assert not got["treatment"].differs
    assert got["treatment"].values[:2] == ("left alone, injected",) * 2
    scores = frame.numbers(TENDER)[:4]
    assert got[TENDER].values[0] == pytest.approx(scores.mean())


def test_that_an_answer_is_a_table_with_empty_for_unknown() -> None:
    frame = a_journal(1)
    found = answered(frame, Question(TENDER, (By("cooker"),)), CATALOGUE, METRIC)
    got = table_of(found, METRIC)
    numbers = [f"{name} (points)" for name in ("mean", "low", "high", "sd", "median")]
    assert got[0] == ["cooker", "cooks", "pieces", *numbers]
    assert got[1][:3] == ["drum", "1", "4"]
    assert got[1][4:7] == ["", "", ""]
