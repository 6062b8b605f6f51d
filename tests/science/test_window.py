"""The scale of feel is common practice, no source; the bounds follow from the definitions.

The invented table of windows has its bounds worked out beside it (data/README.md).
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.science.times.leeway import (
    SeenEnd,
    hold_window,
    leeway_interval,
    temperature_window,
    time_window,
    window,
)
from tests.science.reference import rows

TIMES = [0.0, 15.0, 30.0, 45.0, 60.0, 75.0]


def test_that_a_piece_left_on_past_right_has_both_bounds() -> None:
    got = time_window(TIMES, [1, 2, 3, 4, 5, 6])
    assert (got.last_under, got.first_right, got.last_right, got.first_over) == (15, 30, 60, 75)
    assert (got.at_least, got.at_most) == (30, 60)
    assert (got.entry, got.exit) == (SeenEnd.BETWEEN, SeenEnd.BETWEEN)
    assert got.consistent


def test_that_a_pull_while_right_is_right_censored() -> None:
    got = time_window(TIMES, [1, 2, 3, 4, 4, 7], off=60.0)
    assert got.exit is SeenEnd.NOT_YET
    assert (got.exit_low, got.exit_high) == (60, None)
    assert (got.at_least, got.at_most) == (30, None)
    assert leeway_interval(got) == (30, math.inf)


def test_that_a_piece_right_at_the_first_check_is_left_censored() -> None:
    got = time_window([0.0, 15.0], [4, 6])
    assert got.entry is SeenEnd.BEFORE_FIRST
    assert (got.at_least, got.at_most) == (0, None)
    assert leeway_interval(got) == (0, math.inf)


def test_that_a_piece_never_right_says_nothing_of_leeway() -> None:
    got = time_window([0.0, 15.0], [1, 2])
    assert (got.at_least, got.at_most) == (None, None)
    assert got.entry is SeenEnd.NOT_YET
    assert leeway_interval(got) is None


def test_that_a_window_passed_between_two_checks_is_kept() -> None:
    got = time_window([0.0, 30.0], [2, 6])
    assert got.passed_unseen
    assert (got.at_least, got.at_most) == (0, 30)
    assert leeway_interval(got) == (0, 30)


def test_that_no_check_is_unknown() -> None:
    got = time_window([], [])
    assert (got.entry, got.exit) == (SeenEnd.UNKNOWN, SeenEnd.UNKNOWN)
    assert got.checks == 0
    assert leeway_interval(got) is None


def test_that_a_piece_over_at_the_first_check_says_nothing_of_leeway() -> None:
    got = time_window([30.0], [7])
    assert (got.at_least, got.at_most) == (None, None)
    assert leeway_interval(got) is None


def test_that_checks_that_contradict_each_other_widen_the_bounds() -> None:
    got = time_window([1.0, 2.0, 3.0, 4.0, 5.0], [1, 3, 2, 4, 6])
    assert not got.consistent
    assert (got.last_under, got.first_right) == (1, 4)
    assert (got.at_least, got.at_most) == (0, 4)
    two_points = time_window([1.0, 1.0], [2, 3])
    assert not two_points.consistent
    assert two_points.at_least == 0


def test_that_a_check_without_a_feel_is_left_out() -> None:
    got = time_window([0.0, 15.0, 30.0], [2, math.nan, 4])
    assert got.checks == 2
    assert got.entry_high == 30


def test_that_degrees_bound_the_window_too() -> None:
    got = temperature_window(TIMES, [88.0, 91.0, 93.0, 95.0, math.nan, 97.0], [1, 2, 3, 4, 5, 6])
    assert (got.at_least, got.at_most) == (2, 6)
    pulled = temperature_window(TIMES, [88.0, 91, 93, 95, 96, 97], [1, 2, 3, 4, 5, 6], off=60.0)
    assert (pulled.at_least, pulled.at_most) == (3, None)


def test_that_the_hold_begins_at_coming_off() -> None:
    got = hold_window([50.0, 60.0, 120.0, 180.0], [3, 4, 5, 6], off=60.0)
    assert (got.at_least, got.at_most) == (60, 120)
    assert got.entry is SeenEnd.BETWEEN


def test_that_a_piece_off_under_becomes_right_in_the_box() -> None:
    got = hold_window([55.0, 90.0, 150.0], [2, 3, 6], off=60.0)
    assert (got.entry_low, got.entry_high) == (0, 30)
    assert (got.at_least, got.at_most) == (0, 90)


def test_that_nothing_checked_after_coming_off_leaves_the_hold_unknown() -> None:
    got = hold_window([50.0], [4], off=60.0)
    assert (got.at_least, got.at_most) == (0, None)
    assert got.exit is SeenEnd.NOT_YET


def test_that_places_and_feels_must_match() -> None:
    with pytest.raises(ValueError, match="feels"):
        window([1.0], [1, 2])


@pytest.mark.parametrize("row", rows("window_interval_censored"))
def test_that_the_invented_pieces_have_the_bounds_in_their_table(row: dict[str, str]) -> None:
    entry_low, entry_high, exit_low, exit_high = (
        float(row[key]) for key in ("entry_lo_h", "entry_hi_h", "exit_lo_h", "exit_hi_h")
    )
    checks = [(entry_high, 4), (exit_low, 4)]
    if entry_low > 0:
        checks.append((entry_low, 2))
    if math.isfinite(exit_high):
        checks.append((exit_high, 6))
    got = time_window([at for at, _ in checks], [feel for _, feel in checks])
    interval = leeway_interval(got)
    assert interval is not None
    assert interval[0] == pytest.approx(exit_low - entry_high)
    if entry_low > 0:
        assert interval[1] == pytest.approx(exit_high - entry_low)


@given(
    st.integers(0, 40),
    st.integers(0, 40),
    st.lists(st.integers(0, 60), min_size=1, max_size=12, unique=True),
)
def test_that_the_bounds_hold_the_truth(entry: int, leeway: int, checked: list[int]) -> None:
    """A piece is right in [entry, entry + leeway); every check of it is truthful."""
    feels = [2 if t < entry else 4 if t < entry + leeway else 6 for t in checked]
    got = time_window([float(t) for t in checked], feels)
    assert got.consistent
    if got.at_least is not None:
        assert got.at_least <= leeway
    if got.at_most is not None:
        assert leeway <= got.at_most
    interval = leeway_interval(got)
    if interval is not None:
        assert interval[0] <= leeway <= interval[1]
