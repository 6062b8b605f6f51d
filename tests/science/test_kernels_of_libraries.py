"""More kernels that SciPy or statsmodels have too, held against theirs on made-up readings.

statsmodels is a library of the tests alone; what neither has (Conover's F, Smyth's prior, the
floor of Röver, Knapp and Friede, the psychometric curves) is held to published values in the
files beside this one.
"""

import math
from typing import Any

import numpy as np
import pytest
import statsmodels.api as sm
from numpy.typing import NDArray
from scipy import ndimage, special, stats
from statsmodels.stats.meta_analysis import combine_effects

from pitjournal.science.arrays import runs_of
from pitjournal.science.comparison.mixed import variance_components
from pitjournal.science.comparison.moderated import trigamma_inverse
from pitjournal.science.comparison.pooled import cochran_q, random_effects
from pitjournal.science.comparison.regression import least_squares
from pitjournal.science.comparison.resampled import expanded_percentiles
from pitjournal.science.sensory.agreement import likeness, panel_agreement
from pitjournal.science.sensory.discrimination import (
    CHANCE,
    DifferenceTest,
    critical_number,
    discriminate,
)
from pitjournal.science.sensory.ranks import friedman, page
from pitjournal.science.times.censored import arm_times, turnbull

SEEDS = range(8)


@pytest.mark.parametrize("seed", SEEDS)
def test_ranks_of_a_panel_are_scipys(seed: int) -> None:
    dice = np.random.default_rng(seed)
    table = dice.integers(1, 8, (6, 4)).astype(float) + np.arange(4) * 0.7
    found = friedman(table, exact=False)
    assert found is not None
    theirs = stats.friedmanchisquare(*table.T)
    assert found.statistic == pytest.approx(theirs.statistic, rel=1e-9)
    assert found.p == pytest.approx(theirs.pvalue, rel=1e-9)
    apart = dice.normal(0, 1, (5, 4)) + np.arange(4)
    for exact in (True, False):
        trend = page(apart, exact=exact)
        theirs_too = stats.page_trend_test(apart, method="exact" if exact else "asymptotic")
        assert trend is not None
        assert trend.statistic == theirs_too.statistic
        assert trend.p == pytest.approx(theirs_too.pvalue, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_regression_is_that_of_statsmodels(seed: int) -> None:
    dice = np.random.default_rng(seed)
    x = dice.normal(2000.0, 3.0, (15, 2)) * (1.0, 1e4)
    y = x @ (0.3, -2e-5) + dice.normal(0.0, 1.0, 15)
    ours, theirs = least_squares(y, x), sm.OLS(y, sm.add_constant(x)).fit()
    assert ours is not None
    assert ours.coefficients[1:] == pytest.approx(theirs.params[1:], rel=1e-6)
    assert ours.errors[1:] == pytest.approx(theirs.bse[1:], rel=1e-6)
    assert ours.r_squared == pytest.approx(theirs.rsquared, abs=1e-9)
    assert ours.residual_sd == pytest.approx(math.sqrt(theirs.scale), rel=1e-8)


def _of_pieces(seed: int) -> tuple[NDArray[np.float64], NDArray[np.int64], NDArray[np.float64]]:
    dice = np.random.default_rng(seed)
    piece = np.repeat(np.arange(8), 3 + seed % 2)
    arm = (piece % 2).astype(float)
    values = 5 + 0.6 * arm + dice.normal(0, 1.0, 8)[piece] + dice.normal(0, 0.7, piece.size)
    return values, piece, arm


@pytest.mark.parametrize("seed", [0, 1, 2])
@pytest.mark.parametrize("reml", [True, False])
def test_a_mixed_model_is_that_of_statsmodels(seed: int, *, reml: bool) -> None:
    values, piece, arm = _of_pieces(seed)
    ours = variance_components(values, {"piece": piece}, arm, reml=reml)
    theirs = sm.MixedLM(values, sm.add_constant(arm), groups=piece).fit(reml=reml)
    assert ours is not None
    assert ours.components["piece"] == pytest.approx(float(theirs.cov_re[0, 0]), rel=1e-3)
    assert ours.residual == pytest.approx(theirs.scale, rel=1e-3)
    assert ours.coefficients == pytest.approx(theirs.fe_params, rel=1e-4)
    assert ours.errors == pytest.approx(theirs.bse_fe, rel=1e-3)
    assert ours.criterion == pytest.approx(-2 * theirs.llf, abs=1e-3)


@pytest.mark.parametrize("seed", SEEDS)
def test_joined_cooks_are_those_of_statsmodels(seed: int) -> None:
    dice = np.random.default_rng(seed)
    variances = dice.uniform(0.02, 0.4, 6)
    effects = dice.normal(0.5, np.sqrt(variances + 0.3))
    theirs = combine_effects(effects, variances, method_re="dl", use_t=True)
    ours = random_effects(effects, variances, spread="DL", floor=False)
    assert ours.q == pytest.approx(theirs.q, rel=1e-9)
    assert cochran_q(effects, variances) == pytest.approx(theirs.q, rel=1e-9)
    if theirs.tau2 <= 0:  # theirs goes on with a variance below none
        assert ours.tau2 == 0
        return
    assert ours.tau2 == pytest.approx(theirs.tau2, rel=1e-9)
    assert ours.estimate == pytest.approx(theirs.mean_effect_re, rel=1e-9)
    assert ours.se == pytest.approx(theirs.sd_eff_w_re_hksj, rel=1e-9)
    assert ours.weights == pytest.approx(theirs.weights_rel_re, rel=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_how_a_panel_agrees_comes_from_the_mean_squares_of_least_squares(seed: int) -> None:
    # ICC(3,1) = (between − error) ÷ (between + (k − 1) error): Shrout & Fleiss (1979).
    dice = np.random.default_rng(seed)
    table = dice.normal(0, 1, (6, 1)) + dice.normal(0, 0.5, 4) + dice.normal(0, 0.6, (6, 4))
    row, column = np.indices((6, 4))
    rows, columns = np.eye(6)[row.ravel()], np.eye(4)[column.ravel()]
    both = sm.OLS(table.ravel(), np.hstack([rows, columns[:, 1:]])).fit()
    without = sm.OLS(table.ravel(), columns).fit()
    between = (without.ssr - both.ssr) / 5
    found = panel_agreement(table)
    assert found is not None
    assert found.these_tasters.value == pytest.approx(
        (between - both.scale) / (between + 3 * both.scale), rel=1e-9
    )
    own, rest = table[:, 0], table[:, 1:].mean(axis=1)
    alike = likeness(own, rest)
    theirs = stats.pearsonr(own, rest)
    bounds = theirs.confidence_interval(0.95)
    assert alike is not None
    assert (alike.value, alike.low, alike.high) == pytest.approx(
        (theirs.statistic, bounds.low, bounds.high), rel=1e-9
    )


@pytest.mark.parametrize("test", list(DifferenceTest))
def test_telling_apart_is_an_exact_test_of_a_share(test: DifferenceTest) -> None:
    for n in (6, 17):
        fewest = critical_number(n, CHANCE[test])
        assert fewest is not None
        for correct in range(n + 1):
            p = stats.binomtest(correct, n, CHANCE[test], alternative="greater").pvalue
            found = discriminate(correct, n, test)
            assert found is not None
            assert found.p == pytest.approx(p, rel=1e-9)
            assert (p <= 0.05) == (correct >= fewest)


@pytest.mark.parametrize("seed", SEEDS)
def test_times_that_are_cut_short_are_scipys(seed: int) -> None:
    dice = np.random.default_rng(seed)
    ends = dice.permutation(np.arange(1, 13)).astype(float)
    seen = dice.random(12) < 0.7
    seen[:2] = True
    theirs = stats.ecdf(stats.CensoredData(uncensored=ends[seen], right=ends[~seen])).sf
    masses = turnbull(ends, np.where(seen, ends, np.inf))
    for at, left in zip(theirs.quantiles, theirs.probabilities, strict=True):
        ours = sum(mass.share for mass in masses if mass.high > at)
        assert ours == pytest.approx(left, abs=1e-6)
    middle = dice.lognormal(3.0, 0.5, 14)
    low, high = 10 * np.floor(middle / 10) + 0.5, 10 * np.floor(middle / 10) + 10.5
    held: Any = stats.CensoredData(interval=np.column_stack([low, high]))
    with np.errstate(divide="ignore"):  # its search tries shapes that no reading allows
        shape, _, scale = stats.lognorm.fit(held, floc=0)
    fit = arm_times(low, high)
    assert fit is not None
    assert math.exp(float(fit.coefficients[0])) == pytest.approx(scale, rel=2e-3)
    assert fit.scale == pytest.approx(shape, rel=5e-3)


def test_trigamma_turned_round_is_scipys() -> None:
    for value in (1e-4, 0.03, 0.5, 1.6449, 7.0, 1e3):
        assert special.polygamma(1, trigamma_inverse(value)) == pytest.approx(value, rel=1e-8)


def test_percentiles_of_many_pieces_are_those_of_scipys_bootstrap() -> None:
    dice = np.random.default_rng(4)
    sample = dice.normal(0.0, 1.0, 1000)
    theirs = stats.bootstrap((sample,), np.mean, n_resamples=2000, method="percentile", rng=dice)
    ours = expanded_percentiles(theirs.bootstrap_distribution, sample.size)
    bounds = theirs.confidence_interval
    assert ours == pytest.approx((bounds.low, bounds.high), abs=4e-3)


@pytest.mark.parametrize("seed", SEEDS)
def test_unbroken_runs_are_those_that_scipy_labels(seed: int) -> None:
    mask = np.random.default_rng(seed).random(40) < 0.15 * seed
    labels, _ = ndimage.label(mask)
    theirs = [[span.start, span.stop] for (span,) in ndimage.find_objects(labels)]
    assert runs_of(mask).tolist() == theirs
    assert runs_of(mask[:0]).shape == (0, 2)
