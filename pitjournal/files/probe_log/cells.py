"""A cell: a reading, a mark for none, or something that cannot be read."""

import re

MISSING = frozenset(
    {
        "",
        "-",
        "--",
        "---",
        "nan",
        "na",
        "n/a",
        "null",
        "none",
        "err",
        "error",
        "open",
        "ol",
        "hi",
        "lo",
        "over",
        "under",
    }
)
SENTINELS = frozenset({999.0, 999.9, -999.0, -999.9, 9999.0, 32767.0, -127.0, -32768.0})

_UNIT = r"(?:°|º|deg\.?|degrees)?\s*(c|f|k|celsius|fahrenheit|kelvin)"
_READING = re.compile(rf"^([-+−]?\d+(?:[.,]\d*)?)\s*(?:{_UNIT})?$", re.IGNORECASE)
_UNIT_ALONE = re.compile(rf"^[(\[]?\s*{_UNIT}\s*[)\]]?$", re.IGNORECASE)
_UNIT_AT_END = re.compile(
    rf"^(.*?)\s*(?:[(\[]\s*{_UNIT}\s*[)\]]|_(?:deg)?_?([cfk])|[\s,_-]+(?:°|º|deg\.?\s*|degrees\s+){_UNIT}|[\s,]+(celsius|fahrenheit|kelvin))$",
    re.IGNORECASE,
)
_BY_LETTER = {"c": "degC", "f": "degF", "k": "K"}


def unit_named(word: str) -> str:
    """Return degC, degF or K for a word that is a unit, else an empty text."""
    found = _UNIT_ALONE.match(word.strip())
    return _BY_LETTER[found[1][0].lower()] if found else ""


def split_unit(head: str) -> tuple[str, str]:
    """Return a column head without its unit, and the unit (or an empty text)."""
    found = _UNIT_AT_END.match(head.strip())
    if not found or not found[1].strip():
        return head.strip(), ""
    letter = next(group for group in found.groups()[1:] if group)
    return found[1].strip(), _BY_LETTER[letter[0].lower()]


def reading(cell: str) -> tuple[float | None, str, bool]:
    """Return ``(value, unit in the cell, whether the cell can be read)``.

    A value of None in a readable cell is a missing reading.
    """
    text = cell.strip()
    if text.casefold() in MISSING:
        return None, "", True
    found = _READING.match(text)
    if not found:
        return None, "", False
    value = float(found[1].replace(",", ".").replace("−", "-"))
    unit = _BY_LETTER[found[2][0].lower()] if found[2] else ""
    return (None if value in SENTINELS else value), unit, True


def to_celsius(value: float, unit: str) -> float:
    """Return a temperature in °C."""
    if unit == "degF":
        return (value - 32.0) / 1.8
    return value - 273.15 if unit == "K" else value
