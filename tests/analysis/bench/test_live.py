"""How a piece rises, by its probe and by hand, against hand arithmetic."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from pitjournal.analysis.bench.live import PIT, _rise, live_of, rise_by_hand
from pitjournal.domain.event import DonenessCheck
from pitjournal.domain.piece import Piece
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from tests.builders import a_cook

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


COOK = a_cook()
ONE, TWO = (Piece(cook_id=COOK.id, position=n, label=f"R{n}", cut="back ribs") for n in range(2))


def of_channel(sits: Sits, piece: Piece | None, ended: float) -> Trace:
    """Return a trace that ended so many minutes before now."""
    return Trace(
        cook_id=COOK.id,
        probe_file_id="f",
        channel=sits.value,
        unit_in_file="°C",
        sits=sits,
        samples=str(ended),
        count=4,
        starts_at=NOW - timedelta(hours=3),
        ends_at=NOW - timedelta(minutes=ended),
        interval=60.0,
        piece_id=piece.id if piece else None,
    )


def readings(trace: Trace) -> Samples:
    ended = float(trace.samples)
    return a_trace([-ended - 10.0, -ended, -ended - 5.0], [60.0, 64.0, 62.0])


def test_that_what_probes_say_now_is_their_latest_reading_by_time() -> None:
    traces = (of_channel(Sits.MEAT, ONE, 1.0), of_channel(Sits.PIT, None, 2.0))
    found = live_of(WholeCook(cook=COOK, pieces=(ONE, TWO), traces=traces), readings, NOW)
    assert set(found) == {ONE.id, PIT}
    assert found[ONE.id].value == pytest.approx(64.0)  # not the last in the file, the last in time
    assert found[ONE.id].at == NOW - timedelta(minutes=1)
    assert found[ONE.id].rise == pytest.approx(4.0, abs=1e-4)


def test_that_a_probe_that_is_silent_for_five_minutes_is_not_there() -> None:
    for ended, there in ((4.9, True), (5.1, False)):
        whole = WholeCook(cook=COOK, pieces=(ONE,), traces=(of_channel(Sits.MEAT, ONE, ended),))
        assert (ONE.id in live_of(whole, readings, NOW)) is there
    # By its own clock it ended an hour ago, but that is put right by an hour.
    late = replace(of_channel(Sits.MEAT, ONE, 60.0), shift=3600.0, samples="1.0")
    whole = WholeCook(cook=COOK, pieces=(ONE,), traces=(late,))
    assert ONE.id in live_of(whole, readings, NOW)


def test_that_a_damaged_file_says_nothing() -> None:
    def damaged(_trace: Trace) -> Samples:
        raise JournalError("damaged", "")

    whole = WholeCook(cook=COOK, pieces=(ONE,), traces=(of_channel(Sits.MEAT, ONE, 1.0),))
    assert live_of(whole, damaged, NOW) == {}
