"""Whether readings leave room for a hold that they do not show: by hand, to the second."""

import numpy as np
import pytest

from pitjournal.analysis.safety.coldest import may_have_held

TIMES = np.array([0.0, 60.0, 120.0, 180.0, 240.0])


@pytest.mark.parametrize(
    ("values", "room"),
    [
        ((50.0, 64.0, 50.0, 50.0, 50.0), 120.0),  # from the colder one before to that after
        ((64.0, 50.0, 50.0, 50.0, 50.0), 60.0),  # nothing is known before the first
        ((50.0, 50.0, 50.0, 50.0, 64.0), 60.0),  # nor behind the last
        ((50.0, 64.0, 64.0, 50.0, 64.0), 180.0),  # of two stretches the longer
        ((63.999, 50.0, 50.0, 50.0, 50.0), 60.0),  # a thousandth is rounding
    ],
)
def test_that_a_hold_may_have_been_as_long_as_the_room_and_no_longer(
    values: tuple[float, ...], room: float
) -> None:
    readings = np.array(values)
    assert may_have_held(TIMES, readings, 64.0, room)
    assert not may_have_held(TIMES, readings, 64.0, room + 1.0)


def test_that_what_came_after_the_last_reading_gives_room_too() -> None:
    hot = np.array([50.0, 50.0, 50.0, 50.0, 64.0])
    assert may_have_held(TIMES, hot, 64.0, 360.0, 540.0)
    assert not may_have_held(TIMES, hot, 64.0, 361.0, 540.0)
    assert may_have_held(TIMES, hot, 64.0, 60.0, 100.0)  # an end before the last is none


def test_that_readings_that_never_got_there_leave_no_room() -> None:
    assert not may_have_held(TIMES, np.full(5, 63.9), 64.0, 0.0)
