"""Times as a cook types and reads them.

A moment is an aware UTC datetime; a cook's zone is an IANA name. "Now" is always handed in.
Names of days and months are spelled here, because the window's toolkit sets the process's
locale and the words must not change with it.

On the night the clocks change, RFC 5545 (3.3.5) is followed: a time that is skipped is read
with the offset before the change (02:30 becomes 03:30), a time that comes twice is the first
one. Only while a cook may still be speaking of the second one, until two hours after it, is
the nearer of the two meant. Such a time is shown with its zone's letters ("01:30 EST"), which
may be typed too.
"""

import re
from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from pitjournal import units
from pitjournal.errors import JournalError
from pitjournal.units import NOT_RECORDED, Dimension, UnitSystem

EXAMPLE = "7:15 pm, 20 min ago or 14 Nov 8:30"

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

_YEARS = range(1970, 2200)  # beyond them a slip of the finger is likelier than a cook
_SECOND_IS_MEANT = timedelta(hours=2)
_HALF_A_DAY = timedelta(hours=11, minutes=30)
"""Half of the shortest day there is, the one on which clocks go forward."""
_HALF_A_YEAR = timedelta(days=180)


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


# reading

_AGO = re.compile(r"^(?P<past>.+?)\s*\bago$|^in\s+(?P<ahead>.+)$")
_ISO = re.compile(r"^\d{4}-\d\d-\d\d[t ]\d\d:\d\d")
_CLOCK = r"""
    (?P<hour>\d{1,2}) (?: [:.h] (?P<minute>\d\d) (?: :(?P<second>\d\d) )? | h (?=\s|$) )?
    \s* (?P<half>[ap]\.?m\.?)?
    | (?P<word>noon|midnight)
"""
_LETTERS = r"(?: \s+ (?P<letters>[a-z]{3,5}) )?"
_DAY_CLOCK = re.compile(
    rf"^ (?:(?P<day>.+?) (?:,\s*|\s+) (?:at\s+)?)? (?:{_CLOCK}) {_LETTERS}$", re.VERBOSE
)
_CLOCK_DAY = re.compile(rf"^ (?:{_CLOCK}) (?:,\s*|\s+) (?:on\s+)? (?P<day>.+)$", re.VERBOSE)

_NAMED = r"(?P<month>[a-z]{3,9})\.?"
_DATES = (
    re.compile(r"^(?P<y>\d{4})-(?P<m>\d{1,2})-(?P<d>\d{1,2})$"),
    re.compile(r"^(?P<d>\d{1,2})\.\s*(?P<m>\d{1,2})\.(?:\s*(?P<y>\d{4}))?$"),
    re.compile(rf"^(?P<d>\d{{1,2}})(?:st|nd|rd|th|\.)?\s*{_NAMED}(?:,?\s*(?P<y>\d{{4}}))?$"),
    re.compile(rf"^{_NAMED}\s*(?P<d>\d{{1,2}})(?:st|nd|rd|th)?(?:,?\s*(?P<y>\d{{4}}))?$"),
)
_SLASHED = re.compile(r"^(?P<one>\d{1,2})/(?P<two>\d{1,2})(?:/(?P<y>\d{4}))?$")
_BESIDE_TODAY = {"yesterday": -1, "today": 0, "tomorrow": 1}


def parse_moment(text: str, now: datetime, zone: str) -> datetime:
    """Return the moment a cook means.

    Understood: ``now``, ``20 min ago``, ``20 ago`` (minutes), ``in 1h40``, ``7:15``,
    ``7:15 pm``, ``1915``, ``noon``, any of these with ``yesterday``, ``today``, ``tomorrow``,
    a weekday or a date (``14 Nov``, ``Nov 14 2025``, ``14.11.``, ``2025-11-14``), and ISO 8601
    with an offset. Without am or pm the clock has 24 hours. Whatever is left open, the day or
    the year, is filled so that the moment lies nearest to now; of two equally near ones the
    past one is meant.

    Parameters
    ----------
    text
        What was typed.
    now
        The present moment, aware.
    zone
        IANA name of the cook's time zone.

    Returns
    -------
    datetime
        Aware, UTC.

    Raises
    ------
    JournalError
        If no moment is understood; the hint gives an example.
    """
    if now.tzinfo is None:
        raise ValueError("now must be aware")
    words = " ".join(text.casefold().split()).rstrip(",")
    try:
        moment = _read(words, now.astimezone(UTC), time_zone(zone))
    except (OverflowError, ValueError) as error:
        raise _not_understood(text) from error
    if moment is None or moment.year not in _YEARS:
        raise _not_understood(text)
    return moment


_OF_NOW = re.compile(r"\b(?:now|ago|today|tomorrow|yesterday)\b|^\s*in\s", re.IGNORECASE)


def parse_near(text: str, near: datetime, now: datetime, zone: str) -> datetime:
    """Return the moment a cook means who plans another day.

    A time without a day, a weekday or a date lies nearest to `near`; what speaks of today, such
    as ``tomorrow 20:30`` or ``in 20 min``, goes by now.

    Raises
    ------
    JournalError
        As `parse_moment`.
    """
    return parse_moment(text, now if _OF_NOW.search(text) else near, zone)


def _not_understood(text: str) -> JournalError:
    seen = f"“{text.strip()[:40]}”" if text.strip() else "An empty field"
    return JournalError(f"{seen} is not a time.", f"Try {EXAMPLE}.")


def _read(words: str, now: datetime, zone: ZoneInfo) -> datetime | None:
    if words in {"now", "just now"}:
        return now
    if ago := _AGO.match(words):
        past = ago["past"] is not None
        span = timedelta(seconds=_span(ago["past"] if past else ago["ahead"]))
        return now - span if past else now + span
    if _ISO.match(words):
        stamp = datetime.fromisoformat(words.upper())
        if stamp.tzinfo is not None:
            return stamp.astimezone(UTC)
        return _on(stamp.date(), stamp.time(), now, zone)
    if re.fullmatch(r"\d{3,4}", words):
        words = f"{words[:-2]}:{words[-2:]}"
    for form in (_DAY_CLOCK, _CLOCK_DAY):
        found = form.match(words)
        clock = _clock(found) if found else None
        if found and clock and (moment := _with_day(found, clock, now, zone)):
            return moment
    return None


def _span(words: str) -> float:
    try:
        seconds = units.parse(words, Dimension.DURATION, UnitSystem.METRIC)
    except JournalError as error:
        raise ValueError(words) from error
    if seconds < 0:
        raise ValueError("a length of time, and which way")
    return seconds


def _clock(found: re.Match[str]) -> time | None:
    """Return the time of day; None if it lacks minutes as well as am or pm."""
    if found["word"]:
        return time(12 if found["word"] == "noon" else 0)
    hour, half = int(found["hour"]), found["half"]
    if found["minute"] is None and half is None and "h" not in found[0]:
        return None
    if half:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + 12 * (half[0] == "p")
    return time(hour, int(found["minute"] or 0), int(found["second"] or 0))


def _with_day(found: re.Match[str], clock: time, now: datetime, zone: ZoneInfo) -> datetime | None:
    days = _days(found["day"] or "", now.astimezone(zone).date())
    letters = found.groupdict().get("letters")
    if letters is None:
        return _nearest((_on(day, clock, now, zone) for day in days), now)
    passes = (
        datetime.combine(day, clock, zone).replace(fold=fold) for day in days for fold in (0, 1)
    )
    named = (one.astimezone(UTC) for one in passes if (one.tzname() or "").casefold() == letters)
    return _nearest(named, now)


def _nearest(moments: Iterable[datetime], now: datetime) -> datetime | None:
    return min(moments, key=lambda moment: (abs(moment - now), moment), default=None)


def _on(day: date, clock: time, now: datetime, zone: ZoneInfo) -> datetime:
    """Return the moment a wall clock shows a time on a day, as the module's notes say."""
    wall = datetime.combine(day, clock, zone)
    first = wall.astimezone(UTC)
    second = wall.replace(fold=1).astimezone(UTC)  # earlier than `first` where time is skipped
    nearer = second > first and abs(now - second) < abs(now - first)
    return second if nearer and now - second <= _SECOND_IS_MEANT else first


def _days(words: str, today: date) -> list[date]:
    """Return the days that may be meant."""
    words = words.rstrip(",")
    if not words:
        return [today + timedelta(days=step) for step in (-1, 0, 1)]
    if words in _BESIDE_TODAY:
        return [today + timedelta(days=_BESIDE_TODAY[words])]
    names = [day.casefold() for day in DAYS]
    named = [name for name in names if len(words) >= 3 and name.startswith(words.rstrip("."))]
    if named:
        week = (today + timedelta(days=step) for step in range(-7, 8))
        return [day for day in week if day.weekday() == names.index(named[0])]
    return _dates(words, today)


def _dates(words: str, today: date) -> list[date]:
    if slashed := _SLASHED.match(words):
        day, month, year = _slashed(slashed)
    elif found := next((hit for form in _DATES if (hit := form.match(words))), None):
        parts = found.groupdict()
        named = parts.get("month")
        month = _month(named) if named else int(parts["m"])
        day, year = int(parts["d"]), parts["y"]
    else:
        return []
    if year:
        return [date(int(year), month, day)]
    # 29 February is at most eight years away.
    years = range(max(today.year - 8, 1), today.year + 9)
    return [one for y in years if (one := _date_or_none(y, month, day)) is not None]


def _date_or_none(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _month(words: str) -> int:
    """Return a month's number; 0, which is no month, if the name is not one."""
    names = [month.casefold() for month in MONTHS]
    words = "sep" if words == "sept" else words
    return next((n for n, name in enumerate(names, 1) if name.startswith(words)), 0)


def _slashed(found: re.Match[str]) -> tuple[int, int, str | None]:
    """Return day, month and year where only one order of the two is a date."""
    one, two = int(found["one"]), int(found["two"])
    if one <= 12 and two <= 12 and one != two:
        raise JournalError(
            f"“{found[0]}” can be two days.",
            f"Write {one} {MONTHS[two - 1][:3]} or {two} {MONTHS[one - 1][:3]}.",
        )
    return (one, two, found["y"]) if two <= 12 else (two, one, found["y"])


# showing


def show_time(moment: datetime | None, zone: str) -> str:
    """Return the time of day, "13:42"; a time that comes twice that night has its letters."""
    if moment is None:
        return NOT_RECORDED
    local = moment.astimezone(time_zone(zone))
    words = f"{local.hour:02}:{local.minute:02}"
    passes = {local.replace(fold=fold).astimezone(UTC) for fold in (0, 1)}
    return f"{words} {local.tzname()}" if len(passes) > 1 else words


def show_date(moment: datetime | None, zone: str) -> str:
    """Return the date, "14 Nov 2025"."""
    if moment is None:
        return NOT_RECORDED
    local = moment.astimezone(time_zone(zone))
    return f"{_day_month(local)} {local.year}"


def show_day(moment: datetime | None, zone: str) -> str:
    """Return the day, "Saturday 14 November"."""
    if moment is None:
        return NOT_RECORDED
    local = moment.astimezone(time_zone(zone))
    return f"{DAYS[local.weekday()]} {local.day} {MONTHS[local.month - 1]}"


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
    for word, step in _BESIDE_TODAY.items():
        if away == step:
            near = step == 0 and abs(moment - now) < _HALF_A_DAY
            return clock if near else f"{word} {clock}"
    if abs(moment - now) < _HALF_A_YEAR:
        return f"{_day_month(local)} {clock}"
    return f"{show_date(moment, zone)} {clock}"


def _day_month(local: datetime) -> str:
    return f"{local.day} {MONTHS[local.month - 1][:3]}"


def show_ago(seconds: float) -> str:
    """Return how long ago, "2 min ago"; a negative number is ahead, "in 2 min"."""
    if abs(seconds) < 30:
        return "just now" if seconds >= 0 else "now"
    days = round(abs(seconds) / 86400)
    if abs(seconds) >= 2 * 86400:
        words = f"{days} days"
    else:
        words = units.show(
            60 * max(1, round(abs(seconds) / 60)), Dimension.DURATION, UnitSystem.METRIC
        )
    return f"{words} ago" if seconds > 0 else f"in {words}"
