"""Times as a cook reads them, in one form each; `typed_times` reads those that a cook types.

A moment is an aware UTC datetime; a cook's zone is an IANA name. "Now" is always handed in.
Names of days and months are spelled here, because the window's toolkit sets the process's
locale and the words must not change with it. A time that comes twice on the night the clocks
change is shown with its zone's letters ("01:30 EST").
"""

from datetime import UTC, date, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

from pitjournal import units
from pitjournal.errors import JournalError
from pitjournal.units import NOT_RECORDED, Dimension, UnitSystem

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)

BESIDE_TODAY = {"yesterday": -1, "today": 0, "tomorrow": 1}

_HALF_A_DAY = timedelta(hours=11, minutes=30)
"""Half of the shortest day there is, the one on which clocks go forward."""
_HALF_A_YEAR = timedelta(days=180)


@cache
def is_zone(name: str) -> bool:
    """Whether there is a time zone with an IANA name."""
    try:
        ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        return False
    return True


def time_zone(name: str) -> ZoneInfo:
    """Return the zone with an IANA name.

    Raises
    ------
    JournalError
        If there is none.
    """
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError) as error:
        raise JournalError(
            f"“{name}” is not a time zone.", "Try America/Chicago or Europe/Berlin."
        ) from error


# showing


def show_time(moment: datetime | None, zone: str) -> str:
    """Return the time of day, "13:42"; a time that comes twice that night has its letters."""
    if moment is None:
        return NOT_RECORDED
    local = moment.astimezone(time_zone(zone))
    words = clock_words(local)
    passes = {local.replace(fold=fold).astimezone(UTC) for fold in (0, 1)}
    return f"{words} {local.tzname()}" if len(passes) > 1 else words


def show_date(moment: datetime | None, zone: str) -> str:
    """Return the date, "14 Nov 2025"."""
    return NOT_RECORDED if moment is None else date_words(moment.astimezone(time_zone(zone)))


def show_day(moment: datetime | None, zone: str) -> str:
    """Return the day, "Saturday 14 Nov"."""
    if moment is None:
        return NOT_RECORDED
    local = moment.astimezone(time_zone(zone))
    return f"{DAYS[local.weekday()]} {_day_month(local)}"


def date_words(day: date, *, with_year: bool = True) -> str:
    """Return a day of some clock's calendar, "14 Nov 2025"."""
    return f"{_day_month(day)} {day.year}" if with_year else _day_month(day)


def clock_words(local: datetime) -> str:
    """Return what a clock shows, "08:30"; the moment is taken as it stands, in its own zone."""
    return f"{local.hour:02}:{local.minute:02}"


def stamp_words(local: datetime) -> str:
    """Return date and clock of a moment as it stands, in its own zone, "14 Nov 2025 08:30"."""
    return f"{date_words(local)} {clock_words(local)}"


def utc_words(moment: datetime) -> str:
    """Return a moment for whoever's zone is not known, "14 Nov 2025 08:30 UTC"."""
    return f"{stamp_words(moment.astimezone(UTC))} UTC"


def weekday_words(day: date) -> str:
    """Return the short name of a day of the week, "Sat"."""
    return DAYS[day.weekday()][:3]


def elapsed_words(seconds: float) -> str:
    """Return a time counted from a moment, on an axis: "+1:05" or "−0:20"."""
    minutes = round(abs(seconds) / 60)
    sign = "" if not minutes else units.MINUS if seconds < 0 else "+"
    return f"{sign}{minutes // 60}:{minutes % 60:02}"


def hours_words(seconds: float) -> str:
    """Return a length of time in hours and minutes, "5 h 12 min"; two days and more in days."""
    if abs(seconds) >= 2 * 86400:
        return f"{round(abs(seconds) / 86400)} days"
    return units.show(seconds, Dimension.DURATION, UnitSystem.METRIC)


def show_moment(moment: datetime | None, zone: str, now: datetime) -> str:
    """Return a moment, said no longer than `parse_moment` needs to read it again.

    "13:42", "today 23:50" (more than half a day away), "yesterday 22:00", "14 Nov 08:30",
    and with its year from half a year away.
    """
    if moment is None:
        return NOT_RECORDED
    place = time_zone(zone)
    local, clock = moment.astimezone(place), show_time(moment, zone)
    away = (local.date() - now.astimezone(place).date()).days
    for word, step in BESIDE_TODAY.items():
        if away == step:
            near = step == 0 and abs(moment - now) < _HALF_A_DAY
            return clock if near else f"{word} {clock}"
    if abs(moment - now) < _HALF_A_YEAR:
        return f"{_day_month(local)} {clock}"
    return f"{show_date(moment, zone)} {clock}"


def _day_month(local: date) -> str:
    return f"{local.day} {MONTHS[local.month - 1][:3]}"


def show_ago(seconds: float) -> str:
    """Return how long ago, "2 min ago"; a negative number is ahead, "in 2 min"."""
    if abs(seconds) < 30:
        return "just now" if seconds >= 0 else "now"
    words = hours_words(max(60, abs(seconds)))
    return f"{words} ago" if seconds > 0 else f"in {words}"
