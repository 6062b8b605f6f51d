"""Serving orders. Williams (1949); balanced incomplete blocks; all sets equally often."""

from collections import Counter
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.analysis.tasting.serving import (
    MOST_AT_ONCE,
    SETS,
    balanced_with,
    dealt_by_arm,
    draw_sets,
    serving_orders,
    times_met,
)
from pitjournal.domain.scheme import Asks
from tests.balance import balance_of


@pytest.mark.parametrize("samples", range(2, 9))
def test_that_enough_tasters_carry_over_evenly(samples: int) -> None:
    """Each sample follows each other one equally often, and stands in each place so."""
    orders = serving_orders(samples, balanced_with(samples, 0), seed=5)
    follows = Counter(pair for order in orders for pair in pairwise(order))
    places = Counter(spot for order in orders for spot in enumerate(order))
    assert len(follows) == samples * (samples - 1)
    assert len(set(follows.values())) == 1
    assert len(set(places.values())) == 1


@pytest.mark.parametrize(("samples", "each"), [(6, 5), (7, 4), (9, 5), (9, 4), (11, 5)])
def test_that_a_whole_plan_of_some_each_is_balanced(samples: int, each: int) -> None:
    orders = serving_orders(samples, balanced_with(samples, each), seed=8, each=each)
    assert balance_of(orders, samples) is not None


@given(st.integers(6, 20), st.integers(1, 12), st.integers(3, MOST_AT_ONCE), st.integers(0, 999))
def test_that_samples_are_met_about_equally_often(
    samples: int, tasters: int, each: int, seed: int
) -> None:
    orders = serving_orders(samples, tasters, seed, each)
    assert len(orders) == tasters
    assert all(len(set(order)) == each for order in orders)
    met = Counter(value for order in orders for value in order)
    times = [met[value] for value in range(samples)]
    assert max(times) - min(times) <= 1
    assert orders == serving_orders(samples, tasters, seed, each)


def test_that_few_tasters_of_many_samples_still_meet_every_one() -> None:
    orders = serving_orders(9, 4, seed=1, each=5)
    assert {value for order in orders for value in order} == set(range(9))


def test_that_more_than_there_are_is_all_of_them() -> None:
    assert serving_orders(4, 4, seed=2, each=5) == serving_orders(4, 4, seed=2)


@pytest.mark.parametrize(("asks", "sets"), [(Asks.TRIANGLE, 6), (Asks.DUO_TRIO, 4), (Asks.PAIR, 2)])
def test_that_every_set_is_served_equally_often(asks: Asks, sets: int) -> None:
    """Six orders of a triangle, four of a duo–trio with either reference (ISO 4120, ISO 10399)."""
    assert len(SETS[asks]) == sets
    assert set(Counter(draw_sets(asks, 5 * sets, seed=3)).values()) == {5}
    assert max(Counter(draw_sets(asks, sets - 1, seed=3)).values()) == 1


def test_that_a_triangle_has_two_alike_and_its_odd_one_in_each_place() -> None:
    for one in SETS[Asks.TRIANGLE]:
        assert sorted(Counter(one).values()) == [1, 2]
    odd = Counter(
        place for one in SETS[Asks.TRIANGLE] for place in range(3) if one.count(one[place]) == 1
    )
    assert odd == {0: 2, 1: 2, 2: 2}


def test_that_either_way_is_the_reference_of_a_duo_trio_equally_often() -> None:
    assert Counter(one[0] for one in SETS[Asks.DUO_TRIO]) == {0: 2, 1: 2}
    for one in SETS[Asks.DUO_TRIO]:
        assert sorted(one[1:]) == [0, 1]


def test_that_the_lot_decides_who_gets_which() -> None:
    drawn = {tuple(draw_sets(Asks.TRIANGLE, 6, seed)) for seed in range(50)}
    assert len(drawn) > 40
    assert all(len(set(pair)) == 2 for pair in combinations(sorted(drawn)[:5], 2))


@pytest.mark.parametrize(("tasters", "each"), [(3, 2), (6, 2), (4, 3)])
@pytest.mark.parametrize("arms", ["CCTT", "CTCT", "CCCTTT", "CCTTVV"])
def test_that_nobody_is_left_with_one_arm_and_pieces_are_met_alike(
    tasters: int, each: int, arms: str
) -> None:
    """Arms are even within tasters as far as can be: blocks within a panel (common practice)."""
    for seed in range(200):
        orders = serving_orders(len(arms), tasters, seed, each, arms)
        for order in orders:
            held = Counter(arms[sample] for sample in order)
            assert len(held) == min(each, len(set(arms)))
            assert max(held.values()) - min(held.values()) <= 1
        met = Counter(sample for order in orders for sample in order)
        assert all(met[sample] for sample in range(len(arms)))


def test_that_an_arm_comes_as_early_as_the_other_where_it_can() -> None:
    for seed in range(50):
        orders = serving_orders(4, 6, seed, 2, "CCTT")
        first = Counter("CCTT"[order[0]] for order in orders)
        assert first == {"C": 3, "T": 3}


def test_that_how_often_a_sample_would_be_met_adds_up() -> None:
    """Four tasters of three samples each, six samples: each is met twice; of five, 12 meetings."""
    assert times_met(["a"] * 6, 4, 3) == [2] * 6
    found = times_met(["a", "a", "b", "b", "c"], 4, 3)
    assert sum(found) == 12
    assert max(found) - min(found) <= 2
    assert times_met(["a", "b"], 3, 2) == [3, 3]


@pytest.mark.parametrize(
    ("arms", "each", "by_arm"),
    [
        ("aabb", 2, True),  # a taster could meet both of one arm and none of the other
        ("aabb", 3, False),  # one or two of each, whatever the plan
        ("aabb", 4, False),
        ("aab", 2, True),  # the b may be missed, and there was room for both arms
        ("aab", 1, False),  # one sample cannot hold two arms
        ("aaaab", 4, True),
        ("aaaa", 2, False),  # one arm knows no other
    ],
)
def test_that_arms_are_dealt_where_a_blind_plan_could_serve_too_many_of_one(
    arms: str, each: int, by_arm: bool
) -> None:
    assert dealt_by_arm(len(arms), each, list(arms)) is by_arm
    assert not dealt_by_arm(len(arms) + 1, each, list(arms))
