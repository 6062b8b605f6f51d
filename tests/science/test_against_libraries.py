"""Kernels that SciPy or statsmodels have too, held against theirs over hostile ranges."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.proportion import proportion_confint
from statsmodels.stats.weightstats import CompareMeans, DescrStatsW

from pitjournal.science.binomial import proportion_interval
from pitjournal.science.comparison.multiplicity import holm
from pitjournal.science.comparison.paired import (
    paired_difference,
    pooled_difference,
    welch_difference,
)
from pitjournal.science.robust import theil_sen

NUMBERS = st.floats(-1e6, 1e6).map(lambda value: round(value, 3))
PAIRS = st.lists(st.tuples(NUMBERS, NUMBERS), min_size=3, max_size=12)


@settings(max_examples=100, deadline=None)
@given(st.lists(st.floats(0.0, 1.0), min_size=1, max_size=20))
def test_holm_is_that_of_statsmodels(p_values: list[float]) -> None:
    theirs = multipletests(p_values, method="holm")[1]
    assert holm(p_values) == pytest.approx(theirs, abs=1e-12)


@settings(max_examples=100, deadline=None)
@given(st.integers(1, 400), st.floats(0.0, 1.0), st.sampled_from([0.8, 0.95, 0.99]))
def test_intervals_of_a_share_are_those_of_statsmodels(
    n: int, share: float, confidence: float
) -> None:
    hits = round(share * n)
    for exact, method in ((True, "beta"), (False, "wilson")):
        theirs = proportion_confint(hits, n, 1 - confidence, method)
        assert proportion_interval(hits, n, confidence, exact=exact) == pytest.approx(
            theirs, abs=1e-9
        )


@settings(max_examples=100, deadline=None)
@given(PAIRS)
def test_differences_of_means_are_those_of_scipy_and_statsmodels(
    pairs: list[tuple[float, float]],
) -> None:
    control, other = (np.array(values) for values in zip(*pairs, strict=True))
    assume(min(np.ptp(control), np.ptp(other), np.ptp(other - control)) > 1e-2)
    paired = stats.ttest_rel(other, control)
    bounds = paired.confidence_interval(0.95)
    ours = paired_difference(control, other)
    assert (ours.low, ours.high) == pytest.approx((bounds.low, bounds.high), rel=1e-6, abs=1e-6)
    both = CompareMeans(DescrStatsW(other), DescrStatsW(control))
    for found, usevar in (
        (welch_difference(control, other), "unequal"),
        (pooled_difference(control, other), "pooled"),
    ):
        theirs = both.tconfint_diff(usevar=usevar)
        assert (found.low, found.high) == pytest.approx(theirs, rel=1e-6, abs=1e-6)


@settings(max_examples=60, deadline=None)
@given(PAIRS)
def test_the_slope_of_theil_and_sen_is_scipys(pairs: list[tuple[float, float]]) -> None:
    x, y = (np.array(values) for values in zip(*pairs, strict=True))
    assume(np.unique(x).size == x.size and np.ptp(y) > 0)
    ours = theil_sen(x, y)
    assert ours is not None
    assert ours.slope == pytest.approx(stats.theilslopes(y, x).slope, rel=1e-9, abs=1e-9)
