"""Where exactly a forecast is refused, and what its bands and its pit say: by hand, at the edges."""

import math
from dataclasses import replace

import numpy as np
import pytest

from pitjournal.analysis.forecast.asked import Trace
from pitjournal.analysis.forecast.by_feel import QUARTER, TAIL, _widened
from pitjournal.analysis.forecast.forecast import Forecast
from pitjournal.analysis.forecast.pit import pit_ahead
from pitjournal.analysis.forecast.refusals import REACHED, refusal

HOUR = 3600.0


def a_trace(hours: float = 3.0, *, pit: float = 120.0, rise: float = 12.0) -> Trace:
    """Return a reading a minute: meat from 5 °C that rises so many degrees an hour."""
    seconds = np.arange(0.0, hours * HOUR + 1, 60.0)
    return Trace(seconds, 5.0 + rise * seconds / HOUR, np.full(seconds.size, pit))


def pit_of(*stretches: tuple[float, float]) -> Trace:
    """Return three hours of a pit in stretches of hours at a temperature each."""
    lasts, at = zip(*stretches, strict=True)
    levels = np.repeat(np.array(at), [round(60 * hours) for hours in lasts])
    seconds = np.arange(0.0, 60.0 * levels.size, 60.0)
    return Trace(seconds, 5.0 + 12.0 * seconds / HOUR, levels)


def test_that_ten_minutes_of_readings_are_enough_and_less_is_not() -> None:
    assert refusal(a_trace(10 / 60), 93.0, 120.0) == ""
    assert "ten minutes" in refusal(a_trace(9 / 60), 93.0, 120.0)
    few = Trace(np.array([0.0, 500.0, 1000.0, 1500.0]), np.full(4, 5.0), np.full(4, 120.0))
    assert "ten minutes" in refusal(few, 93.0, 120.0)


def test_that_a_pit_that_fell_and_stays_there_is_no_dying_fire() -> None:
    """It is told by both: 30 °C below what it was, and still falling by 5 °C in half an hour."""
    stays = pit_of((2.0, 120.0), (1.0, 85.0))
    assert refusal(stays, 80.0, 85.0) == ""
    falls = pit_of((2.4, 120.0), (0.2, 100.0), (0.2, 80.0), (0.2, 60.0))
    assert "the fire may be out" in refusal(falls, 50.0, 60.0)
    a_little = pit_of((2.4, 120.0), (0.2, 115.0), (0.2, 105.0), (0.2, 95.0))
    assert refusal(a_little, 80.0, 95.0) == ""


def test_that_a_pit_must_be_two_degrees_hotter_than_the_target() -> None:
    assert refusal(a_trace(), 93.0, 95.0) == ""
    assert "no hotter than the target" in refusal(a_trace(), 93.0, 94.9)


def test_that_a_target_is_reached_once_met_and_still_within_three_degrees() -> None:
    trace = a_trace(3.0)  # 41 °C at the end
    assert refusal(trace, 41.0, 120.0) == REACHED
    assert refusal(trace, 41.1, 120.0) == ""
    back = replace(trace, meat=np.where(trace.seconds > 2.9 * HOUR, 36.5, trace.meat))
    assert refusal(back, 39.5, 120.0) == REACHED
    assert refusal(back, 39.6, 120.0) != REACHED


@pytest.mark.parametrize(
    ("meat", "why"),
    [
        (lambda t: 50.5 + t / HOUR, "starts above 50 °C"),
        (lambda t: np.where(t < 300, 5.0, 117.0), "reads what the pit does"),
        (lambda t: 40.0 - 6.0 * t / HOUR, "is cooling"),
        (lambda t: -3.0 + 12.0 * t / HOUR, "frozen"),
        (lambda t: 30.0 + 13.0 * ((t // 600) % 2), "jumps"),
    ],
)
def test_that_what_is_not_the_middle_of_raw_meat_is_said(meat: object, why: str) -> None:
    assert callable(meat)
    trace = a_trace()
    assert why in refusal(replace(trace, meat=meat(trace.seconds)), 93.0, 120.0)


def test_that_a_start_at_fifty_and_one_leap_are_borne() -> None:
    trace = a_trace()
    assert refusal(replace(trace, meat=49.9 + trace.seconds / HOUR), 93.0, 120.0) == ""
    once = trace.meat + np.where(trace.seconds > HOUR, 13.0, 0.0)
    assert refusal(replace(trace, meat=once), 93.0, 120.0) == ""


def test_that_what_a_leap_passed_is_not_reached() -> None:
    trace = a_trace()  # 41 °C at the end
    out = np.where(trace.seconds > 2.7 * HOUR, 95.0, trace.meat)
    assert "leapt past the target" in refusal(replace(trace, meat=out), 93.0, 120.0)
    # What it had warmed to before, it had.
    assert refusal(replace(trace, meat=out), 30.0, 120.0) == REACHED


@pytest.mark.parametrize(
    ("meat", "refused"),
    [
        (lambda t: np.minimum(5.0 + 12.0 * t / HOUR, 24.0), True),  # still since 1 h 35 min
        (lambda t: np.minimum(5.0 + 12.0 * t / HOUR, 30.0), False),  # since 55 min
        (lambda t: np.full(t.size, 30.0), True),  # never moved in three hours
        (lambda t: 4.0 + np.maximum(t / HOUR - 1.5, 0.0), False),  # deep in a large piece
        (lambda t: np.minimum(5.0 + 40.0 * t / HOUR, 66.0), False),  # a stall
    ],
)
def test_that_a_probe_that_stands_still_below_a_stall_is_said(meat: object, refused: bool) -> None:
    assert callable(meat)
    trace = a_trace()
    found = refusal(replace(trace, meat=meat(trace.seconds)), 93.0, 120.0)
    assert ("has not moved for an hour" in found) == refused


def test_that_the_pit_ahead_is_half_the_set_point_until_it_is_known_for_three_quarters() -> None:
    """25 min to settle, then 45 min: as much known as not. A quarter of an eighth of dips is left out."""
    trace = a_trace(70 / 60, pit=110.0)
    assert pit_ahead(trace, 130.0) == pytest.approx(120.0, abs=0.2)
    assert pit_ahead(a_trace(25 / 60, pit=110.0), 130.0) == pytest.approx(130.0)
    assert pit_ahead(trace, None) == pytest.approx(110.0)
    lid = replace(trace, pit=np.where((trace.seconds // 60) % 10 == 9, 70.0, 110.0))
    assert pit_ahead(lid, None) == pytest.approx(110.0)


def test_that_quarters_and_twentieths_are_those_of_the_normal_law() -> None:
    """Any table of the normal law: 0.7500 below 0.674, 0.9500 below 1.645."""
    for spreads, share in ((QUARTER, 0.75), (TAIL, 0.95)):
        assert 0.5 * (1 + math.erf(spreads / math.sqrt(2))) == pytest.approx(share, abs=2e-4)


def test_that_two_doubts_of_the_same_size_make_one_and_four_tenths() -> None:
    """Pieces right at ½ and 2 of the time ahead at the quarters, a forecast as wide: √2 of each."""
    ahead = 100.0 * 60.0
    law = math.log(2.0) / QUARTER  # the spread, on logarithms, that puts the quarters at ½ and 2

    def at(factor: float) -> float:
        return 600.0 + ahead * factor

    tails = (at(math.exp(-TAIL * law)), at(math.exp(TAIL * law)))
    middle = Forecast(93.0, at(1.0), at(0.5), at(2.0), *tails)
    low, high = (replace(middle, median=at(factor)) for factor in (0.5, 2.0))
    got = _widened(low, middle, high, 600.0)
    assert got.median == middle.median
    assert got.low50 == pytest.approx(at(0.5 ** math.sqrt(2)))
    assert got.high50 == pytest.approx(at(2.0 ** math.sqrt(2)))
    assert got.high90 == pytest.approx(at(math.exp(math.sqrt(2) * TAIL * law)))
    assert got.low90 == pytest.approx(at(math.exp(-math.sqrt(2) * TAIL * law)))
    assert _widened(middle, middle, middle, 600.0).high50 == pytest.approx(at(2.0))


def test_that_a_chance_lies_on_the_line_between_the_bands() -> None:
    one = Forecast(93.0, 300.0, 200.0, 400.0, 100.0, 500.0)
    asked = {
        50.0: 0.0,
        100.0: 0.05,
        150.0: 0.15,
        300.0: 0.5,
        350.0: 0.625,
        500.0: 0.95,
        900.0: 0.95,
    }
    for seconds, chance in asked.items():
        assert one.chance_by(seconds) == pytest.approx(chance)
    assert Forecast(93.0, None, None, None, None, None).chance_by(300.0) == 0.0
