"""Answer a question: a piece's value, the cook's mean of its pieces, then the mean over cooks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import overload

import numpy as np

from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.columns.grouping import Grouped, Places
from pitjournal.analysis.trends.columns.lines import Codes, Floats
from pitjournal.analysis.trends.columns.row_selection import SelectedRows, select_rows, starts_of
from pitjournal.analysis.trends.question import Question
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.errors import JournalError
from pitjournal.units import UnitSystem, difference_of

FEW = 3
"""Groups of fewer cooks are grey."""

MOST_GROUPS = 5000


class CookIds(Sequence[str]):
    """The cooks of a group; they may be thousands, so each is named when it is asked for."""

    __slots__ = ("_codes", "_names")

    def __init__(self, names: Sequence[str], codes: Codes) -> None:
        self._names, self._codes = names, codes

    def __len__(self) -> int:
        return int(self._codes.size)

    @overload
    def __getitem__(self, place: int) -> str: ...

    @overload
    def __getitem__(self, place: slice) -> "CookIds": ...

    def __getitem__(self, place: int | slice) -> "str | CookIds":
        if isinstance(place, slice):
            return CookIds(self._names, self._codes[place])
        return self._names[int(self._codes[place])]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sequence) and tuple(self) == tuple(other)

    def __hash__(self) -> int:
        return hash(tuple(self))


@dataclass(frozen=True)
class Group:
    """One group: the mean of its cooks' means with its 95 % interval, storage units.

    `low` and `high` are None where there is one cook, or no spread to judge by.
    """

    key: tuple[str, ...]
    cooks: int
    pieces: int
    mean: float
    low: float | None
    high: float | None
    sd: float | None
    median: float
    cook_ids: Sequence[str]

    @property
    def few(self) -> bool:
        """Whether it rests on fewer than three cooks."""
        return self.cooks < FEW


@dataclass(frozen=True)
class Answer:
    """What all cooks say to a question; `frame` are the columns it was read from.

    Whatever is said or drawn of it beside is read from the same ones: the cooks may have changed.
    """

    question: Question
    measure: Variable
    by: tuple[Variable, ...]
    groups: tuple[Group, ...]
    not_recorded: int
    pieces: int
    cooks: int
    frame: Frame = field(compare=False, repr=False)


def answer(frame: Frame, question: Question, catalogue: Catalogue, system: UnitSystem) -> Answer:
    """Answer a question.

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
        If the question names what is not there, or makes too many groups to show.
    """
    found = select_rows(frame, question, catalogue, system)
    return Answer(
        question=question,
        measure=measure_of(question, catalogue),
        by=tuple(catalogue[by.key] for by in question.by),
        groups=_groups(frame, found),
        not_recorded=found.not_recorded,
        pieces=int(np.count_nonzero(frame.pieces[found.lines])),
        cooks=int(starts_of(frame.cooks[found.lines]).size),
        frame=frame,
    )


def measure_of(question: Question, catalogue: Catalogue) -> Variable:
    """Return what a question shows: its measure, or the difference of that from a control."""
    measure = catalogue[question.measure]
    if not question.against_control:
        return measure
    label = f"{measure.label} against its control"
    return replace(measure, label=label, dimension=difference_of(measure.dimension))


# the numbers


def _groups(frame: Frame, rows: SelectedRows) -> tuple[Group, ...]:
    lines = rows.lines
    if not lines.size:
        return ()
    keys = np.zeros(lines.size, dtype=np.int64)
    for one in rows.groups:
        keys = keys * len(one.names) + one.codes
    small = keys.astype(np.uint16) if keys.max() < 1 << 16 else keys
    order = np.argsort(small, kind="stable")  # small keys are sorted in a time in proportion,
    keys, lines = keys[order], lines[order]  # and each group's lines stay in the order of cooks
    cooks = frame.cooks[lines]
    starts = starts_of(keys, cooks)
    means = np.add.reduceat(rows.values[lines], starts)
    means /= np.diff(starts, append=lines.size)
    pieces = np.add.reduceat(frame.pieces[lines], starts, dtype=np.int64)
    keys, cooks = keys[starts], cooks[starts]
    firsts = starts_of(keys)
    if firsts.size > MOST_GROUPS:
        raise JournalError("That makes too many groups to show.", "Group by something coarser.")
    names = [_name(key, rows.groups) for key in keys[firsts].tolist()]
    ids = [CookIds(frame.cook_names, own) for own in np.split(cooks, firsts[1:])]
    return tuple(_statistics(names, ids, firsts, means, pieces))


def _name(key: int, groupings: list[Grouped]) -> tuple[str, ...]:
    parts: list[str] = []
    for one in reversed(groupings):
        key, place = divmod(key, len(one.names))
        parts.append(one.names[place])
    return tuple(reversed(parts))


def _statistics(
    names: list[tuple[str, ...]],
    cook_ids: Sequence[CookIds],
    firsts: Places,
    means: Floats,
    pieces: Places,
) -> Iterator[Group]:
    """Return each group over its cooks' means, which lie together from `firsts` on."""
    counts = np.diff(firsts, append=means.size)
    centres = np.add.reduceat(means, firsts) / counts
    squares = np.add.reduceat((means - np.repeat(centres, counts)) ** 2, firsts)
    several = np.maximum(counts - 1, 1)
    sds = np.sqrt(squares / several)
    halves = _t(several) * sds / np.sqrt(counts)
    columns = zip(
        names,
        cook_ids,
        counts.tolist(),
        np.add.reduceat(pieces, firsts).tolist(),
        centres.tolist(),
        sds.tolist(),
        halves.tolist(),
        _medians(means, firsts, counts).tolist(),
        strict=True,
    )
    for name, ids, count, of, mean, sd, half, median in columns:
        low, high = (mean - half, mean + half) if half > 0 else (None, None)
        yield Group(name, count, of, mean, low, high, sd if count > 1 else None, median, ids)


def _medians(means: Floats, firsts: Places, counts: Places) -> Floats:
    ranked = means.copy()
    for first, count in zip(firsts.tolist(), counts.tolist(), strict=True):
        ranked[first : first + count].sort()
    low, high = ranked[firsts + (counts - 1) // 2], ranked[firsts + counts // 2]
    return np.asarray((low + high) / 2)


def _t(df: Places) -> Floats:
    from scipy.special import stdtrit

    return np.asarray(stdtrit(df, 0.975))
