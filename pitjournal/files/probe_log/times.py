"""Times as loggers write them: each kind is tried on the whole column."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime

MONTHS = {
    name: number
    for number, names in enumerate(
        (
            ("jan", "january", "januar"),
            ("feb", "february", "februar"),
            ("mar", "march", "mär", "mrz", "märz"),
            ("apr", "april"),
            ("may", "mai"),
            ("jun", "june", "juni"),
            ("jul", "july", "juli"),
            ("aug", "august"),
            ("sep", "sept", "september"),
            ("oct", "okt", "october", "oktober"),
            ("nov", "november"),
            ("dec", "dez", "december", "dezember"),
        ),
        1,
    )
    for name in names
}
_CLOCK = (
    r"(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?\s*([ap]\.?m\.?)?"
    r"\s*(z|utc|gmt|[+-]\d{2}:?\d{2})?"
)
_YEAR_FIRST = re.compile(
    rf"^(\d{{4}})([-/.])(\d{{1,2}})\2(\d{{1,2}})(?:[t\s,]+{_CLOCK})?$", re.IGNORECASE
)
_YEAR_LAST = re.compile(
    rf"^(\d{{1,2}})([-/.])(\d{{1,2}})\2(\d{{4}}|\d{{2}})(?:[t\s,]+{_CLOCK})?$", re.IGNORECASE
)
_DAY_NAME = re.compile(
    rf"^(\d{{1,2}})[\s.-]+([a-zä]{{3,9}})\.?[\s,-]+(\d{{4}})(?:[t\s,]+{_CLOCK})?$", re.IGNORECASE
)
_NAME_DAY = re.compile(
    rf"^([a-zä]{{3,9}})\.?\s+(\d{{1,2}}),?\s+(\d{{4}})(?:[t\s,]+{_CLOCK})?$", re.IGNORECASE
)
_COMPACT = re.compile(r"^(\d{4})(\d{2})(\d{2})(?:t?(\d{2})(\d{2})(\d{2}))?(z)?$", re.IGNORECASE)
_TIME = re.compile(rf"^{_CLOCK}$", re.IGNORECASE)
_LONG_CLOCK = re.compile(r"^(?:(\d+)d\s*)?(\d+):([0-5]\d)(?::([0-5]\d)(?:[.,](\d+))?)?$")
_WEEKDAY = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[,\s]+", re.IGNORECASE)
_DATE_IN_TEXT = re.compile(
    r"\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4}|\d{1,2}[\s.-]+[A-Za-zä]{3,9}\.?[\s,-]+\d{4}"
    r"|[A-Za-zä]{3,9}\.?\s+\d{1,2},?\s+\d{4}"
)


@dataclass(frozen=True)
class Stamp:
    """A time as read, before it is known which number is the day.

    `first` and `second` are day and month in an order that `settled` says is known
    (then `first` is the month).
    """

    year: int
    first: int
    second: int
    settled: bool
    seconds: float
    offset: int | None = None
    dotted: bool = False

    def day_of(self, *, day_first: bool) -> date:
        """Return the date; ValueError if there is none such."""
        if self.settled or not day_first:
            return date(self.year, self.first, self.second)
        return date(self.year, self.second, self.first)

    def instant(self, *, day_first: bool) -> float:
        """Return seconds since 1970 of the clock as written, or UTC when it has an offset."""
        day = self.day_of(day_first=day_first)
        base = datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp()
        return base + self.seconds - (self.offset or 0)


def _clock(groups: Sequence[str | None]) -> tuple[float, int | None] | None:
    hour, minute, second, fraction, half, zone = groups
    if hour is None:
        return 0.0, None
    hours, minutes, seconds = int(hour), int(minute or 0), int(second or 0)
    if half:
        if not 1 <= hours <= 12:
            return None
        hours = hours % 12 + 12 * (half[0] in "pP")
    if hours > 23 or minutes > 59 or seconds > 59:
        return None
    part = float(f"0.{fraction}") if fraction else 0.0
    return hours * 3600.0 + minutes * 60.0 + seconds + part, _offset(zone)


def _offset(zone: str | None) -> int | None:
    if not zone:
        return None
    if zone[0] not in "+-":
        return 0
    digits = zone[1:].replace(":", "")
    minutes = int(digits[:2]) * 60 + int(digits[2:])
    return (-60 if zone[0] == "-" else 60) * minutes


def _year(text: str) -> int:
    return int(text) if len(text) == 4 else 2000 + int(text)


def read_stamp(text: str) -> Stamp | None:
    """Read a date with or without a time of day; None if it is neither."""
    words = _WEEKDAY.sub("", text.strip())
    if found := _YEAR_FIRST.match(words):
        clock, parts = _clock(found.groups()[4:]), (found[1], found[3], found[4])
        known, dotted = True, False
    elif found := _YEAR_LAST.match(words):
        clock, parts = _clock(found.groups()[4:]), (found[4], found[1], found[3])
        known, dotted = False, found[2] == "."
    elif found := _DAY_NAME.match(words) or _NAME_DAY.match(words):
        named, day = (found[1], found[2]) if found[1][0].isalpha() else (found[2], found[1])
        month = MONTHS.get(named.casefold())
        if month is None:
            return None
        clock, parts = _clock(found.groups()[3:]), (found[3], str(month), day)
        known, dotted = True, False
    elif found := _COMPACT.match(words):
        clock = _clock((found[4], found[5], found[6], None, None, found[7]))
        parts, known, dotted = (found[1], found[2], found[3]), True, False
    else:
        return None
    if clock is None:
        return None
    return Stamp(_year(parts[0]), int(parts[1]), int(parts[2]), known, *clock, dotted)


def read_time_of_day(text: str) -> float | None:
    """Read a time of day without a date, s after midnight."""
    found = _TIME.match(text.strip())
    if not found or found[6]:
        return None
    clock = _clock(found.groups())
    return None if clock is None else clock[0]


def read_elapsed_clock(text: str) -> float | None:
    """Read h:mm[:ss] of any number of hours, s."""
    found = _LONG_CLOCK.match(text.strip())
    if not found:
        return None
    days, hours, minutes, seconds, fraction = found.groups()
    whole = int(days or 0) * 86400 + int(hours) * 3600 + int(minutes) * 60 + int(seconds or 0)
    return whole + (float(f"0.{fraction}") if fraction else 0.0)


def read_number(text: str) -> float | None:
    """Read a plain number."""
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        return None


def any_time(cell: str) -> bool:
    """Whether a cell is a date or a time of some kind, beyond a plain number."""
    return (
        read_stamp(cell) is not None
        or read_time_of_day(cell) is not None
        or read_elapsed_clock(cell) is not None
    )


def scaled(
    low: float, high: float, factor: float, shift: float = 0.0
) -> Callable[[str], float | None]:
    """Return a reader of numbers within bounds, such as an epoch or a spreadsheet's day."""

    def read(text: str) -> float | None:
        number = read_number(text)
        if number is None or not low <= number <= high:
            return None
        return number * factor + shift

    return read


EPOCHS: tuple[Callable[[str], float | None], ...] = (
    scaled(9.0e8, 4.2e9, 1.0),
    scaled(9.0e11, 4.2e12, 1e-3),
    scaled(9.0e14, 4.2e15, 1e-6),
)
serial_day = scaled(25_569.0, 80_000.0, 86_400.0, -25_569.0 * 86_400.0)
"""A spreadsheet's day count (day 25,569 is 1 January 1970), s since 1970."""


def date_in(lines: Sequence[str]) -> Stamp | None:
    """Return the first date in the lines of a preamble."""
    for line in lines:
        for found in _DATE_IN_TEXT.finditer(line):
            stamp = read_stamp(found[0])
            if stamp is not None:
                return stamp
    return None
