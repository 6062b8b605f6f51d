"""Answer a question: a piece's value, the cook's mean of its pieces, then the mean over cooks."""

import operator
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.trends.frame import NOT_KNOWN, Codes, Floats, Frame
from pitjournal.analysis.trends.question import By, Part, Question, Sign, Where, checked
from pitjournal.domain.catalogue import Catalogue, Kind, Variable
from pitjournal.units import UnitSystem, from_display, show, to_display

FEW = 3
"""Groups of fewer cooks are grey."""

BINS = 5
MOST_GROUPS = 5000
SEASONS = ("winter", "spring", "summer", "autumn")
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")

Mask = NDArray[np.bool_]


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
    cook_ids: tuple[str, ...]

    @property
    def few(self) -> bool:
        """Whether it rests on fewer than three cooks."""
        return self.cooks < FEW


@dataclass(frozen=True)
class Point:
    """A cook's mean of the measure against its mean of a numeric grouping variable."""

    cook_id: str
    x: float
    y: float


@dataclass(frozen=True)
class Answer:
    """What all cooks say to a question."""

    question: Question
    measure: Variable
    by: tuple[Variable, ...]
    groups: tuple[Group, ...]
    points: tuple[Point, ...]
    not_recorded: int
    pieces: int
    cooks: int


def answer(frame: Frame, question: Question, catalogue: Catalogue, system: UnitSystem) -> Answer:
    """Answer a question.

    Raises
    ------
    JournalError
        If the question names what is not there, or makes too many groups to show.
    """
    checked(question, catalogue)
    measure = catalogue[question.measure]
    kept = np.ones(frame.size, dtype=bool)
    for where in question.where:
        kept &= _passes(frame, catalogue[where.key], where)
    values = _measure(frame, measure)
    known = kept & np.isfinite(values)
    codes: list[tuple[Codes, list[str]]] = []
    for by in question.by:
        found = _grouping(frame, catalogue[by.key], by, kept, system)
        codes.append(found)
        known &= found[0] != NOT_KNOWN
    if question.within and codes:
        known &= _inside(frame.cooks, codes[0][0], known)
    groups = _groups(frame, values, known, codes)
    return Answer(
        question=question,
        measure=measure,
        by=tuple(catalogue[by.key] for by in question.by),
        groups=groups,
        points=_points(frame, catalogue, question, values, known),
        not_recorded=int(kept.sum() - known.sum()) if not question.within else 0,
        pieces=int(known.sum()),
        cooks=int(np.unique(frame.cooks[known]).size),
    )


def _measure(frame: Frame, measure: Variable) -> Floats:
    if measure.kind is Kind.YES_NO:
        codes, names = frame.choices(measure.key)
        yes = names.index("yes") if "yes" in names else -2
        return np.where(codes == NOT_KNOWN, np.nan, (codes == yes).astype(np.float64))
    return frame.numbers(measure.key)


def _passes(frame: Frame, variable: Variable, where: Where) -> Mask:
    if variable.kind is Kind.NUMBER:
        numbers = frame.numbers(variable.key)
        wanted = np.array([float(v) for v in where.values], dtype=np.float64)
        if where.sign in {Sign.IS, Sign.IS_NOT}:
            near = np.isclose(numbers[:, None], wanted, rtol=1e-6, atol=1e-9).any(axis=1)
            return np.asarray(near if where.sign is Sign.IS else ~near & np.isfinite(numbers))
        return _compare(numbers, where.sign, float(wanted[0]))
    codes, names = frame.choices(variable.key)
    wanted_texts = [str(v).strip().casefold() for v in where.values]
    if variable.kind is Kind.TIME:
        return _dates(codes, names, where.sign, wanted_texts)
    fits = [place for place, name in enumerate(names) if name.casefold() in wanted_texts]
    inside = np.isin(codes, fits)
    return inside if where.sign is Sign.IS else ~inside & (codes != NOT_KNOWN)


def _compare(numbers: Floats, sign: Sign, wanted: float) -> Mask:
    with np.errstate(invalid="ignore"):
        found = {
            Sign.LESS: numbers < wanted,
            Sign.AT_MOST: numbers <= wanted,
            Sign.MORE: numbers > wanted,
            Sign.AT_LEAST: numbers >= wanted,
        }[sign]
    return np.asarray(found)


def _dates(codes: Codes, names: list[str], sign: Sign, wanted: list[str]) -> Mask:
    """Compare dates as far as they are written: 2025 is a year, 2025-08 a month."""
    text = wanted[0]
    heads = [name[: len(text)] for name in names]
    if sign is Sign.IS:
        fits = [place for place, name in enumerate(names) if name.startswith(tuple(wanted))]
        return np.isin(codes, fits)
    compare = {
        Sign.IS_NOT: operator.ne,
        Sign.LESS: operator.lt,
        Sign.AT_MOST: operator.le,
        Sign.MORE: operator.gt,
        Sign.AT_LEAST: operator.ge,
    }[sign]
    fits = [place for place, head in enumerate(heads) if compare(head, text)]
    return np.isin(codes, fits)


# grouping


def _grouping(
    frame: Frame, variable: Variable, by: By, kept: Mask, system: UnitSystem
) -> tuple[Codes, list[str]]:
    if variable.kind is Kind.NUMBER:
        return _binned(frame.numbers(variable.key), variable, by.edges, kept, system)
    codes, names = frame.choices(variable.key)
    if variable.kind is Kind.TIME:
        parts = [_part(name, by.part or Part.MONTH) for name in names]
        return _renamed(codes, parts, _order_of(by.part or Part.MONTH, parts))
    order = [choice for choice in variable.choices if choice in names]
    order += sorted(set(names) - set(order), key=str.casefold)
    return _renamed(codes, names, order)


@lru_cache(maxsize=100_000)
def _part(text: str, part: Part) -> str:
    day = datetime.fromisoformat(text)
    if part is Part.YEAR:
        return f"{day.year}"
    if part is Part.MONTH:
        return f"{day:%Y-%m}"
    if part is Part.WEEKDAY:
        return WEEKDAYS[day.weekday()]
    return SEASONS[day.month % 12 // 3]


def _order_of(part: Part, parts: list[str]) -> list[str]:
    fixed = {Part.SEASON: SEASONS, Part.WEEKDAY: WEEKDAYS}.get(part)
    found = set(parts)
    return [name for name in fixed if name in found] if fixed else sorted(found)


def _renamed(codes: Codes, names: list[str], order: list[str]) -> tuple[Codes, list[str]]:
    places = {name: place for place, name in enumerate(order)}
    table = np.array([places[name] for name in names] + [NOT_KNOWN], dtype=np.int32)
    return table[codes], order  # −1 takes the last entry, which is −1


def _binned(
    numbers: Floats, variable: Variable, edges: tuple[float, ...], kept: Mask, system: UnitSystem
) -> tuple[Codes, list[str]]:
    known = numbers[kept & np.isfinite(numbers)]
    codes = np.full(numbers.size, NOT_KNOWN, dtype=np.int32)
    if not known.size:
        return codes, []
    cuts = np.array(edges) if edges else sensible_edges(known, variable, system)
    there = np.isfinite(numbers)
    codes[there] = np.searchsorted(cuts, numbers[there], side="right")
    names = []
    for place in range(cuts.size + 1):
        low = None if place == 0 else float(cuts[place - 1])
        high = None if place == cuts.size else float(cuts[place])
        names.append(_bin_name(low, high, variable, system))
    return codes, names


def sensible_edges(known: Floats, variable: Variable, system: UnitSystem) -> Floats:
    """Return round edges in the units shown, about five groups over the middle of the values."""
    shown = to_display(known, variable.dimension, system)
    low, high = np.quantile(shown, [0.05, 0.95])
    distinct = np.unique(shown)
    if distinct.size <= BINS:
        middles = (distinct[1:] + distinct[:-1]) / 2
        return np.asarray(from_display(middles, variable.dimension, system))
    raw = max(float(high - low) / BINS, 1e-12)
    power = 10.0 ** np.floor(np.log10(raw))
    step = next(s * power for s in (1, 2, 2.5, 5, 10) if s * power >= raw)
    first = np.floor(low / step) * step + step
    edges = np.arange(first, high + 1e-9 * step, step)
    return np.asarray(from_display(edges, variable.dimension, system))


def _bin_name(low: float | None, high: float | None, variable: Variable, system: UnitSystem) -> str:
    def text(value: float, *, unit: bool) -> str:
        return show(value, variable.dimension, system, with_unit=unit)

    if low is None and high is None:
        return "all"
    if low is None:
        assert high is not None
        return f"under {text(high, unit=True)}"
    if high is None:
        return f"{text(low, unit=True)} and over"
    return f"{text(low, unit=False)} to {text(high, unit=True)}"


def _inside(cooks: Codes, codes: Codes, known: Mask) -> Mask:
    """Keep the cooks that have at least two of the first variable's groups."""
    pairs = np.unique(np.column_stack([cooks[known], codes[known]]), axis=0)
    own, counts = np.unique(pairs[:, 0], return_counts=True)
    return np.isin(cooks, own[counts > 1])


# the numbers


def _groups(
    frame: Frame, values: Floats, known: Mask, codes: list[tuple[Codes, list[str]]]
) -> tuple[Group, ...]:
    from pitjournal.errors import JournalError  # noqa: PLC0415 - beside its only use

    rows = np.flatnonzero(known)
    if not rows.size:
        return ()
    combined = np.zeros(rows.size, dtype=np.int64)
    for column, names in codes:
        combined = combined * max(len(names), 1) + column[rows]
    cooks = frame.cooks[rows].astype(np.int64)
    base = int(cooks.max()) + 1
    cells, inverse = np.unique(combined * base + cooks, return_inverse=True)
    counts = np.bincount(inverse)
    means = np.bincount(inverse, weights=values[rows]) / counts
    keys, starts = np.unique(cells // base, return_index=True)
    if keys.size > MOST_GROUPS:
        raise JournalError("That makes too many groups to show.", "Group by something coarser.")
    ends = np.append(starts[1:], cells.size)
    cook_codes = cells % base
    found = []
    for key, start, end in zip(keys, starts, ends, strict=True):
        ids = tuple(map(frame.cook_names.__getitem__, cook_codes[start:end].tolist()))
        name = _name(int(key), codes)
        found.append(_group(name, means[start:end], int(counts[start:end].sum()), ids))
    return tuple(found)


def _name(key: int, codes: list[tuple[Codes, list[str]]]) -> tuple[str, ...]:
    parts: list[str] = []
    for _, names in reversed(codes):
        key, place = divmod(key, max(len(names), 1))
        parts.append(names[place])
    return tuple(reversed(parts))


@lru_cache(maxsize=4096)
def _t(df: int) -> float:
    from scipy import stats  # noqa: PLC0415 - when first needed

    return float(stats.t.ppf(0.975, df))


def _group(name: tuple[str, ...], means: Floats, pieces: int, cook_ids: tuple[str, ...]) -> Group:
    n = means.size
    mean = float(means.mean())
    sd = float(means.std(ddof=1)) if n > 1 else None
    half = None if sd is None or not sd > 0 else _t(n - 1) * sd / float(np.sqrt(n))
    return Group(
        name,
        n,
        pieces,
        mean,
        None if half is None else mean - half,
        None if half is None else mean + half,
        sd,
        float(np.median(means)),
        cook_ids,
    )


def _points(
    frame: Frame, catalogue: Catalogue, question: Question, values: Floats, known: Mask
) -> tuple[Point, ...]:
    """Return a point a cook where the first variable is a number, for a scatter."""
    if not question.by or catalogue[question.by[0].key].kind is not Kind.NUMBER:
        return ()
    numbers = frame.numbers(question.by[0].key)
    rows = np.flatnonzero(known & np.isfinite(numbers))
    if not rows.size:
        return ()
    cooks, first, inverse = np.unique(frame.cooks[rows], return_index=True, return_inverse=True)
    counts = np.bincount(inverse)
    x = np.bincount(inverse, weights=numbers[rows]) / counts
    y = np.bincount(inverse, weights=values[rows]) / counts
    return tuple(
        Point(frame.cook_ids[rows[first[place]]], float(x[place]), float(y[place]))
        for place in range(cooks.size)
    )
