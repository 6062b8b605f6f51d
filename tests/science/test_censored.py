"""Sources: Finkelstein & Wolfe (1985), Fay & Shaw (2010), Freireich et al. (1963).

An invented table of windows was fitted by two libraries (data/README.md).
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.science.times.censored import (
    ArmTimes,
    Mass,
    arm_times,
    intervals,
    median_bounds,
    turnbull,
)
from pitjournal.science.times.log_times import Law
from tests.science.reference import check, expected, rows

COSMESIS = rows("breast_cosmesis_finkelstein1986")
WINDOWS = rows("window_interval_censored")
LEUKAEMIA = rows("leukaemia_freireich1963")


def still_right(masses: list[Mass], time: float) -> float:
    """Return the share beyond a time that lies inside no mass."""
    return sum(mass.share for mass in masses if mass.low >= time and mass.high > time)


def cosmesis(group: str | None = None) -> tuple[list[float], list[float], list[int]]:
    chosen = [r for r in COSMESIS if group in {None, r["treatment"]}]
    return (
        [float(r["left_months"]) for r in chosen],
        [float(r["right_months"]) for r in chosen],
        [int(r["treatment"] == "RadChem") for r in chosen],
    )


def fitted(low: list[float], high: list[float], arms: list[int] | None, law: Law) -> ArmTimes:
    got = arm_times(low, high, arms, law)
    assert got is not None
    return got


@pytest.mark.parametrize(("group", "first", "count"), [("Rad", 3, 8), ("RadChem", 11, 11)])
def test_that_turnbulls_masses_are_the_published_ones(group: str, first: int, count: int) -> None:
    low, high, _ = cosmesis(group)
    masses = turnbull(low, high)
    assert len(masses) == count
    for place, mass in enumerate(masses):
        check(f"IC{first + place:02}", mass.share)
    assert sum(mass.share for mass in masses) == pytest.approx(1)


def test_that_the_estimate_is_not_defined_inside_a_mass() -> None:
    low, high, _ = cosmesis("Rad")
    masses = turnbull(low, high)
    assert any(mass.low < 47.0 < mass.high for mass in masses)
    assert still_right(masses, 30.0) == pytest.approx(1 - 0.3318, abs=1e-3)
    assert still_right(masses, 1.0) == pytest.approx(1)
    # 0.0463 + 0.0334 + 0.0887 + 0.0708 + 0.0926 + 0.0818 + 0.1209 = 0.5345, at (38, 40]
    assert median_bounds(masses) == (38, 40)


def test_that_exact_and_right_censored_times_give_kaplan_and_meier() -> None:
    drug = [r for r in LEUKAEMIA if r["group"] == "drug"]
    masses = turnbull(
        [float(r["weeks"]) for r in drug],
        [float(r["weeks"]) if r["relapse"] == "1" else math.inf for r in drug],
    )
    for identity, week in zip(
        ("RC01", "RC03", "RC05", "RC07", "RC09", "RC11", "RC13"),
        (6, 7, 10, 13, 16, 22, 23),
        strict=True,
    ):
        got = still_right(masses, week)
        assert got == pytest.approx(expected(identity).value, abs=2e-6)
    assert median_bounds(masses) == (23, 23)


@pytest.mark.parametrize(("law", "first"), [("Weibull", 28), ("log-normal", 38)])
def test_that_the_cosmesis_models_are_those_of_two_libraries(law: Law, first: int) -> None:
    low, high, arms = cosmesis()
    got = fitted(low, high, arms, law)
    check(f"IC{first}", float(got.coefficients[0]))
    check(f"IC{first + 1}", float(got.coefficients[1]))
    check(f"IC{first + 2}", float(got.errors[1]))
    check(f"IC{first + 3}", got.scale)
    check(f"IC{first + 4}", got.log_likelihood)
    alike = fitted(low, high, None, law)
    check(f"IC{first + 5}", 2 * (got.log_likelihood - alike.log_likelihood))
    if law == "Weibull":
        check("IC34", -float(got.coefficients[1]) / got.scale)
        check("IC35", 1 / got.scale)
        check("IC36", got.median(0))
        check("IC37", got.median(1))


@pytest.mark.parametrize(("law", "first"), [("Weibull", 40), ("log-normal", 49)])
def test_that_exact_times_and_censored_ones_fit_together(law: Law, first: int) -> None:
    weeks = [float(r["weeks"]) for r in LEUKAEMIA]
    ends = [float(r["weeks"]) if r["relapse"] == "1" else math.inf for r in LEUKAEMIA]
    got = fitted(weeks, ends, [int(r["group"] == "drug") for r in LEUKAEMIA], law)
    check(f"RC{first}", float(got.coefficients[0]))
    check(f"RC{first + 1}", float(got.coefficients[1]))
    check(f"RC{first + 2}", float(got.errors[1]))
    check(f"RC{first + 3}", got.scale)
    check(f"RC{first + 4}", got.log_likelihood)


def bounds(what: str) -> tuple[list[float], list[float]]:
    if what != "leeway":
        return (
            [float(r[f"{what}_lo_h"]) for r in WINDOWS],
            [float(r[f"{what}_hi_h"]) for r in WINDOWS],
        )
    return (
        [max(0.0, float(r["exit_lo_h"]) - float(r["entry_hi_h"])) for r in WINDOWS],
        [float(r["exit_hi_h"]) - float(r["entry_lo_h"]) for r in WINDOWS],
    )


@pytest.mark.parametrize(
    ("what", "law", "first"),
    [
        ("entry", "log-normal", 4),
        ("entry", "Weibull", 11),
        ("exit", "log-normal", 18),
        ("exit", "Weibull", 25),
        ("leeway", "log-normal", 32),
        ("leeway", "Weibull", 39),
    ],
)
def test_that_the_windows_are_fitted_as_by_two_libraries(what: str, law: Law, first: int) -> None:
    low, high = bounds(what)
    got = fitted(low, high, [int(r["treatment"] == "wrapped") for r in WINDOWS], law)
    found = (
        float(got.coefficients[0]),
        float(got.coefficients[1]),
        float(got.errors[1]),
        got.scale,
        got.log_likelihood,
        got.median(0),
        got.median(1),
    )
    for place, value in enumerate(found):
        check(f"WN{first + place:02}", value)


def test_that_the_leeways_have_their_intervals_and_factor() -> None:
    low, high = bounds("leeway")
    got = fitted(low, high, [int(r["treatment"] == "wrapped") for r in WINDOWS], "log-normal")
    check("WN48", got.median_error(0))
    check("WN49", got.median_error(1))
    for arm, (first, second) in enumerate((("WN50", "WN51"), ("WN52", "WN53"))):
        lower, upper = got.median_interval(arm, few=False)
        check(first, lower)
        check(second, upper)
    alike = fitted(low, high, None, "log-normal")
    check("WN54", 2 * (got.log_likelihood - alike.log_likelihood))
    ratio, lower, upper = got.factor(1)
    assert ratio == pytest.approx(math.exp(0.807212200005), abs=1e-4)
    assert lower < ratio < upper
    plain = got.factor(1, few=False)
    assert lower < plain[1]
    assert plain[2] < upper


def test_that_an_arm_never_seen_to_end_has_no_model() -> None:
    assert arm_times([1.0, 2.0, 3.0, 4.0], [2.0, 3.0, math.inf, math.inf], [0, 0, 1, 1]) is None
    assert arm_times([0.0, 0.0], [1.0, 2.0]) is None
    assert arm_times([], []) is None
    assert arm_times([1.0, 2.0, 3.0], [2.0, 3.0, 5.0], [0, 0, 2]) is None


def test_that_intervals_one_time_would_explain_have_no_model() -> None:
    assert arm_times([1.0, 1.5, 0.5], [3.0, 4.0, 2.5]) is None


def test_that_bounds_too_wide_to_say_anything_have_no_model() -> None:
    low = [0.0, 0.0, 40.0, 0.0, 0.0, 45.0]
    high = [30.0, 35.0, math.inf, 33.0, 38.0, math.inf]
    assert arm_times(low, high, [0, 0, 0, 1, 1, 1]) is None


def test_that_impossible_intervals_are_left_out() -> None:
    low, high = intervals([1.0, 3.0, math.nan, 2.0, -1.0], [2.0, 2.0, 4.0, math.inf, 1.0])
    assert list(low) == [1.0, 2.0]
    assert list(high) == [2.0, math.inf]
    assert turnbull([], []) == []
    assert median_bounds([]) is None
    with pytest.raises(ValueError, match="upper"):
        intervals([1.0], [])


@given(
    st.lists(
        st.tuples(st.integers(0, 20), st.integers(1, 10), st.booleans()), min_size=1, max_size=12
    )
)
def test_that_shares_always_add_to_one_and_lie_in_the_intervals(
    drawn: list[tuple[int, int, bool]],
) -> None:
    low = [float(start) for start, _, _ in drawn]
    high = [math.inf if open_ else float(start + width) for start, width, open_ in drawn]
    masses = turnbull(low, high, tolerance=1e-7)
    assert sum(mass.share for mass in masses) == pytest.approx(1)
    for mass in masses:
        assert any(a <= mass.low and mass.high <= b for a, b in zip(low, high, strict=True))
