"""Put lines into groups: choices as they are, numbers in bins, times by a part of theirs."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.trends.columns.frame import Days, Frame
from pitjournal.analysis.trends.columns.lines import NOT_KNOWN, Codes, Floats
from pitjournal.analysis.trends.question import By, Part
from pitjournal.domain.catalogue import Kind, Variable
from pitjournal.errors import JournalError
from pitjournal.science.scale import SAME, round_step, same
from pitjournal.units import Dimension, UnitSystem, from_display, show, show_interval, to_display

BINS = 5
SEASONS = ("winter", "spring", "summer", "autumn")
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")

Places = NDArray[np.int64]


@dataclass(frozen=True)
class Grouped:
    """The group of each line as a code, −1 where it is not recorded, and their names in order."""

    codes: Codes
    names: list[str]

    def at(self, lines: NDArray[np.bool_]) -> "Grouped":
        """Return the groups of these lines only."""
        return Grouped(self.codes[lines], self.names)


def grouped(
    frame: Frame,
    variable: Variable,
    by: By,
    system: UnitSystem,
    *,
    lines: Places,
    kept: NDArray[np.bool_],
) -> Grouped:
    """Group these lines of a frame by a variable.

    A number without edges is cut sensibly for all lines that are `kept` by the filters, so that
    a group means the same whatever is measured.

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    variable
        The variable meant.
    by
        How it is grouped.
    system
        The units of the words.
    lines
        Which lines, shape (n,).
    kept
        What is held back of it, as texts.

    Raises
    ------
    JournalError
        If the variable makes no groups.
    """
    if variable.kind is Kind.WORDS:
        raise JournalError(f"{variable.label} makes no groups.", "Use it to choose cooks.")
    if variable.kind is Kind.NUMBER:
        edges = cuts(frame, variable, by, kept, system)
        return _binned(frame.numbers(variable.key)[lines], edges, variable, system)
    if variable.kind is Kind.TIME:
        return _by_part(frame.days(variable.key)[lines], by.part or Part.MONTH)
    codes, names = frame.choices(variable.key)
    codes = codes[lines]
    found = [names[code] for code in _present(codes)]
    places = {name: place for place, name in enumerate(variable.choices)}
    found.sort(key=lambda name: (places.get(name, len(places)), name.casefold(), name))
    return _in_order(codes, names, found)


def _present(codes: Codes) -> list[int]:
    counts = np.bincount(codes[codes != NOT_KNOWN]) if codes.size else np.zeros(0)
    return [int(code) for code in np.flatnonzero(counts)]


def _in_order(codes: Codes, names: list[str], order: list[str]) -> Grouped:
    places = {name: place for place, name in enumerate(order)}
    table = [places.get(name, NOT_KNOWN) for name in names]
    return Grouped(np.array([*table, NOT_KNOWN], dtype=np.int32)[codes], order)  # −1: the last


def part_of(days: Days, part: Part) -> Codes:
    """Return a part of each day as a number, −1 where the day is not known.

    Months count from January 1970, seasons and days of the week from 0 as in their names.
    """
    months = days.astype("datetime64[M]").astype(np.int64)
    found = {
        Part.YEAR: lambda: months // 12 + 1970,
        Part.MONTH: lambda: months,
        Part.SEASON: lambda: (months + 1) % 12 // 3,  # winter begins in December
        Part.WEEKDAY: lambda: (days.astype(np.int64) + 3) % 7,  # 1 January 1970: a Thursday
    }[part]()
    return np.where(np.isnat(days), NOT_KNOWN, found).astype(np.int32)


def _by_part(days: Days, part: Part) -> Grouped:
    codes = part_of(days, part)
    numbers = np.unique(codes[codes != NOT_KNOWN])
    places = np.searchsorted(numbers, codes)
    names = [_part_name(number, part) for number in numbers.tolist()]
    return Grouped(np.where(codes == NOT_KNOWN, NOT_KNOWN, places).astype(np.int32), names)


def _part_name(number: int, part: Part) -> str:
    if part is Part.SEASON:
        return SEASONS[number]
    if part is Part.WEEKDAY:
        return WEEKDAYS[number]
    return f"{number}" if part is Part.YEAR else f"{1970 + number // 12}-{1 + number % 12:02d}"


def cuts(
    frame: Frame, variable: Variable, by: By, kept: NDArray[np.bool_], system: UnitSystem
) -> Floats:
    """Return where a number is cut into groups, storage unit: as asked, or sensibly.

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    variable
        The variable meant.
    by
        How it is grouped.
    kept
        What is held back of it, as texts.
    system
        The units of the words.
    """
    if by.edges:
        return np.sort(np.array(by.edges, dtype=np.float64))
    numbers = frame.numbers(variable.key)
    known = numbers[kept & np.isfinite(numbers)]
    return sensible_edges(known, variable, system) if known.size else known


def _binned(numbers: Floats, edges: Floats, variable: Variable, system: UnitSystem) -> Grouped:
    codes = np.full(numbers.size, NOT_KNOWN, dtype=np.int32)
    there = np.isfinite(numbers)
    codes[there] = np.searchsorted(edges, numbers[there], side="right")
    bounds = [None, *edges.tolist(), None]
    names = [_bin_name(low, high, variable, system) for low, high in pairwise(bounds)]
    return Grouped(codes, names)


def sensible_edges(known: Floats, variable: Variable, system: UnitSystem) -> Floats:
    """Return round edges in the units shown, about five groups over the middle of the values.

    Parameters
    ----------
    known
        The values that are known, shape (n,).
    variable
        The variable meant.
    system
        The units of the words.
    """
    shown = to_display(known, variable.dimension, system)
    low, high = np.quantile(shown, [0.05, 0.95])
    few = _distinct(shown[:64]).size <= BINS  # looked at first: to sort all takes time
    distinct = _distinct(shown) if few else shown
    if distinct.size <= BINS:
        middles = (distinct[1:] + distinct[:-1]) / 2
        return np.asarray(from_display(middles, variable.dimension, system))
    if same(low, high):  # nearly all at one place, with few beside it
        return np.asarray(from_display(np.array([low]), variable.dimension, system))
    minutes = variable.dimension is Dimension.DURATION
    step = round_step(float(high - low), BINS, minutes=minutes)
    first = np.floor(low / step) * step + step
    edges = np.arange(first, high + 1e-9 * step, step)
    return np.asarray(from_display(edges, variable.dimension, system))


def _distinct(shown: Floats) -> Floats:
    """Return the numbers there are, in order; those that only rounding parts are one."""
    found = np.unique(shown)
    return found[np.diff(found, prepend=-np.inf) > SAME * np.abs(found)]


def _bin_name(low: float | None, high: float | None, variable: Variable, system: UnitSystem) -> str:
    if low is None and high is None:
        return "all"
    if low is None:
        assert high is not None
        return f"under {show(high, variable.dimension, system)}"
    if high is None:
        return f"{show(low, variable.dimension, system)} and over"
    return show_interval(low, high, variable.dimension, system)
