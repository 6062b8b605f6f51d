"""Which lines of a frame pass a filter, and of which it is not recorded."""

import re
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.trends.columns.frame import Days, Frame
from pitjournal.analysis.trends.columns.grouping import SEASONS, WEEKDAYS, part_of
from pitjournal.analysis.trends.columns.lines import NOT_KNOWN, Codes, Floats
from pitjournal.analysis.trends.question import Part, Sign, Where
from pitjournal.domain.catalogue import Kind, Variable
from pitjournal.domain.cuts import means
from pitjournal.errors import JournalError

FEW = 8
"""So many codes are faster compared one by one."""

Mask = NDArray[np.bool_]
_DATE = re.compile(r"\d{4}(-\d\d(-\d\d)?)?")


def passing(frame: Frame, variable: Variable, where: Where) -> tuple[Mask, Mask]:
    """Return which lines pass, and of which the variable is known; what passes is known.

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    variable
        The variable meant.
    where
        What has to hold.

    Raises
    ------
    JournalError
        If a date is compared with what is no date.
    """
    if variable.kind is Kind.NUMBER:
        numbers = frame.numbers(variable.key)
        wanted = np.array([float(value) for value in where.values], dtype=np.float64)
        return _numbers(numbers, where.sign, wanted), np.isfinite(numbers)
    texts = [str(value).strip() for value in where.values]
    if variable.kind is Kind.TIME:
        days = frame.days(variable.key)
        told = ~np.isnat(days)
        return _times(days, where.sign, texts) & told, told
    if variable.kind is Kind.WORDS:
        return _words(frame, where.sign, texts), np.ones(frame.size, dtype=bool)
    codes, names = frame.choices(variable.key)
    fits = [code for code, name in enumerate(names) if _fits(variable, name, texts)]
    inside, told = _among(codes, fits), codes != NOT_KNOWN
    return inside if where.sign is Sign.IS else told & ~inside, told


def _fits(variable: Variable, name: str, texts: Sequence[str]) -> bool:
    """Whether a recorded text is one of those asked for; a cut goes by its meaning."""
    if variable.key == "cut":
        return any(means(name, text) for text in texts)
    return name.casefold() in {text.casefold() for text in texts}


def _among(codes: Codes, wanted: Sequence[int]) -> Mask:
    if len(wanted) > FEW:
        return np.isin(codes, wanted)
    found = np.zeros(codes.size, dtype=bool)
    for code in wanted:
        found |= codes == code
    return found


def _numbers(numbers: Floats, sign: Sign, wanted: Floats) -> Mask:
    with np.errstate(invalid="ignore"):
        if sign is Sign.IS:
            near = np.isclose(numbers[:, None], wanted, rtol=1e-6, atol=1e-9)
            return np.asarray(near.any(axis=1))
        if sign is Sign.IS_NOT:
            return np.isfinite(numbers) & ~_numbers(numbers, Sign.IS, wanted)
        found = {
            Sign.LESS: np.less,
            Sign.AT_MOST: np.less_equal,
            Sign.MORE: np.greater,
            Sign.AT_LEAST: np.greater_equal,
        }[sign](numbers, wanted[0])
    return np.asarray(found)


def _words(frame: Frame, sign: Sign, texts: Sequence[str]) -> Mask:
    """Keep cooks with all the words of one of the texts."""
    inside = np.zeros(frame.size, dtype=bool)
    for text in texts:
        inside |= frame.having(text)
    return inside if sign is Sign.IS else ~inside


def _times(days: Days, sign: Sign, texts: Sequence[str]) -> Mask:
    """Compare days with a year, a month, a day, a season or a day of the week."""
    if sign in {Sign.IS, Sign.IS_NOT}:
        found = np.zeros(days.size, dtype=bool)
        for text in texts:
            found |= _on(days, text)
        return found if sign is Sign.IS else ~found
    start, end = _span(texts[0])
    if sign in {Sign.LESS, Sign.AT_MOST}:
        return np.asarray(days < (start if sign is Sign.LESS else end))
    return np.asarray(days >= (start if sign is Sign.AT_LEAST else end))


def _on(days: Days, text: str) -> Mask:
    for part, names in ((Part.SEASON, SEASONS), (Part.WEEKDAY, WEEKDAYS)):
        folded = [name.casefold() for name in names]
        if text.casefold() in folded:
            return np.asarray(part_of(days, part) == folded.index(text.casefold()))
    start, end = _span(text)
    return np.asarray((days >= start) & (days < end))


def _span(text: str) -> tuple[np.datetime64, np.datetime64]:
    """Return the first day of a written year, month or day, and the first day after it."""
    try:
        day = np.datetime64(text if _DATE.fullmatch(text) else "no date")
    except ValueError:
        raise JournalError(
            f"“{text[:40]}” is no date.", "Write a year, a month or a day: 2025-08-14."
        ) from None
    return day.astype("datetime64[D]"), (day + 1).astype("datetime64[D]")
