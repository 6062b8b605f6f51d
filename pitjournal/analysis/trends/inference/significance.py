"""How far an answer may be chance, counted for all that was asked in a sitting."""

from dataclasses import dataclass, field, replace

import numpy as np

from pitjournal.analysis.trends.answer import measure_of
from pitjournal.analysis.trends.columns.cook_means import cook_means_of
from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.columns.row_selection import select_rows
from pitjournal.analysis.trends.inference.adjusted import adjusted_means
from pitjournal.analysis.trends.inference.agreement import agreement
from pitjournal.analysis.trends.inference.explanation import Explanation, explaining
from pitjournal.analysis.trends.picture import numbers_in, picture_of, without
from pitjournal.analysis.trends.question import Picture, Question
from pitjournal.domain.catalogue import Catalogue
from pitjournal.science.comparison.multiplicity import holm
from pitjournal.science.group_tests import centred, groups_differ
from pitjournal.science.robust import RobustLine, theil_sen
from pitjournal.science.sensory.agreement import AgreementLimits
from pitjournal.units import UnitSystem, to_display

MOST_POINTS = 1500
"""A line is drawn through so many cooks at most, taken by lot: it looks at every pair."""

LEAST_POINTS = 5
LEVEL = 0.05
"""Where a difference may be chance, nothing is told to explain it."""


@dataclass(frozen=True)
class Inference:
    """What takes longer than a frame to say of an answer.

    Attributes
    ----------
    chance
        The p value of "nothing differs"; None where it can't be judged.
    adjusted
        The same, counted for every question of the sitting (Holm).
    explaining
        A variable that explains the difference as well; None where none is sure.
    lines
        Lines through the cooks by series and panel, in the units shown.
    agreement
        How far two scores of the same pieces lie apart, where that is asked of enough cooks.
    """

    chance: float | None
    adjusted: float | None
    explaining: Explanation | None
    lines: dict[tuple[str, str], RobustLine] = field(default_factory=dict)
    agreement: AgreementLimits | None = None


@dataclass
class Sitting:
    """The questions of a sitting, each once however it was drawn."""

    chances: dict[Question, float | None] = field(default_factory=dict)

    def look(self, question: Question) -> int:
        """Count a question; return how many there are."""
        self.chances.setdefault(_bare(question), None)
        return len(self.chances)

    def judged(self, question: Question, chance: float | None) -> float | None:
        """Keep a question's chance; return it counted for every look so far.

        A look that can't be judged counts as one that found nothing. Looks may be added by
        another thread meanwhile.
        """
        self.chances[_bare(question)] = chance
        if chance is None:
            return None
        others = [p for asked, p in list(self.chances.items()) if asked != _bare(question)]
        return float(holm([chance, *(1.0 if p is None else p for p in others)])[0])


def _bare(question: Question) -> Question:
    return replace(question, picture=None)


def infer(
    frame: Frame, question: Question, catalogue: Catalogue, system: UnitSystem, sitting: Sitting
) -> Inference:
    """Judge an answer.

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
    sitting
        The questions asked so far.

    Raises
    ------
    JournalError
        If the question cannot be asked.
    """
    lines: dict[tuple[str, str], RobustLine] = {}
    if picture_of(question, catalogue) is Picture.SCATTER:
        lines, chance = _lines(frame, question, catalogue, system)
    else:
        chance = _chance(frame, question, catalogue, system)
    counted_for = sitting.judged(question, chance)
    differs = counted_for is not None and counted_for <= LEVEL
    return Inference(
        chance,
        counted_for,
        explaining(frame, question, catalogue, system) if differs else None,
        lines,
        agreement(frame, question, catalogue, system),
    )


def _chance(
    frame: Frame, question: Question, catalogue: Catalogue, system: UnitSystem
) -> float | None:
    """Return the p value of "no group differs", with what is held taken out."""
    if question.held:
        cells, _, whole, held = adjusted_means(frame, question, catalogue, system)
        values = held.values[whole]
    else:
        cells = cook_means_of(frame, select_rows(frame, question, catalogue, system))
        whole, values = np.ones(cells.size, dtype=bool), cells.values
    blocks = cells.cooks[whole] if question.within else None
    return groups_differ(values, cells.groups[whole], blocks)


def _lines(
    frame: Frame, question: Question, catalogue: Catalogue, system: UnitSystem
) -> tuple[dict[tuple[str, str], RobustLine], float | None]:
    """Return a line for each series and panel, and the p value inside all of them together."""
    along = numbers_in(question, catalogue)[0]
    by = question.by[along]
    rows = select_rows(frame, question, catalogue, system)
    cells = cook_means_of(frame, rows, without(question.by, along))
    x = to_display(cells.means(frame.numbers(by.key)), catalogue[by.key].dimension, system)
    y = to_display(cells.values, measure_of(question, catalogue).dimension, system)
    lot = np.random.default_rng(cells.size)
    found = {}
    for place, key in enumerate(cells.keys):
        here = np.flatnonzero(cells.groups == place)
        if here.size > MOST_POINTS:
            here = lot.choice(here, MOST_POINTS, replace=False)
        line = theil_sen(x[here], y[here]) if here.size >= LEAST_POINTS else None
        if line is not None:
            series, panel = (*key, "", "")[:2]
            found[series, panel] = line
    whole = np.isfinite(x)
    if np.count_nonzero(whole) < LEAST_POINTS:
        return found, None
    both = centred(np.column_stack([x, y])[whole], cells.groups[whole])
    if both.shape[0] > MOST_POINTS:
        both = both[lot.choice(both.shape[0], MOST_POINTS, replace=False)]
    whole_line = theil_sen(both[:, 0], both[:, 1])
    return found, whole_line.p if whole_line else None
