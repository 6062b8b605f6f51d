"""How a piece rises, by its probe and by hand, against hand arithmetic."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from pitjournal.analysis.bench.live import _rise, rise_by_hand
from pitjournal.domain.event import DonenessCheck
from pitjournal.domain.samples import Samples

NOW = datetime(2026, 5, 2, 17, 0, tzinfo=UTC)


def a_trace(minutes: list[float], values: list[float]) -> Samples:
    times = NOW.timestamp() + 60.0 * np.array(minutes)
    return Samples(times, np.array(values, dtype=np.float32))


def a_check(minutes: float, celsius: float | None) -> DonenessCheck:
    at = NOW + timedelta(minutes=minutes)
    return DonenessCheck(cook_id="c", piece_id="p", at=at, internal=celsius)


def test_that_a_straight_line_rises_as_it_does_whatever_was_before() -> None:
    # 0.2 K a minute over the last twenty minutes are 2 K in ten; the jump before counts not.
    minutes = [-60.0, -40.0, *[float(m) for m in range(-20, 1)]]
    values = [5.0, 90.0, *[80.0 + 0.2 * (m + 20) for m in range(-20, 1)]]
    assert _rise(a_trace(minutes, values)) == pytest.approx(2.0, abs=1e-4)


def test_that_least_squares_are_those_of_the_handbook() -> None:
    # Points (0, 1), (5, 3), (10, 2), (15, 5): slope = Σ(x−x̄)(y−ȳ)/Σ(x−x̄)² = 27.5/125 = 0.22 K a
    # minute by hand (NIST/SEMATECH e-Handbook, 4.1.4.1, least squares of a straight line).
    found = _rise(a_trace([-15.0, -10.0, -5.0, 0.0], [1.0, 3.0, 2.0, 5.0]))
    assert found == pytest.approx(2.2, abs=1e-5)


def test_that_too_few_readings_or_too_short_a_time_say_nothing() -> None:
    assert _rise(a_trace([-10.0, 0.0], [50.0, 60.0])) is None
    assert _rise(a_trace([-2.0, -1.0, 0.0], [50.0, 51.0, 52.0])) is None
    assert _rise(a_trace([-9.0, -5.0, 0.0], [float("nan"), 51.0, 52.0])) is None


def test_that_two_readings_by_hand_make_a_slope_and_one_does_not() -> None:
    checks = [a_check(-40, 80.0), a_check(-33, None), a_check(-15, 85.0)]
    assert rise_by_hand(checks, NOW) == pytest.approx(2.0)  # 5 K in 25 minutes
    assert rise_by_hand(checks[:1], NOW) is None
    assert rise_by_hand([a_check(-17, 84.0), a_check(-15, 85.0)], NOW) is None
    assert rise_by_hand([a_check(-300, 60.0), a_check(-200, 85.0)], NOW) is None
