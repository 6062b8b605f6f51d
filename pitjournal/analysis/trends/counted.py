"""Which lines of a frame count to a question, and in which group each is."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.trends.answer import _grouping, _inside, _measure, _passes, sensible_edges
from pitjournal.analysis.trends.frame import NOT_KNOWN, Codes, Floats, Frame
from pitjournal.analysis.trends.question import By, Question, Where, checked
from pitjournal.domain.catalogue import Catalogue, Kind
from pitjournal.errors import JournalError
from pitjournal.units import UnitSystem

Mask = NDArray[np.bool_]
Places = NDArray[np.int64]


@dataclass(frozen=True)
class Groups:
    """The group of each line that counts as a code, and the names of a variable's groups."""

    codes: Codes
    names: list[str]


@dataclass(frozen=True, eq=False)
class Counted:
    """Lines that count.

    Attributes
    ----------
    values
        The measure of every line of the frame, NaN where it is not known.
    lines
        The places of those that pass the filters, with measure and groups known.
    groups
        Their groups by each variable of the question.
    """

    values: Floats
    lines: Places
    groups: list[Groups]


def counted(frame: Frame, question: Question, catalogue: Catalogue, system: UnitSystem) -> Counted:
    """Return the lines that count to a question.

    Raises
    ------
    JournalError
        If the question names what is not there.
    """
    checked(question, catalogue)
    kept = np.ones(frame.size, dtype=bool)
    for where in question.where:
        kept &= _passes(frame, catalogue[where.key], where)
    values = _measure(frame, catalogue[question.measure])
    known = kept & np.isfinite(values)
    found = [_grouping(frame, catalogue[by.key], by, kept, system) for by in question.by]
    for codes, _ in found:
        known &= codes != NOT_KNOWN
    if question.within and found:
        known &= _inside(frame.cooks, found[0][0], known)
    lines = np.flatnonzero(known)
    return Counted(values, lines, [Groups(codes[lines], names) for codes, names in found])


def edges_of(
    frame: Frame, by: By, question: Question, catalogue: Catalogue, system: UnitSystem
) -> Floats:
    """Return where a number is cut into groups, storage unit: as asked, or sensibly."""
    variable = catalogue[by.key]
    if variable.kind is not Kind.NUMBER:
        return np.array([], dtype=np.float64)
    if by.edges:
        return np.sort(np.array(by.edges, dtype=np.float64))
    kept = np.ones(frame.size, dtype=bool)
    for where in question.where:
        kept &= _passes(frame, catalogue[where.key], where)
    numbers = frame.numbers(by.key)
    known = numbers[kept & np.isfinite(numbers)]
    return sensible_edges(known, variable, system) if known.size else known


def cooks_where(frame: Frame, where: Sequence[Where], catalogue: Catalogue) -> list[str]:
    """Return the cooks with a line that passes filters, newest first.

    Raises
    ------
    JournalError
        If a filter names what is no longer there.
    """
    kept = np.ones(frame.size, dtype=bool)
    for one in where:
        if one.key not in catalogue:
            raise JournalError("A filter is over what is no longer there.", "Take it away.")
        kept &= _passes(frame, catalogue[one.key], one)
    lines = np.flatnonzero(kept)
    codes, names = frame.choices("date")
    days = np.array([*names, ""])[codes[lines]]  # −1: the last
    order = np.argsort(days, kind="stable")[::-1]
    found = frame.cooks[lines[order]].tolist()
    return list(dict.fromkeys(frame.cook_names[code] for code in found))
