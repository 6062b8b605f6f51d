"""Sources: Student's sleep, Box, Hunter & Hunter's shoes, Hollander & Wolfe's depression."""

import math

import pytest

from pitjournal.science.signs_and_ranks import (
    hodges_lehmann,
    sign_flip_p,
    sign_test_p,
    wilcoxon,
)
from tests.science.reference import check, column

SLEEP = (column("sleep_student1908", "extra_drug2"), column("sleep_student1908", "extra_drug1"))
SHOES = (column("shoes_bhh", "wear_A"), column("shoes_bhh", "wear_B"))
DEPRESSION = (column("depression_hollander", "after"), column("depression_hollander", "before"))


def test_that_signed_ranks_drop_a_zero_difference_and_keep_ties_exact() -> None:
    got = wilcoxon(*SLEEP)
    assert got.n == 9
    check("PB15", got.p)


def test_that_differences_that_tie_on_paper_tie_here() -> None:
    got = wilcoxon(*SHOES)
    check("PB28", got.p)
    check("PB29", got.statistic)


def test_that_hollanders_depression_has_its_printed_ranks() -> None:
    got = wilcoxon(*DEPRESSION)
    check("PB60", got.statistic)
    check("PB61", got.greater)
    check("PB62", got.p)


def test_that_the_sign_test_is_the_binomial() -> None:
    check("PB16", sign_test_p(*SLEEP))
    check("PB30", sign_test_p(*SHOES))
    check("PB67", sign_test_p(*DEPRESSION))


def test_that_the_shoes_are_relabelled_in_every_way() -> None:
    check("PB27", sign_flip_p(*SHOES))


def test_that_many_pairs_are_still_enumerated() -> None:
    """All of 30 differences equal: only the two uniform labellings reach: 2 / 2**30."""
    assert sign_flip_p([0.0] * 30, [1.0] * 30) == pytest.approx(2 / 2**30)
    assert sign_flip_p([0.0] * 41, [1.0] * 41) is None


def test_that_the_median_of_averages_has_its_exact_interval() -> None:
    got = hodges_lehmann(*DEPRESSION)
    check("PB63", got.estimate)
    check("PB64", got.low)
    check("PB65", got.high)
    check("PB66", got.achieved)


def test_that_five_pairs_are_too_few_for_an_exact_interval() -> None:
    """The widest interval of five pairs has confidence 1 − 2/32, below 95 %."""
    got = hodges_lehmann([0.0] * 5, [1.0, 2.0, 3.0, 4.0, 5.0])
    assert got.estimate == 3.0
    assert (got.low, got.high, got.achieved) == (None, None, None)
    wide = hodges_lehmann([0.0] * 6, [1.0, 2.0, 3.0, 4.0, 5.0, 6.0])
    assert (wide.low, wide.high) == (1.0, 6.0)
    assert wide.achieved == pytest.approx(1 - 2 / 64)


def test_that_level_pairs_and_no_pairs_have_no_p() -> None:
    assert wilcoxon([1.0, 2.0], [1.0, 2.0]).p is None
    assert sign_test_p([1.0], [1.0]) is None
    assert sign_flip_p([1.0, 2.0], [1.0, 2.0]) == 1.0
    assert sign_flip_p([], []) is None
    assert math.isnan(hodges_lehmann([math.nan], [1.0]).estimate)
