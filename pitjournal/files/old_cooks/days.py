"""Dates as people write them, over a whole column."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from pitjournal.files.old_cooks.words import plain
from pitjournal.files.probe_log.times.months import MONTHS

_NUMERIC = re.compile(r"(\d{1,4})\s*[-/.]\s*(\d{1,2})\s*[-/.]\s*(\d{1,4}|'\d\d)(?!\d)")
_SHORT = re.compile(r"(\d{1,2})(?:\s*[-/]\s*(\d{1,2})|\.\s*(\d{1,2})\.)")
_COMPACT = re.compile(r"(?:19|20)\d{6}")
_EPOCH = date(1899, 12, 30)
"""Day 0 of a spreadsheet's count of days."""

SERIALS = range(32_874, 58_000)
"""A spreadsheet's days from 1990 to 2058."""


@dataclass(frozen=True)
class Written:
    """A date as written: its parts, and whether day and month could be the other way round."""

    year: int | None
    first: int
    second: int
    month_first: bool | None
    """None where the parts do not say which is the month."""

    def on(self, *, day_first: bool, year: int | None) -> date | None:
        """Return the date; None where there is no such day or no year."""
        month_first = self.month_first if self.month_first is not None else not day_first
        month, day = (self.first, self.second) if month_first else (self.second, self.first)
        known = self.year if self.year is not None else year
        if known is None:
            return None
        try:
            return date(known, month, day)
        except ValueError:
            return None


def read_date(cell: str) -> Written | None:
    """Return a date as written, or None."""
    text = plain(cell).strip(" .,")
    if not text or len(text) > 48:
        return None
    if _COMPACT.fullmatch(text):
        return _checked(int(text[:4]), int(text[4:6]), int(text[6:]), True)
    if re.fullmatch(r"\d{5}(?:\.\d+)?", text) and int(text[:5]) in SERIALS:
        day = _EPOCH + timedelta(days=int(text[:5]))
        return Written(day.year, day.month, day.day, month_first=True)
    return _named(text) or _in_figures(cell, text)


def _in_figures(cell: str, text: str) -> Written | None:
    """Return a date of figures alone, with or without a year."""
    if found := _NUMERIC.search(text):
        around = text[: found.start()] + " " + text[found.end() :]
        return _numeric(*found.groups()) if _harmless(around) else None
    if found := _SHORT.fullmatch(plain(cell)):
        return _checked(None, int(found[1]), int(found[2] or found[3]), None if found[2] else False)
    return None


def _harmless(around: str) -> bool:
    """Whether what stands around a date is a weekday, a time of day, or nothing."""
    return not re.sub(
        r"\b[a-z]{2,10}\.?(?=\s|,|$)|\d{1,2}:\d\d(?::\d\d)?(?:\.\d+)?\s*(?:[ap]m|uhr|h)?z?|\bt\b|[,;()]",
        " ",
        around,
    ).strip()


def _numeric(one: str, two: str, three: str) -> Written | None:
    if len(one) >= 3:
        return _checked(int(one), int(two), int(three.strip("'")), True)
    year = int(three.strip("'"))
    if len(three.strip("'")) <= 2:
        year += 2000 if year < 70 else 1900
    return _checked(year, int(one), int(two), None)


def _named(text: str) -> Written | None:
    """Return a date with a month's name, in any order; the day may be missing (the first)."""
    tokens = re.findall(r"[a-z]+|'?\d+", re.sub(r"(?<=\d)(?:st|nd|rd|th)\b", "", text))
    months = [MONTHS[token] for token in tokens if token in MONTHS]
    numbers = [token for token in tokens if token.strip("'").isdigit()]
    others = [
        t
        for t in tokens
        if t.isalpha() and t not in MONTHS and t not in {"de", "del", "of", "the", "el"}
    ]
    if len(months) != 1 or not 1 <= len(numbers) <= 2 or len(others) > 1:
        return None
    if any(len(word) > 10 for word in others) or (others and others[0] not in _WEEKDAYS):
        return None
    year = next((n for n in numbers if n.startswith("'") or len(n) == 4), None)
    days = [n for n in numbers if n is not year]
    if year is None and len(numbers) == 2:
        days, year = numbers[:1], numbers[1]
    if year is not None:
        known: int | None = int(year.strip("'"))
        known = known + 2000 if known is not None and known < 70 else known
    else:
        known = None
    return _checked(known, months[0], int(days[0]) if days else 1, True)


_WEEKDAYS = frozenset(
    [
        "mon",
        "tue",
        "tues",
        "wed",
        "thu",
        "thur",
        "thurs",
        "fri",
        "sat",
        "sun",
        "monday",
        "tuesday",
        "wednesday",
        "thursday",
        "friday",
        "saturday",
        "sunday",
        "mo",
        "di",
        "mi",
        "do",
        "fr",
        "sa",
        "so",
        "montag",
        "dienstag",
        "mittwoch",
        "donnerstag",
        "freitag",
        "samstag",
        "sonnabend",
        "sonntag",
        "lun",
        "mar",
        "mie",
        "jue",
        "vie",
        "sab",
        "dom",
        "lunes",
        "martes",
        "miercoles",
        "jueves",
        "viernes",
        "sabado",
        "domingo",
    ]
)


def _checked(year: int | None, first: int, second: int, month_first: bool | None) -> Written | None:
    if year is not None and not 1950 <= year <= 2100:
        return None
    if month_first is None and first > 12 >= second:
        month_first = False
    elif month_first is None and second > 12 >= first:
        month_first = True
    written = Written(year, first, second, month_first)
    months = first if month_first else second if month_first is False else min(first, second)
    days = second if month_first else first if month_first is False else max(first, second)
    return written if 1 <= months <= 12 and 1 <= days <= 31 else None


@dataclass(frozen=True)
class Order:
    """Which part comes first in a column's dates, and whether the column itself says so."""

    day_first: bool
    told: bool
    mixed: bool = False


def order_of(dates: Sequence[Written], *, leaning: bool) -> Order:
    """Return a column's order of day and month.

    Parameters
    ----------
    dates
        The dates of the column as written.
    leaning
        What to take where nothing tells: whether the table's language writes the day first.
    """
    open_ones = [one for one in dates if one.month_first is None]
    days = sum(one.month_first is False for one in dates)
    months = sum(one.month_first is True and one.second > 12 for one in dates)
    same = all(one.first == one.second for one in open_ones)
    if not open_ones or same:
        return Order(days > months or (days == months and leaning), told=True)
    if days and months and min(days, months) > 0.1 * max(days, months):
        return Order(days > months, told=False, mixed=True)
    if days or months:
        return Order(days > months, told=True)
    rising = [_rising(open_ones, day_first=first) for first in (True, False)]
    if rising[0] != rising[1]:
        leaning = rising[0] > rising[1]
    return Order(leaning, told=False)


def _rising(dates: Sequence[Written], *, day_first: bool) -> int:
    """Return how many dates are not before the one above: people write from the top down."""
    known = [day for one in dates if (day := one.on(day_first=day_first, year=None))]
    up = sum(later >= former for former, later in pairwise(known))
    return max(up, len(known) - 1 - up)
