"""Times whose day is left open look the way of their page: over nows, texts and zones.

Zones and their changes come from the IANA database through zoneinfo. The nights on which clocks
change are drawn as often as all others together. What a plan and a log mean is common practice,
no source.
"""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.domain.times.moments import DAYS, show_moment
from pitjournal.domain.times.typed_times import (
    FAST,
    LATE,
    Looking,
    parse_logged,
    parse_moment,
    parse_planned,
)

ZONES = ("America/Chicago", "Europe/Berlin", "Australia/Lord_Howe", "Asia/Kathmandu", "UTC")
CHANGES = ("2026-03-08 02:00", "2026-11-01 01:30", "2026-03-29 02:30", "2026-10-25 02:30")
A_DAY = timedelta(hours=25)  # the longest there is in these zones

zones = st.sampled_from(ZONES)
ordinary = st.integers(0, 3 * 365 * 24 * 60).map(
    lambda minutes: datetime.fromisoformat("2025-01-01") + timedelta(minutes=minutes)
)
changing = st.builds(
    lambda text, minutes: datetime.fromisoformat(text) + timedelta(minutes=minutes),
    st.sampled_from(CHANGES),
    st.integers(-2000, 2000),
)
nows = st.one_of(ordinary, changing).map(lambda moment: moment.replace(tzinfo=UTC))
clocks = st.times().map(lambda time: (time.hour, time.minute))


def wall(moment: datetime, zone: str) -> datetime:
    return moment.astimezone(ZoneInfo(zone)).replace(tzinfo=None)


def shows(moment: datetime, clock: tuple[int, int], zone: str) -> bool:
    """Whether a wall clock shows the typed time, or skips it (RFC 5545 reads on past the gap)."""
    local = moment.astimezone(ZoneInfo(zone))
    typed = local.replace(hour=clock[0], minute=clock[1], second=0, microsecond=0, fold=0)
    skipped = typed.astimezone(UTC).astimezone(ZoneInfo(zone)).hour != clock[0]
    return (local.hour, local.minute) == clock or skipped or local.date() != typed.date()


@given(nows, clocks, zones)
def test_that_what_is_logged_lies_behind_and_is_the_last_such_time(
    now: datetime, clock: tuple[int, int], zone: str
) -> None:
    moment = parse_logged(f"{clock[0]}:{clock[1]:02}", None, now, zone)
    assert now - A_DAY + FAST <= moment + timedelta(hours=1)
    assert moment <= now + FAST
    assert shows(moment, clock, zone)


@given(nows, clocks, zones)
def test_that_what_is_planned_lies_ahead_and_is_the_first_such_time(
    now: datetime, clock: tuple[int, int], zone: str
) -> None:
    moment = parse_moment(f"{clock[0]}:{clock[1]:02}", now, zone, Looking.AHEAD)
    assert now - LATE <= moment <= now + A_DAY
    assert shows(moment, clock, zone)


@given(nows, clocks, zones, st.sampled_from(DAYS))
def test_that_a_weekday_is_the_coming_one_in_a_plan_and_the_last_one_in_a_log(
    now: datetime, clock: tuple[int, int], zone: str, day: str
) -> None:
    text = f"{day} {clock[0]}:{clock[1]:02}"
    week = timedelta(days=7, hours=2)
    ahead = parse_moment(text, now, zone, Looking.AHEAD)
    assert now - LATE <= ahead <= now + week
    back = parse_logged(text, None, now, zone)
    assert now - week <= back <= now + FAST
    for moment in (ahead, back):
        assert DAYS[wall(moment, zone).weekday()] == day or not shows(moment, clock, zone)


@given(nows, clocks, zones, st.integers(2, 30), st.integers(1, 30))
def test_that_a_cook_of_another_day_keeps_its_day(
    now: datetime, clock: tuple[int, int], zone: str, days: int, hours: int
) -> None:
    first = now - timedelta(days=days, hours=hours)
    last = min(first + timedelta(hours=hours), now)
    moment = parse_logged(f"{clock[0]}:{clock[1]:02}", (first, last), now, zone)
    assert first - A_DAY / 2 - LATE <= moment <= last + A_DAY / 2 + LATE


@given(nows, clocks, zones, st.integers(0, 400))
def test_that_a_bare_time_in_a_plan_is_near_the_planned_day_and_to_come(
    now: datetime, clock: tuple[int, int], zone: str, hours: int
) -> None:
    near = now + timedelta(hours=hours)
    moment = parse_planned(f"{clock[0]}:{clock[1]:02}", near, now, zone)
    assert moment >= now - LATE
    assert abs(moment - near) <= A_DAY


@given(nows, st.integers(0, 60 * 24 * 60), zones)
def test_that_what_a_log_shows_is_read_there_as_the_same_minute(
    now: datetime, minutes: int, zone: str
) -> None:
    moment = (now - timedelta(minutes=minutes)).replace(second=0, microsecond=0)
    assert parse_logged(show_moment(moment, zone, now), None, now, zone) == moment


@pytest.mark.parametrize(
    ("text", "looking", "meant"),
    [
        ("Saturday 09:00", Looking.AHEAD, "2026-12-05 09:00"),
        ("Saturday 09:00", Looking.BACK, "2026-11-28 09:00"),
        ("Mon 9:30", Looking.AHEAD, "2026-11-30 09:30"),  # half an hour ago still counts
        ("Mon 8:00", Looking.AHEAD, "2026-12-07 08:00"),
        ("Mon 20:00", Looking.BACK, "2026-11-23 20:00"),
        ("22:00", Looking.BACK, "2026-11-29 22:00"),
        ("10:05", Looking.BACK, "2026-11-30 10:05"),  # clocks differ
        ("7:00", Looking.AHEAD, "2026-12-01 07:00"),
        ("28 Nov 9:00", Looking.AHEAD, "2026-11-28 09:00"),  # a date is meant as it stands
        ("2 Dec 9:00", Looking.BACK, "2026-12-02 09:00"),
        ("yesterday 22:00", Looking.AHEAD, "2026-11-29 22:00"),
        ("tomorrow 8:00", Looking.BACK, "2026-12-01 08:00"),
    ],
)
def test_that_a_time_typed_on_a_monday_looks_its_way(
    text: str, looking: Looking, meant: str
) -> None:
    now = datetime(2026, 11, 30, 10, 0, tzinfo=ZoneInfo("America/Chicago"))
    moment = parse_moment(text, now, "America/Chicago", looking)
    assert wall(moment, "America/Chicago").isoformat(" ", "minutes") == meant


def test_that_the_first_of_a_repeated_hour_can_be_logged_in_the_second() -> None:
    now = datetime(2026, 11, 1, 1, 10, fold=1, tzinfo=ZoneInfo("America/Chicago"))
    moment = parse_logged("1:30", None, now, "America/Chicago")
    assert moment == datetime(2026, 11, 1, 6, 30, tzinfo=UTC)  # 01:30 CDT, 40 min ago
    early = parse_logged("1:05", None, now, "America/Chicago")
    assert early == datetime(2026, 11, 1, 7, 5, tzinfo=UTC)  # 01:05 CST, 5 min ago
