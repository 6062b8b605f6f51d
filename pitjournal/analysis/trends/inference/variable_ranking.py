"""What matters most: how much of a measure's spread each variable alone goes with.

The spread is parted into that between cooks and that inside cooks. Each part is foretold from
the variable by ridge regression for cooks that were left out (cross-validation), so that a
variable with many choices gains nothing by them. The same is done with the measure shuffled,
between cooks or inside each; what shuffling does as well is chance, and counts nothing. The
chances are counted for all the looks, two for a variable (Holm).
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.columns.grouping import Places
from pitjournal.analysis.trends.columns.lines import NOT_KNOWN, Floats
from pitjournal.analysis.trends.columns.row_selection import select_rows
from pitjournal.analysis.trends.inference.adjusted import day_number
from pitjournal.analysis.trends.question import Question
from pitjournal.domain.catalogue import Catalogue, Kind, Variable
from pitjournal.science.comparison.multiplicity import holm
from pitjournal.science.group_tests import centred
from pitjournal.units import UnitSystem

FOLDS = 10
PENALTY = 1.0
FIRST, LAST = 99, 4999
"""So many shuffles for every variable, and in all for one that may matter."""

TOGETHER = 500
"""So many shuffles at a time."""

MOST_COOKS = 600
"""So many cooks are looked at, drawn by lot where there are more."""

LEAST_COOKS = 8
LEAST_PIECES = 12
MOST_LEVELS = 12
LEVEL = 0.05

PLAINLY = 10
"""So many shuffles that do as well are plainly no more than chance."""

NOUGHT = 1e-9


@dataclass(frozen=True)
class RankedVariable:
    """A variable and what it goes with.

    Attributes
    ----------
    variable
        The variable.
    share
        The share of the measure's whole spread, 0 to 1; 0 where it may be chance.
    between, inside
        The same of the spread between cooks and of that inside cooks alone.
    chance
        The chance that shuffling does as well, counted for all looks.
    cooks, pieces
        What it rests on.
    """

    variable: Variable
    share: float
    between: float
    inside: float
    chance: float
    cooks: int
    pieces: int

    @property
    def tells(self) -> bool:
        """Whether it goes with more than chance does."""
        return self.chance < LEVEL and self.share > 0


@dataclass
class _Part:
    """One way to look at one variable: rows, their folds, and how they are shuffled.

    `weight` is the share of the whole spread that it looks at.
    """

    columns: Floats
    values: Floats
    folds: Places
    blocks: Places | None
    weight: float

    @property
    def inside(self) -> bool:
        """Whether it looks inside cooks."""
        return self.blocks is not None

    def score(self, values: Floats) -> Floats:
        """Return the share foretold of each column of values, shape (n, b) → (b,)."""
        missed = np.zeros(values.shape[1])
        total = np.zeros(values.shape[1])
        for fold in np.unique(self.folds):
            out = self.folds == fold
            z, y = self.columns[~out], values[~out]
            middle, level = z.mean(axis=0), y.mean(axis=0)
            if self.blocks is not None:  # inside cooks both are about naught
                middle, level = np.zeros_like(middle), np.zeros_like(level)
            inner = (z - middle).T @ (z - middle) + PENALTY * np.eye(z.shape[1])
            slopes = np.linalg.solve(inner, (z - middle).T @ (y - level))
            foretold = level + (self.columns[out] - middle) @ slopes
            missed += ((values[out] - foretold) ** 2).sum(axis=0)
            total += ((values[out] - level) ** 2).sum(axis=0)
        return np.asarray(1 - missed / np.maximum(total, 1e-300))

    def shuffled(self, lot: np.random.Generator, count: int) -> Floats:
        """Return shuffled values, a column a shuffle: among all, or inside each block."""
        n = self.values.size
        keys = lot.random((n, count))
        if self.blocks is None:
            return np.asarray(self.values[np.argsort(keys, axis=0)])
        # the rows of a block in their order take its values in a random order
        order = np.argsort(keys + self.blocks[:, None], axis=0, kind="stable")
        found = np.empty((n, count))
        found[np.argsort(self.blocks, kind="stable")] = self.values[order]
        return found


def rank_variables(
    frame: Frame,
    question: Question,
    catalogue: Catalogue,
    system: UnitSystem,
    *,
    progress: Callable[[float], object] = lambda _: None,
    seed: int = 7,
) -> tuple[RankedVariable, ...]:
    """Rank all variables by how much of a measure's spread they go with.

    The question's filters hold; its groups play no part. A variable that says the same as the
    measure in another way is left out.

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
    progress
        Is told how far it is, 0 to 1.
    seed
        Of the lot.

    Raises
    ------
    JournalError
        If the question cannot be asked.
    """
    bare = Question(question.measure, (), question.where)
    rows = select_rows(frame, bare, catalogue, system)
    lot = np.random.default_rng(seed)
    known = _some(frame, rows.lines, lot)
    measure = catalogue[question.measure]
    variables = [
        variable
        for variable in catalogue.values()
        if variable.kind not in {Kind.TEXT, Kind.WORDS} and not variable.related(measure)
    ]
    looks: list[_Look] = []
    for place, variable in enumerate(variables):
        progress(place / len(variables))
        there, columns = _columns(frame, variable, known)
        cooks = frame.cooks[there].astype(np.int64)
        for part in _parts(rows.values[there], cooks, columns):
            share, chance = _judged(part, lot)
            size = int(np.unique(cooks).size), int(there.size)
            looks.append(_Look(variable, part, share, chance, *size))
    chances = holm([look.chance for look in looks]) if looks else np.empty(0)
    by_variable: dict[str, list[tuple[_Look, float]]] = {}
    for look, chance in zip(looks, chances, strict=True):
        by_variable.setdefault(look.variable.key, []).append((look, float(chance)))
    matters = [_matter(found) for found in by_variable.values()]
    return tuple(sorted(matters, key=lambda m: (-m.share, m.chance)))


@dataclass
class _Look:
    """One look at one variable: between cooks, or inside cooks."""

    variable: Variable
    part: _Part
    share: float
    chance: float
    cooks: int
    pieces: int


def _matter(looks: list[tuple[_Look, float]]) -> RankedVariable:
    """Sum up the looks at a variable; one that may be chance counts nothing."""
    told = {look.part.inside: look for look, chance in looks if chance < LEVEL}
    first = looks[0][0]
    return RankedVariable(
        first.variable,
        sum(look.share * look.part.weight for look in told.values()),
        told[False].share if False in told else 0.0,
        told[True].share if True in told else 0.0,
        min(chance for _, chance in looks),
        first.cooks,
        first.pieces,
    )


def _some(frame: Frame, known: Places, lot: np.random.Generator) -> Places:
    """Return the rows of so many cooks at most, drawn by lot."""
    cooks = np.unique(frame.cooks[known])
    if cooks.size <= MOST_COOKS:
        return known
    drawn = lot.choice(cooks, MOST_COOKS, replace=False)
    return known[np.isin(frame.cooks[known], drawn)]


def _columns(frame: Frame, variable: Variable, known: Places) -> tuple[Places, Floats]:
    """Return the rows where a variable is known, and what it is there as columns.

    A number is its rank and the square of that, so that no odd value turns it; a choice is a
    column for each of its more usual ones.
    """
    from scipy import stats

    if variable.kind in {Kind.NUMBER, Kind.TIME}:
        numbers = _numbers(frame, variable)
        there = known[np.isfinite(numbers[known])]
        if np.unique(numbers[there]).size < 2:
            return there, np.empty((there.size, 0))
        ranks = stats.rankdata(numbers[there]) / there.size - 0.5
        columns = np.column_stack([ranks, ranks**2])
        return there, np.asarray(columns / columns.std(axis=0))
    codes, _ = frame.choices(variable.key)
    there = known[codes[known] != NOT_KNOWN]
    own, counts = np.unique(codes[there], return_counts=True)
    if own.size < 2:
        return there, np.empty((there.size, 0))
    usual = own[np.argsort(-counts, kind="stable")][:MOST_LEVELS]
    return there, (codes[there][:, None] == usual).astype(np.float64)


def _numbers(frame: Frame, variable: Variable) -> Floats:
    if variable.kind is Kind.NUMBER:
        return frame.numbers(variable.key)
    codes, names = frame.choices(variable.key)
    days = np.array([*(day_number(name) for name in names), np.nan], dtype=np.float64)
    return np.asarray(days[codes])


def _parts(values: Floats, cooks: Places, columns: Floats) -> list[_Part]:
    """Return how to look between cooks and inside cooks, where there is enough."""
    if not columns.shape[1] or np.ptp(values) == 0:
        return []
    _, own, counts = np.unique(cooks, return_inverse=True, return_counts=True)
    both = np.column_stack([columns, values])
    sums = np.zeros((counts.size, both.shape[1]))
    np.add.at(sums, own, both)
    means = sums / counts[:, None]
    inner = centred(both, own)
    level = means[:, -1] - values.mean()
    inside_squares = inner[:, -1] ** 2
    total = float((counts * level**2).sum() + inside_squares.sum())
    found = []
    if counts.size >= LEAST_COOKS and np.ptp(means[:, :-1], axis=0).max() > NOUGHT:
        weight = float((counts * level**2).sum()) / total
        folds = np.arange(counts.size) % FOLDS
        found.append(_Part(means[:, :-1], means[:, -1], folds, None, weight))
    moving = np.abs(inner[:, :-1]).max(axis=1) > NOUGHT
    telling = np.isin(own, np.unique(own[moving]))
    blocks = np.unique(own[telling], return_inverse=True)[1]
    if telling.sum() >= LEAST_PIECES and blocks.max() >= 2:
        weight = float(inside_squares[telling].sum()) / total
        part = inner[telling]
        found.append(_Part(part[:, :-1], part[:, -1], blocks % FOLDS, blocks, weight))
    return found


def _judged(part: _Part, lot: np.random.Generator) -> tuple[float, float]:
    """Return the share foretold, and the chance that shuffling does as well."""
    own = float(part.score(part.values[:, None])[0])
    if own <= 0:
        return 0.0, 1.0
    beaten, done = 0, 0
    while done < LAST and beaten < PLAINLY:
        count = FIRST if not done else min(TOGETHER, LAST - done)
        beaten += int((part.score(part.shuffled(lot, count)) >= own - 1e-12).sum())
        done += count
    return own, (1 + beaten) / (1 + done)
