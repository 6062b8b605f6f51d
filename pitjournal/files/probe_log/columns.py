"""Which rows and columns hold what: heads, times, readings, names, units."""

import itertools
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from pitjournal.files.probe_log.cells import is_mark, reading, unit_named
from pitjournal.files.probe_log.heads import (
    named_heads,
    no_temperature,
    other_unit,
    plain_words,
    split_unit,
    without_comment,
)
from pitjournal.files.probe_log.tables.table import Row
from pitjournal.files.probe_log.times.beside import date_in, interval_in
from pitjournal.files.probe_log.times.clock import SHARE, TIME_HEAD, Clock, find_clock, share
from pitjournal.files.probe_log.times.stamps import any_time

_UNIT_HEAD = re.compile(r"^\W*(units?|einheit|scale|unit[ée]|unidad|u)\W*$|_units?$", re.IGNORECASE)
_NAME_HEAD = re.compile(
    r"probe|channel|sensor|name|kanal|canal|series|where|\bch\b|label|source|location|\btag\b|"
    r"position|thermometer|fühler|sonde|sonda",
    re.IGNORECASE,
)
_LOOK_BACK = 8
_LEAST = 0.35
"""From the first row on at least this share of the lines are rows."""
_OFTEN = 0.1
"""Rows of another number of cells are no accident when there are this many to one as usual."""
_LONG = 16
_MOST_PROBES = 32
"""Of one logger; greater numbers are no probes' names."""


@dataclass(frozen=True)
class Layout:
    """Where everything is.

    Attributes
    ----------
    width
        Cells in a row of readings.
    heads
        The columns' heads, empty where the file has none.
    units
        Units of the readings' columns from a units row, by column.
    clock
        How times are read.
    readings
        Columns of temperatures.
    name_column, unit_column
        In a long file, the columns of channel names and of units.
    first
        The place of the first row of readings.
    above
        Lines above it as words: the preamble.
    shorter, longer
        Other numbers of cells that many rows with a time have.
    score
        The share of the sampled rows, and of their columns, that this layout accounts for.
    """

    width: int
    heads: tuple[str, ...]
    units: dict[int, str]
    clock: Clock
    readings: tuple[int, ...]
    name_column: int | None
    unit_column: int | None
    first: int
    heads_at: int
    above: tuple[str, ...]
    shorter: frozenset[int]
    longer: frozenset[int]
    score: float


def find_layout(sample: Sequence[Row], context: Sequence[str] = ()) -> Layout | None:
    """Return the layout that accounts for most of the sampled rows, or None."""
    widths = Counter(len(row.cells) for row in sample)
    usual = [width for width, count in widths.most_common(4) if width > 1 and count > 1]
    layouts = [_with_width(sample, width, context) for width in usual]
    found = [layout for layout in layouts if layout is not None]
    best = max(found, key=lambda layout: layout.score, default=None)
    if best is None or best.name_column is not None:
        return best
    # Where a probe came or went, the widest part has all channels.
    parts = [layout for layout in found if layout.width in best.longer and any(layout.heads)]
    wider = max(parts, key=lambda layout: layout.width, default=best)
    return wider if wider.clock.columns == best.clock.columns else best


def _with_width(sample: Sequence[Row], width: int, context: Sequence[str]) -> Layout | None:
    alike = [row for row in sample if len(row.cells) == width and _is_data(row.cells)]
    for part in (alike, alike[len(alike) // 3 :], alike[2 * len(alike) // 3 :]):
        found = _of_rows(sample, part, width, context) if len(part) > 1 else None
        if found is not None:
            return found
    return None


def _is_data(cells: Sequence[str]) -> bool:
    """Whether a row holds times or numbers, beside at most a few words."""
    told = sum(any_time(cell) or reading(cell).state == "value" for cell in cells)
    blank = sum(reading(cell).state == "missing" for cell in cells)
    return told >= 1 and told + blank >= max(2.0, 0.3 * len(cells))


def _of_rows(
    sample: Sequence[Row], alike: Sequence[Row], width: int, context: Sequence[str]
) -> Layout | None:
    start, found = alike[0].place, None
    # What is taken for the first row decides where heads are sought, and these how it is read.
    for _ in range(2):
        found = _clocked(sample, alike, width, context, start)
        if found is None:
            return None
        start = found.first
    assert found is not None
    clock, good, first = found.clock, found.good, found.first
    below = [row for row in alike if row.place >= good[0].place]
    after = sum(row.place >= good[0].place for row in sample)
    if len(good) < SHARE * len(below) or len(good) < _LEAST * after:
        return None
    above = [row for row in sample if row.place < first]
    heads, units, heads_at = _heads(above, width, clock.columns)
    if clock.every:
        number = _first_number(sample, good, heads_at, clock)
        if number is None:
            return None
        clock = replace(clock, shift=-number * clock.every)
    columns = list(zip(*(row.cells for row in good), strict=True))
    kinds = _kinds(columns, heads, units, clock)
    if not kinds.readings:
        return None
    full = sum(_is_full(row.cells, kinds.readings) for row in good)
    told = {*clock.columns, *kinds.readings, *kinds.aside}
    told |= {place for place in (kinds.name, kinds.unit) if place is not None}
    filled = sum(any(column) for column in columns)
    accounted = min(1.0, len(told) / max(1, filled))
    if accounted < 0.5 and not any(heads):
        return None
    score = full / len(sample) * accounted**0.5
    others = _other_widths(sample, width, clock, max(3.0, _OFTEN * len(good)))
    return Layout(
        width,
        heads,
        {place: unit_named(units[place]) for place in kinds.readings if unit_named(units[place])},
        clock,
        kinds.readings,
        kinds.name,
        kinds.unit,
        first,
        heads_at,
        tuple(" ".join(row.cells) for row in above),
        frozenset(other for other in others if other < width),
        frozenset(other for other in others if other > width),
        score * (1.1 if any(heads) else 1.0) * (1.0 + 0.01 * min(10, len(kinds.readings))),
    )


@dataclass(frozen=True)
class _Clocked:
    """A clock, the rows that it reads, and the place of the first that others follow."""

    clock: Clock
    good: list[Row]
    first: int


def _clocked(
    sample: Sequence[Row], alike: Sequence[Row], width: int, context: Sequence[str], start: int
) -> _Clocked | None:
    """Return the clock of rows alike, by what stands above a row that is taken for the first."""
    rows = [row for row in alike if row.place >= start]
    if len(rows) < 2:
        return None
    above = [row for row in sample if row.place < start]
    heads, units, _ = _heads(above, width, (), look_back=len(above))
    columns = list(zip(*(row.cells for row in rows), strict=True))
    words = [*context, *(" ".join(row.cells) for row in above)]
    dated, every = date_in(words) is not None, interval_in(words)
    clock = find_clock(columns, heads, units, dated=dated, every=every)
    if clock is None:
        return None
    good = [row for row in rows if clock.read(row.cells) is not None]
    first = _first(sample, width, clock)
    return None if len(good) < 2 or first is None else _Clocked(clock, good, first)


def _first_number(
    sample: Sequence[Row], good: Sequence[Row], heads_at: int, clock: Clock
) -> int | None:
    """Return the number of the first row below the heads: 0 or 1; None where it is another.

    Then rows are missing at the beginning, and what the start was cannot be told.
    """
    below = [row.place for row in sample if row.place > heads_at and not is_units_row(row.cells)]
    begin = 0 if heads_at >= 0 else below.index(good[0].place)
    numbers = Counter(
        int(row.cells[clock.columns[0]]) - (below.index(row.place) - begin)
        for row in good[:12]
        if _is_whole(row.cells[clock.columns[0]])
    )
    usual = max(numbers, key=lambda number: numbers[number], default=-1)
    # A row put in or left out among the first ones would shift all others.
    whole = good[0].place == below[begin] and usual == next(iter(numbers), None)
    return usual if usual in {0, 1} and whole else None


def _other_widths(sample: Sequence[Row], width: int, clock: Clock, least: float) -> list[int]:
    """Return other numbers of cells that so many rows with a time and a reading have."""
    counts: Counter[int] = Counter()
    for row in sample:
        size = len(row.cells)
        if size != width and size > max(clock.columns) + 1 and clock.read(row.cells) is not None:
            counts[size] += reading(row.cells[max(clock.columns) + 1]).state != "bad"
    return [size for size, count in counts.items() if count >= least]


def _is_full(cells: Sequence[str], readings: Sequence[int]) -> bool:
    return all(reading(cells[place]).state != "bad" for place in readings)


def _first(sample: Sequence[Row], width: int, clock: Clock) -> int | None:
    """Return the place of the first row with a time that others follow."""
    good = [len(row.cells) == width and clock.read(row.cells) is not None for row in sample]
    for order, row in enumerate(sample):
        after = good[order : order + 6]
        if good[order] and sum(after) >= min(len(after), 3) - (len(after) < 3):
            return row.place
    return None


# heads


def _heads(
    above: Sequence[Row], width: int, clock: Sequence[int], look_back: int = _LOOK_BACK
) -> tuple[tuple[str, ...], tuple[str, ...], int]:
    """Return the heads and the units row above the first readings, and the heads' place (or −1)."""
    units: tuple[str, ...] = ("",) * width
    for row in reversed(above[-look_back:] if look_back else []):
        cells = _aligned(without_comment(row.cells), width, clock)
        if cells is None or all(is_mark(cell) for cell in cells):
            continue
        if is_units_row(cells):
            units = cells if not any(units) else units
            continue
        if is_heads(cells):
            return cells, units, row.place
    return ("",) * width, units, -1


def _aligned(cells: tuple[str, ...], width: int, clock: Sequence[int]) -> tuple[str, ...] | None:
    """Return heads as many as the rows have cells, or None where they cannot be."""
    while len(cells) > width and not cells[-1]:
        cells = cells[:-1]
    joined = len(clock) - 1
    if joined > 0 and len(cells) == width - joined:
        at = min(clock) + 1
        return (*cells[:at], *("" for _ in range(joined)), *cells[at:])
    if len(cells) == width - 1 and len(cells) > 1:
        # The one that is missing is the last, unless it is the time's.
        timed = TIME_HEAD.search(plain_words(cells[0])) is not None
        return (*cells, "") if timed else ("", *cells)
    return cells if len(cells) == width else None


def is_units_row(cells: Sequence[str]) -> bool:
    """Whether a row holds the units of the columns."""
    filled = [cell for cell in cells if cell]
    units = sum(bool(unit_named(cell)) for cell in filled)
    if not units:
        return False
    others = sum(other_unit(cell) or is_mark(cell) for cell in filled)
    words = len(filled) - units - others
    times = sum(bool(TIME_HEAD.search(cell)) for cell in filled)
    return words <= min(times, 2) and not any(map(any_time, cells))


def is_heads(cells: Sequence[str]) -> bool:
    """Whether a row holds words: no times, and numbers only beside a head for the time."""
    if any(map(any_time, cells)):
        return False
    filled = [cell for cell in cells if cell]
    numbers = sum(reading(cell).state == "value" for cell in filled)
    timed = any(TIME_HEAD.search(plain_words(cell)) for cell in filled)
    return bool(filled) and (numbers == 0 or (timed and numbers < len(filled)))


# columns


@dataclass(frozen=True)
class _Kinds:
    readings: tuple[int, ...]
    name: int | None
    unit: int | None
    aside: tuple[int, ...]


def _kinds(
    columns: Sequence[Sequence[str]], heads: Sequence[str], units: Sequence[str], clock: Clock
) -> _Kinds:
    """Return what each column is, the clock's apart."""
    rest = [place for place in range(len(columns)) if place not in clock.columns]
    unit = [
        place
        for place in rest
        if share(columns[place], lambda cell: unit_named(cell) or None) >= SHARE
        or (_UNIT_HEAD.search(heads[place]) and share(columns[place], _any_unit) >= SHARE)
    ]
    aside = [p for p in rest if p not in unit and _is_aside(columns[p], heads[p], units[p])]
    left = [place for place in rest if place not in unit and place not in aside]
    names = [p for p in left if _names(columns[p], heads[p])]
    numbers = [p for p in left if _readable(columns[p], heads[p])]
    values = [place for place in numbers if place not in names]
    if names and len(values) == 1:
        return _Kinds(tuple(values), names[0], next(iter(unit), None), tuple(aside))
    return _Kinds(tuple(numbers), None, next(iter(unit), None), tuple(aside))


def _any_unit(cell: str) -> bool | None:
    return True if unit_named(cell) or other_unit(cell) else None


def _is_aside(cells: Sequence[str], head: str, unit: str) -> bool:
    """Whether a column is neither a reading nor a name: said by its head, its unit, its cells."""
    in_cells = sum(bool(reading(cell).unit) for cell in cells) > len(cells) / 2
    stated = "degC" if in_cells else unit_named(unit) or split_unit(head)[1]
    if no_temperature(head, stated) or (unit and other_unit(unit)):
        return True
    if TIME_HEAD.search(plain_words(head)) and not stated:
        return True
    return not stated and _is_counter(cells)


def _is_counter(cells: Sequence[str]) -> bool:
    """Whether whole numbers go up by one from row to row, as those of rows do."""
    first = cells[:40]
    if len(first) < 8 or not all(_is_whole(cell) for cell in first):
        return False
    return {int(b) - int(a) for a, b in itertools.pairwise(first)} == {1}


def _is_whole(cell: str) -> bool:
    """Whether a cell is a whole number of a size that a counter or a probe's number can have."""
    return cell.isdecimal() and len(cell) < _LONG


def _readable(cells: Sequence[str], head: str) -> bool:
    states = Counter(reading(cell).state for cell in cells)
    if states["value"]:
        return states["value"] + states["missing"] + states["word"] >= 0.8 * len(cells) and (
            states["value"] >= 0.05 * states["word"]
        )
    return bool(head) and states["missing"] >= 0.8 * len(cells)


def _names(cells: Sequence[str], head: str) -> bool:
    """Whether a column names the channel of its row: few words that take turns."""
    named = bool(_NAME_HEAD.search(plain_words(head)))
    filled = [cell for cell in cells if cell]
    different = set(filled)
    # A damaged record or two may have lost their name; more have none.
    if not 1 <= len(different) <= min(64, max(2, len(cells) // 2)) or (
        len(filled) < 0.9 * len(cells)
    ):
        return False
    cells = filled
    words = sum(reading(cell).state in {"bad", "word"} for cell in cells)
    turns = sum(a != b for a, b in itertools.pairwise(cells))
    if words < 0.9 * len(cells):
        numbered = all(_is_whole(cell) and int(cell) <= _MOST_PROBES for cell in different)
        apart = turns >= 0.3 * len(cells) or turns < len(different)
        return named and numbered and len(different) > 1 and apart and not head[-1].isdecimal()
    return named or (len(different) > 1 and turns >= 0.3 * len(cells))


def names_and_units(layout: Layout, heads: Sequence[str]) -> dict[int, tuple[str, str]]:
    """Return the name and the unit in the head of each column of readings."""
    return named_heads({place: heads[place] for place in layout.readings})
