"""Which lines of a frame count to a question, and in which group each is."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.trends.columns.filters import Mask, passing
from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.columns.grouping import Grouped, Places, cuts, grouped
from pitjournal.analysis.trends.columns.lines import NOT_KNOWN, Codes, Floats
from pitjournal.analysis.trends.question import By, Question, Where, checked
from pitjournal.domain.catalogue import Catalogue, Kind, Level
from pitjournal.errors import JournalError
from pitjournal.units import UnitSystem


@dataclass(frozen=True, eq=False)
class SelectedRows:
    """Lines that count.

    Attributes
    ----------
    values
        The measure of every line of the frame, NaN where it is not known.
    lines
        The places of those that pass the filters, with measure and groups known, in order.
    groups
        Their groups by each variable of the question.
    not_recorded
        How many pieces are asked for and have something that is not known.
    """

    values: Floats
    lines: Places
    groups: list[Grouped]
    not_recorded: int


def select_rows(
    frame: Frame, question: Question, catalogue: Catalogue, system: UnitSystem
) -> SelectedRows:
    """Return the lines that count to a question.

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    question
        What is asked.
    catalogue
        The variables of the journal.
    system
        The units of the words.

    Raises
    ------
    JournalError
        If the question names what is not there.
    """
    checked(question, catalogue)
    asked, kept = _asked(frame, question.where, catalogue)
    values = frame.numbers(question.measure)
    known = kept & np.isfinite(values)
    if question.against_control:
        values, compared = _from_control(frame, values, question.where, catalogue)
        asked, known = asked & compared, known & compared
    lines = np.flatnonzero(known)
    groups: list[Grouped] = []
    for by in question.by:
        found = grouped(frame, catalogue[by.key], by, system, lines=lines, kept=kept)
        there = found.codes != NOT_KNOWN
        groups = [one.at(there) for one in [*groups, found]]
        lines = lines[there]
    told = np.count_nonzero(asked & frame.pieces) - np.count_nonzero(frame.pieces[lines])
    if question.within and groups:
        both = _in_both(frame.cooks[lines], groups[0].codes)
        groups, lines = [one.at(both) for one in groups], lines[both]
    return SelectedRows(values, lines, groups, int(told))


def edges_of(
    frame: Frame, by: By, question: Question, catalogue: Catalogue, system: UnitSystem
) -> Floats:
    """Return where a number is cut into groups, storage unit: as asked, or sensibly.

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    by
        How it is grouped.
    question
        What is asked.
    catalogue
        The variables of the journal.
    system
        The units of the words.
    """
    variable = catalogue[by.key]
    if variable.kind is not Kind.NUMBER:
        return np.array([], dtype=np.float64)
    return cuts(frame, variable, by, _asked(frame, question.where, catalogue)[1], system)


def cooks_where(frame: Frame, where: Sequence[Where], catalogue: Catalogue) -> list[str]:
    """Return the cooks with a line that passes filters, newest first.

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    where
        What has to hold.
    catalogue
        The variables of the journal.

    Raises
    ------
    JournalError
        If a filter names what is no longer there.
    """
    if any(one.key not in catalogue for one in where):
        raise JournalError("A filter is over what is no longer there.", "Take it away.")
    lines = np.flatnonzero(_asked(frame, where, catalogue)[1])
    codes, names = frame.choices("date")
    days = np.array([*names, ""])[codes[lines]]  # −1: the last
    order = np.argsort(days, kind="stable")[::-1]
    found = frame.cooks[lines[order]].tolist()
    return list(dict.fromkeys(frame.cook_names[code] for code in found))


def _asked(frame: Frame, where: Iterable[Where], catalogue: Catalogue) -> tuple[Mask, Mask]:
    """Return the lines that no filter rules out, and those that pass each one.

    Between the two are lines of which it is not recorded what a filter asks.
    """
    asked = np.ones(frame.size, dtype=bool)
    known = asked.copy()
    for one in where:
        inside, told = passing(frame, catalogue[one.key], one)
        asked &= inside | ~told
        known &= inside
    return asked, known


def _from_control(
    frame: Frame, values: Floats, where: Iterable[Where], catalogue: Catalogue
) -> tuple[Floats, Mask]:
    """Return each line's value minus the mean of its cook's control, and which have a control.

    The control is of the same cook and passes the same filters, save those that choose arms.
    """
    besides = [one for one in where if catalogue[one.key].level is not Level.ARM]
    control = frame.numbers("control")
    lines = _asked(frame, besides, catalogue)[1] & (control == 1) & np.isfinite(values)
    cooks, size = frame.cooks[lines], len(frame.cook_names)
    counts = np.bincount(cooks, minlength=size)
    sums = np.bincount(cooks, weights=values[lines], minlength=size)
    means = np.divide(sums, counts, out=np.full(size, np.nan), where=counts > 0)
    own = means[frame.cooks]
    return values - own, (control == 0) & np.isfinite(own)


def _in_both(cooks: Codes, codes: Codes) -> Mask:
    """Keep the lines of cooks that have at least two of the groups."""
    if not cooks.size:
        return np.zeros(0, dtype=bool)
    starts = starts_of(cooks)
    several = np.minimum.reduceat(codes, starts) != np.maximum.reduceat(codes, starts)
    return np.repeat(several, np.diff(starts, append=cooks.size))


def starts_of(*columns: NDArray[np.integer]) -> Places:
    """Return where each run of equal codes starts, of columns that are as long."""
    changed = np.zeros(columns[0].size, dtype=bool)
    changed[:1] = True
    for codes in columns:
        changed[1:] |= codes[1:] != codes[:-1]
    return np.flatnonzero(changed)
