"""Sources: properties of Williams (1949), identities of balanced blocks (data/README.md)."""

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.science.comparison.designs import (
    balance,
    draw_blocks,
    draw_halves,
    incomplete_blocks,
    williams_rows,
)
from tests.balance import balance_of
from tests.science.reference import check, rows


@pytest.mark.parametrize("row", rows("williams_properties"))
def test_that_a_williams_design_has_its_property(row: dict[str, str]) -> None:
    n = int(row["n_treatments"])
    design = williams_rows(n)
    check(f"WD{n - 1:02}", len(design))
    assert len(design) == int(row["sequences_in_smallest_balanced_set"])
    places = Counter((place, sample) for order in design for place, sample in enumerate(order))
    assert set(places.values()) == {int(row["times_each_treatment_at_each_position"])}
    follows = Counter(pair for order in design for pair in pairwise(order))
    assert len(follows) == int(row["ordered_pairs"])
    assert set(follows.values()) == {int(row["times_each_ordered_pair_adjacent"])}


@given(st.integers(1, 5), st.integers(1, 6), st.integers(1, 3), st.integers(0, 10**6))
def test_that_every_arm_is_in_every_block_equally_often(
    arms: int, blocks: int, per_arm: int, seed: int
) -> None:
    layout = draw_blocks(arms, blocks, seed, per_arm=per_arm)
    assert len(layout) == blocks
    assert all(Counter(places) == dict.fromkeys(range(arms), per_arm) for places in layout)
    assert layout == draw_blocks(arms, blocks, seed, per_arm=per_arm)


def test_that_the_lot_moves_arms_about() -> None:
    first = Counter(draw_blocks(3, 1, seed)[0][0] for seed in range(300))
    assert min(first.values()) > 60  # a fair lot gives 100 each; 60 is five standard deviations


@given(st.integers(0, 30), st.integers(0, 10**6))
def test_that_each_half_is_the_control_equally_often(pairs: int, seed: int) -> None:
    halves = draw_halves(pairs, seed)
    assert len(halves) == pairs
    assert abs(2 * sum(halves) - pairs) <= 1


@pytest.mark.parametrize("row", rows("bib_parameters"))
def test_that_the_identities_of_balanced_blocks_hold(row: dict[str, str]) -> None:
    got = balance(int(row["t_treatments"]), int(row["b_blocks"]), int(row["k_per_block"]))
    assert got is not None
    assert (got.replicates, got.together) == (int(row["r_replicates"]), int(row["lambda_pairs"]))
    assert got.efficiency == pytest.approx(float(row["efficiency_factor"]), abs=1e-9)


def test_that_sizes_that_break_the_identities_are_refused() -> None:
    assert balance(6, 8, 3) is None
    assert balance(4, 2, 2) is None
    assert balance(3, 3, 3) is None


def test_that_the_example_plans_are_balanced() -> None:
    plans: dict[tuple[int, int], list[list[int]]] = {}
    for row in rows("bib_example_plans"):
        key = (int(row["t_treatments"]), int(row["k_per_block"]))
        block = [int(v) - 1 for v in row["treatments_in_block"].split()]
        plans.setdefault(key, []).append(block)
    assert len(plans) == 8
    for (samples, size), plan in plans.items():
        assert balance_of(plan, samples) == balance(samples, len(plan), size)


@pytest.mark.parametrize("samples", range(3, 10))
def test_that_every_plan_made_is_balanced(samples: int) -> None:
    for size in range(2, samples):
        plan = incomplete_blocks(samples, size)
        got = balance_of(plan, samples)
        assert got is not None
        assert got == balance(samples, len(plan), size)


def test_that_seven_samples_by_threes_take_seven_tasters() -> None:
    """The classic plan: t = b = 7, r = k = 3, λ = 1."""
    assert len(incomplete_blocks(7, 3)) == 7
    with pytest.raises(ValueError, match="blocks of 7"):
        incomplete_blocks(7, 7)


def test_that_an_unbalanced_plan_is_seen() -> None:
    assert balance_of([[0, 1], [0, 2]], 3) is None
    assert balance_of([[0, 1], [0, 1, 2]], 3) is None
