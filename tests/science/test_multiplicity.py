"""Source: Benjamini & Hochberg (1995), fifteen p values."""

import math

import numpy as np
import pytest

from pitjournal.science.comparison.multiplicity import holm
from tests.science.reference import check, column

P = column("p_adjust_bh1995", "p")


def test_that_the_fifteen_p_values_are_adjusted_as_published() -> None:
    assert holm(P) == pytest.approx(column("p_adjust_bh1995", "holm"), abs=1e-9)
    check("MT06", int(np.sum(holm(P) <= 0.05)))


def test_that_the_order_given_is_kept() -> None:
    turned = holm(P[::-1])
    assert list(turned[::-1]) == list(holm(P))


def test_that_a_missing_p_value_is_no_look() -> None:
    got = holm([0.02, math.nan, 0.5])
    assert got[0] == pytest.approx(0.04)
    assert math.isnan(got[1])
    assert holm([]).size == 0
