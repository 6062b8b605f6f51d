"""A cell: a reading, a mark for none, a word, or something that cannot be read."""

import re
from functools import lru_cache
from math import isfinite
from typing import NamedTuple

MARKS = frozenset(
    {
        "",
        "nan",
        "na",
        "n/a",
        "n.a.",
        "#n/a",
        "nil",
        "null",
        "none",
        "err",
        "err.",
        "error",
        "#err",
        "fault",
        "open",
        "short",
        "ol",
        "o.l",
        "o.l.",
        "ofl",
        "hi",
        "lo",
        "hhh",
        "lll",
        "over",
        "under",
        "overrange",
        "underrange",
        "inf",
        "+inf",
        "-inf",
        "infinity",
        "-infinity",
        "-nan",
        "nc",
        "n.c.",
        "n/c",
        "noprobe",
        "no probe",
        "no sensor",
        "not connected",
        "disconnected",
        "unplugged",
        "missing",
        "invalid",
        "unavailable",
        "undef",
        "leer",
        "fehler",
    }
)
"""Words for no reading, in any case; common practice, no source."""

SENTINELS = frozenset(
    {
        999.0,
        999.9,
        -999.0,
        -999.9,
        9999.0,
        9999.9,
        -9999.0,
        32767.0,
        -32768.0,
        65535.0,
        3276.7,
        -3276.8,
        6553.5,
        -127.0,
        -196.6,
    }
)
"""Numbers for no reading; common practice, no source (−196.6 °F is −127 °C)."""

UNITS = ("", "degC", "degF", "K")
"""Units by the code that stands for them in arrays; 0 is "not said"."""

COLDEST_C, HOTTEST_C = -80.0, 1000.0
"""Outside these no probe of the trade reads; common practice, no source."""

_DEGREE = r"(?:[Ââ]?[°º˚ø¡\ufffd]|deg(?:rees?|s|\.)?|grad)"
_UNIT = rf"(?:{_DEGREE}?[\s._]*(c|f|k|celsius|centigrade|fahrenheit|kelvin)|([℃℉]))"
_NUMBER = r"[-+−–]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[-+]?\d+)?"
_READING = re.compile(rf"^({_NUMBER})\s*(?:{_UNIT}|{_DEGREE})?$", re.IGNORECASE)
_UNIT_ALONE = re.compile(rf"^[(\[{{<]?\s*(?:in\s+)?{_UNIT}\.?\s*[)\]}}>]?$", re.IGNORECASE)
_MARK_WITH_UNIT = re.compile(rf"^(.*?)\s*(?:{_DEGREE}\s*[cfk]?|\b[cfk])$", re.IGNORECASE)
_ONLY_SIGNS = re.compile(r"^[-–—−_.*?#~/]+$")
_BY_LETTER = {"c": "degC", "f": "degF", "k": "K", "℃": "degC", "℉": "degF"}


class Cell(NamedTuple):
    """What a cell of a column of readings says.

    `state` is "value", "missing", "word" (no digit: perhaps a mark) or "bad".
    """

    value: float | None
    unit: str
    state: str


def unit_of(found: re.Match[str] | None) -> str:
    """Return the unit of the first group that took part in a match."""
    if found is None:
        return ""
    letter = next((group for group in found.groups() if group), "")
    return _BY_LETTER.get(letter[:1].casefold(), "")


@lru_cache(maxsize=4096)
def unit_named(word: str) -> str:
    """Return degC, degF or K for a word that is a unit, else an empty text."""
    return unit_of(_UNIT_ALONE.match(word.strip()))


def is_mark(text: str) -> bool:
    """Whether a text stands for no reading."""
    word = text.strip().casefold()
    return word in MARKS or _ONLY_SIGNS.match(word) is not None


@lru_cache(maxsize=8192)
def reading(cell: str) -> Cell:
    """Return what a cell says as a temperature."""
    text = cell.strip("\0 \t'\"=")
    found = _READING.match(text)
    if found:
        value = float(found[1].replace(",", ".").replace("−", "-").replace("–", "-"))
        letter = (found[2] or found[3] or "")[:1].casefold()
        if value in SENTINELS or not isfinite(value):
            return Cell(None, "", "missing")
        return Cell(value, _BY_LETTER.get(letter, ""), "value")
    if is_mark(text):
        return Cell(None, "", "missing")
    with_unit = _MARK_WITH_UNIT.match(text)
    if with_unit and with_unit[1] and is_mark(with_unit[1]):
        return Cell(None, "", "missing")
    return Cell(None, "", "bad" if any(char.isdecimal() for char in text) else "word")


def to_celsius_slope(unit: str) -> tuple[float, float]:
    """Return (zero, per degree): °C is (value − zero) ÷ per degree."""
    if unit == "degF":
        return 32.0, 1.8
    return (273.15, 1.0) if unit == "K" else (0.0, 1.0)
