"""Source: computed table of pairs (two libraries agree); 34, 15, 10, 5 of the trade confirmed."""

import pytest

from pitjournal.science.comparison.power import (
    assurance,
    noncentrality_shown,
    paired_effect,
    paired_power,
    pairs_assured,
    pairs_needed,
    pairs_needed_exactly,
    pieces_needed,
    two_sample_power,
)
from tests.science.reference import rows


@pytest.mark.parametrize("row", rows("power_paired_t"))
def test_that_the_table_of_pairs_is_met(row: dict[str, str]) -> None:
    effect, power, alpha = (float(row[key]) for key in ("effect_dz", "power", "alpha"))
    pairs = int(row["pairs_rounded_up"])
    assert pairs_needed(effect, power, alpha) == pairs
    assert pairs_needed_exactly(effect, power, alpha) == pytest.approx(
        float(row["pairs_fractional"]), abs=1e-5
    )
    assert paired_power(effect, pairs, alpha) == pytest.approx(
        float(row["power_at_rounded_up"]), abs=1e-7
    )
    if pairs > 2:
        assert paired_power(effect, pairs - 1, alpha) == pytest.approx(
            float(row["power_one_fewer"]), abs=1e-7
        )


@pytest.mark.parametrize(("effect", "pairs"), [(0.5, 34), (0.8, 15), (1.0, 10), (2.0, 5)])
def test_that_the_trades_rule_of_thumb_holds(effect: float, pairs: int) -> None:
    assert pairs_needed(effect) == pairs
    assert pairs_needed(-effect) == pairs


@pytest.mark.parametrize("row", rows("power_two_sample_t"))
def test_that_the_table_of_pieces_an_arm_is_met(row: dict[str, str]) -> None:
    effect = float(row["effect_d"])
    assert pieces_needed(effect) == int(row["n_per_group_rounded_up"])
    assert two_sample_power(effect, float(row["n_per_group_fractional"])) == pytest.approx(
        0.8, abs=1e-6
    )


def test_that_no_effect_takes_no_number_of_pieces() -> None:
    assert pairs_needed(0.0) is None
    assert pieces_needed(0.0) is None
    assert paired_power(1.0, 1) is None
    assert two_sample_power(1.0, 1) is None
    assert paired_effect(1) is None


def test_that_two_pairs_are_always_the_least() -> None:
    assert pairs_needed(1e4) == 2
    assert pieces_needed(1e4) == 2


def test_that_no_effect_is_found_as_often_as_the_level_says() -> None:
    assert paired_power(0.0, 7) == pytest.approx(0.05, abs=1e-9)


@pytest.mark.parametrize("row", rows("power_paired_t"))
def test_that_what_a_difference_could_show_agrees_with_the_table_of_pairs(
    row: dict[str, str],
) -> None:
    # n pairs carry a difference of effect x sqrt(n) standard errors on n - 1 degrees of freedom;
    # the table tells which power that has.
    pairs = int(row["pairs_rounded_up"])
    shown = noncentrality_shown(pairs - 1, float(row["power_at_rounded_up"]), float(row["alpha"]))
    assert shown == pytest.approx(float(row["effect_dz"]) * pairs**0.5, rel=1e-5)


def test_that_no_spread_shows_nothing() -> None:
    assert noncentrality_shown(0.0) is None


@pytest.mark.parametrize("row", rows("power_paired_t"))
def test_that_with_a_spread_known_for_sure_assurance_is_the_power_of_the_table(
    row: dict[str, str],
) -> None:
    effect, power, alpha = (float(row[key]) for key in ("effect_dz", "power", "alpha"))
    pairs = int(row["pairs_rounded_up"])
    found = assurance(2 * effect, 2.0, 1e12, pairs, alpha)
    assert found == pytest.approx(float(row["power_at_rounded_up"]), abs=1e-4)
    if pairs <= 200:
        assert pairs_assured(effect, 1.0, 1e12, power, 200, alpha) == pairs


def test_that_assurance_asks_for_two_pairs_and_a_spread() -> None:
    assert assurance(1.0, 1.0, 5.0, 1) is None
    assert assurance(1.0, 0.0, 5.0, 4) is None
    assert assurance(1.0, 1.0, 0.0, 4) is None
    two = assurance(50.0, 1.0, 5.0, 2)
    assert two is not None
    assert 0.9 < two <= 1.0
    sure, unsure = assurance(1.0, 1.0, 1e9, 12), assurance(1.0, 1.0, 3.0, 12)
    assert sure is not None
    assert unsure is not None
    assert unsure < sure  # what is not known for sure may be larger
    assert pairs_assured(0.0, 1.0, 5.0) is None
    assert pairs_assured(0.01, 1.0, 5.0, most=20) is None
