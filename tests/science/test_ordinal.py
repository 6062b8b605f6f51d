"""Source: Randall (1989) wine bitterness; results of a package article (data/README.md)."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import logistic

from pitjournal.science.sensory.ordinal import (
    OrdinalFit,
    cumulative_link,
    share_higher,
    shares_higher,
)
from tests.science.reference import check, column, rows

ROWS = rows("wine_bitterness_randall1989")
COLUMNS = np.array([[float(r["temp"] == "warm"), float(r["contact"] == "yes")] for r in ROWS])
RATINGS = column("wine_bitterness_randall1989", "rating")


def test_that_the_wine_has_its_published_effects() -> None:
    got = cumulative_link(RATINGS, COLUMNS)
    assert got is not None
    check("OR01", float(got.effects[0]))
    check("OR02", float(got.errors[0]))
    check("OR03", float(got.effects[1]))
    check("OR04", float(got.errors[1]))
    for place, identity in enumerate(("OR05", "OR06", "OR07", "OR08")):
        check(identity, float(got.thresholds[place]))
    check("OR11", got.log_likelihood)
    chances = got.chances([1.0, 1.0])
    for place, identity in enumerate(("OR38", "OR39", "OR40", "OR41", "OR42")):
        check(identity, float(chances[place]))
    shares = shares_higher(got)
    assert shares is not None
    assert shares[0] == pytest.approx(share_higher(2.5031), abs=0.001)
    assert shares[1] < shares[0] < shares[2]


@pytest.mark.parametrize("effect", [-3.0, -0.5, 0.0, 1e-5, 0.8, 2.5031, 12.0])
def test_that_the_share_of_pairs_is_what_a_reference_library_integrates(effect: float) -> None:
    # Two logistic curves, one moved by the effect: the chance that a draw of it lies higher.
    def higher(at: float) -> float:
        return float(logistic.pdf(at) * logistic.sf(at - effect))

    whole, _ = quad(higher, -60, 60, epsabs=1e-12)
    assert share_higher(effect) == pytest.approx(whole, abs=1e-7)


def test_that_a_probit_has_its_computed_effects() -> None:
    got = cumulative_link(RATINGS, COLUMNS, "probit")
    assert got is not None
    check("OR35", float(got.effects[0]))
    check("OR36", float(got.effects[1]))
    assert shares_higher(got) is None


def test_that_arms_the_steps_separate_fully_have_no_model() -> None:
    assert cumulative_link([1, 1, 1, 5, 5, 5], [0, 0, 0, 1, 1, 1]) is None


def test_that_level_ratings_and_one_arm_have_no_model() -> None:
    assert cumulative_link([5, 5, 5], [0, 1, 0]) is None
    assert cumulative_link([1, 2, 3], [1, 1, 1]) is None
    assert cumulative_link([math.nan], [1.0]) is None


def test_that_a_missing_rating_is_left_out() -> None:
    whole = cumulative_link(RATINGS, COLUMNS)
    more = cumulative_link([*RATINGS, math.nan], np.vstack([COLUMNS, [1.0, 0.0]]))
    assert isinstance(whole, OrdinalFit)
    assert more is not None
    assert more.n == whole.n
    assert list(more.effects) == pytest.approx(list(whole.effects))
