"""Sources: Bates et al. (2015) sleepstudy; an invented nested table worked by two packages."""

import math
import random
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.regression.mixed_linear_model import VCSpec

from pitjournal.science.comparison.nested import nested_difference, piece_means
from pitjournal.science.comparison.paired import Estimate, pooled_difference
from tests.science.reference import check, rows

TABLE = rows("nested_tasters")
SCORES = [float(r["score"]) for r in TABLE]
ARMS = [int(r["treatment"] == "wrapped") for r in TABLE]
PIECES = [int(r["piece"][1:]) for r in TABLE]


def test_that_the_piece_is_the_replicate_and_not_the_taster() -> None:
    got = nested_difference(SCORES, ARMS, PIECES, arm=1, control=0)
    assert got.se is not None
    check("MX60", got.estimate)
    check("MX61", got.se)
    check("MX62", got.df)
    check("MX63", got.estimate / got.se)
    check("MX64", got.p)
    assert got.n == 8


def test_that_no_spread_between_pieces_still_counts_pieces() -> None:
    """Scores shuffled so that every piece has the same mean: the taster never replicates."""
    scores = [1.0, 3.0, 1.0, 3.0, 1.0, 3.0, 1.5, 3.5, 1.5, 3.5, 1.2, 3.4]
    pieces = [1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6]
    got = nested_difference(scores, [0] * 6 + [1] * 6, pieces, 1, 0)
    assert got.df == 4
    assert got.estimate == pytest.approx((2.5 + 2.5 + 2.3) / 3 - 2)


def test_that_unequal_numbers_of_tasters_do_not_add_degrees_of_freedom() -> None:
    kept = [i for i in range(len(SCORES)) if i % 5]
    got = nested_difference(
        [SCORES[i] for i in kept], [ARMS[i] for i in kept], [PIECES[i] for i in kept], 1, 0
    )
    assert got.df is not None
    assert got.df <= 6
    assert got.n == 8


def test_that_blocks_and_tasters_are_taken_out() -> None:
    """Blocks add 0, 10, 20, 30 and tasters 0, 1, 2; the arm adds 2; small noise."""
    lot = np.random.default_rng(11)
    rows_ = [
        (
            2.0 * arm + 10.0 * block + taster + piece_noise + 0.1 * lot.standard_normal(),
            arm,
            block,
            taster,
        )
        for block in range(4)
        for arm in range(2)
        for piece_noise in [0.3 * lot.standard_normal()]
        for taster in range(3)
    ]
    scores, arms, blocks, tasters = (list(part) for part in zip(*rows_, strict=True))
    pieces = [2 * b + a for a, b in zip(arms, blocks, strict=True)]
    got = nested_difference(scores, arms, pieces, 1, 0, block_codes=blocks, taster_codes=tasters)
    assert got.low is not None
    assert got.high is not None
    assert got.low < 2 < got.high
    assert got.high - got.low < 3
    assert got.df == pytest.approx(3, abs=1e-2)


def test_that_one_piece_an_arm_has_no_interval() -> None:
    got = nested_difference([5.0, 6.0, 7.0, 9.0], [0, 0, 1, 1], [1, 1, 2, 2], 1, 0)
    assert got.estimate == pytest.approx(2.5)
    assert (got.low, got.df) == (None, None)


def test_that_level_scores_have_no_interval() -> None:
    got = nested_difference([5.0] * 8, [0] * 4 + [1] * 4, [1, 1, 2, 2, 3, 3, 4, 4], 1, 0)
    assert (got.estimate, got.low) == (0.0, None)


def test_that_tasters_who_agree_fully_leave_the_pieces_as_replicates() -> None:
    scores = [1.0, 1.0, 2.0, 2.0, 4.0, 4.0, 3.0, 3.0, 4.5, 4.5, 7.0, 7.0]
    got = nested_difference(scores, [0] * 6 + [1] * 6, [1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6], 1, 0)
    plain = pooled_difference([1.0, 2.0, 4.0], [3.0, 4.5, 7.0])
    assert got.df == 4
    assert got.low == pytest.approx(plain.low)


def test_that_piece_means_leave_out_what_is_missing() -> None:
    means, (arms,) = piece_means([1.0, 3.0, math.nan, 7.0], [4, 4, 9, 9], [0, 0, 1, 1])
    assert list(means) == [2.0, 7.0]
    assert list(arms) == [0, 1]


def test_that_a_place_in_the_serving_is_held_as_a_reference_library_holds_it() -> None:
    # Invented: arm 1 is one point better, each place later costs 0.3; arm 0 is served first.
    from statsmodels.regression.mixed_linear_model import MixedLM  # noqa: PLC0415 - pandas, for one test

    lot = np.random.default_rng(7)
    pieces = np.tile(np.arange(8), 5)
    tasters = np.repeat(np.arange(5), 8)
    arms = (pieces >= 4).astype(np.int64)
    places = np.concatenate([np.r_[lot.permutation(4), 3 + lot.permutation(4)] for _ in range(5)])
    own = lot.normal(0, 0.4, 8)
    kind = np.array([0.9, -0.8, 0.4, 0.0, -0.7])
    values = 6 + arms - 0.3 * places + own[pieces] + kind[tasters] + 0.3 * lot.standard_normal(40)
    got = nested_difference(values, arms, pieces, 1, 0, taster_codes=tasters, covariate=places)
    frame = np.column_stack([np.ones(40), arms, places])
    parts = {
        "piece": np.equal.outer(pieces, np.arange(8)).astype(float),
        "taster": np.equal.outer(tasters, np.arange(5)).astype(float),
    }
    fit = MixedLM(
        values,
        frame,
        groups=np.ones(40),
        exog_vc=VCSpec(
            list(parts),
            [[[str(n) for n in range(part.shape[1])]] for part in parts.values()],
            [[part] for part in parts.values()],
        ),
    ).fit(reml=True)
    assert got.estimate == pytest.approx(fit.params[1], abs=0.01)
    assert got.se == pytest.approx(fit.bse[1], rel=0.02)
    plain = nested_difference(values, arms, pieces, 1, 0, taster_codes=tasters)
    assert abs(plain.estimate - 1) > abs(got.estimate - 1)
    assert got.df is not None
    assert got.df <= 5  # eight pieces less two arms and a slope


def tasted(
    base: Sequence[float], orders: Sequence[Sequence[int]], kind: Sequence[float], flat: float
) -> Estimate:
    """Return the difference of two arms of equal size, each taster as kind as said."""
    rows = [
        (base[piece] + kind[who] + flat * ((3 * piece + who) % 2), piece, who, place)
        for who, order in enumerate(orders)
        for place, piece in enumerate(order)
    ]
    values, pieces, tasters, places = zip(*rows, strict=True)
    arms = [piece // (len(base) // 2) for piece in pieces]
    return nested_difference(values, arms, pieces, 1, 0, taster_codes=tasters, covariate=places)


@pytest.mark.parametrize("kind", [(0.0, 0.0, 0.0), (1.0, 0.0, -2.0)])
def test_that_tasters_who_agree_exactly_say_the_difference_of_the_means(
    kind: tuple[float, ...],
) -> None:
    """By hand: (7 + 6 + 8) ÷ 3 − (5 + 6 + 5) ÷ 3 = 5 ÷ 3; pooled variance (1/3 + 1) ÷ 2, t 2.7764."""
    for seed in range(40):
        lot = random.Random(seed)
        orders = [lot.sample(range(6), 6) for _ in range(3)]
        found = tasted((5, 6, 5, 7, 6, 8), orders, kind, 0.0)
        assert found.estimate == pytest.approx(5 / 3)
        assert found.low == pytest.approx(5 / 3 - 2.7764 * math.sqrt(2 / 3 * 2 / 3), abs=1e-4)


@given(st.integers(0, 10_000), st.lists(st.integers(-5, 5), min_size=3, max_size=3))
@settings(max_examples=40, deadline=None)
def test_that_a_taster_who_is_kinder_throughout_changes_nothing(seed: int, kind: list[int]) -> None:
    """Where everyone scored everything, a constant a taster is orthogonal to arms and places."""
    lot = random.Random(seed)
    orders = [lot.sample(range(6), 6) for _ in range(3)]
    base = [float(lot.randint(3, 8)) for _ in range(6)]
    for flat in (0.0, 1.0):
        plain = tasted(base, orders, (0.0, 0.0, 0.0), flat)
        kinder = tasted(base, orders, kind, flat)
        turned = tasted(base, [orders[2], orders[0], orders[1]], (0.0, 0.0, 0.0), 0.0)
        assert kinder.estimate == pytest.approx(plain.estimate, abs=1e-6)
        if not flat:
            assert turned.estimate == pytest.approx(plain.estimate, abs=1e-6)


def test_that_a_place_every_piece_kept_is_left_out() -> None:
    found = tasted((5, 6, 5, 7, 6, 8), [list(range(6))] * 3, (0.0, 0.0, 0.0), 0.0)
    assert found.estimate == pytest.approx(5 / 3)
