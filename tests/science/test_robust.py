"""Sources: Ezekiel (1930) stopping distances; hand arithmetic (data/README.md)."""

import math

from pitjournal.science.robust import theil_sen
from tests.science.reference import check, column


def test_that_the_stopping_distances_have_their_line() -> None:
    got = theil_sen(
        column("stopping_theil_sen", "speed_mph"), column("stopping_theil_sen", "distance_ft")
    )
    assert got is not None
    check("TS01", got.slope)
    check("TS03", got.intercept)
    check("TS04", got.low)
    check("TS05", got.high)
    check("TS10", got.tau)


def test_that_one_outlier_does_not_turn_the_line() -> None:
    got = theil_sen(column("theil_hand_constructed", "x"), column("theil_hand_constructed", "y"))
    assert got is not None
    check("TS20", got.slope)


def test_that_nothing_to_slope_has_no_line() -> None:
    assert theil_sen([1.0, 2.0, math.nan], [1.0, 2.0, 3.0]) is None
    assert theil_sen([1.0, 1.0, 1.0], [1.0, 2.0, 3.0]) is None
    assert theil_sen([1.0, 2.0, 3.0], [5.0, 5.0, 5.0]) is None


def test_that_a_line_through_nearly_nothing_but_ties_is_none() -> None:
    # Sen (1968), eq. 2.6: n(n-1)(2n+5) less the like of each tie; here 300 - 2 * 156 < 0.
    assert theil_sen([1.0, 1.0, 1.0, 1.0, 2.0], [1.0, 2.0, 2.0, 2.0, 2.0]) is None
