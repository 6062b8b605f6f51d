"""Times of many rows at once.

The readers of `stamps` say where the numbers stand in one cell; a shape is that cell with its
digits left open. All rows whose bytes have a shape are read by it at once, and give exactly
what the reader would: what is no digit is the same, and the patterns do not ask which digit.
"""

import re
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pitjournal.files.probe_log.times.clock import Clock
from pitjournal.files.probe_log.times.months import month_named
from pitjournal.files.probe_log.times.stamps import (
    DAY,
    NO_YEAR,
    match_elapsed,
    match_stamp,
    match_time,
    offset_of,
)

Bytes = NDArray[np.uint8]
Floats = NDArray[np.float64]

_DIGITS = {
    "year",
    "month",
    "day",
    "first",
    "last",
    "hour",
    "minute",
    "second",
    "part",
    "days",
    "hours",
    "minutes",
    "seconds",
}
_ZERO = np.uint8(ord("0"))


@dataclass(frozen=True)
class Shape:
    """A way of writing a time, byte by byte.

    Attributes
    ----------
    form
        The bytes, with every digit of a field as 0.
    open
        Which bytes are such digits.
    fields
        Where each field stands.
    words
        Fields that are no digits: the month's name, the half of the day, the zone.
    """

    form: bytes
    open: tuple[bool, ...]
    fields: dict[str, tuple[int, int]]
    words: dict[str, str]

    @cached_property
    def bit_patterns(self) -> list["_BitPattern"]:
        """Return what rows of the shape have, eight bytes at a time."""
        fixed = bytes(0xF0 if free else 0xFF for free in self.open)
        form = bytes(
            0x30 if free else byte for free, byte in zip(self.open, self.form, strict=True)
        )
        digits = bytes(0x0F if free else 0 for free in self.open)
        six = bytes(0x06 if free else 0 for free in self.open)
        sixteen = bytes(0x10 if free else 0 for free in self.open)
        return [
            _BitPattern(*parts)
            for parts in zip(*map(_eights, (fixed, form, digits, six, sixteen)), strict=True)
        ]


class _BitPattern(NamedTuple):
    """Which bits of eight bytes are fixed and what they are; which are a digit's lower half."""

    fixed: np.uint64
    form: np.uint64
    digits: np.uint64
    six: np.uint64
    sixteen: np.uint64


def _eights(text: bytes) -> NDArray[np.uint64]:
    """Return bytes as words of eight, filled up with zeros."""
    return np.frombuffer(text.ljust(-(-len(text) // 8) * 8, b"\0"), dtype=np.uint64)


@dataclass(frozen=True)
class Times:
    """What rows' times say (see `stamps.Moment`), and which of the rows have such a time."""

    dates: NDArray[np.int64]
    seconds: Floats
    valid: NDArray[np.bool_]


def shape_of(raw: bytes, clock: Clock, delimiter: bytes) -> Shape | None:
    """Return the shape of a cell (or of cells side by side) with the byte that ends it.

    None where it is no plain time that a pattern reads as it stands.
    """
    if not raw.isascii():
        return None
    blank = clock.join == " "
    inner = raw[:-1].replace(delimiter, b" ") if blank else raw[:-1]
    text = inner.replace(b'"', b" ").decode("ascii")
    lead = len(text) - len(text.lstrip())
    found = _match(text.strip(), clock)
    if found is None:
        return None
    fields, words = {}, {}
    for key, value in found.groupdict().items():
        if value is None:
            continue
        name = key.rstrip("23")
        if name in _DIGITS and value.isdecimal():
            fields[name] = (found.start(key) + lead, found.end(key) + lead)
        else:
            words[name] = value
    open_ = [False] * len(raw)
    for start, end in fields.values():
        open_[start:end] = [True] * (end - start)
    form = bytes(48 if free else byte for free, byte in zip(open_, raw, strict=True))
    return Shape(form, tuple(open_), fields, words)


def _match(text: str, clock: Clock) -> re.Match[str] | None:
    if clock.form == "stamp":
        found = match_stamp(text, yearless=clock.yearless)
        told = found is not None and ":" in text and "hour" in found.groupdict()
        return found if told and found is not None and found["hour"] else None
    if clock.form == "day":
        return match_time(text)
    return match_elapsed(text, minutes_first=clock.minutes_first)


def matching(cells: Bytes, shape: Shape) -> NDArray[np.bool_]:
    """Return which rows have a shape.

    Parameters
    ----------
    cells
        The bytes of each row from its time on, shape (n, window); a window is eight bytes or a
        multiple of it.
    """
    found = np.ones(cells.shape[0], dtype=np.bool_)
    if len(shape.form) > cells.shape[1]:
        return ~found
    # Eight bytes at a time: what is no open digit is as it stands, and of a digit the upper
    # half is 3 and the lower at most 9, so that with 6 more it stays below 16.
    for place, pattern in enumerate(shape.bit_patterns):
        word = cells[:, 8 * place : 8 * place + 8].view(np.uint64)[:, 0]
        found &= (word & pattern.fixed) == pattern.form
        if pattern.digits:
            found &= ((word & pattern.digits) + pattern.six) & pattern.sixteen == 0
    return found


def read_by(cells: Bytes, shape: Shape, clock: Clock) -> Times:
    """Read the times of rows that have a shape."""
    number = {key: _number(cells, *span) for key, span in shape.fields.items()}
    zero = np.zeros(cells.shape[0], dtype=np.int64)
    start, end = shape.fields.get("part", (0, 0))
    part = number.get("part", zero) / 10.0 ** (end - start)
    valid = np.ones(cells.shape[0], dtype=np.bool_)
    if clock.form == "clock":
        scale = {"days": 86_400.0, "hours": 3600.0, "minutes": 60.0, "seconds": 1.0}
        total = np.zeros(cells.shape[0])
        for key, seconds_each in scale.items():
            total += number.get(key, zero) * seconds_each
        return Times(zero, total + part, valid)
    hours, minutes = number.get("hour", zero), number.get("minute", zero)
    seconds = number.get("second", zero)
    if "half" in shape.words:
        valid &= (hours >= 1) & (hours <= 12)
        hours = hours % 12 + 12 * (shape.words["half"] in "pP")
    total = np.asarray(hours * 3600.0 + minutes * 60.0 + seconds + part, dtype=np.float64)
    within = (hours <= 23) & (minutes <= 59) & (seconds <= 59)
    valid &= within | ((hours == 24) & (total == DAY))
    dates = zero if clock.form == "day" else _dates(number, shape, clock)
    return Times(dates, total, valid)


def _number(cells: Bytes, start: int, end: int) -> NDArray[np.int64]:
    """Return the number in some bytes, two digits at a time."""
    number = np.zeros(cells.shape[0], dtype=np.int64)
    for place in range(start, end - 1, 2):
        pair = (cells[:, place] - _ZERO) * np.uint8(10) + (cells[:, place + 1] - _ZERO)
        number = pair.astype(np.int64) if place == start else number * 100 + pair
    if (end - start) % 2:
        number = number * 10 + (cells[:, end - 1] - _ZERO)
    return number


def _dates(number: dict[str, NDArray[np.int64]], shape: Shape, clock: Clock) -> NDArray[np.int64]:
    """Return dates' codes, as `stamps.date_code` makes them."""
    start, end = shape.fields.get("year", (0, 4))
    year = number.get("year")
    if year is None:
        year = np.full(next(iter(number.values())).size, NO_YEAR, dtype=np.int64)
    elif end - start <= 2:
        if "first" in number and clock.year_first:
            return (2000 + number["first"]) * 10_000 + number["last"] * 100 + year
        year = year + 2000
    if "first" in number:
        return year * 10_000 + number["first"] * 100 + number["last"]
    month = number.get("month")
    if month is None:
        month = np.full(year.size, month_named(shape.words["name"]) or 0, dtype=np.int64)
    return year * 10_000 + month * 100 + number["day"]


def is_loose(shape: Shape, clock: Clock) -> bool:
    """Whether a shape's dates are two numbers, of a month and a day, and a year."""
    if "first" not in shape.fields:
        return False
    start, end = shape.fields.get("year", (0, 4))
    return not (clock.year_first and end - start <= 2)


def offset_in(shape: Shape) -> float:
    """Return the offset a shape's times have, s, NaN for none."""
    return offset_of(shape.words.get("zone"))
