"""An answer with other variables held: their part in the differences is taken out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from pitjournal.analysis.trends.answer import Answer, Group, answer
from pitjournal.analysis.trends.columns.cook_means import CookMeans, cook_means_of
from pitjournal.analysis.trends.columns.filters import Mask
from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.columns.lines import NOT_KNOWN, Floats
from pitjournal.analysis.trends.columns.row_selection import select_rows
from pitjournal.analysis.trends.question import Question
from pitjournal.domain.catalogue import Catalogue, Kind
from pitjournal.errors import JournalError
from pitjournal.science.group_tests import centred
from pitjournal.units import UnitSystem

MOST_LEVELS = 12
"""Of a held choice; rarer ones are taken together."""


@dataclass(frozen=True, eq=False)
class AdjustedMeans:
    """Values with columns held, NaN where one is not known; the slopes and their covariance."""

    values: Floats
    slopes: Floats
    spread: Floats


def answered(frame: Frame, question: Question, catalogue: Catalogue, system: UnitSystem) -> Answer:
    """Answer a question, with what it holds taken out of the differences.

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
        If it cannot be asked, or what it holds is the same in every group or known of too few.
    """
    plain = answer(frame, question, catalogue, system)
    if not question.held:
        return plain
    cells, columns, whole, held = adjusted_means(frame, question, catalogue, system)
    groups = _groups(frame, cells, held, columns, whole)
    lost = sum(g.pieces for g in plain.groups) - sum(g.pieces for g in groups)
    return replace(plain, groups=groups, not_recorded=plain.not_recorded + max(lost, 0))


def adjusted_means(
    frame: Frame, question: Question, catalogue: Catalogue, system: UnitSystem
) -> tuple[CookMeans, Floats, Mask, AdjustedMeans]:
    """Return the cells of a question, and their values with what it holds held.

    Between the two are what is held as columns, and the cells of which all of it is known.

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
        If what it holds is the same in every group or known of too few.
    """
    cells = cook_means_of(frame, select_rows(frame, question, catalogue, system))
    columns = np.column_stack(
        [covariate_columns(frame, cells, catalogue, key) for key in question.held]
    )
    whole = np.all(np.isfinite(columns), axis=1)
    held = adjust_means(cells, columns, whole, within=question.within)
    if held is None:
        labels = " and ".join(catalogue[key].label for key in question.held)
        message = f"With {labels} held, too little is left to compare."
        raise JournalError(message, "Hold fewer, or take a filter away.")
    return cells, columns, whole, held


def covariate_columns(frame: Frame, cells: CookMeans, catalogue: Catalogue, key: str) -> Floats:
    """Return a variable of each cell as columns, NaN where it is not known, shape (n, k).

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    cells
        Cooks' means in their groups, shape (n,) each.
    catalogue
        The variables of the journal.
    key
        Of the catalogue.
    """
    variable = catalogue[key]
    if variable.kind is Kind.NUMBER:
        return cells.means(frame.numbers(key))[:, None]
    codes, _ = frame.choices(key)
    own = cells.firsts(codes)
    if variable.kind is Kind.TIME:
        _, names = frame.choices(key)
        days = np.array([*(day_number(name) for name in names), np.nan], dtype=np.float64)
        column: Floats = np.take(days, own)[:, None]
        return column
    known, counts = np.unique(own[own != NOT_KNOWN], return_counts=True)
    common = known[np.argsort(-counts, kind="stable")][:MOST_LEVELS]
    found: Floats = (own[:, None] == common[1:]).astype(np.float64)
    found[own == NOT_KNOWN] = np.nan
    return found


def day_number(text: str) -> float:
    """Return the days since 1970 of a written date."""
    return float(np.datetime64(text[:10]).astype(np.int64))


def adjust_means(
    cells: CookMeans, columns: Floats, whole: Mask, *, within: bool
) -> AdjustedMeans | None:
    """Return each cell's value at the mean of the columns.

    The slopes are those inside groups (and inside cooks, where `within`), by least squares:
    the analysis of covariance. None where the columns can't be told from the groups.

    Parameters
    ----------
    cells
        Cooks' means in their groups, shape (n,) each.
    columns
        What is held, NaN where it is not known, shape (n, k).
    whole
        The cells of which all of it is known, shape (n,).
    within
        Whether arms are compared inside their cooks.
    """
    groups = cells.groups[whole]
    names = np.unique(groups)
    design = (groups[:, None] == names).astype(np.float64)
    z, y = columns[whole], cells.values[whole]
    if within:
        blocks = cells.cooks[whole]
        design = centred(design, blocks)[:, 1:]
        inner, up = centred(z, blocks), centred(y[:, None], blocks)[:, 0]
        used = np.unique(blocks).size + design.shape[1]
        inner, up = (_less(part, design) for part in (inner, up[:, None]))
    else:
        inner, up = centred(z, groups), centred(y[:, None], groups)
        used = names.size
    scale = np.linalg.norm(inner, axis=0)
    sound = scale > 1e-9 * (np.linalg.norm(z, axis=0) + 1e-300)
    df = y.size - used - int(sound.sum())
    if not np.any(sound) or df < 1:
        return None
    slopes = np.zeros(z.shape[1])
    slopes[sound] = np.linalg.lstsq(inner[:, sound], up[:, 0], rcond=None)[0]
    left = up[:, 0] - inner @ slopes
    spread = np.zeros((z.shape[1], z.shape[1]))
    spread[np.ix_(sound, sound)] = np.linalg.pinv(inner[:, sound].T @ inner[:, sound]) * float(
        left @ left / df
    )
    values = np.full(cells.size, np.nan)
    values[whole] = y - (z - z.mean(axis=0)) @ slopes
    return AdjustedMeans(values, slopes, spread)


def _less(part: Floats, design: Floats) -> Floats:
    """Return what of columns a design leaves."""
    if not design.shape[1]:
        return part
    return np.asarray(part - design @ np.linalg.lstsq(design, part, rcond=None)[0])


def _groups(
    frame: Frame,
    cells: CookMeans,
    held: AdjustedMeans,
    columns: Floats,
    whole: Mask,
) -> tuple[Group, ...]:
    centre = columns[whole].mean(axis=0)
    found = []
    for place, key in enumerate(cells.keys):
        here = np.flatnonzero((cells.groups == place) & whole)
        if not here.size:
            continue
        own = held.values[here]
        away = columns[here].mean(axis=0) - centre
        found.append(
            _group(
                key,
                own,
                float(away @ held.spread @ away),
                int(cells.pieces[here].sum()),
                [frame.cook_names[code] for code in cells.cooks[here].tolist()],
            )
        )
    return tuple(found)


def _group(
    key: tuple[str, ...], own: Floats, moved: float, pieces: int, cook_ids: Sequence[str]
) -> Group:
    """Return a group; its interval has the cooks' spread and that of the slopes in it."""
    n, mean = own.size, float(own.mean())
    sd = float(own.std(ddof=1)) if n > 1 else None
    half = None
    if sd is not None and sd > 0:
        from scipy.special import stdtrit

        half = float(stdtrit(n - 1, 0.975) * np.sqrt(sd**2 / n + moved))
    return Group(
        key,
        n,
        pieces,
        mean,
        None if half is None else mean - half,
        None if half is None else mean + half,
        sd,
        float(np.median(own)),
        tuple(cook_ids),
    )
