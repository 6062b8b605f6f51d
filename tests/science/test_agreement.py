"""Sources: Shrout & Fleiss (1979), six targets and four judges; Bland & Altman (1986)."""

import math

import numpy as np
import pytest

from pitjournal.science.sensory.agreement import (
    likeness,
    limits_of_agreement,
    panel_agreement,
    repeatability,
)
from tests.science.reference import check, column, rows

TABLE = [[float(row[f"judge{j}"]) for j in range(1, 5)] for row in rows("shrout_fleiss_1979")]


def test_that_all_six_forms_are_met() -> None:
    got = panel_agreement(TABLE)
    assert got is not None
    forms = (
        got.each_own,
        got.any_tasters,
        got.these_tasters,
        got.mean_each_own,
        got.mean_any_tasters,
        got.mean_these_tasters,
    )
    for place, form in enumerate(forms):
        check(f"RE{4 * place + 2:02}", form.value)
        check(f"RE{4 * place + 3:02}", form.low)
        check(f"RE{4 * place + 4:02}", form.high)
    check("RE25", got.between)
    check("RE26", got.tasters)
    check("RE27", got.error)
    check("RE28", got.within)


def test_that_a_sample_with_a_gap_is_left_out() -> None:
    assert panel_agreement([*TABLE, [math.nan, 1.0, 2.0, 3.0]]) == panel_agreement(TABLE)


def test_that_too_little_says_nothing() -> None:
    assert panel_agreement([[1.0, 2.0]]) is None
    assert panel_agreement([[1.0], [2.0]]) is None
    assert panel_agreement(np.full((3, 3), 5.0)) is None
    assert panel_agreement([[1.0, 2.0], [3.0, 4.0]]) is None
    assert panel_agreement([1.0, 2.0]) is None


BATCHES = [
    [float(row["yield"]) for row in rows("dyestuff") if row["batch"] == batch] for batch in "ABCDEF"
]


def test_that_scatter_within_batches_is_that_of_dyestuff() -> None:
    """Davies & Goldsmith (1972): the residual variance is that of the five samples a batch."""
    got = repeatability(BATCHES)
    assert got is not None
    check("MX09", got.sd**2)
    assert got.df == 24
    # χ² with 24 df: 39.364 and 12.401 (NIST/SEMATECH e-Handbook, table 1.3.6.7.4; from memory)
    assert got.low == pytest.approx(math.sqrt(24 * 2451.25 / 39.364), rel=1e-4)
    assert got.high == pytest.approx(math.sqrt(24 * 2451.25 / 12.401), rel=1e-4)


def test_that_pairs_scatter_by_half_their_squared_differences() -> None:
    """Σd² ÷ 2n (Dahlberg 1940; from memory): differences 1, 0, 2 give 5 ÷ 6."""
    got = repeatability([[6.0, 7.0], [5.0, 5.0], [8.0, 6.0], [4.0], [3.0, math.nan]])
    assert got is not None
    assert got.sd == pytest.approx(math.sqrt(5 / 6))
    assert got.df == 3
    assert got.limit == pytest.approx(1.96 * math.sqrt(2 * 5 / 6))


def test_that_nothing_served_twice_says_nothing() -> None:
    assert repeatability([[6.0], [7.0]]) is None
    assert repeatability([[6.0, 6.0]]) is None


def test_that_two_judges_go_together_as_printed() -> None:
    """r of judges 1 and 2, by hand from the sums of Shrout & Fleiss's table."""
    one, two = ([row[j] for row in TABLE] for j in (0, 1))
    n = 6
    top = n * sum(a * b for a, b in zip(one, two, strict=True)) - sum(one) * sum(two)
    below = (n * sum(a * a for a in one) - sum(one) ** 2) * (
        n * sum(b * b for b in two) - sum(two) ** 2
    )
    got = likeness(one, two)
    assert got is not None
    assert got.value == pytest.approx(top / math.sqrt(below))
    # Fisher (1921): artanh r ± 1.960 ÷ √(n − 3)
    half = 1.959964 / math.sqrt(n - 3)
    assert got.low == pytest.approx(math.tanh(math.atanh(got.value) - half), abs=1e-6)
    assert got.high == pytest.approx(math.tanh(math.atanh(got.value) + half), abs=1e-6)


def test_that_too_few_or_level_scores_have_no_likeness() -> None:
    assert likeness([1, 2, 3], [1, 2, 3]) is None
    assert likeness([5, 5, 5, 5], [1, 2, 3, 4]) is None
    assert likeness([1, 2, 3, math.nan], [1, 2, 3, 4]) is None


PEFR = "pefr_bland_altman_1986"


def test_that_the_limits_of_single_pairs_are_those_of_bland_and_altman() -> None:
    apart = np.array(column(PEFR, "wright")) - np.array(column(PEFR, "mini_wright"))
    got = limits_of_agreement(apart, np.arange(17))
    assert got is not None
    assert (got.n, got.groups) == (17, 17)
    # The paper: the mean difference is −2.1 l/min, its interval −22.0 to 17.8, the SD 38.8.
    assert round(got.mean, 1) == -2.1
    assert round(got.sd, 1) == 38.8
    assert (round(got.low, 1), round(got.high, 1)) == (-22.0, 17.8)
    # The paper's limits are the mean ± 2 SD; with 1.96 they are −2.1 ± 76.0.
    assert got.lower == pytest.approx(-2.1 - 1.96 * 38.8, abs=0.1)
    assert got.upper == pytest.approx(-2.1 + 1.96 * 38.8, abs=0.1)


def test_that_things_of_one_group_count_as_alike() -> None:
    """By hand: groups (0, 2), (1, 3) and (4) have means 1, 2, 4.

    Their mean is 7/3 and their variance ((4/3)² + (1/3)² + (5/3)²) / 2 = 7/3. Within groups
    the squares are 2 + 2 with 5 − 3 = 2 to spare: 2. The mean of 1/size is (1/2 + 1/2 + 1) / 3
    = 2/3, so a single difference has the variance 7/3 + (1 − 2/3) × 2 = 3. Student's t with 2
    degrees of freedom is 4.3027 (NIST/SEMATECH e-Handbook, table 1.3.6.7.2: 4.303).
    """
    got = limits_of_agreement([0.0, 2.0, 1.0, 3.0, 4.0, math.nan], [7, 7, 8, 8, 9, 9])
    assert got is not None
    assert (got.n, got.groups) == (5, 3)
    assert got.mean == pytest.approx(7 / 3)
    assert got.sd == pytest.approx(math.sqrt(3))
    half = 4.303 * math.sqrt(7 / 3 / 3)
    assert got.low == pytest.approx(7 / 3 - half, abs=1e-3)
    assert got.high == pytest.approx(7 / 3 + half, abs=1e-3)
    assert got.upper == pytest.approx(7 / 3 + 1.96 * math.sqrt(3))


def test_that_with_equal_groups_the_variance_is_the_sum_of_its_parts() -> None:
    """By hand: (0, 2), (3, 5), (6, 8): within 2, between (18 − 2) / 2 = 8, together 10."""
    got = limits_of_agreement([0.0, 2.0, 3.0, 5.0, 6.0, 8.0], [0, 0, 1, 1, 2, 2])
    assert got is not None
    assert got.sd**2 == pytest.approx(10.0)


def test_that_one_group_says_nothing_of_others() -> None:
    assert limits_of_agreement([1.0, 2.0, 3.0], [0, 0, 0]) is None
    assert limits_of_agreement([], []) is None


def test_that_tasters_who_differ_by_a_level_alone_leave_nothing_to_measure_by_on_any_scale() -> (
    None
):
    """Rows plus columns have no rest but what adding up rounds off, however large the numbers."""
    for size in (1e-6, 1.0, 1e6):
        rows_, columns = np.array([0.1, 0.2, 0.7]) * size, np.array([0.3, 0.45, 0.9]) * size
        assert panel_agreement(rows_[:, None] + columns) is None
