"""Looks after every cook spend 5 % between them, whatever the cooks are like.

Levels by hand: 0.035 of the first cook is 0.05 ÷ 0.035 of the 0.05 that may be spent. The error of
a whole series is simulated here in short, and through the findings in `tests.benchmarks.coverage`.
"""

import numpy as np
import pytest

from pitjournal.science.comparison.interim_looks import (
    ALIKE_LEVEL,
    APART_LEVEL,
    FIRST_LEVEL,
    Look,
    first_p,
    series_p,
    times_as_long,
)
from pitjournal.science.comparison.pooled import random_effects, shared_variances


def test_that_a_look_is_scaled_to_what_it_may_spend() -> None:
    assert first_p(FIRST_LEVEL) == pytest.approx(0.05)
    assert Look(5, ALIKE_LEVEL / 2).spent == pytest.approx(0.025)
    assert Look(5, APART_LEVEL, alike=False).spent == pytest.approx(0.05)
    assert Look(16, ALIKE_LEVEL / 4).spent == pytest.approx(0.05)  # (8 ÷ 16)² of it
    assert first_p(None) == 1


@pytest.mark.parametrize(
    "look", [Look(2, 1e-9), Look(2, 1e-9, alike=False), Look(3, 1e-9, alike=False)]
)
def test_that_too_few_joined_cooks_find_nothing(look: Look) -> None:
    assert look.spent == 1


def test_that_a_series_is_found_where_its_clearest_look_was() -> None:
    looks = [Look(1, 0.2), Look(2, 0.001), Look(3, 0.003), Look(4, 0.02)]
    found, after = series_p(looks)
    assert found == pytest.approx(0.003 * 0.05 / 0.006)
    assert after == 3
    assert series_p([]) == (1.0, 0)
    assert series_p([Look(1, 0.9)]) == (1.0, 0)


def test_that_the_cost_of_looking_is_the_ratio_of_quantiles() -> None:
    # Normal table: 2.576 at 1 % and 1.960 at 5 %; Student's table, 10 df: 3.169 and 2.228.
    assert times_as_long(0.01) == pytest.approx(2.576 / 1.960, abs=1e-3)
    assert times_as_long(0.01, 10) == pytest.approx(3.169 / 2.228, abs=1e-3)


@pytest.mark.parametrize("between", [0.0, 1.0])
def test_that_a_series_of_joined_cooks_finds_nothing_where_nothing_is(between: float) -> None:
    """300 seeded series of eight cooks of three pairs; cooks alike, or scattering about none."""
    lot = np.random.default_rng(8)
    found = 0
    for _ in range(300):
        pairs = lot.normal(0, between, 8)[:, None] + lot.normal(0, 1, (8, 3))
        means, spreads = pairs.mean(axis=1), pairs.var(axis=1, ddof=1)
        looks = []
        for k in range(3, 9):
            own = shared_variances(spreads[:k], [2] * k, [1 / 3] * k)
            joined = random_effects(means[:k], own)
            looks.append(Look(k, joined.p, alike=False))
        found += series_p(looks)[0] < 0.05
    assert found / 300 <= 0.05
