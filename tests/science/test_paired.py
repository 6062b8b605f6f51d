"""Sources: Student (1908) sleep; Box, Hunter & Hunter shoes and penicillin (data/README.md)."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.science.comparison.paired import (
    Estimate,
    blocked_difference,
    paired_difference,
    pooled_difference,
    welch_difference,
)
from tests.science.reference import check, column, expected, rows

Method = Callable[[list[float], list[float]], Estimate]

SLEEP = (column("sleep_student1908", "extra_drug2"), column("sleep_student1908", "extra_drug1"))
SHOES = (column("shoes_bhh", "wear_B"), column("shoes_bhh", "wear_A"))


def test_that_students_sleep_is_a_paired_t() -> None:
    got = paired_difference(*SLEEP)
    assert got.se is not None
    assert got.n == 10
    check("PB01", got.estimate / got.se)
    check("PB07", got.estimate / got.se)
    check("PB02", got.p)
    check("PB08", got.p)
    check("PB03", got.df)
    check("PB04", got.low)
    check("PB05", got.high)
    check("PB06", got.estimate)


def test_that_the_shoes_are_a_paired_t() -> None:
    got = paired_difference(*SHOES)
    assert got.se is not None
    check("PB32", got.estimate / got.se)
    check("PB22", got.p)
    check("PB23", got.se)
    check("PB34", got.low)
    check("PB35", got.high)
    turned = paired_difference(SHOES[1], SHOES[0])
    check("PB20", turned.estimate)


def test_that_forgetting_the_pairs_gives_welchs_answer() -> None:
    got = welch_difference(*SLEEP)
    assert got.se is not None
    check("PB11", got.estimate / got.se)
    check("PB12", got.df)
    check("PB14", got.p)
    check("PB31", welch_difference(*SHOES).p)


def test_that_piece_means_are_compared_by_a_pooled_t() -> None:
    means: dict[tuple[str, str], list[float]] = {}
    for row in rows("nested_tasters"):
        means.setdefault((row["treatment"], row["piece"]), []).append(float(row["score"]))
    arms = {
        arm: [float(np.mean(v)) for (a, _), v in means.items() if a == arm]
        for arm in ("open", "wrapped")
    }
    got = pooled_difference(arms["open"], arms["wrapped"])
    assert got.se is not None
    assert got.df == 6
    check("MX60", got.estimate)
    assert got.estimate / got.se == pytest.approx(-expected("MX67").value, abs=1e-6)
    check("MX68", got.p)


def penicillin() -> tuple[list[float], list[int], list[int]]:
    table = rows("penicillin_rcb_bhh")
    return (
        [float(r["yield"]) for r in table],
        ["ABCD".index(r["treatment"]) for r in table],
        [int(r["blend"][1:]) for r in table],
    )


def test_that_penicillin_is_compared_within_its_blends() -> None:
    got = blocked_difference(*penicillin(), arm=2, control=0)
    assert got.estimate == pytest.approx(expected("PB49").value - expected("PB47").value)
    check("PB52", got.se)
    assert got.df == 12
    assert got.n == 20


def test_that_a_lost_piece_still_leaves_an_estimate_in_its_block() -> None:
    """Arms a, b, c add 0, 2, 5 and blocks 0, 10, 20, exactly: hand arithmetic."""
    values = [0.0, 2.0, 10.0, 15.0, 22.0, 25.0]
    got = blocked_difference(values, [0, 1, 0, 2, 1, 2], [0, 0, 1, 1, 2, 2], 2, 0)
    assert got.estimate == pytest.approx(5.0)
    assert got.se == 0.0
    assert got.low is None


def test_that_two_whole_arms_in_blocks_are_the_paired_t() -> None:
    pairs = len(SLEEP[0])
    paired = paired_difference(*SLEEP)
    blocked = blocked_difference(
        [*SLEEP[0], *SLEEP[1]], [0] * pairs + [1] * pairs, [*range(pairs), *range(pairs)], 1, 0
    )
    assert blocked.estimate == pytest.approx(paired.estimate)
    assert blocked.se == pytest.approx(paired.se)
    assert blocked.low == pytest.approx(paired.low)
    assert blocked.df == paired.df


def test_that_arms_that_never_meet_in_a_block_cannot_be_compared() -> None:
    got = blocked_difference([1.0, 2.0, 3.0, 4.0], [0, 0, 1, 1], [0, 0, 1, 1], 1, 0)
    assert math.isnan(got.estimate)
    assert got.low is None


def test_that_an_absent_arm_gives_no_number() -> None:
    got = blocked_difference([1.0, math.nan], [0, 1], [0, 0], 1, 0)
    assert math.isnan(got.estimate)


def test_that_one_whole_block_gives_a_difference_and_no_interval() -> None:
    got = blocked_difference([1.0, 4.0], [0, 1], [0, 0], 1, 0)
    assert got.estimate == pytest.approx(3.0)
    assert (got.low, got.high, got.df) == (None, None, None)


@pytest.mark.parametrize("method", [paired_difference, welch_difference, pooled_difference])
def test_that_one_piece_an_arm_gives_a_difference_and_no_interval(method: Method) -> None:
    got = method([3.0], [5.0])
    assert got.estimate == 2.0
    assert (got.low, got.high, got.p) == (None, None, None)


@pytest.mark.parametrize("method", [paired_difference, welch_difference, pooled_difference])
@pytest.mark.parametrize("size", [0.1, 1e9])
def test_that_no_spread_gives_no_interval(method: Method, size: float) -> None:
    got = method([size * 0.3] * 3, [size * 0.7] * 3)
    assert got.estimate == pytest.approx(size * 0.4)
    assert (got.low, got.high, got.p, got.se) == (None, None, None, 0.0)


@pytest.mark.parametrize("method", [paired_difference, welch_difference, pooled_difference])
def test_that_nothing_gives_no_number(method: Method) -> None:
    got = method([math.nan], [math.nan])
    assert math.isnan(got.estimate)
    assert got.n == 0


def test_that_half_a_pair_is_left_out() -> None:
    whole = paired_difference(*SLEEP)
    more = paired_difference([*SLEEP[0], 9.0, math.nan], [*SLEEP[1], math.nan, 1.0])
    assert more == whole


def test_that_a_single_control_still_pools() -> None:
    got = pooled_difference([1.0], [2.0, 3.0, 4.0])
    assert got.df == 2
    assert got.low is not None


def test_that_pairs_of_unequal_number_are_a_mistake_of_the_caller() -> None:
    with pytest.raises(ValueError, match="paired"):
        paired_difference([1.0], [1.0, 2.0])


@given(
    st.lists(st.floats(-1e3, 1e3), min_size=2, max_size=8),
    st.floats(-100, 100),
)
def test_that_a_shift_of_the_other_arm_shifts_the_difference(
    values: list[float], shift: float
) -> None:
    other = [2 * value for value in values]
    plain = paired_difference(values, other)
    moved = paired_difference(values, [value + shift for value in other])
    assert moved.estimate == pytest.approx(plain.estimate + shift, abs=1e-6)
