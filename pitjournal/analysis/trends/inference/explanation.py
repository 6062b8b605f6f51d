"""What else differs between two groups and explains their difference as well."""

from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.trends.answer import FEW
from pitjournal.analysis.trends.columns.cook_means import CookMeans, cook_means_of
from pitjournal.analysis.trends.columns.filters import Mask
from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.columns.lines import NOT_KNOWN, Floats
from pitjournal.analysis.trends.columns.row_selection import select_rows
from pitjournal.analysis.trends.inference.adjusted import (
    MOST_LEVELS,
    adjust_means,
    covariate_columns,
)
from pitjournal.analysis.trends.question import Part, Question
from pitjournal.domain.catalogue import Catalogue, Kind, Variable
from pitjournal.units import UnitSystem

APART = 0.5
"""Standard deviations by which a number must differ (Cohen's "medium")."""

SHARE_APART = 0.3
"""The share of cooks that must lie in other choices."""

TOO_FAR = 2.5
"""Standard deviations from which two groups have too little in common to hold a number."""

CLEAR = 2.0
"""Standard errors by which the measure must follow the variable inside the groups."""

EXPLAINS = 0.25
"""The share of the difference that must go when the variable is held."""

KNOWN_OF = 0.7
"""The share of cooks of which the variable must be known."""


@dataclass(frozen=True)
class Explanation:
    """A variable that differs along with the groups, and what is left when it is held.

    Attributes
    ----------
    variable
        The variable.
    group, other
        The two groups: the first is the one spoken of.
    apart
        How much more of a number the first has, storage unit; None for a choice.
    choice
        The choice that is more common in the first; "" for a number.
    before, after
        The difference of the measure without and with it held, storage unit.
    """

    variable: Variable
    group: str
    other: str
    apart: float | None
    choice: str
    before: float
    after: float


def explaining(
    frame: Frame, question: Question, catalogue: Catalogue, system: UnitSystem
) -> Explanation | None:
    """Return what explains most of the largest difference between two groups; None if nothing.

    Looked at are variables that neither are asked for nor say the same as what is.

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
    """
    if not question.by or question.held or question.by[0].part in {Part.MONTH, Part.YEAR}:
        return None
    cells = cook_means_of(frame, select_rows(frame, question, catalogue, system), (0,))
    pair = _furthest(cells)
    if pair is None:
        return None
    keys = {question.measure, *(by.key for by in question.by)}
    keys |= {where.key for where in question.where}
    asked = [catalogue[key] for key in keys if key in catalogue]
    best: Explanation | None = None
    for variable in catalogue.values():
        if variable.kind in {Kind.TEXT, Kind.WORDS} or variable.outcome:
            continue
        if any(variable.related(other) for other in asked):
            continue
        found = _one(frame, cells, pair, variable, catalogue, within=question.within)
        if found and (best is None or _gone(found) > _gone(best)):
            best = found
    return best


def _gone(found: Explanation) -> float:
    """Return the share of the difference that goes."""
    return 1 - abs(found.after) / abs(found.before)


def _furthest(cells: CookMeans) -> tuple[int, int] | None:
    """Return the two groups of enough cooks that lie furthest apart, the more usual one last."""
    counts = np.bincount(cells.groups, minlength=len(cells.keys))
    sound = np.flatnonzero(counts >= FEW)
    if sound.size < 2:
        return None
    means = np.array([cells.values[cells.groups == place].mean() for place in sound])
    high, low = int(sound[means.argmax()]), int(sound[means.argmin()])
    if high == low:
        return None
    return (high, low) if counts[high] <= counts[low] else (low, high)


def _one(
    frame: Frame,
    cells: CookMeans,
    pair: tuple[int, int],
    variable: Variable,
    catalogue: Catalogue,
    *,
    within: bool,
) -> Explanation | None:
    inside = np.isin(cells.groups, pair)
    columns = covariate_columns(frame, cells, catalogue, variable.key)
    if not columns.shape[1] or columns.shape[1] >= MOST_LEVELS - 1:
        return None
    whole = inside & np.all(np.isfinite(columns), axis=1)
    first, other = (whole & (cells.groups == place) for place in pair)
    if min(first.sum(), other.sum()) < FEW or whole.sum() < KNOWN_OF * inside.sum():
        return None
    differs = _differs(frame, cells, variable, columns, first, other)
    adjusted = _held(cells, columns, whole, within=within) if differs else None
    if differs is None or adjusted is None:
        return None
    values, clear = adjusted
    if clear < CLEAR:
        return None
    before = float(cells.values[first].mean() - cells.values[other].mean())
    after = float(values[first].mean() - values[other].mean())
    if before == 0 or 1 - abs(after) / abs(before) < EXPLAINS:
        return None
    names = tuple(cells.keys[place][0] for place in pair)
    return Explanation(variable, names[0], names[1], *differs, before, after)


def _held(
    cells: CookMeans, columns: Floats, whole: Mask, *, within: bool
) -> tuple[Floats, float] | None:
    """Return the cells' values with a variable held, and how clearly they follow it."""
    held = adjust_means(cells, columns, whole, within=within)
    if held is None:
        return None
    errors = np.sqrt(np.diag(held.spread))
    sound = errors > 0
    clear = np.abs(held.slopes[sound]) / errors[sound]
    return held.values, float(clear.max()) if clear.size else 0.0


def _differs(  # noqa: PLR0917 - two groups and a variable of them
    frame: Frame, cells: CookMeans, variable: Variable, columns: Floats, first: Mask, other: Mask
) -> tuple[float | None, str] | None:
    """Return by how much a variable differs between two groups; None if hardly."""
    if variable.kind in {Kind.NUMBER, Kind.TIME}:
        one, two = columns[first, 0], columns[other, 0]
        spread = float(np.sqrt((one.var(ddof=1) + two.var(ddof=1)) / 2))
        apart = float(one.mean() - two.mean())
        near = spread > 0 and APART * spread <= abs(apart) <= TOO_FAR * spread
        return (apart, "") if near else None
    codes, names = frame.choices(variable.key)
    own = cells.firsts(codes)
    shares = [
        np.bincount(own[part & (own != NOT_KNOWN)], minlength=len(names)) / part.sum()
        for part in (first, other)
    ]
    more = shares[0] - shares[1]
    if not more.size or np.abs(more).sum() / 2 < SHARE_APART:
        return None
    return None, names[int(more.argmax())]
