"""The randomisation test and the even draw, against published numbers.

Darwin's maize, crossed less self-fertilised, in eighths of an inch: Fisher (1935), The Design of
Experiments, section 21: of the 32,768 ways 863 have a sum of 314 or more, so 1,726 lie as far off
either way, 5.27 %. Data and count from memory.
"""

import numpy as np
import pytest

from pitjournal.science.comparison.lots import (
    MOST,
    allocations,
    chance_by_lot,
    even_enough,
    unevenness,
)

MAIZE = (49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48)


def test_that_darwins_maize_comes_out_as_fisher_counted_it() -> None:
    arms = [0, 1] * len(MAIZE)
    blocks = np.repeat(np.arange(len(MAIZE)), 2)
    values = np.ravel([(-d / 2, d / 2) for d in MAIZE])
    ways, whole = allocations(arms, blocks)
    assert whole
    assert ways.shape[0] == 32_768
    assert chance_by_lot(values, ways, 1, 0, whole=whole) == 1726 / 32_768


def test_that_two_by_three_without_blocks_can_be_dealt_in_twenty_ways() -> None:
    ways, whole = allocations([0, 0, 0, 1, 1, 1], [0] * 6)
    assert whole
    assert len({tuple(way) for way in ways}) == 20  # 6! ÷ (3! 3!)
    assert list(ways[0]) == [0, 0, 0, 1, 1, 1]
    # Wholly apart: this way and its mirror, 2 of 20.
    assert chance_by_lot([1, 2, 3, 4, 5, 6], ways, 1, 0, whole=whole) == pytest.approx(0.1)


def test_that_too_many_ways_are_drawn_by_lot_and_agree_with_all_of_them() -> None:
    rng = np.random.default_rng(1)
    blocks = np.repeat(np.arange(20), 2)
    ways, whole = allocations([0, 1] * 20, blocks)
    assert not whole
    assert ways.shape[0] == MOST
    values = rng.normal(size=40)
    # The normal curve is a reference for so many pairs (Fisher, as above).
    d = values[1::2] - values[::2]
    z = abs(d.sum()) / np.sqrt(np.sum(d**2))
    from scipy.stats import norm  # noqa: PLC0415 - for one test

    assert chance_by_lot(values, ways, 1, 0, whole=False) == pytest.approx(2 * norm.sf(z), abs=0.02)


def test_that_an_even_draw_leaves_the_lot_enough_ways_and_lessens_the_difference() -> None:
    # Morgan & Rubin (2012): taking the evenest share of draws lessens the variance of the
    # difference in what is evened, by more the smaller the share.
    rng = np.random.default_rng(2)
    blocks = np.repeat(np.arange(12), 2)
    ways, _ = allocations([0, 1] * 12, blocks)
    uneven = unevenness(ways, rng.normal(1400, 120, 24))
    kept = uneven[uneven <= even_enough(uneven)]
    assert kept.size == pytest.approx(0.1 * uneven.size, rel=0.01)
    assert kept.mean() < 0.05 * uneven.mean()
    few, _ = allocations([0, 1] * 3, np.repeat(np.arange(3), 2))
    uneven = unevenness(few, rng.normal(1400, 120, 6))
    assert np.count_nonzero(uneven <= even_enough(uneven)) >= 4  # half of eight
