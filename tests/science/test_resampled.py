"""Sources: Student (1908), Biometrika 6 (tests/science/data/README.md); Hesterberg (2015).

Hesterberg, What Teachers Should Know about the Bootstrap, The American Statistician 69, 371-386:
the expanded percentiles of a mean follow Student's t interval, plain ones are too short.
"""

import numpy as np
import pytest

from pitjournal.science.comparison.resampled import (
    drawn_with_groups,
    drawn_within,
    expanded_percentiles,
)
from tests.science.reference import column, expected

LATER = np.array(column("sleep_student1908", "extra_drug2"))
FIRST = np.array(column("sleep_student1908", "extra_drug1"))


def test_that_the_bootstrap_of_students_sleep_is_about_as_wide_as_students_t() -> None:
    differences = LATER - FIRST
    weights = drawn_within(np.zeros(10), 20_000, seed=1)
    means = weights @ differences / 10
    low, high = expanded_percentiles(means, 10)
    student = abs(expected("PB05").value - expected("PB04").value)
    assert high - low == pytest.approx(student, rel=0.05)
    plain = np.quantile(means, [0.025, 0.975])
    assert plain[1] - plain[0] < 0.85 * student


def test_that_each_cook_keeps_its_number_of_pieces() -> None:
    groups = np.array([0, 0, 0, 1, 1, 2])
    weights = drawn_within(groups, 50, seed=2)
    for group, size in ((0, 3), (1, 2), (2, 1)):
        assert np.all(weights[:, groups == group].sum(axis=1) == size)
    assert np.array_equal(weights, drawn_within(groups, 50, seed=2))
    assert not np.array_equal(weights, drawn_within(groups, 50, seed=3))


@pytest.mark.parametrize(
    "rows",
    [
        [[22.0, 25, 19, 30], [97, 80, 99, 91], [40, 44, 31, 37]],
        [[0.0, 10, 0, 10], [0, 10, 10, 0], [10, 0, 0, 10]],  # all of it inside the groups
    ],
)
def test_that_a_mean_over_groups_varies_as_the_two_stage_bootstrap_does(
    rows: list[list[float]],
) -> None:
    # Both stages with replacement, a groups of b pieces: the variance of the mean is that of the
    # groups' means ÷ a and the mean variance inside them ÷ (a · b), each with its own divisor n
    # (Davison & Hinkley 1997, Bootstrap Methods and their Application, 3.8; from memory, and the
    # law of total variance).
    values = np.array(rows)
    a, b = values.shape
    weights = drawn_with_groups(np.repeat(np.arange(a), b), 20_000, seed=3)
    assert np.all(weights.sum(axis=1) == a * b)
    means = weights @ values.ravel() / (a * b)
    expected_variance = values.mean(axis=1).var() / a + values.var(axis=1).mean() / (a * b)
    assert means.mean() == pytest.approx(values.mean(), rel=0.02)
    assert means.var() == pytest.approx(expected_variance, rel=0.04)


def test_that_pieces_of_one_group_are_drawn_from_it_alone() -> None:
    assert np.array_equal(
        drawn_with_groups(np.zeros(5), 30, seed=4), drawn_within(np.zeros(5), 30, seed=4)
    )


def test_that_draws_without_an_end_leave_the_interval_open() -> None:
    values = np.concatenate([np.linspace(0, 1, 90), np.full(10, np.inf)])
    low, high = expanded_percentiles(values, 12)
    assert 0 <= low < 0.05
    assert high == np.inf
