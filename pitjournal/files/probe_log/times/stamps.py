"""Times as loggers write them: one cell's text to the numbers in it."""

import re
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from pitjournal.files.probe_log.times.months import month_named

DAY = 86_400.0

ZONES = {
    "z": 0,
    "utc": 0,
    "gmt": 0,
    "est": -300,
    "edt": -240,
    "cst": -360,
    "cdt": -300,
    "mst": -420,
    "mdt": -360,
    "pst": -480,
    "pdt": -420,
    "bst": 60,
    "wet": 0,
    "west": 60,
    "cet": 60,
    "cest": 120,
    "mez": 60,
    "mesz": 120,
    "eet": 120,
    "eest": 180,
}
"""Minutes east of UTC; the American ones as RFC 5322 (4.3) lists them, the European from memory."""

_ZONE = r"z|(?:utc|gmt)?\s*[+-−]\d{1,2}(?::?[0-5]\d)?|" + "|".join(
    name for name in ZONES if len(name) > 1
)
_ZONE = _ZONE.replace("[+-−]", "[-+−]")
_HALF = r"(?P<half>[ap])\.?\s?(?:m\.?)?(?![a-z])"
CLOCK = (
    r"(?P<hour>\d{1,2})(?:"
    r":(?P<minute>\d{2})(?::(?P<second>\d{2})(?:[.,](?P<part>\d{1,9}))?)?"
    r"|\.(?P<minute2>\d{2})(?:\.(?P<second2>\d{2}))?"
    r"|\s?h\s?(?P<minute3>\d{2})(?:\s?(?:m|min)?\s?(?P<second3>\d{2})\s?s?)?"
    rf")(?:\s*{_HALF})?(?:\s*(?P<zone>{_ZONE})(?:\[[\w/+-]+\])?)?"
)
_APART = r"\s+-\s+|\s+(?:at|um|kl\.?|à|a\s+las)\s+|\s+"
_BETWEEN = rf"(?:\s*[t,;_@:]\s*|-|{_APART})"
_AND_CLOCK = rf"(?:{_BETWEEN}{CLOCK})?$"
_MONTH = r"(?P<name>[^\W\d_]{3,13})"
_YEAR = r"(?P<year>\d{4}|'?\d{2})"
_COMPACT_CLOCK = (
    r"(?P<hour>\d{2}):?(?P<minute>\d{2})(?::?(?P<second>\d{2})(?:[.,](?P<part>\d{1,9}))?)?"
    rf"\s*(?P<zone>{_ZONE})?"
)
_STAMPS = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        rf"^(?P<year>\d{{4}})(?P<mark>[-/._])(?P<month>\d{{1,2}})(?P=mark)(?P<day>\d{{1,2}}){_AND_CLOCK}",
        rf"^(?P<first>\d{{1,2}})(?P<mark>[-/.])\s?(?P<last>\d{{1,2}})(?P=mark)\s?{_YEAR}{_AND_CLOCK}",
        rf"^(?P<day>\d{{1,2}})(?:st|nd|rd|th)?[\s./-]*(?:de\s+)?{_MONTH}\.?[\s,./-]*(?:del?\s+)?{_YEAR}{_AND_CLOCK}",
        rf"^{_MONTH}\.?[\s-]+(?P<day>\d{{1,2}})(?:st|nd|rd|th)?(?:\s*,\s*|\s+|-)(?P<year>\d{{4}}){_AND_CLOCK}",
        rf"^(?P<year>\d{{4}})[-\s/.]{_MONTH}[-\s/.](?P<day>\d{{1,2}}){_AND_CLOCK}",
        rf"^{_MONTH}\s+(?P<day>\d{{1,2}})\s+{CLOCK}\s+(?P<year>\d{{4}})$",
        (
            r"^(?P<year>\d{4})-(?P<month>\d{2})-(?P<day>\d{2})[_t ]"
            r"(?P<hour>\d{2})-(?P<minute>\d{2})(?:-(?P<second>\d{2}))?$"
        ),
        rf"^(?P<year>(?:19|20)\d{{2}})(?P<month>\d{{2}})(?P<day>\d{{2}})(?:[t\s_-]?{_COMPACT_CLOCK})?$",
        rf"^(?P<year>\d{{4}})\s?[年년]\s?(?P<month>\d{{1,2}})\s?[月월]\s?(?P<day>\d{{1,2}})\s?[日일]{_AND_CLOCK}",
    )
)
_THEN_CLOCK = rf"(?:\s*[t,;_@]\s*|{_APART}){CLOCK}$"
_YEARLESS = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        rf"^(?P<first>\d{{1,2}})[-/](?P<last>\d{{1,2}}){_THEN_CLOCK}",
        rf"^(?P<first>\d{{1,2}})\.\s?(?P<last>\d{{1,2}})\.{_THEN_CLOCK}",
        rf"^{_MONTH}\.?[\s-]+(?P<day>\d{{1,2}})(?:st|nd|rd|th)?{_THEN_CLOCK}",
        rf"^(?P<day>\d{{1,2}})(?:st|nd|rd|th)?[\s./-]*(?:de\s+)?{_MONTH}\.?{_THEN_CLOCK}",
    )
)
NO_YEAR = 2000
"""Stands for a year that is not written; it has a 29 February."""
_SHORT = re.compile(r"^(\d{2})([-/.])\d{1,2}[-/.](\d{2})(?!\d)")
_CLOCK_FIRST = re.compile(rf"^(?P<clock>{CLOCK})[\s,;]+(?P<date>\S.*)$", re.IGNORECASE)
_TIME = re.compile(rf"^(?:kl\.?\s*)?{CLOCK}$", re.IGNORECASE)
_WEEKDAY = re.compile(r"^[^\W\d_]{2,10}\.?,?\s+(?=\S)")
_ELAPSED = re.compile(
    r"^[+]?(?:t\+)?(?:(?P<days>\d+)(?:\s*(?:d|days?|tage?|:|\.)\s*,?\s*|\s+)(?=\d+:\d\d:))?"
    r"(?P<hours>\d+):(?P<minutes>[0-5]\d)(?::(?P<seconds>[0-5]\d)(?:[.,](?P<part>\d{1,9}))?)?$",
    re.IGNORECASE,
)
_MINUTE_CLOCK = re.compile(r"^[+]?(?P<minutes>\d+):(?P<seconds>[0-5]\d)(?:[.,](?P<part>\d{1,9}))?$")
_IN_WORDS = re.compile(
    r"^p?(?:(?P<days>\d+)\s*d(?:ays?)?)?[\s,t]*(?:(?P<hours>\d+)\s*h(?:(?:ou)?rs?)?)?[\s,]*"
    r"(?:(?P<minutes>\d+(?:[.,]\d+)?)\s*m(?:in(?:ute)?s?)?)?[\s,]*"
    r"(?:(?P<seconds>\d+(?:[.,]\d+)?)\s*s(?:ec(?:ond)?s?)?)?$",
    re.IGNORECASE,
)
_PLAIN = re.compile(r"^[-+]?\d+(?:[.,]\d*)?$")


class Moment(NamedTuple):
    """What a row's time says.

    `date` is year × 10,000 + first × 100 + second, where first and second are month and day,
    or, while `loose`, the two numbers in the file's order; 0 without a date. `seconds` are
    those of the day (or of the clock's own count); `offset` is s east of UTC, NaN where none
    is written.
    """

    date: int
    loose: bool
    seconds: float
    offset: float


NO_OFFSET = float("nan")


def match_stamp(text: str, *, yearless: bool = False) -> re.Match[str] | None:
    """Return the match of the first way of writing a date (and clock) that fits.

    `yearless` asks for a date without its year, and with a clock.
    """
    if yearless and ":" not in text:
        return None
    for pattern in _YEARLESS if yearless else _STAMPS:
        found = pattern.match(text)
        if found and ("name" not in pattern.groupindex or month_named(found["name"])):
            return found
    return None


def offset_of(zone: str | None) -> float:
    """Return s east of UTC of a zone as written, NaN for none."""
    if not zone:
        return NO_OFFSET
    word = zone.casefold().replace("−", "-").replace(" ", "")
    if word in ZONES:
        return 60.0 * ZONES[word]
    sign = -60.0 if "-" in word else 60.0
    digits = re.sub(r"\D", "", word)
    hours, minutes = (digits, "0") if len(digits) <= 2 else (digits[:-2], digits[-2:])
    return sign * (int(hours) * 60 + int(minutes))


def _fields(found: re.Match[str]) -> dict[str, str]:
    return {key.rstrip("23"): value for key, value in found.groupdict().items() if value}


def clock_seconds(fields: dict[str, str]) -> float | None:
    """Return the seconds of the day that a clock's fields say, None where there are none such.

    24:00:00 is the end of its day, and so the next midnight (ISO 8601:2004, 4.2.3).
    """
    hours, minutes = int(fields.get("hour", 0)), int(fields.get("minute", 0))
    seconds = int(fields.get("second", 0))
    if "half" in fields:
        if not 1 <= hours <= 12:
            return None
        hours = hours % 12 + 12 * (fields["half"] in "pP")
    total = hours * 3600.0 + minutes * 60.0 + seconds + part_of(fields.get("part"))
    within = hours <= 23 and minutes <= 59 and seconds <= 59
    return total if within or (hours == 24 and total == DAY) else None


def part_of(digits: str | None) -> float:
    """Return a fraction of a second from the digits behind the point."""
    return int(digits) / 10.0 ** len(digits) if digits else 0.0


def date_code(fields: dict[str, str], *, year_first: bool = False) -> tuple[int, bool]:
    """Return a date's code and whether its two numbers may be swapped."""
    year = fields.get("year", str(NO_YEAR)).strip("'")
    if "first" not in fields:
        month = month_named(fields["name"]) if "name" in fields else int(fields["month"])
        return _code(year, month or 0, int(fields["day"])), False
    first, last = int(fields["first"]), int(fields["last"])
    if year_first and len(year) == 2:
        return _code(str(first), last, int(year)), False
    return _code(year, first, last), True


def _code(year: str, first: int, second: int) -> int:
    return (int(year) + (2000 if len(year) <= 2 else 0)) * 10_000 + first * 100 + second


@lru_cache(maxsize=4096)
def read_stamp(text: str, *, year_first: bool = False, yearless: bool = False) -> Moment | None:
    """Read a date with or without a clock; None if it is neither.

    `year_first` says how three short numbers are meant; `yearless` reads only dates without
    their year, as ones of the year `NO_YEAR`.
    """
    words = text.strip().strip("'\"=").strip()
    found = match_stamp(words, yearless=yearless)
    if found is None:
        swapped = _CLOCK_FIRST.match(words)
        bare = f"{swapped['date']} {swapped['clock']}" if swapped else _WEEKDAY.sub("", words)
        found = match_stamp(bare, yearless=yearless)
        if found is None:
            return None
    fields = _fields(found)
    seconds = clock_seconds(fields)
    if seconds is None:
        return None
    return Moment(*date_code(fields, year_first=year_first), seconds, offset_of(fields.get("zone")))


def is_year_first(texts: Sequence[str]) -> tuple[bool, bool]:
    """Return whether dates of three short numbers begin with the year, and whether that is sure.

    They do where the last numbers cannot all be years in which loggers were in use (2015 to
    2039), and the first ones can; or where the first stand still while the last go on. Where
    both can be, the one with dashes begins with it.
    """
    found = [match for text in texts if (match := _SHORT.match(text.strip(" '\"=")))]
    firsts = [int(match[1]) for match in found]
    lasts = [int(match[3]) for match in found]
    if not found or not _mostly_years(firsts):
        return False, True
    if not _mostly_years(lasts) or len(set(lasts)) > len(set(firsts)) + len(found) // 10:
        return True, True
    return found[0][2] == "-", False


def _mostly_years(numbers: Sequence[int]) -> bool:
    return sum(15 <= number <= 39 for number in numbers) >= 0.8 * len(numbers)


def has_clock(text: str) -> bool:
    """Whether a stamp says more than a day."""
    moment = read_stamp(text)
    return moment is not None and (":" in text or bool(moment.seconds) or len(text) > 12)


def match_time(text: str) -> re.Match[str] | None:
    """Return the match of a time of day without a date."""
    found = _TIME.match(text)
    if not found or found["zone"] or (found["minute2"] and not found["second2"]):
        return None
    return found


@lru_cache(maxsize=4096)
def read_time_of_day(text: str) -> float | None:
    """Read a time of day without a date, s after midnight."""
    found = match_time(text.strip())
    return None if found is None else clock_seconds(_fields(found))


def match_elapsed(text: str, *, minutes_first: bool = False) -> re.Match[str] | None:
    """Return the match of h:mm[:ss], or of m:ss where that is meant."""
    first, second = (_MINUTE_CLOCK, _ELAPSED) if minutes_first else (_ELAPSED, _MINUTE_CLOCK)
    return first.match(text) or second.match(text)


def elapsed_seconds(fields: dict[str, str]) -> float:
    """Return the seconds of days, hours, minutes and seconds."""
    scale = {"days": DAY, "hours": 3600.0, "minutes": 60.0, "seconds": 1.0}
    total = sum(float(fields[key].replace(",", ".")) * scale[key] for key in scale if key in fields)
    return total + part_of(fields.get("part"))


@lru_cache(maxsize=4096)
def read_elapsed(text: str, *, minutes_first: bool = False) -> float | None:
    """Read h:mm[:ss] of any number of hours, m:ss.t, or hours and minutes in words, s."""
    words = text.strip()
    found = match_elapsed(words, minutes_first=minutes_first)
    if found is None and words and not words.isdecimal():
        found = _IN_WORDS.match(words)
    if found is None:
        return None
    fields = {key: value for key, value in found.groupdict().items() if value}
    return elapsed_seconds(fields) if fields else None


@lru_cache(maxsize=8192)
def read_number(text: str) -> float | None:
    """Read a plain number; not one with an exponent, which has lost its digits."""
    words = text.strip()
    return float(words.replace(",", ".")) if _PLAIN.match(words) else None


def decimals(texts: Sequence[str]) -> int:
    """Return how many digits stand behind the point in most of the numbers that have one."""
    found = (re.search(r"[.,](\d+)\D*$", text) for text in texts)
    counts = Counter(len(match[1]) for match in found if match)
    return max(counts, key=lambda digits: (counts[digits], digits), default=0)


@lru_cache(maxsize=8192)
def any_time(cell: str) -> bool:
    """Whether a cell is a date or a time of some kind, beyond a plain number."""
    if not any(char.isdecimal() for char in cell) or read_number(cell) is not None:
        return False
    return (
        read_stamp(cell) is not None
        or read_time_of_day(cell) is not None
        or read_elapsed(cell) is not None
        or read_stamp(cell, yearless=True) is not None
    )
