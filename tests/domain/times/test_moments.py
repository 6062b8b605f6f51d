"""Moments against published daylight-saving rules.

Dates of change: United States, second Sunday of March and first Sunday of November at 2:00
local time (Energy Policy Act of 2005, section 110); European Union, last Sunday of March and
of October at 01:00 UTC (Directive 2000/84/EC, articles 2 and 3). How a skipped and a repeated
time are read: RFC 5545, 3.3.5, whose two worked examples are tested as printed there.
"""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pitjournal.domain.times.moments import (
    show_ago,
    show_date,
    show_day,
    show_moment,
    show_time,
    time_zone,
)
from pitjournal.domain.times.typed_times import parse_moment, parse_planned
from pitjournal.errors import JournalError

NEW_YORK, BERLIN, SYDNEY = "America/New_York", "Europe/Berlin", "Australia/Sydney"


def at(text: str, zone: str = "UTC") -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)


NOON = at("2025-11-15 12:05", NEW_YORK)  # a Saturday


def read(text: str, now: datetime = NOON, zone: str = NEW_YORK) -> str:
    """Return what a wall clock in the zone shows at the moment that is read."""
    moment = parse_moment(text, now, zone)
    assert moment.tzinfo is UTC
    return moment.astimezone(ZoneInfo(zone)).replace(tzinfo=None).isoformat(" ", "minutes")


@pytest.mark.parametrize(
    ("text", "wall"),
    [
        ("now", "2025-11-15 12:05"),
        ("20 min ago", "2025-11-15 11:45"),
        ("20 ago", "2025-11-15 11:45"),
        ("1h40 ago", "2025-11-15 10:25"),
        ("1:40 ago", "2025-11-15 10:25"),
        ("in 30", "2025-11-15 12:35"),
        ("7:15", "2025-11-15 07:15"),
        ("7:15 pm", "2025-11-15 19:15"),
        ("7 PM", "2025-11-15 19:00"),
        ("7 a.m.", "2025-11-15 07:00"),
        ("12 am", "2025-11-16 00:00"),
        ("12:30 pm", "2025-11-15 12:30"),
        ("19:15", "2025-11-15 19:15"),
        ("1915", "2025-11-15 19:15"),
        ("8h30", "2025-11-15 08:30"),
        ("noon", "2025-11-15 12:00"),
        ("noon tomorrow", "2025-11-16 12:00"),
        ("yesterday 22:00", "2025-11-14 22:00"),
        ("22:00 yesterday", "2025-11-14 22:00"),
        ("yesterday at 10 pm", "2025-11-14 22:00"),
        ("tomorrow 6:30", "2025-11-16 06:30"),
        ("8:30 today", "2025-11-15 08:30"),
        ("2025-11-14 08:30", "2025-11-14 08:30"),
        ("2025-11-14T13:30Z", "2025-11-14 08:30"),
        ("2025-11-14T14:30:00+01:00", "2025-11-14 08:30"),
        ("14 Nov 8:30", "2025-11-14 08:30"),
        ("14 November 2024, 8:30 pm", "2024-11-14 20:30"),
        ("Nov 14 8:30", "2025-11-14 08:30"),
        ("Nov 14, 2024 8:30", "2024-11-14 08:30"),
        ("14.11. 8:30", "2025-11-14 08:30"),
        ("14.11.2024 8:30", "2024-11-14 08:30"),
        ("11/14 8:30", "2025-11-14 08:30"),
        ("14/11/2024 8:30", "2024-11-14 08:30"),
    ],
)
def test_that_a_moment_is_read_as_a_cook_means_it(text: str, wall: str) -> None:
    assert read(text) == wall


@pytest.mark.parametrize(
    "text",
    [
        *("", "   ", "soon", "25:00", "8:60", "13 pm", "0 am", "7", "0:00:61", "8:30 xyz"),
        *("90 lb ago", "-5 ago", "nan ago", "1e400 ago", "99999999999 h ago"),
        *("30 Feb 8:00", "31.4.2025 8:00", "14 Nov", "14 Nov 2025", "14 Nov 18", "14 Foo 8:00"),
        *("0001-01-01 00:00", "9999-12-31 23:59", "2025-13-01 08:00"),
        *("yesterday", "monday", "s 8:30"),
    ],
)
def test_that_anything_else_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(JournalError) as refused:
        parse_moment(text, NOON, NEW_YORK)
    assert refused.value.hint == "Try 7:15 pm, 20 min ago or 14 Nov 8:30."


def test_that_a_date_which_can_be_two_days_is_asked_about() -> None:
    with pytest.raises(JournalError, match=r"“4/5” can be two days. Write 4 May or 5 Apr."):
        parse_moment("4/5 8:30", NOON, NEW_YORK)
    assert read("5/5/2025 8:30") == "2025-05-05 08:30"


def test_that_an_unknown_zone_is_refused() -> None:
    for name in ("Nowhere/City", "", "../etc", "EST5EDT4\0"):
        with pytest.raises(JournalError, match="not a time zone"):
            parse_moment("now", NOON, name)
    assert time_zone(BERLIN).key == BERLIN


def test_that_now_must_be_aware() -> None:
    with pytest.raises(ValueError, match="aware"):
        parse_moment("now", datetime(2025, 11, 15), NEW_YORK)  # noqa: DTZ001 - the slip tested


def test_that_a_bare_time_is_the_nearest_also_across_midnight() -> None:
    late, early = at("2025-11-15 23:50", BERLIN), at("2025-11-16 00:10", BERLIN)
    assert read("0:20", late, BERLIN) == "2025-11-16 00:20"
    assert read("23:40", early, BERLIN) == "2025-11-15 23:40"
    assert read("23:40", late, BERLIN) == "2025-11-15 23:40"


def test_that_of_two_equally_near_times_the_past_one_is_meant() -> None:
    noon = at("2025-11-15 12:00", BERLIN)
    assert read("0:00", noon, BERLIN) == "2025-11-15 00:00"


def test_that_a_weekday_is_the_nearest_one() -> None:
    # 15 November 2025 is a Saturday (any calendar).
    assert read("sat 8:30") == "2025-11-15 08:30"
    assert read("Wed 8:30") == "2025-11-12 08:30"
    assert read("tuesday 8:30 pm") == "2025-11-18 20:30"
    assert read("8:30 fri") == "2025-11-14 08:30"
    assert read("sat 8:30", at("2025-11-12 12:00", NEW_YORK)) == "2025-11-15 08:30"


def test_that_a_date_without_its_year_is_the_nearest_one() -> None:
    new_year = at("2026-01-02 09:00", NEW_YORK)
    assert read("30 Dec 22:00", new_year) == "2025-12-30 22:00"
    assert read("29 Feb 8:00", NOON) == "2024-02-29 08:00"
    assert read("29 Feb 8:00", at("2099-12-01 09:00", NEW_YORK)) == "2096-02-29 08:00"


# the two changes


def sunday(year: int, month: int, which: int) -> date:
    """Return the n-th Sunday of a month; 0 is the last of the month before."""
    first = date(year, month, 1)
    return first + timedelta(days=(6 - first.weekday()) % 7 + 7 * (which - 1))


@pytest.mark.parametrize("year", range(2007, 2038))
def test_that_the_changes_fall_on_the_dates_of_the_us_act(year: int) -> None:
    spring, autumn = sunday(year, 3, 2), sunday(year, 11, 1)
    now = at(f"{year}-07-01 12:00", NEW_YORK)
    before = parse_moment(f"{spring} 01:59", now, NEW_YORK)
    after = parse_moment(f"{spring} 03:00", now, NEW_YORK)
    assert after - before == timedelta(minutes=1)
    before = parse_moment(f"{autumn} 00:59", now, NEW_YORK)
    after = parse_moment(f"{autumn} 02:00", now, NEW_YORK)
    assert after - before == timedelta(hours=2, minutes=1)


@pytest.mark.parametrize("year", range(2002, 2038))
def test_that_the_changes_fall_on_the_dates_of_the_eu_directive(year: int) -> None:
    # 01:00 UTC is 02:00 in winter and 03:00 in summer in Berlin.
    spring, autumn = sunday(year, 4, 0), sunday(year, 11, 0)
    now = at(f"{year}-07-01 12:00", BERLIN)
    assert parse_moment(f"{spring} 01:59", now, BERLIN) == at(f"{spring} 00:59")
    assert parse_moment(f"{spring} 03:00", now, BERLIN) == at(f"{spring} 01:00")
    assert parse_moment(f"{autumn} 01:59", now, BERLIN) == at(f"{autumn} 00:59") - timedelta(
        hours=1
    )
    assert parse_moment(f"{autumn} 03:00", now, BERLIN) == at(f"{autumn} 02:00")


def test_that_a_skipped_time_is_read_as_in_rfc_5545() -> None:
    # RFC 5545, 3.3.5: 2007-03-11 02:30 New York is interpreted as 03:30, UTC−4.
    moment = parse_moment("2007-03-11 02:30", at("2007-03-11 12:00", NEW_YORK), NEW_YORK)
    assert moment == at("2007-03-11 07:30")
    assert show_time(moment, NEW_YORK) == "03:30"


def test_that_a_repeated_time_is_the_first_as_in_rfc_5545() -> None:
    # RFC 5545, 3.3.5: 2007-11-04 01:30 New York means 1:30 am UTC−4.
    for now in ("2007-11-01 12:00", "2007-11-04 12:00", "2008-01-01 12:00"):
        moment = parse_moment("2007-11-04 01:30", at(now, NEW_YORK), NEW_YORK)
        assert moment == at("2007-11-04 05:30")


def test_that_the_second_of_a_repeated_time_is_meant_while_it_is_fresh() -> None:
    second = at("2025-11-02 06:30")  # 1:30 EST
    for minutes in (0, 10, 50, 119):
        assert parse_moment("1:30", second + timedelta(minutes=minutes), NEW_YORK) == second
    assert parse_moment("today 1:30", second + timedelta(minutes=10), NEW_YORK) == second
    first = second - timedelta(hours=1)
    for hours in (-5, -1, 3, 7):
        assert parse_moment("1:30", second + timedelta(hours=hours), NEW_YORK) == first


def test_that_the_two_passes_of_a_repeated_time_are_told_apart_by_letters() -> None:
    morning = at("2025-11-02 09:00", NEW_YORK)
    first, second = at("2025-11-02 05:30"), at("2025-11-02 06:30")
    assert show_time(first, NEW_YORK) == "01:30 EDT"
    assert show_time(second, NEW_YORK) == "01:30 EST"
    assert parse_moment("1:30 EDT", morning, NEW_YORK) == first
    assert parse_moment("2 Nov 1:30 est", morning, NEW_YORK) == second
    assert show_time(second + timedelta(minutes=30), NEW_YORK) == "02:00"


def test_that_ago_counts_the_hours_that_passed_not_those_on_the_clock() -> None:
    # 25-hour night in Berlin: at 06:00 CET, four hours ago was 02:00 CET, five 02:00 CEST.
    morning = at("2025-10-26 06:00", BERLIN)
    assert show_time(parse_moment("4 h ago", morning, BERLIN), BERLIN) == "02:00 CET"
    assert show_time(parse_moment("5 h ago", morning, BERLIN), BERLIN) == "02:00 CEST"
    # 23-hour night: at 06:00 CEST, four hours ago was 01:00 CET.
    morning = at("2025-03-30 06:00", BERLIN)
    assert show_time(parse_moment("4 h ago", morning, BERLIN), BERLIN) == "01:00"


# showing


def test_that_times_dates_and_days_are_shown_in_the_cooks_zone() -> None:
    moment = at("2025-11-14 23:42")
    assert show_time(moment, NEW_YORK) == "18:42"
    assert show_time(moment, BERLIN) == "00:42"
    assert show_date(moment, BERLIN) == "15 Nov 2025"
    assert show_day(moment, BERLIN) == "Saturday 15 Nov"


@pytest.mark.parametrize(
    ("wall", "shown"),
    [
        ("2025-11-15 13:42", "13:42"),
        ("2025-11-15 00:01", "today 00:01"),
        ("2025-11-14 22:00", "yesterday 22:00"),
        ("2025-11-16 06:30", "tomorrow 06:30"),
        ("2025-11-13 08:30", "13 Nov 08:30"),
        ("2026-01-02 08:30", "2 Jan 08:30"),
        ("2024-11-14 08:30", "14 Nov 2024 08:30"),
    ],
)
def test_that_a_moment_is_shown_no_longer_than_needed(wall: str, shown: str) -> None:
    assert show_moment(at(wall, NEW_YORK), NEW_YORK, NOON) == shown


def test_that_an_unknown_moment_is_not_recorded() -> None:
    shown = {
        show_time(None, BERLIN),
        show_date(None, BERLIN),
        show_day(None, BERLIN),
        show_moment(None, BERLIN, NOON),
    }
    assert shown == {"not recorded"}


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [
        (0, "just now"),
        (29, "just now"),
        (30, "1 min ago"),
        (120, "2 min ago"),
        (6000, "1 h 40 min ago"),
        (86400, "24 h ago"),
        (3 * 86400, "3 days ago"),
        (-10, "now"),
        (-120, "in 2 min"),
    ],
)
def test_that_ago_is_said_in_words(seconds: float, shown: str) -> None:
    assert show_ago(seconds) == shown


_MOMENTS = st.datetimes(
    datetime(2002, 1, 1),  # noqa: DTZ001 - made aware by `timezones`
    datetime(2035, 1, 1),  # noqa: DTZ001 - likewise
    timezones=st.just(UTC),
)


@settings(deadline=None)  # machines are shared
@given(_MOMENTS, st.integers(-400 * 1440, 400 * 1440), st.sampled_from([NEW_YORK, BERLIN, SYDNEY]))
@example(at("2025-11-02 06:40"), -70, NEW_YORK)  # the first 1:30 seen from the second 1:40
@example(at("2025-11-15 23:55", BERLIN), -1430, BERLIN)
@example(at("2012-10-06 15:00", SYDNEY), -691, SYDNEY)  # the day after has 23 hours
def test_that_what_is_shown_is_read_again_as_the_same_minute(
    now: datetime, minutes: int, zone: str
) -> None:
    moment = (now + timedelta(minutes=minutes)).replace(second=0, microsecond=0)
    assert parse_moment(show_moment(moment, zone, now), now, zone) == moment


@settings(deadline=None)  # machines are shared
@given(st.text(max_size=20), _MOMENTS)
def test_that_no_text_is_more_than_refused(text: str, now: datetime) -> None:
    try:
        moment = parse_moment(text, now, BERLIN)
    except JournalError as refused:
        assert refused.hint  # noqa: PT017 - either outcome is right
    else:
        assert moment.tzinfo is UTC


@settings(deadline=None)  # machines are shared
@given(st.from_regex(r"[0-9:. /apmhnovstdy-]{1,14}", fullmatch=True))
def test_that_no_slip_of_the_finger_is_more_than_refused(text: str) -> None:
    try:
        moment = parse_moment(text, NOON, NEW_YORK)
    except JournalError as refused:
        assert refused.message  # noqa: PT017 - either outcome is right
    else:
        assert moment.tzinfo is UTC


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("7:15", "2026-11-14T07:15"),
        ("23:30", "2026-11-13T23:30"),  # nearer to the morning than the next night
        ("Fri 20:30", "2026-11-13T20:30"),
        ("16 Nov 9:00", "2026-11-16T09:00"),
        ("tomorrow 20:30", "2026-11-03T20:30"),
        ("in 20 min", "2026-11-02T12:20"),
        ("now", "2026-11-02T12:00"),
        ("today 13:00", "2026-11-02T13:00"),
    ],
)
def test_that_a_planned_time_lies_near_the_planned_day(text: str, meant: str) -> None:
    zone = ZoneInfo("America/Chicago")
    near = datetime(2026, 11, 14, 8, 30, tzinfo=zone)
    now = datetime(2026, 11, 2, 12, 0, tzinfo=zone)
    found = parse_planned(text, near, now, "America/Chicago").astimezone(zone)
    assert found.strftime("%Y-%m-%dT%H:%M") == meant
