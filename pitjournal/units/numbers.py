"""Bare numbers as people write them: fractions, decimal commas, grouped thousands."""

import math
import re

from pitjournal.errors import JournalError

_FRACTION = re.compile(r"(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*/\s*(\d+)")
_GROUPED = (
    re.compile(r"\d{1,3}(?: \d{3})+(?:[.,]\d+)?"),
    re.compile(r"\d{1,3}(?:,\d{3})+\.\d+|\d{1,3}(?:,\d{3}){2,}"),
    re.compile(r"\d{1,3}(?:\.\d{3})+,\d+|\d{1,3}(?:\.\d{3}){2,}"),
)
_EITHER = re.compile(r"[1-9]\d{0,2},\d{3}")
MOST = 2.0**53
"""No number is larger: beyond, fractions cannot tell whole numbers apart (IEEE 754, binary64)."""

_DECIMAL = re.compile(r"\d+(?:[.,]\d+)?|[.,]\d+")


def read_number(text: str) -> float | None:
    """Return a number without a sign; None if it is none, or larger than any that is kept.

    Raises
    ------
    JournalError
        If a comma can mean two things, as in ``1,500``.
    """
    try:
        number = _read(text)
    except (OverflowError, ValueError):  # hundreds of digits, or thousands
        number = math.inf
    return None if number is None or number > MOST else number


def _read(text: str) -> float | None:
    if fraction := _FRACTION.fullmatch(text):
        return _fraction(*fraction.groups())
    if _EITHER.fullmatch(text):
        whole, decimals = text.split(",")
        raise JournalError(
            f"“{text}” can be two numbers.", f"Write {whole}{decimals} or {whole}.{decimals}."
        )
    for mark, form in zip((" ", ",", "."), _GROUPED, strict=True):
        if form.fullmatch(text):
            return float(text.replace(mark, "").replace(",", "."))
    return float(text.replace(",", ".")) if _DECIMAL.fullmatch(text) else None


def _fraction(whole: str | None, above: str, below: str) -> float | None:
    part, parts = int(above), int(below)
    if parts == 0 or (whole is not None and part >= parts):
        return None
    return int(whole or 0) + part / parts
