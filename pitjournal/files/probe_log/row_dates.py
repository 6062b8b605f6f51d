"""The days of rows: their years, which of day and month stands first, and where a day begins."""

import re
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from pitjournal.files.probe_log.body import Body
from pitjournal.files.probe_log.report import ReadOptions
from pitjournal.files.probe_log.times.beside import date_in
from pitjournal.files.probe_log.times.clock import Clock
from pitjournal.files.probe_log.times.stamps import NO_YEAR, Moment

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

_YEAR = re.compile(r"(?<!\d)(?:19|20)\d\d(?![\d:])")

_EPOCH = date(1970, 1, 1).toordinal()


@dataclass(frozen=True)
class Beside:
    """What stands beside the rows.

    Attributes
    ----------
    name
        The file's name, for a refusal.
    context
        Lines that stand above the rows.
    unread
        Places of rows that could not be read.
    """

    name: str
    context: list[str]
    unread: NDArray[np.int64]


def year_above(beside: Beside) -> tuple[Moment, bool] | None:
    """Return a date above the rows whose year has four digits.

    What is above the rows may be a damaged one of them: “14.03. 21:50” has no year.
    """
    return date_in([line for line in beside.context if _YEAR.search(line)])


def with_years(body: Body, beside: Beside, *, day_first: bool) -> NDArray[np.int64]:
    """Return dates' codes with the year that makes the first one nearest to the date above it.

    Without a date above the rows, of a year that has a 29 February only if they do.
    """
    codes = body.dates % 10_000
    swap = body.loose & day_first
    months = np.where(swap, codes % 100, codes // 100)
    days = np.where(swap, codes // 100, codes % 100)
    turns = np.diff(months)
    years = np.concatenate(([0], np.cumsum((turns == -11).astype(int) - (turns == 11))))
    stated = year_above(beside)
    if stated is None:
        leap = ((months == 2) & (days == 29)).sum() > min(2, body.count // 2)
        return np.asarray((NO_YEAR + (0 if leap else 1) + years) * 10_000 + codes)
    about = day_of(stated[0].date, swap=stated[0].loose and day_first)
    # A damaged row must not decide: the day that most rows have does.
    row = int(np.argmax(codes == np.bincount(codes).argmax()))
    year = stated[0].date // 10_000 - int(years[row])
    near = {}
    for other in (year, year - 1, year + 1):
        there = day_of((other + int(years[row])) * 10_000 + int(codes[row]), swap=bool(swap[row]))
        near[other] = np.inf if np.isnan(there) else abs(there - about)
    nearest = min(near, key=lambda other: near[other])
    return np.asarray((nearest + years) * 10_000 + codes)


def runs_of(dates: NDArray[np.int64]) -> NDArray[np.intp]:
    """Return where runs of rows of one date begin."""
    return np.concatenate(([0], np.flatnonzero(np.diff(dates)) + 1))


def days_of(dates: NDArray[np.int64], loose: Mask, *, day_first: bool) -> Floats:
    """Return days since 1970, NaN for a date that there is not."""
    begins = runs_of(dates)
    lengths = np.diff(np.append(begins, dates.size))
    days = [
        day_of(int(dates[place]), swap=bool(loose[place]) and day_first)
        for place in begins.tolist()
    ]
    return np.repeat(np.array(days, dtype=np.float64), lengths)


@lru_cache(maxsize=4096)
def day_of(code: int, *, swap: bool) -> float:
    """Return the days since 1970 of a date as YYYYMMDD, NaN where there is no such day."""
    year, first, second = code // 10_000, code // 100 % 100, code % 100
    try:
        found = date(year, second, first) if swap else date(year, first, second)
    except ValueError:
        return np.nan
    return float(found.toordinal() - _EPOCH)


def reads_day_first(body: Body, clock: Clock, options: ReadOptions, notes: dict[str, str]) -> bool:
    """Decide which number is the day: by what is possible, by the cook, by the steps.

    What a row or two say against all others is damage, and decides nothing.
    """
    if not body.loose.any():
        return False
    begins = runs_of(body.dates)
    lengths = np.diff(np.append(begins, body.count))
    long = (lengths > 2) | (body.count < 12)
    dates, loose = body.dates[begins][long], body.loose[begins][long]
    if not dates.size:
        dates, loose = body.dates[begins], body.loose[begins]
        long = np.ones(begins.size, dtype=np.bool_)
    wrong, steps = [], []
    for choice in (False, True):
        days = np.array(
            [day_of(int(d), swap=bool(s) and choice) for d, s in zip(dates, loose, strict=True)]
        )
        wrong.append(int(lengths[long][np.isnan(days)].sum()))
        apart = np.diff(days[~np.isnan(days)])
        steps.append(int(((apart < 0) | (apart > 1)).sum()))
    if min(wrong) == 0 < max(wrong) or abs(wrong[0] - wrong[1]) > body.count / 2:
        return wrong[1] < wrong[0]
    if options.day_first is not None:
        return options.day_first
    if steps[0] != steps[1]:
        return steps[1] < steps[0]
    swapped = any(code // 100 % 100 != code % 100 for code in dates.tolist())
    if swapped:
        order = "day first, as dates with dots are" if clock.dotted else "month first"
        notes["ambiguous_date"] = f"Day and month cannot be told apart; read with the {order}."
    return clock.dotted


# times of a day, and since a start
