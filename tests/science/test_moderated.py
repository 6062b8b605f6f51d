"""Smyth's moderated t.

Sources: trigammaInverse in the stored test results of the package that Smyth wrote for it (limma,
tests/limma-Tests.Rout.save, "published"); the rest computed apart with mpmath 1.4 at 40 digits from
the formulas of Smyth (2004), section 6.2: e = log s² − ψ(d/2) + log(d/2), ψ₁(d₀/2) =
Σ(e − ē)² ÷ (n − 1) − mean ψ₁(d/2), s₀² = exp(ē + ψ(d₀/2) − log(d₀/2)).
"""

import math

import numpy as np
import pytest

from pitjournal.science.comparison.moderated import (
    Prior,
    drawn_to,
    moderated,
    trigamma_inverse,
    usual_variance,
)
from tests.science.reference import check

SPREADS = [0.8, 0.12, 2.4, 0.5, 1.1, 0.05]
FREEDOMS = [4.0, 6.0, 4.0, 8.0, 5.0, 6.0]


def test_that_trigamma_is_turned_round_as_published() -> None:
    check("MO01", trigamma_inverse(1e-6))
    check("MO02", trigamma_inverse(5.0))
    check("MO03", trigamma_inverse(1e6))


def test_that_what_is_usual_is_found_by_moments_of_logarithms() -> None:
    got = usual_variance(SPREADS, FREEDOMS)
    assert got is not None
    check("MO04", got.df)
    check("MO05", got.variance)
    check("MO06", drawn_to(SPREADS[2], FREEDOMS[2], got))


def test_that_cooks_as_alike_as_chance_lend_their_common_spread() -> None:
    got = usual_variance([1.0, 1.1, 0.9, 1.0], [3, 3, 3, 3])
    assert got is not None
    assert math.isinf(got.df)
    assert got.variance == pytest.approx(1.0)  # (1 + 1.1 + 0.9 + 1) ÷ 4
    assert got.worth == 3  # three past cooks and this one
    assert drawn_to(2.0, 3, got) == pytest.approx(1.5)  # (3 × 1 + 3 × 2) ÷ 6


def test_that_fewer_than_three_past_cooks_lend_nothing() -> None:
    assert usual_variance([1.0, 2.0, 0.0, 1.0], [3, 3, 3, 3]) is None


def test_that_the_interval_is_students_with_the_freedom_of_both() -> None:
    # 5 degrees of freedom: t 2.5706 (Student's table); variance (2 × 1 + 3 × 2) ÷ 5 = 1.6.
    got = moderated(0.5, 2.0, 3.0, 0.25, Prior(1.0, 2.0, 30.0, 4), 8)
    assert got.df == 5
    assert got.low == pytest.approx(0.5 - 2.5706 * math.sqrt(0.4), abs=1e-4)


@pytest.mark.parametrize("prior", [math.inf, 8.0])
def test_that_a_borrowed_spread_covers_and_is_sharper(prior: float) -> None:
    """600 seeded cooks of three pairs with four past ones: nominal 95 %, and a fifth shorter."""
    lot = np.random.default_rng(12)
    held, shorter = 0, []
    for _ in range(600):
        true = np.ones(5) if math.isinf(prior) else prior / lot.chisquare(prior, 5)
        found = true * lot.chisquare(2, 5) / 2
        usual = usual_variance(found, [2.0] * 5)
        assert usual is not None
        estimate = lot.normal(0, math.sqrt(true[-1] / 3))
        got = moderated(estimate, found[-1], 2.0, 1 / 3, usual, 6)
        assert got.low is not None
        assert got.high is not None
        held += got.low <= 0 <= got.high
        shorter.append((got.high - got.low) / (2 * 4.3027 * math.sqrt(found[-1] / 3)))
    assert 0.93 - 0.018 <= held / 600 <= 0.97 + 0.014
    assert np.mean(np.array(shorter) < 1) > 0.6
