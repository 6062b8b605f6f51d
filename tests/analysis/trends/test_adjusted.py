"""Held variables: against statsmodels on the same cells, and R's regression of the trees.

Source of the trees: Ryan, Joiner & Ryan (1976) through R (tests/science/data/README.md).
"""

import numpy as np
import pandas as pd
import pytest
import statsmodels.formula.api as smf

from pitjournal.analysis.trends.columns.cook_means import CookMeans, cook_means_of
from pitjournal.analysis.trends.columns.row_selection import select_rows
from pitjournal.analysis.trends.inference.adjusted import adjust_means, answered, covariate_columns
from pitjournal.analysis.trends.question import By, Question
from pitjournal.domain.catalogue import Catalogue
from pitjournal.errors import JournalError
from pitjournal.journal.queries.values import Row
from pitjournal.units import UnitSystem
from tests.analysis.trends.frames import frame_of
from tests.analysis.trends.invented import a_journal
from tests.science.reference import check, column

CATALOGUE = Catalogue()
METRIC = UnitSystem.METRIC
TENDER = "score.tenderness"


def bare(values: np.ndarray, groups: np.ndarray) -> CookMeans:
    count = values.size
    places = np.arange(count)
    keys = tuple((str(n),) for n in range(int(groups.max()) + 1))
    return CookMeans(
        values,
        groups.astype(np.int64),
        places.astype(np.int32),
        keys,
        np.ones(count, dtype=np.int64),
        places,
        places,
    )


def test_that_slopes_are_those_of_rs_regression_of_the_trees() -> None:
    volume = np.array(column("trees_partial_correlation", "volume_ft3"))
    both = np.column_stack(
        [column("trees_partial_correlation", name) for name in ("girth_in", "height_ft")]
    )
    every = np.ones(volume.size, dtype=bool)
    held = adjust_means(bare(volume, np.zeros(volume.size)), both, every, within=False)
    assert held is not None
    check("PC06", held.slopes[0])
    check("PC07", held.slopes[1])


def test_that_held_groups_are_the_adjusted_means_of_statsmodels() -> None:
    frame = a_journal(hot=0.5)
    question = Question(TENDER, (By("cooker"),), held=("pit_mean",))
    found = answered(frame, question, CATALOGUE, METRIC)
    cells = cook_means_of(frame, select_rows(frame, question, CATALOGUE, METRIC))
    table = pd.DataFrame(
        {
            "y": cells.values,
            "cooker": [cells.keys[n][0] for n in cells.groups],
            "pit": cells.means(frame.numbers("pit_mean")),
        }
    )
    fit = smf.ols("y ~ C(cooker) + pit", table).fit()
    at_mean = pd.DataFrame({"cooker": [g.key[0] for g in found.groups], "pit": table.pit.mean()})
    for group, want in zip(found.groups, fit.predict(at_mean), strict=True):
        assert group.mean == pytest.approx(want)


def test_that_held_inside_cooks_is_the_fit_with_a_column_for_each_cook() -> None:
    frame = a_journal(20)
    question = Question(TENDER, (By("treatment"),), within=True, held=("thickness",))
    found = answered(frame, question, CATALOGUE, METRIC)
    cells = cook_means_of(frame, select_rows(frame, question, CATALOGUE, METRIC))
    table = pd.DataFrame(
        {
            "y": cells.values,
            "treatment": [cells.keys[n][0] for n in cells.groups],
            "thickness": cells.means(frame.numbers("thickness")),
            "cook": cells.cooks,
        }
    )
    fit = smf.ols("y ~ C(treatment) + thickness + C(cook)", table).fit()
    means = {group.key[0]: group.mean for group in found.groups}
    want = fit.params["C(treatment)[T.left alone]"]
    assert means["left alone"] - means["injected"] == pytest.approx(want)


def test_that_what_explains_a_difference_takes_it_away_when_held() -> None:
    frame = a_journal(120, hot=1.0)
    question = Question(TENDER, (By("cooker"),))
    plain = {g.key[0]: g.mean for g in answered(frame, question, CATALOGUE, METRIC).groups}
    held = Question(TENDER, (By("cooker"),), held=("pit_mean",))
    after = {g.key[0]: g.mean for g in answered(frame, held, CATALOGUE, METRIC).groups}
    assert plain["drum"] - plain["offset"] == pytest.approx(1.2, abs=0.5)
    assert abs(after["drum"] - after["offset"]) < 0.35


def test_that_a_cook_without_pieces_counts_as_a_cook_and_no_piece() -> None:
    rows: list[Row] = [
        (f"c{n}", f"c{n}", "cook", {"cost": 10.0 + n, "wind": float(n % 3)}) for n in range(8)
    ]
    held = answered(frame_of(rows), Question("cost", held=("wind",)), CATALOGUE, METRIC)
    assert [(group.cooks, group.pieces) for group in held.groups] == [(8, 0)]
    plain = answered(frame_of(rows), Question("cost"), CATALOGUE, METRIC)
    assert [(group.cooks, group.pieces) for group in plain.groups] == [(8, 0)]


def test_that_what_is_one_with_the_groups_cannot_be_held() -> None:
    frame = a_journal(12)
    question = Question(TENDER, (By("cooker"),), held=("cooker",))
    with pytest.raises(JournalError, match="too little is left"):
        answered(frame, question, CATALOGUE, METRIC)
    with pytest.raises(JournalError, match="no longer there"):
        answered(frame, Question(TENDER, held=("gone",)), CATALOGUE, METRIC)


def test_that_columns_of_choices_and_dates_are_numbers() -> None:
    frame = a_journal(6)
    cells = cook_means_of(frame, select_rows(frame, Question(TENDER), CATALOGUE, METRIC))
    assert covariate_columns(frame, cells, CATALOGUE, "cooker").shape == (6, 2)
    days = covariate_columns(frame, cells, CATALOGUE, "date")[:, 0]
    # The first of January 2024 is 19,723 days after that of 1970: 54 years, 13 of them leap.
    assert days.min() == 54 * 365 + 13


def test_that_the_interval_of_a_held_answer_is_what_a_hand_works_out() -> None:
    # The wind w of two cookers is −1, 0, 1 and 1, 2, 3; the cost 1, 3, 2 and 6, 5, 7. Inside
    # cookers the slope is (1 + 1) ÷ (2 + 2) = 0.5. At the mean wind of 1 the first has 2, 3.5 and
    # 2: mean 2.5, variance 0.75. What is left of the fit is −0.5, 1, −0.5 and 0.5, −1, 0.5, so
    # that the slope's variance is (3 ÷ 3) ÷ 4 and its part (1 K of wind away) 0.25. With Student's
    # t of 2 degrees of freedom, 4.3027 (NIST/SEMATECH handbook, 1.3.6.7.2), the interval is
    # ±4.3027 · √(0.75 ÷ 3 + 0.25).
    data = [("drum", -1, 1), ("drum", 0, 3), ("drum", 1, 2)]
    data += [("offset", 1, 6), ("offset", 2, 5), ("offset", 3, 7)]
    rows: list[Row] = [
        (f"c{n}", f"c{n}", "cook", {"cooker": name, "wind": float(wind), "cost": float(cost)})
        for n, (name, wind, cost) in enumerate(data)
    ]
    question = Question("cost", (By("cooker"),), held=("wind",))
    drum, offset = sorted(
        answered(frame_of(rows), question, CATALOGUE, METRIC).groups, key=lambda g: g.key
    )
    assert drum.mean == pytest.approx(2.5)
    assert offset.mean == pytest.approx(5.5)
    assert drum.sd == pytest.approx(0.75**0.5)
    half = 4.3027 * 0.5**0.5
    assert drum.low == pytest.approx(2.5 - half, abs=1e-3)
    assert drum.high == pytest.approx(2.5 + half, abs=1e-3)
    assert offset.high == pytest.approx(5.5 + half, abs=1e-3)
