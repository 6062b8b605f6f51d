"""Which rows and columns hold what: heads, times, readings, names, units."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from pitjournal.files.probe_log.above import heads_above, is_units_row
from pitjournal.files.probe_log.cells import reading
from pitjournal.files.probe_log.heads import named_heads
from pitjournal.files.probe_log.kinds import Kinds, is_whole, kinds_of
from pitjournal.files.probe_log.stated import stated_unit
from pitjournal.files.probe_log.tables.table import Row
from pitjournal.files.probe_log.times.beside import date_in, interval_in
from pitjournal.files.probe_log.times.clock import Clock
from pitjournal.files.probe_log.times.find_clock import SHARE, find_clock
from pitjournal.files.probe_log.times.stamps import any_time
from pitjournal.files.probe_log.units import is_part, unit_named

_LEAST = 0.35
"""From the first row on at least this share of the lines are rows."""
_OFTEN = 0.1
"""Rows of another number of cells are no accident when there are this many to one as usual."""


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
    name_column
        In a long file, the column of channel names.
    unit_columns
        The column of units of each column of readings that has one.
    stated
        The unit that the words beside the rows state, or an empty text.
    parts
        Whether some readings are written in parts of a degree.
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
    unit_columns: dict[int, int]
    stated: str
    parts: bool
    first: int
    heads_at: int
    above: tuple[str, ...]
    shorter: frozenset[int]
    longer: frozenset[int]
    score: float

    @property
    def unit_column(self) -> int | None:
        """The column of units where all columns of readings share one, else None."""
        columns = set(self.unit_columns.values())
        return next(iter(columns)) if len(columns) == 1 else None


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
    heads, units, heads_at = heads_above(above, width, clock.columns)
    if clock.every:
        number = _first_number(sample, good, heads_at, clock)
        if number is None:
            return None
        clock = replace(clock, shift=-number * clock.every)
    columns = list(zip(*(row.cells for row in good), strict=True))
    kinds = kinds_of(columns, heads, units, clock)
    if not kinds.readings:
        return None
    full = sum(_is_full(row.cells, kinds.readings) for row in good)
    told = {*clock.columns, *kinds.readings, *kinds.aside}
    told |= {kinds.name} if kinds.name is not None else set()
    filled = sum(any(column) for column in columns)
    accounted = min(1.0, len(told) / max(1, filled))
    if accounted < 0.5 and not any(heads):
        return None
    score = full / len(sample) * accounted**0.5
    others = _other_widths(sample, width, clock, max(3.0, _OFTEN * len(good)))
    words = [
        *context,
        *(line for row in above for line in (" ".join(row.cells), "\t".join(row.cells))),
    ]
    stated = stated_unit(words)
    return Layout(
        width,
        heads,
        {place: unit_named(units[place]) for place in kinds.readings if unit_named(units[place])},
        clock,
        kinds.readings,
        kinds.name,
        kinds.units,
        stated,
        is_part(stated) or _has_parts(kinds, columns, heads, units),
        first,
        heads_at,
        tuple(" ".join(row.cells) for row in above),
        frozenset(other for other in others if other < width),
        frozenset(other for other in others if other > width),
        score * (1.1 if any(heads) else 1.0) * (1.0 + 0.01 * min(10, len(kinds.readings))),
    )


def _has_parts(
    kinds: Kinds, columns: Sequence[Sequence[str]], heads: Sequence[str], units: Sequence[str]
) -> bool:
    """Whether a column of readings is in parts of a degree, by its head, its unit, its cells."""
    names = named_heads({place: heads[place] for place in kinds.readings})
    said = [unit for _, unit in names.values()]
    said += [unit_named(units[place]) for place in kinds.readings]
    said += [unit_named(cell) for place in kinds.units.values() for cell in columns[place][:3]]
    return any(map(is_part, said))


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
    heads, units, _ = heads_above(above, width, (), look_back=len(above))
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
        if is_whole(row.cells[clock.columns[0]])
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


def names_and_units(layout: Layout, heads: Sequence[str]) -> dict[int, tuple[str, str]]:
    """Return the name and the unit in the head of each column of readings."""
    return named_heads({place: heads[place] for place in layout.readings})
