"""How long the meat has been on: by hand on a clock, in whole minutes."""

from datetime import timedelta

import pytest

from pitjournal.domain.day.on_time import time_on
from pitjournal.domain.event import EventKind
from tests.builders import NOON, an_event


@pytest.mark.parametrize(
    ("after", "minutes"), [(59, 0), (60, 1), (119, 1), (120, 2), (3 * 3600, 90)]
)
def test_that_it_counts_whole_minutes_until_the_last_piece_is_off(
    after: float, minutes: float
) -> None:
    events = [
        an_event("c", EventKind.ON),
        an_event("c", EventKind.OFF, minutes=70, pieces=["a"]),
        an_event("c", EventKind.OFF, minutes=90, pieces=["b"]),
    ]
    now = NOON + timedelta(seconds=after)
    so_far = [event for event in events if event.happened_at and event.happened_at <= now]
    assert time_on(so_far, ("a", "b"), now) == timedelta(minutes=minutes)


def test_that_it_goes_on_while_a_piece_is_on_and_is_unknown_before() -> None:
    one = [an_event("c", EventKind.ON), an_event("c", EventKind.OFF, minutes=70, pieces=["a"])]
    assert time_on(one, ("a", "b"), NOON + timedelta(hours=2)) == timedelta(hours=2)
    assert time_on([], ("a",), NOON) is None
