"""The model of leeway, held to fits of an invented table by two libraries.

Source of the check values: WN rows of `tests/science/data/expected_results.csv` (a survival
library, and the likelihood by another).
"""

import math

import pytest

from pitjournal.analysis.findings.leeway import Stay
from pitjournal.analysis.findings.leeway_model import Stays, halves, model_of
from tests.science.reference import check, expected, rows

TABLE = rows("window_interval_censored")


def stays(*, least: int = 0, most: int = 30, scale: float = 1.0, cooks: int = 1) -> Stays:
    """Return the table's stays, h, as of so many cooks."""
    found = []
    for number, row in enumerate(TABLE[least:most]):
        low = max(0.0, float(row["exit_lo_h"]) - float(row["entry_hi_h"]))
        high = float(row["exit_hi_h"]) - float(row["entry_lo_h"])
        end = scale * high if math.isfinite(high) else None
        arm = int(row["treatment"] == "wrapped")
        found.append(Stay(f"cook {number % cooks}", arm, scale * low, end))
    return Stays("time", ("open", "wrapped"), tuple(found))


def test_that_the_medians_are_those_of_two_libraries() -> None:
    model = model_of(stays())
    laws = {"log-normal": ("WN37", "WN38"), "Weibull": ("WN44", "WN45")}
    for arm, identity in zip(model.arms, laws[model.law], strict=True):
        check(identity, arm.median)
    other = "Weibull" if model.law == "log-normal" else "log-normal"
    for median, identity in zip(model.other, laws[other], strict=True):
        check(identity, median)


def test_that_the_interval_holds_the_median_and_is_about_the_librarys() -> None:
    model = model_of(stays())
    for arm, (first, second) in zip(model.arms, (("WN50", "WN51"), ("WN52", "WN53")), strict=True):
        assert arm.low is not None
        assert arm.high is not None
        assert arm.low < arm.median < arm.high
        library = math.log(expected(second).value / expected(first).value)
        assert 0.8 * library < math.log(arm.high / arm.low) < 1.6 * library
    (stretch,) = model.stretches
    assert stretch.factor == pytest.approx(model.arms[1].median / model.arms[0].median)
    assert stretch.tells


def test_that_hours_and_minutes_say_the_same() -> None:
    hours, minutes = model_of(stays()), model_of(stays(scale=60.0))
    assert minutes.arms[0].median == pytest.approx(60 * hours.arms[0].median, rel=1e-6)
    assert minutes.stretches[0].factor == pytest.approx(hours.stretches[0].factor, rel=1e-6)


def test_that_several_cooks_are_drawn_each_from_its_own_pieces() -> None:
    one, three = model_of(stays()), model_of(stays(cooks=3))
    assert (one.cooks, three.cooks) == (1, 3)
    assert three.arms[0].median == pytest.approx(one.arms[0].median)
    assert three.arms[0].low != one.arms[0].low


def test_that_turnbulls_halves_hold_the_models_medians() -> None:
    model = model_of(stays())
    for arm, half in zip(model.arms, halves(stays()), strict=True):
        assert half.after < arm.median
        assert half.before is None or arm.median < half.before + 0.5


def test_that_few_pieces_get_bounds_only() -> None:
    thin = Stays("time", ("open", "wrapped"), stays().stays[:4])
    model = model_of(thin)
    assert not model.known
    assert "bounds only" in model.lacks[0]


def test_that_pieces_all_taken_off_while_right_get_no_estimate() -> None:
    still = tuple(Stay("a", n % 2, 600.0 + n, None) for n in range(20))
    model = model_of(Stays("time", ("open", "wrapped"), still))
    assert not model.known
    assert "seen past right" in model.lacks[0]


@pytest.mark.filterwarnings("error")
def test_that_equal_stays_are_no_fault() -> None:
    alike = tuple(Stay("a", n % 2, 600.0, 1500.0) for n in range(20))
    model = model_of(Stays("time", ("open", "wrapped"), alike))
    assert not model.known
    assert model.lacks


def test_that_an_arm_with_few_pieces_does_not_spoil_the_others() -> None:
    some = stays()
    more = (*some.stays, Stay("cook 0", 2, 0.5, 1.5))
    model = model_of(Stays("time", (*some.arms, "new"), more))
    assert [arm.arm for arm in model.arms] == ["open", "wrapped"]
    assert model.arms == model_of(some).arms
    (lack,) = model.lacks
    assert lack.startswith("new: 1 of the 6")


def test_that_pieces_of_cooks_that_differ_are_no_replicates() -> None:
    # Three cooks of three pieces: right for 22, 97 and 22 minutes, and 97, 22 and 97.
    found = [
        Stay(f"cook {cook}", arm, 60.0 * (level + step - 4), 60.0 * (level + step + 4))
        for arm, levels in enumerate(((22, 97, 22), (97, 22, 97)))
        for cook, level in enumerate(levels)
        for step in (-2, 0, 2)
    ]
    model = model_of(Stays("time", ("left alone", "injected"), tuple(found)))
    for arm in model.arms:  # no narrower than the cooks lie apart, or none
        assert arm.low is None or arm.low < 30 * 60.0
        assert arm.high is None or arm.high > 85 * 60.0
    (stretch,) = model.stretches
    assert not stretch.tells
