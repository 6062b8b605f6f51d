"""Round numbers along a scale, against a published example, and for any range."""

from math import inf, isfinite, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.science.scale import is_known, multiples, round_step, same, span_about


def test_that_the_published_example_of_nice_numbers_has_its_step() -> None:
    # P. Heckbert, "Nice Numbers for Graph Labels", Graphics Gems (1990), p. 61: data from 105 to
    # 543 are labelled every 100 (from memory).
    step = round_step(543 - 105, 5)
    assert step == 100
    assert multiples(105, 543, step) == [200, 300, 400, 500]


@pytest.mark.parametrize(
    ("low", "high", "one"),
    [(250.0, 250.0 - 2.8e-14, True), (0.0, 5e-324, True), (1.0, 1.001, False), (0.0, 1e-9, False)],
)
def test_that_numbers_are_the_same_where_only_rounding_parts_them(
    low: float, high: float, one: bool
) -> None:
    # IEEE 754: doubles next to 250 lie 2.8e-14 apart.
    assert same(low, high) is one


@given(values=st.lists(st.floats()))
def test_that_a_span_always_has_ends_that_differ_and_holds_what_is_known(
    values: list[float],
) -> None:
    low, high = span_about(values)
    assert isfinite(low)
    assert isfinite(high)
    assert low < high
    assert all(low <= value <= high for value in values if is_known(value))


@pytest.mark.parametrize("bad", [nan, inf, -inf, 1e200, None])
def test_that_what_is_no_measurement_has_no_place(bad: float | None) -> None:
    assert not is_known(bad)
    assert span_about([bad]) == (0.0, 1.0)


@given(st.floats(-1e9, 1e9), st.floats(1e-6, 1e9))
def test_that_each_multiple_is_written_as_short_as_its_step(low: float, width: float) -> None:
    step = round_step(width, 5)
    found = multiples(low, low + width, step)
    assert all(value == float(f"{value:.15g}") for value in found)


def test_that_steps_without_number_are_not_listed() -> None:
    assert multiples(0.0, 1e12, 1.0) == []
    assert multiples(250.0, 250.0, 0.0) == []
    assert multiples(nan, 1.0, 0.1) == []
