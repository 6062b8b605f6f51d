"""Source: an invented table of sixty tasters, worked by hand (data/README.md)."""

import math

from pitjournal.science.sensory.just_about_right import penalty
from tests.science.reference import check, column, rows

SIDES = {"too_little": -1.0, "just_right": 0.0, "too_much": 1.0}
ROWS = rows("jar_penalty_constructed")


def test_that_the_penalties_are_those_worked_by_hand() -> None:
    got = penalty(
        [SIDES[row["smoke_level"]] for row in ROWS],
        column("jar_penalty_constructed", "liking_1_to_9"),
    )
    assert got is not None
    check("JR01", 100 * got.too_little.share)
    check("JR02", 100 * got.share_right)
    check("JR03", 100 * got.too_much.share)
    check("JR04", got.mean_right)
    check("JR05", got.too_little.mean)
    check("JR06", got.too_much.mean)
    check("JR07", got.mean)
    check("JR08", got.too_little.drop)
    check("JR09", got.too_much.drop)
    check("JR10", got.too_little.penalty)
    check("JR11", got.too_much.penalty)
    check("JR12", got.penalty)
    little, much = got.too_little.difference, got.too_much.difference
    assert little is not None
    assert much is not None
    check("JR14", little.estimate / (little.se or math.nan))
    check("JR15", little.p)
    check("JR16", much.estimate / (much.se or math.nan))
    check("JR17", much.df)
    assert got.too_little.reported
    assert got.n == 60


def test_that_a_side_nobody_named_costs_nothing_known() -> None:
    got = penalty([0.0, 0.0, 1.0, math.nan], [7.0, 8.0, 5.0, 9.0])
    assert got is not None
    assert (got.too_little.mean, got.too_little.difference) == (None, None)
    assert got.too_much.drop == 2.5
    assert got.n == 3


def test_that_all_just_right_have_no_penalty() -> None:
    got = penalty([0.0, 0.0], [7.0, 8.0])
    assert got is not None
    assert got.penalty is None
    none_right = penalty([1.0, -1.0], [7.0, 8.0])
    assert none_right is not None
    assert none_right.too_much.drop is None
    assert penalty([], []) is None
