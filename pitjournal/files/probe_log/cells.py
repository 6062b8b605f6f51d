"""A cell: a reading, a mark for none, a word, or something that cannot be read."""

import re
from functools import lru_cache
from math import isfinite
from typing import NamedTuple

from pitjournal.files.probe_log.units import DEGREE, unit_named

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
        "opn",
        "no data",
        "nodata",
        "no contact",
        "abierto",
        "offen",
        "ouvert",
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

SENTINELS_OF_PARTS = SENTINELS - {999.0, 999.9, -999.0, -999.9}
"""The same where numbers hold tenths of a degree: 999 is 99.9."""

COLDEST_C, HOTTEST_C = -80.0, 1000.0
"""Outside these no probe of the trade reads; common practice, no source."""

NUMBER = r"[-+−–]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[-+]?\d+)?"
_READING = re.compile(rf"^({NUMBER})\s*(.*)$", re.IGNORECASE | re.DOTALL)
_DEGREE_ALONE = re.compile(rf"^{DEGREE}$", re.IGNORECASE)
_MARK_WITH_UNIT = re.compile(rf"^(.*?)\s*(?:{DEGREE}\s*[cfk]?|\b[cfk])$", re.IGNORECASE)
_FAULT = re.compile(r"^(?:e|err|error|fault|fehler)[\s:#-]{0,2}\d{1,3}$", re.IGNORECASE)
_ONLY_SIGNS = re.compile(r"^[-–—−_.*?#~/]+$")


class Cell(NamedTuple):
    """What a cell of a column of readings says.

    `state` is "value", "missing", "word" (no digit: perhaps a mark) or "bad".
    """

    value: float | None
    unit: str
    state: str


def is_mark(text: str) -> bool:
    """Whether a text stands for no reading."""
    word = text.strip().casefold()
    return word in MARKS or any(sign.match(word) for sign in (_ONLY_SIGNS, _FAULT))


@lru_cache(maxsize=8192)
def reading(cell: str, *, parts: bool = False) -> Cell:
    """Return what a cell says as a temperature.

    Parameters
    ----------
    cell
        Its text.
    parts
        Whether numbers hold parts of a degree: then 999 is 99.9 and no mark for none.
    """
    text = cell.strip("\0 \t'\"=")
    found = _READING.match(text)
    unit = "" if found is None else unit_named(found[2])
    if found and (unit or not found[2] or _DEGREE_ALONE.match(found[2])):
        value = float(found[1].replace(",", ".").replace("−", "-").replace("–", "-"))
        none = SENTINELS_OF_PARTS if parts else SENTINELS
        if value in none or not isfinite(value):
            return Cell(None, "", "missing")
        return Cell(value, unit, "value")
    if is_mark(text):
        return Cell(None, "", "missing")
    with_unit = _MARK_WITH_UNIT.match(text)
    if with_unit and with_unit[1] and is_mark(with_unit[1]):
        return Cell(None, "", "missing")
    return Cell(None, "", "bad" if any(char.isdecimal() for char in text) else "word")
