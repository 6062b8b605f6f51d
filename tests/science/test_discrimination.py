"""Sources: ISO 10399 and FAO V7180E tables, stored d-prime results, 30-digit curves (data/README.md)."""

import math

import pytest

from pitjournal.science.sensory.discrimination import (
    CHANCE,
    DifferenceTest,
    critical_number,
    d_prime_of,
    discriminate,
)
from tests.science.reference import check, rows

LEVELS = ("0.20", "0.10", "0.05", "0.01", "0.001")
COLUMNS = {
    "pc_2afc": DifferenceTest.TWO_AFC,
    "pc_3afc": DifferenceTest.THREE_AFC,
    "pc_triangle": DifferenceTest.TRIANGLE,
    "pc_duotrio": DifferenceTest.DUO_TRIO,
    "pc_tetrad": DifferenceTest.TETRAD,
}


@pytest.mark.parametrize(
    ("name", "test"),
    [
        ("triangle_critical_numbers", DifferenceTest.TRIANGLE),
        ("duotrio_critical_numbers", DifferenceTest.DUO_TRIO),
    ],
)
def test_that_every_critical_number_is_the_exact_one(name: str, test: DifferenceTest) -> None:
    for row in rows(name):
        for level in LEVELS:
            printed = row[f"crit_a{level}"]
            got = critical_number(int(row["n"]), CHANCE[test], float(level))
            assert got == (int(printed) if printed else None), (row["n"], level)


@pytest.mark.parametrize("row", rows("dprime_psychometric"))
def test_that_each_curve_is_met(row: dict[str, str]) -> None:
    for key, test in COLUMNS.items():
        share = float(row[key])
        if CHANCE[test] < share < 0.999:  # beyond it a share hardly moves with the distance
            assert d_prime_of(share, test) == pytest.approx(float(row["dprime"]), abs=1e-4)


@pytest.mark.parametrize(
    ("test", "value", "error"),
    [
        (DifferenceTest.TWO_AFC, "DP01", "DP06"),
        (DifferenceTest.THREE_AFC, "DP02", "DP07"),
        (DifferenceTest.TETRAD, "DP03", "DP08"),
        (DifferenceTest.DUO_TRIO, "DP04", "DP09"),
        (DifferenceTest.TRIANGLE, "DP05", "DP10"),
    ],
)
def test_that_ten_of_fifteen_mean_a_different_distance_by_each_test(
    test: DifferenceTest, value: str, error: str
) -> None:
    got = discriminate(10, 15, test)
    assert got is not None
    check(value, got.d_prime)
    check(error, got.d_se)


def test_that_the_interval_and_p_of_a_2afc_are_exact() -> None:
    got = discriminate(10, 15, DifferenceTest.TWO_AFC)
    assert got is not None
    check("DP13", got.d_low)
    check("DP14", got.d_high)
    check("DP15", got.p)


def test_that_shares_turn_back_into_distances() -> None:
    check("DP12", d_prime_of(0.8, DifferenceTest.TETRAD))
    check("DP18", d_prime_of(0.5, DifferenceTest.TRIANGLE))
    check("DP19", d_prime_of(20 / 30, DifferenceTest.DUO_TRIO))
    got = discriminate(15, 30, DifferenceTest.TRIANGLE)
    assert got is not None
    check("DP20", got.discriminators)
    assert got.critical == 15


def test_that_guessing_or_worse_is_no_distance_and_has_no_error() -> None:
    got = discriminate(3, 12, DifferenceTest.TRIANGLE)
    assert got is not None
    assert (got.d_prime, got.d_se, got.discriminators) == (0.0, None, 0.0)


def test_that_all_right_is_without_limit_but_has_a_lower_one() -> None:
    got = discriminate(8, 8, DifferenceTest.DUO_TRIO)
    assert got is not None
    assert got.d_prime == math.inf
    assert got.d_high == math.inf
    assert got.d_se is None
    assert 0 < got.d_low < math.inf


def test_that_no_answer_says_nothing() -> None:
    assert discriminate(0, 0, DifferenceTest.TETRAD) is None
    assert critical_number(0, 0.5) is None
