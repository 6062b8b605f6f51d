"""Contradiction between cooks, held against SciPy's and statsmodels' tests of raw values."""

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.oneway import anova_generic

from pitjournal.science.comparison.scatter import UNLIKE, bartlett_p, scatter_p

ALIKE = [[5.1, 4.8, 5.5], [5.0, 5.9, 5.3, 4.7], [6.4, 5.8, 6.1]]
UNLIKES = [[5.1, 5.0, 5.2, 5.1], [2.0, 8.0, 5.5], [9.0, 7.4, 1.0, 4.0]]


def parts(groups: list[list[float]]) -> tuple[list[float], list[float], list[float], list[float]]:
    return (
        [float(np.mean(group)) for group in groups],
        [float(np.var(group, ddof=1)) for group in groups],
        [len(group) - 1.0 for group in groups],
        [1.0 / len(group) for group in groups],
    )


def test_that_alike_spreads_make_the_usual_analysis_of_variance() -> None:
    means, variances, dfs, leverages = parts(ALIKE)
    assert bartlett_p(np.array(variances), np.array(dfs)) > UNLIKE
    assert scatter_p(means, variances, dfs, leverages) == pytest.approx(
        stats.f_oneway(*ALIKE).pvalue, rel=1e-9
    )


def test_that_unlike_spreads_make_the_more_careful_of_both_tests() -> None:
    means, variances, dfs, leverages = parts(UNLIKES)
    assert bartlett_p(np.array(variances), np.array(dfs)) == pytest.approx(
        stats.bartlett(*UNLIKES).pvalue, rel=1e-9
    )
    welch = anova_generic(
        np.array(means), np.array(variances), np.array(dfs) + 1, use_var="unequal"
    ).pvalue
    most = max(welch, stats.f_oneway(*UNLIKES).pvalue)
    assert scatter_p(means, variances, dfs, leverages) == pytest.approx(most, rel=1e-9)


def test_that_alike_cooks_are_seldom_said_to_contradict_each_other_in_any_of_six_looks() -> None:
    # The chance is for each look; over five looks at cooks without any difference at most 8 of 100
    # series may ever say so, of equal and of unlike spreads.
    dice = np.random.default_rng(5)
    for spreads in ((1.0, 1.0), (0.2, 1.5)):
        said = 0
        for _ in range(400):
            sizes = dice.integers(2, 6, 6)
            within = dice.choice(spreads, 6)
            groups = [dice.normal(0, s, n).tolist() for s, n in zip(within, sizes, strict=True)]
            looks = [scatter_p(*parts(groups[:count])) for count in range(2, 7)]
            said += any(p is not None and p < 0.02 for p in looks)
        assert said <= 40


def test_that_nothing_is_said_without_a_spread_or_of_one() -> None:
    assert scatter_p([1.0], [1.0], [2.0], [0.5]) is None
    assert scatter_p([1.0, 2.0], [0.0, 0.0], [2.0, 2.0], [0.5, 0.5]) is None
    assert scatter_p([1.0, 2.0], [1.0, 1.0], [0.0, 0.0], [0.5, 0.5]) is None
