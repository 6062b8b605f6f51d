"""Parts of a day as people say them; how they are meant is common practice, no source."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from pitjournal.domain.times.typed_times import parse_moment
from pitjournal.errors import JournalError

CHICAGO = ZoneInfo("America/Chicago")
NOW = datetime(2026, 10, 31, 15, 40, tzinfo=CHICAGO)  # a Saturday


@pytest.mark.parametrize(
    ("typed", "day", "clock"),
    [
        ("last night 8:05pm", 30, "20:05"),
        ("8 last night", 30, "20:00"),
        ("last night at 1", 31, "01:00"),  # after midnight, and still last night
        ("last night 12:30", 31, "00:30"),
        ("this morning 6:30", 31, "06:30"),
        ("This afternoon at 2", 31, "14:00"),
        ("tonight 9", 31, "21:00"),
        ("yesterday evening 6", 30, "18:00"),
        ("yesterday morning, 7:15", 30, "07:15"),
        ("Friday night 8", 30, "20:00"),
    ],
)
def test_that_a_part_of_a_day_says_its_day_and_half(typed: str, day: int, clock: str) -> None:
    found = parse_moment(typed, NOW, "America/Chicago").astimezone(CHICAGO)
    assert (found.day, f"{found:%H:%M}") == (day, clock)


@pytest.mark.parametrize("typed", ["last night", "last night late", "Saturday night 1", "night 8"])
def test_that_what_says_no_one_time_is_not_understood(typed: str) -> None:
    with pytest.raises(JournalError, match="is not a time"):
        parse_moment(typed, NOW, "America/Chicago")
