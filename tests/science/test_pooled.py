"""Source: the BCG trials (Colditz et al. 1994) with published and recomputed results."""

import math

import numpy as np
import pytest

from pitjournal.science.comparison.paired import paired_difference
from pitjournal.science.comparison.pooled import over_cooks, random_effects, shared_variances
from tests.science.reference import check, column

BCG = (column("bcg_meta", "log_rr"), column("bcg_meta", "var_log_rr"))


def test_that_moments_give_the_published_random_effects() -> None:
    got = random_effects(*BCG, spread="DL", interval="normal")
    assert got.se is not None
    check("MA04", got.q)
    check("MA05", got.tau2)
    check("MA16", got.tau2)
    check("MA06", got.estimate)
    check("MA07", got.low)
    check("MA08", got.high)
    check("MA09", got.estimate / got.se)
    check("MA17", got.se)
    check("MA10", 100 * got.i2)
    check("MA11", 1 / (1 - got.i2))
    check("MA12", got.tau2_low)
    check("MA13", got.tau2_high)


def test_that_restricted_likelihood_gives_the_published_spread() -> None:
    got = random_effects(*BCG, interval="normal")
    check("MA14", got.tau2)
    check("MA15", got.estimate)
    check("MA18", got.se)
    check("MA19", got.low)
    check("MA20", got.high)
    check("MA21", 100 * got.i2)
    check("MA30", got.prediction_low)
    check("MA31", got.prediction_high)


def test_that_hartung_and_knapp_widen_the_interval() -> None:
    got = random_effects(*BCG)
    assert got.se is not None
    check("MA22", got.se)
    check("MA23", got.estimate / got.se)
    check("MA24", got.p)
    check("MA25", got.low)
    check("MA26", got.high)
    check("MA32", got.prediction_low)
    check("MA33", got.prediction_high)
    assert got.df == 12
    moments = random_effects(*BCG, spread="DL")
    check("MA27", moments.se)
    check("MA28", moments.low)
    check("MA29", moments.high)


def test_that_cooks_of_equal_precision_are_a_plain_t() -> None:
    """With one variance for all, Hartung–Knapp is Student's t on the cooks, by algebra."""
    effects = [0.3, 1.1, -0.2, 0.8]
    got = random_effects(effects, [0.1] * 4)
    plain = paired_difference([0.0] * 4, effects)
    assert got.estimate == pytest.approx(plain.estimate)
    assert got.low == pytest.approx(plain.low)
    assert got.weights == pytest.approx((0.25,) * 4)


def test_that_cooks_that_agree_have_no_spread_between_them() -> None:
    got = random_effects([1.0, 1.0, 1.0], [0.2, 0.3, 0.4])
    assert got.tau2 == 0
    assert got.low is not None
    assert got.low < 1 < (got.high or 0)


def test_that_one_cook_stands_alone_and_none_says_nothing() -> None:
    one = random_effects([2.0, 1.0], [0.25, 0.0])
    assert (one.estimate, one.se, one.low, one.n) == (2.0, 0.5, None, 1)
    none = random_effects([np.nan], [1.0])
    assert math.isnan(none.estimate)


def test_that_cooks_share_one_spread_within() -> None:
    """(2 × 1 + 4 × 4) ÷ 6 = 3, by hand; the third cook has one pair and borrows it."""
    got = shared_variances([1.0, 4.0, np.nan], [2, 4, 0], [1 / 3, 1 / 5, 1.0])
    assert list(got) == pytest.approx([1.0, 0.6, 3.0])
    assert np.all(np.isnan(shared_variances([np.nan], [0], [1.0])))


def test_that_a_shared_spread_covers_where_own_ones_do_not() -> None:
    """250 sets of five cooks of three pairs each, seeded: nominal 95 %."""
    lot = np.random.default_rng(5)
    own = shared = 0
    for _ in range(250):
        differences = lot.normal(0, 0.5, 5)[:, None] + lot.normal(0, 1, (5, 3))
        means, spreads = differences.mean(axis=1), differences.var(axis=1, ddof=1)
        alone = random_effects(means, spreads / 3)
        joined = random_effects(means, shared_variances(spreads, [2] * 5, [1 / 3] * 5))
        assert alone.low is not None
        assert alone.high is not None
        assert joined.low is not None
        assert joined.high is not None
        own += alone.low < 0 < alone.high
        shared += joined.low < 0 < joined.high
    assert shared / 250 > 0.92
    assert shared > own


FIVE = (
    [0.5300713252, -0.4844875426, 0.6625891564, 0.4723959089, 0.6135719911],
    [s**2 for s in (0.4159957644, 0.3298722012, 0.3757300289, 0.2746608754, 0.4587564892)],
)


def test_that_the_floor_is_that_of_roever_knapp_and_friede() -> None:
    floored, bare = random_effects(*FIVE), random_effects(*FIVE, floor=False)
    check("MA50", floored.tau2)
    check("MA51", floored.estimate)
    check("MA52", bare.low)
    check("MA53", bare.high)
    check("MA54", floored.low)
    check("MA55", floored.high)


def test_that_cooks_that_agree_by_chance_are_no_surer_than_their_pieces() -> None:
    agreeing = [0.9, 1.0, 1.15], [0.16, 0.25, 0.2]
    floored, bare = random_effects(*agreeing), random_effects(*agreeing, floor=False)
    assert floored.tau2 == 0
    check("MA56", floored.se)
    check("MA57", bare.se)
    check("MA58", floored.low)
    check("MA59", floored.high)
    fixed = random_effects(*agreeing, interval="normal")
    assert floored.low is not None
    assert fixed.low is not None
    assert floored.low < fixed.low
    four = random_effects([0.20, 0.25, 0.22, 0.18], [0.04, 0.05, 0.03, 0.045])
    check("MA60", four.estimate)
    check("MA61", four.se)
    check("MA62", four.low)


def test_that_cooks_without_a_spread_of_their_own_are_students_pairs() -> None:
    """Hours of sleep gained by ten people, one drug beside the other (Student 1908, p. 20).

    The mean is 1.58 there; 1.230 and t = 4.062 on nine degrees, with a chance of 0.0028 and
    0.70 to 2.46 for 95 %, are by hand from his ten numbers and a table of t.
    """
    gained = [1.2, 2.4, 1.3, 1.3, 0.0, 1.0, 1.8, 0.8, 4.6, 1.4]
    got = over_cooks(gained)
    assert got.estimate == pytest.approx(1.58)
    assert got.df == 9
    assert got.se == pytest.approx(1.230 / math.sqrt(10), abs=1e-3)
    assert got.p == pytest.approx(0.00283, abs=1e-5)
    assert got.low == pytest.approx(0.700, abs=1e-3)
    assert got.high == pytest.approx(2.460, abs=1e-3)
    assert got.weights == pytest.approx([0.1] * 10)
    assert got.tau2 == pytest.approx(1.230**2, abs=2e-3)


def test_that_cooks_exactly_alike_have_a_mean_and_nothing_about_it() -> None:
    got = over_cooks([0.5, 0.5, 0.5])
    assert (got.estimate, got.tau2, got.q, got.i2) == (0.5, 0.0, 0.0, 0.0)
    assert (got.low, got.high, got.p, got.prediction_low, got.se) == (None, None, None, None, 0.0)
    assert got.weights == pytest.approx([1 / 3] * 3)
