"""Differences over incomplete blocks, against published paired data and a reference library.

Sources: Student (1908), Biometrika 6, and Box, Hunter & Hunter's shoes
(tests/science/data/README.md); statsmodels' linear mixed model by restricted likelihood for blocks
that are not whole, as a reference library. Kenward & Roger (1997), Biometrics 53, 983–997: for
whole blocks their test is the exact one, so Student's numbers must come back.
"""

import math
import warnings

import numpy as np
import pytest

from pitjournal.science.comparison.interblock import interblock_difference
from tests.science.reference import check, column

SLEEP = (column("sleep_student1908", "extra_drug2"), column("sleep_student1908", "extra_drug1"))
SHOES = (column("shoes_bhh", "wear_B"), column("shoes_bhh", "wear_A"))


def table(
    data: tuple[list[float], list[float]], left_out: frozenset[tuple[int, int]] = frozenset()
) -> tuple[list[float], list[int], list[int]]:
    """Return values, arms and blocks of paired data less some (arm, block)."""
    kept = [
        (float(value), arm, block)
        for arm, values in enumerate(data)
        for block, value in enumerate(values)
        if (arm, block) not in left_out
    ]
    values, arms, blocks = zip(*kept, strict=True)
    return list(values), list(arms), list(blocks)


def test_that_whole_blocks_give_students_and_the_shoes_published_numbers() -> None:
    sleep = interblock_difference(*table(SLEEP), 1, 0)
    check("PB06", sleep.estimate)
    check("PB04", sleep.low)
    check("PB05", sleep.high)
    check("PB02", sleep.p)
    shoes = interblock_difference(*table(SHOES), 1, 0)
    check("PB34", shoes.low)
    check("PB35", shoes.high)
    check("PB22", shoes.p)


@pytest.mark.parametrize(
    "left_out",
    [
        frozenset({(0, 9)}),
        frozenset({(0, 0), (0, 1), (1, 7)}),
        frozenset({(0, n) for n in range(3, 10)}),
    ],
)
@pytest.mark.parametrize("data", [SLEEP, SHOES], ids=["sleep", "shoes"])
def test_that_blocks_with_gaps_give_the_estimate_of_a_reference_library(
    data: tuple[list[float], list[float]], left_out: frozenset[tuple[int, int]]
) -> None:
    from statsmodels.regression.mixed_linear_model import MixedLM  # noqa: PLC0415 - pandas, for one test

    values, arms, blocks = table(data, left_out)
    design = np.column_stack([np.ones(len(arms)), arms])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        fit = MixedLM(np.array(values), design, groups=np.array(blocks)).fit(reml=True)
    got = interblock_difference(values, arms, blocks, 1, 0)
    assert got.estimate == pytest.approx(fit.params[1], abs=2e-4)
    assert got.n == len(values)
    assert got.se is not None
    assert got.se >= fit.bse[1] * (1 - 1e-3)  # Kenward and Roger's is never the smaller
    assert got.df is not None
    assert 1 <= got.df <= len(values) - 2


def test_that_three_arms_in_a_cyclic_plan_agree_with_the_reference_library() -> None:
    # Three arms, three blocks of two, twice over: values are invented.
    from statsmodels.regression.mixed_linear_model import MixedLM  # noqa: PLC0415 - pandas, for one test

    arms = [0, 1, 1, 2, 2, 0, 0, 1, 1, 2, 2, 0]
    blocks = [n // 2 for n in range(12)]
    values = [5.1, 6.0, 6.9, 7.2, 6.1, 5.4, 5.6, 6.8, 5.2, 6.6, 7.0, 5.9]
    design = np.column_stack([np.ones(12), [a == 1 for a in arms], [a == 2 for a in arms]])
    fit = MixedLM(np.array(values), design.astype(float), groups=np.array(blocks)).fit(reml=True)
    for arm in (1, 2):
        got = interblock_difference(values, arms, blocks, arm, 0)
        assert got.estimate == pytest.approx(fit.params[arm], abs=2e-4)


def test_that_blocks_of_one_value_or_no_scatter_give_no_bounds() -> None:
    alone = interblock_difference([5, 6, 7, 8], [0, 0, 1, 1], [0, 1, 2, 3], 1, 0)
    assert (alone.estimate, alone.low, alone.df) == (2.0, None, None)
    level = interblock_difference([5.0] * 5, [0, 0, 1, 1, 1], [0, 1, 0, 1, 2], 1, 0)
    assert (level.estimate, level.low) == (0.0, None)
    exact = interblock_difference([5, 7, 6, 8, 4], [0, 0, 1, 1, 1], [0, 1, 0, 1, 2], 1, 0)
    assert exact.low is None
    assert exact.estimate == pytest.approx(1.0)  # in both blocks that hold both arms


def test_that_an_arm_that_is_not_there_has_no_difference() -> None:
    assert math.isnan(interblock_difference([5, 6], [0, 0], [0, 0], 1, 0).estimate)
