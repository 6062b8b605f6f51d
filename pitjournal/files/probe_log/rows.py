"""Rows read one by one: readings, repeated heads, words, and what nobody can read."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from pitjournal.files.probe_log.above import is_units_row
from pitjournal.files.probe_log.asides import no_temperature, other_unit
from pitjournal.files.probe_log.body import NOWHERE, Body, Gathered
from pitjournal.files.probe_log.cells import is_mark, reading
from pitjournal.files.probe_log.columns import Layout
from pitjournal.files.probe_log.doubtful import Doubtful, in_their_columns, is_remark, without_words
from pitjournal.files.probe_log.ends import begins_like, is_cut, is_last, needed_columns
from pitjournal.files.probe_log.heads import is_comment, split_unit, without_comment
from pitjournal.files.probe_log.report import Rejected
from pitjournal.files.probe_log.stated import stated_unit
from pitjournal.files.probe_log.tables.cuts import CUT
from pitjournal.files.probe_log.tables.table import Row, Table
from pitjournal.files.probe_log.times.stamps import Moment, any_time
from pitjournal.files.probe_log.units import UNITS, unit_named
from pitjournal.files.probe_log.widths import ABSENT, Widths

NAN = float("nan")
OFTEN = 3
"""A word that stands where readings do this often is the logger's mark for none."""


@dataclass(frozen=True)
class Section:
    """From a place on, heads and units that hold (repeated heads, a units row, a line of words)."""

    place: int
    heads: tuple[str, ...]
    units: dict[int, str]


@dataclass
class RowsRead:
    """What came of reading rows one by one."""

    body: Body
    sections: list[Section]
    rejected: list[Rejected]
    marks: tuple[str, ...]
    left: tuple[tuple[int, str], ...] = ()
    """Lines, and the word that stands there for a reading, where the rest was kept."""


@dataclass
class RowReader:
    """Reads rows of one layout."""

    table: Table
    layout: Layout
    gathered: Gathered = field(init=False)
    widths: Widths = field(init=False)
    sections: list[Section] = field(default_factory=list)
    doubtful: list[Doubtful] = field(default_factory=list)
    odd: list[Row] = field(default_factory=list)
    heads_at: list[int] = field(default_factory=list)
    last: int = -1

    def __post_init__(self) -> None:
        self.gathered = Gathered(len(self.layout.readings))
        self.widths = Widths(self.layout)
        self.sections = [Section(-1, self.layout.heads, dict(self.layout.units))]

    def read(self, places: Iterable[int], last: int) -> RowsRead:
        """Read the rows at some places.

        Parameters
        ----------
        places
            Where they stand, in order.
        last
            The place of the last row that was read otherwise, or −1.
        """
        self.last = last
        for place in places:
            cells = self._fitted(place)
            if any(cells):
                self._row(Row(place, cells))
        rejected, marks, left = self._settle()
        rejected += [Rejected(self.table.line(row.place), why) for row, why in self._refused()]
        return RowsRead(self.gathered.body(), self.sections, rejected, marks, left)

    def _fitted(self, place: int) -> tuple[str, ...]:
        """Return a row's cells without blanks and remarks behind the last column.

        Of a last line that is cut off behind its last reading, what is left is a row.
        """
        cells, width = self.table.cells(place), self.layout.width
        while len(cells) > width and (not cells[-1] or (len(cells) > 2 and is_remark(cells[-1]))):
            cells = cells[:-1]
        needed = max(needed_columns(self.layout)) + 1
        cut = is_last(self.table, place) and is_cut(self.table, self.layout, Row(place, cells))
        if is_last(self.table, place) and not cut and needed <= len(cells) < width:
            cells = (*cells, *("" for _ in range(width - len(cells))))
        return cells

    def _row(self, row: Row) -> None:
        moment = None
        if len(row.cells) != self.layout.width:
            heads = self.widths.heads(without_comment(row.cells))
            if heads is not None:
                self._section(row.place, heads, {})
                return
            brought = self.widths.brought(row.cells)
            row = row if brought is None else Row(row.place, brought)
        if len(row.cells) == self.layout.width:
            moment = self.layout.clock.read(row.cells)
        if moment is None:
            if not self._restated(row):
                self.odd.append(row)
            return
        if is_cut(self.table, self.layout, row):
            self.odd.append(row)
            return
        self.last = max(self.last, row.place)
        self._data(row, moment)

    # readings

    def _data(self, row: Row, moment: Moment) -> None:
        cells = [reading(row.cells[place]) for place in self.layout.readings]
        places = self.layout.readings
        if self.table.records and not any(row.cells[place] for place in places):
            return  # a record of something else
        bad = tuple(p for p, cell in zip(places, cells, strict=True) if cell.state == "bad")
        words = tuple(p for p, cell in zip(places, cells, strict=True) if cell.state == "word")
        if (bad or words or is_unnamed(self.layout, row.cells)) and not is_other_kind(
            self.layout, row.cells
        ):
            self.doubtful.append(Doubtful(row, moment, bad, words))
        else:
            self._keep(row, moment)

    def _keep(self, row: Row, moment: Moment) -> None:
        layout = self.layout
        cells = [reading(row.cells[place], parts=layout.parts) for place in layout.readings]
        values = [NAN if cell.value is None else cell.value for cell in cells]
        units = [
            NOWHERE
            if row.cells[place] == ABSENT
            else UNITS.index(cell.unit or unit_beside(layout, row.cells, place))
            for place, cell in zip(layout.readings, cells, strict=True)
        ]
        if is_other_kind(layout, row.cells):
            values, units = [NAN] * len(values), [NOWHERE] * len(units)
        self.gathered.add(row.place, moment, values, units, channel_of(layout, row.cells))

    def _settle(self) -> tuple[list[Rejected], tuple[str, ...], tuple[tuple[int, str], ...]]:
        """Keep doubtful rows whose words are marks for none, or stand beside readings.

        The others are rejected, and so is a row whose readings a word has moved aside.
        """
        # A row of nothing but words is a remark; it does not make its words marks.
        every = len(self.layout.readings)
        words = Counter(
            doubt.row.cells[place].casefold()
            for doubt in self.doubtful
            for place in doubt.words
            if len(doubt.words) < every or every == 1
        )
        marks = tuple(word for word, count in words.items() if count >= OFTEN)
        rejected, left = [], []
        for met in self.doubtful:
            plain = without_words(self.table, self.layout, met)
            doubt, word = plain or (met, "")
            cells = [doubt.row.cells[place] for place in doubt.words]
            odd = [doubt.row.cells[place] for place in doubt.bad]
            named = not is_unnamed(self.layout, doubt.row.cells)
            strange = [cell for cell in cells if cell.casefold() not in marks]
            if strange and named and not odd and in_their_columns(self.table, self.layout, doubt):
                word, strange = strange[0], []
            odd += strange
            if not odd and named:
                if word:
                    left.append((self.table.line(doubt.row.place), word))
                self._keep(doubt.row, doubt.moment)
                continue
            why = f"“{odd[0][:20]}” is no temperature" if odd else self._why_unnamed(doubt.row)
            rejected.append(Rejected(self.table.line(doubt.row.place), why))
        return rejected, marks, tuple(left)

    def _why_unnamed(self, row: Row) -> str:
        name, unit = self.layout.name_column, self.layout.unit_column
        if unit is not None and (name is None or row.cells[name]):
            return f"“{row.cells[unit][:20]}” is no unit of temperature"
        return "it does not say which channel it is of"

    # other rows

    def _restated(self, row: Row) -> bool:
        """Take in a row that repeats heads, gives units, or says them in words."""
        cells = without_comment(row.cells)
        heads = self.sections[-1].heads
        if len(cells) == self.layout.width:
            if is_units_row(cells):
                units = {p: unit for p in self.layout.readings if (unit := unit_named(cells[p]))}
                self._section(row.place, heads, units)
                return True
            if self._repeats(cells, heads):
                # Units of a row above hold on where the heads come again without their own.
                before = self.sections[-1].units
                units = {p: unit for p, unit in before.items() if not split_unit(cells[p])[1]}
                self._section(row.place, cells, units)
                return True
        unit = "" if any(map(any_time, cells)) else stated_unit([" ".join(cells), "\t".join(cells)])
        if unit:
            self._section(row.place, heads, dict.fromkeys(self.layout.readings, unit))
        return bool(unit)

    def _repeats(self, cells: Sequence[str], heads: Sequence[str]) -> bool:
        if not any(heads):
            return False
        clock = self.layout.clock.columns[0]
        if cells[clock].casefold() != heads[clock].casefold():
            return False
        own = [split_unit(heads[place])[0] for place in self.layout.readings]
        new = [split_unit(cells[place])[0] for place in self.layout.readings]
        return own == new or all(name and reading(name).state == "word" for name in new)

    def _section(self, place: int, heads: tuple[str, ...], units: dict[int, str]) -> None:
        self.heads_at.append(place)
        self.sections.append(Section(place, heads, units))

    def _refused(self) -> list[tuple[Row, str]]:
        """Return the odd rows that are rows, with why they cannot be read."""
        found = []
        for row in self.odd:
            data = self._looks_like_data(row)
            if row.place > self.last:
                final = is_last(self.table, row.place)
                whole = len(row.cells) == self.layout.width
                begun = data or (final and row.place == self.last + 1)
                if begun and (
                    (data and whole) or begins_like(self.table, self.layout, row, self.last)
                ):
                    found.append((row, CUT if final else self._why(row)))
            elif data or not self._is_aside(row):
                found.append((row, self._why(row)))
        return found

    def _is_aside(self, row: Row) -> bool:
        """Whether a row among the readings is none of them, and not meant to be."""
        return (
            row.place < self.layout.first
            or is_comment(row.cells)
            or all(map(is_mark, row.cells))
            or self._leads_to_heads(row)
        )

    def _looks_like_data(self, row: Row) -> bool:
        """Whether a row without a time has digits where a time stands, and a reading after it."""
        clock, told = self.layout.clock.columns, self.layout.readings
        if len(row.cells) <= max(clock):
            return False
        time = next((row.cells[place] for place in clock if row.cells[place]), "")
        digits = sum(char.isdecimal() for char in time)
        usual = min(3, max(1, len(time) // 2))
        values = [p for p in told if p < len(row.cells) and reading(row.cells[p]).state == "value"]
        whole = len(row.cells) == self.layout.width or any_time(time)
        return digits >= usual and bool(values or row.place > self.last) and whole

    def _leads_to_heads(self, row: Row) -> bool:
        """Whether only words stand between a row and heads that come again: a new preamble."""
        following = next((place for place in self.heads_at if place > row.place), None)
        if following is None or following - row.place > 30:
            return False
        between = {odd.place for odd in self.odd}
        return all(
            place in between or not any(self.table.cells(place)) or place in self.heads_at
            for place in range(row.place + 1, following)
        )

    def _why(self, row: Row) -> str:
        if len(row.cells) != self.layout.width:
            return f"it has {len(row.cells)} cells where the others have {self.layout.width}"
        return "its time cannot be read"


def channel_of(layout: Layout, cells: Sequence[str]) -> str:
    """Return the channel that a long file's row is of; empty where it is no temperature."""
    if layout.name_column is None or is_other_kind(layout, cells):
        return ""
    return cells[layout.name_column]


def is_other_kind(layout: Layout, cells: Sequence[str]) -> bool:
    """Whether a long file's row is about something that is no temperature."""
    if layout.name_column is None:
        return False
    said = "" if layout.unit_column is None else cells[layout.unit_column]
    return no_temperature(cells[layout.name_column], unit_named(said)) or (
        bool(said) and not unit_named(said) and other_unit(said)
    )


def is_unnamed(layout: Layout, cells: Sequence[str]) -> bool:
    """Whether a long file's row lacks a name, or a row has a unit that nobody knows."""
    if layout.name_column is not None and not cells[layout.name_column]:
        return True
    said = [cells[column] for column in set(layout.unit_columns.values())]
    return not all(is_mark(word) or unit_named(word) for word in said)


def unit_beside(layout: Layout, cells: Sequence[str], place: int) -> str:
    """Return the unit that a row's own column of units says for a reading, or an empty text."""
    column = layout.unit_columns.get(place)
    return "" if column is None else unit_named(cells[column])
