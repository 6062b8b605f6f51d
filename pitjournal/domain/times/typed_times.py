"""Times as a cook types them.

What is left open is filled as the page looks: in a plan ahead, on the bench back, and for a
cook of another day around that cook.

On the night the clocks change, RFC 5545 (3.3.5) is followed: a time that is skipped is read
with the offset before the change (02:30 becomes 03:30), a time that comes twice is the first
one. Only while a cook may still be speaking of the second one, until two hours after it, is
the nearer of the two meant. The zone's letters ("01:30 EST") may be typed too.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from pitjournal import units
from pitjournal.domain.times.moments import BESIDE_TODAY, DAYS, MONTHS, time_zone
from pitjournal.domain.times.parts_of_day import with_plain_day
from pitjournal.errors import JournalError
from pitjournal.units import Dimension, UnitSystem

EXAMPLE = "7:15 pm, 20 min ago or 14 Nov 8:30"

_YEARS = range(1970, 2200)  # beyond them a slip of the finger is likelier than a cook
_SECOND_IS_MEANT = timedelta(hours=2)

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

_NEXT = re.compile(r"^(?:next|this|coming)\s+")
_NAMED = r"(?P<month>[a-z]{3,9})\.?"
_DATES = (
    re.compile(r"^(?P<y>\d{4})-(?P<m>\d{1,2})-(?P<d>\d{1,2})$"),
    re.compile(r"^(?P<d>\d{1,2})\.\s*(?P<m>\d{1,2})\.(?:\s*(?P<y>\d{4}))?$"),
    re.compile(rf"^(?P<d>\d{{1,2}})(?:st|nd|rd|th|\.)?\s*{_NAMED}(?:,?\s*(?P<y>\d{{4}}))?$"),
    re.compile(rf"^{_NAMED}\s*(?P<d>\d{{1,2}})(?:st|nd|rd|th)?(?:,?\s*(?P<y>\d{{4}}))?$"),
)
_SLASHED = re.compile(r"^(?P<one>\d{1,2})/(?P<two>\d{1,2})(?:/(?P<y>\d{4}))?$")


class Looking(StrEnum):
    """Which way a time looks of which the day is left open."""

    AROUND = "around"
    AHEAD = "ahead"
    BACK = "back"


LATE = timedelta(hours=1)
"""What is planned for so little ago is still meant."""

FAST = timedelta(minutes=10)
"""What is logged for so soon is still meant: clocks differ."""

Span = tuple[datetime, datetime]


@dataclass(frozen=True)
class _Sight:
    """From where a time looks: around `span`, ahead of it or back; never before `earliest`."""

    looking: Looking
    span: Span
    earliest: datetime | None = None

    def choose(self, moments: Iterable[datetime]) -> datetime | None:
        """Return the moment that is meant; where none lies that way, the nearest."""
        least = self.earliest
        found = sorted(one for one in moments if least is None or one >= least)
        # in UTC: sums on a wall clock forget which pass of a repeated hour it is
        low, high = (moment.astimezone(UTC) for moment in self.span)
        if self.looking is Looking.AHEAD:
            ahead = [moment for moment in found if moment >= low - LATE]
            return ahead[0] if ahead else max(found, default=None)
        if self.looking is Looking.BACK:
            back = [moment for moment in found if moment <= high + FAST]
            return back[-1] if back else min(found, default=None)

        def away(moment: datetime) -> timedelta:
            return max(low - moment, moment - high, timedelta(0))

        return min(found, key=lambda moment: (away(moment), moment), default=None)


def parse_moment(
    text: str, now: datetime, zone: str, looking: Looking = Looking.AROUND
) -> datetime:
    """Return the moment a cook means.

    Understood: ``now``, ``20 min ago``, ``20 ago`` (minutes), ``in 1h40``, ``7:15``,
    ``7:15 pm``, ``1915``, ``noon``, any of these with ``yesterday``, ``today``, ``tomorrow``,
    a part of such a day (``last night 8:05pm``, ``this morning 6``), a weekday (``Saturday 9``, ``next Saturday 9``) or a date (``14 Nov``, ``Nov 14 2025``, ``14.11.``, ``2025-11-14``), and ISO 8601
    with an offset. Without am or pm the clock has 24 hours. A day that is left open is filled so
    that the moment lies nearest to now, ahead of it, or before it, a year always the nearest;
    of two equally near ones the past one is meant.

    Parameters
    ----------
    text
        What was typed.
    now
        The present moment, aware.
    zone
        IANA name of the cook's time zone.
    looking
        Which way what is left open is filled: what is planned lies ahead (or `LATE`), what is
        logged lies behind (or `FAST`).

    Returns
    -------
    datetime
        Aware, UTC.

    Raises
    ------
    JournalError
        If no moment is understood; the hint gives an example.
    """
    return _parse(text, now, zone, _Sight(looking, (now, now)))


def parse_planned(text: str, near: datetime, now: datetime, zone: str) -> datetime:
    """Return the moment a cook means who plans a day that lies near another moment.

    What is left open lies nearest to `near`, but while that is to come a bare time and a
    weekday are to come too. What speaks of today, such as ``tomorrow 20:30`` or ``in 20 min``, goes by now.

    Raises
    ------
    JournalError
        As `parse_moment`.
    """
    now = now.astimezone(UTC)
    to_come = near >= now - LATE
    return _parse(
        text, now, zone, _Sight(Looking.AROUND, (near, near), now - LATE if to_come else None)
    )


def parse_logged(text: str, span: Span | None, now: datetime, zone: str) -> datetime:
    """Return the moment a cook means who logs what has happened.

    It is the last one, or for a cook of another day (`span`, from its first moment to its
    last) the one nearest to that cook. What speaks of today goes by now.

    Raises
    ------
    JournalError
        As `parse_moment`.
    """
    back = _Sight(Looking.BACK, (now, now))
    sight = back if span is None else _Sight(Looking.AROUND, span)
    return _parse(text, now, zone, sight)


def _parse(text: str, now: datetime, zone: str, sight: _Sight) -> datetime:
    if now.tzinfo is None:
        raise ValueError("now must be aware")
    words = with_plain_day(" ".join(text.casefold().split()).rstrip(","))
    try:
        moment = _Reader(now.astimezone(UTC), time_zone(zone), sight).read(words)
    except (OverflowError, ValueError) as error:
        raise _not_understood(text) from error
    if moment is None or moment.year not in _YEARS:
        raise _not_understood(text)
    return moment


def _not_understood(text: str) -> JournalError:
    seen = f"“{text.strip()[:40]}”" if text.strip() else "An empty field"
    return JournalError(f"{seen} is not a time.", f"Try {EXAMPLE}.")


@dataclass(frozen=True)
class _Reader:
    """Reads a time: what speaks of today by `now`, else as the sight looks."""

    now: datetime
    zone: ZoneInfo
    sight: _Sight

    def read(self, words: str) -> datetime | None:
        if words in {"now", "just now"}:
            return self.now
        if ago := _AGO.match(words):
            past = ago["past"] is not None
            span = timedelta(seconds=_span(ago["past"] if past else ago["ahead"]))
            return self.now - span if past else self.now + span
        if _ISO.match(words):
            stamp = datetime.fromisoformat(words.upper())
            if stamp.tzinfo is not None:
                return stamp.astimezone(UTC)
            return _on(stamp.date(), stamp.time(), self.now, self.zone)
        if re.fullmatch(r"\d{3,4}", words):
            words = f"{words[:-2]}:{words[-2:]}"
        for form in (_DAY_CLOCK, _CLOCK_DAY):
            found = form.match(words)
            clock = _clock(found) if found else None
            if found and clock is None and _names_a_day(found["day"] or ""):
                clock = _bare_hour(found)
            if found and clock and (moment := self._with_day(found, clock)):
                return moment
        return None

    def _with_day(self, found: re.Match[str], clock: time) -> datetime | None:
        named = found["day"] or ""
        sight = self.sight
        if named in BESIDE_TODAY:
            sight = _Sight(Looking.AROUND, (self.now, self.now))
        elif any(sign.isdigit() for sign in named):  # a date is meant as it stands
            sight = _Sight(Looking.AROUND, sight.span)
        low, high = (moment.astimezone(self.zone).date() for moment in sight.span)
        days = {one for day in {low, high} for one in _days(named, day)}
        letters = found.groupdict().get("letters")
        if letters is not None:
            passes = (
                datetime.combine(day, clock, self.zone).replace(fold=f)
                for day in days
                for f in (0, 1)
            )
            called = [one for one in passes if (one.tzname() or "").casefold() == letters]
            return sight.choose(one.astimezone(UTC) for one in called)
        near = sight.span[1]
        if sight.looking is Looking.AROUND:
            return sight.choose(_on(day, clock, near, self.zone) for day in days)
        return sight.choose(one for day in days for one in _passes(day, clock, near, self.zone))


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


def _bare_hour(found: re.Match[str]) -> time | None:
    """Return the whole hour of "Saturday 9": behind the name of a day it can be nothing else."""
    bare = not found["word"] and not found["half"] and found["minute"] is None
    return time(int(found["hour"])) if bare else None


def _names_a_day(words: str) -> bool:
    return words in BESIDE_TODAY or _weekday(_NEXT.sub("", words)) is not None


def _weekday(words: str) -> int | None:
    """Return the number of a day of the week; None if it is none."""
    words = words.rstrip(".")
    names = [day.casefold() for day in DAYS]
    return next((n for n, d in enumerate(names) if len(words) >= 3 and d.startswith(words)), None)


def _passes(day: date, clock: time, now: datetime, zone: ZoneInfo) -> list[datetime]:
    """Return the moments a wall clock shows a time on a day that a cook may be speaking of."""
    wall = datetime.combine(day, clock, zone)
    first = wall.astimezone(UTC)
    second = wall.replace(fold=1).astimezone(UTC)  # earlier than `first` where time is skipped
    fresh = second > first and now - second <= _SECOND_IS_MEANT
    return [first, second] if fresh else [first]


def _on(day: date, clock: time, now: datetime, zone: ZoneInfo) -> datetime:
    """Return the moment a wall clock shows a time on a day, as the module's notes say."""
    return min(_passes(day, clock, now, zone), key=lambda moment: (abs(now - moment), moment))


def _days(words: str, today: date) -> list[date]:
    """Return the days that may be meant."""
    words = words.rstrip(",")
    if not words:
        return [today + timedelta(days=step) for step in (-1, 0, 1)]
    if words in BESIDE_TODAY:
        return [today + timedelta(days=BESIDE_TODAY[words])]
    weekday = _weekday(_NEXT.sub("", words))
    if weekday is not None:
        first = 1 if _NEXT.match(words) else -7  # "next Saturday" is one to come
        week = (today + timedelta(days=step) for step in range(first, 8))
        return [day for day in week if day.weekday() == weekday]
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
