"""Sources: NIST/ITL certified regressions; Ryan, Joiner & Ryan (1976) trees (data/README.md)."""

import math

import numpy as np
import pytest

from pitjournal.science.comparison.paired import blocked_difference
from pitjournal.science.comparison.regression import (
    adjusted_difference,
    least_squares,
    within_slope,
)
from tests.science.reference import check, column, rows

LONGLEY = [key for key in rows("nist_strd_longley")[0] if key.startswith("x")]


def test_that_norris_is_certified() -> None:
    got = least_squares(column("nist_strd_norris", "y"), column("nist_strd_norris", "x"))
    assert got is not None
    check("NN01", float(got.coefficients[0]))
    check("NN02", float(got.errors[0]))
    check("NN03", float(got.coefficients[1]))
    check("NN04", float(got.errors[1]))
    check("NN05", got.residual_sd)
    check("NN06", got.r_squared)


def test_that_longley_keeps_its_digits() -> None:
    got = least_squares(
        column("nist_strd_longley", "y_employed"),
        np.column_stack([column("nist_strd_longley", key) for key in LONGLEY]),
    )
    assert got is not None
    for place in range(7):
        check(f"NL{place + 1:02}", float(got.coefficients[place]))
        check(f"NL{place + 8:02}", float(got.errors[place]))
    check("NL15", got.residual_sd)
    check("NL16", got.r_squared)


def test_that_the_stopping_distances_have_their_least_squares() -> None:
    got = least_squares(
        column("stopping_theil_sen", "distance_ft"), column("stopping_theil_sen", "speed_mph")
    )
    assert got is not None
    check("TS06", float(got.coefficients[1]))
    check("TS07", float(got.coefficients[0]))
    check("TS08", float(got.errors[1]))


def tree(key: str) -> list[float]:
    return column("trees_partial_correlation", key)


def test_that_an_adjusted_difference_takes_out_what_else_differed() -> None:
    """Arm adds 3, each gram 0.5, exactly: hand arithmetic."""
    mass = [1.0, 2.0, 3.0, 5.0, 6.0, 8.0]
    arms = [0, 0, 0, 1, 1, 1]
    values = [3 * arm + 0.5 * grams for arm, grams in zip(arms, mass, strict=True)]
    got = adjusted_difference(values, arms, mass, 1, 0)
    assert got.estimate == pytest.approx(3)
    assert got.low is None
    noisy = adjusted_difference(
        [v + e for v, e in zip(values, [1, -1, 0, 1, 0, -1], strict=True)], arms, mass, 1, 0
    )
    assert noisy.df == 3
    assert noisy.low is not None


def test_that_a_covariate_that_says_nothing_leaves_the_blocked_difference() -> None:
    """A covariate orthogonal to arms, blocks and values costs one degree of freedom only."""
    values = [1.0, 3.0, 2.0, 5.0, 4.0, 6.0, 3.0, 8.0]
    arms, blocks = [0, 1] * 4, [0, 0, 1, 1, 2, 2, 3, 3]
    plain = blocked_difference(values, arms, blocks, 1, 0)
    got = adjusted_difference(
        values, arms, [1.0, -1.0, -1.0, 1.0, -1.0, 1.0, 1.0, -1.0], 1, 0, block_codes=blocks
    )
    assert got.df == 2
    assert got.estimate == pytest.approx(plain.estimate)


def test_that_what_cannot_be_told_apart_is_not_adjusted() -> None:
    got = adjusted_difference([1.0, 2.0, 3.0, 4.0], [0, 0, 1, 1], [0.0, 0.0, 1.0, 1.0], 1, 0)
    assert math.isnan(got.estimate)
    assert math.isnan(adjusted_difference([1.0], [0], [1.0], 1, 0).estimate)
    assert least_squares([1.0, 2.0], [1.0, 2.0]) is None
    assert least_squares([1.0, 2.0, 3.0], [1.0, 1.0, 1.0]) is None


def test_that_the_slope_within_subjects_is_the_published_one() -> None:
    # Balanced, so a random height for each subject gives the same slope and error (lme4).
    days, people = column("sleepstudy", "days"), [r["subject"] for r in rows("sleepstudy")]
    got = within_slope(column("sleepstudy", "reaction_ms"), days, people)
    check("MX32", got.estimate)
    check("MX44", got.se)
    assert got.df == 180 - 18 - 1
    assert got.n == 180


def test_that_a_slope_within_groups_of_one_is_not_known() -> None:
    assert math.isnan(within_slope([1, 2, 3], [1, 2, 3], [1, 2, 3]).estimate)
    assert math.isnan(within_slope([1, 2, 3, 4], [5, 5, 6, 6], [1, 1, 2, 2]).estimate)
    assert within_slope([], [], []).low is None
