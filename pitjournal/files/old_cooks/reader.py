"""From a file's bytes to its cooks: sheets, tables, columns, rows."""

import re
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cache

from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.cuts import find_cut
from pitjournal.files.old_cooks.amounts import decimal_comma, unit_named
from pitjournal.files.old_cooks.column_profile import ColumnProfile, profile_of
from pitjournal.files.old_cooks.columns import Around, ReadColumn, read_column
from pitjournal.files.old_cooks.days import read_date
from pitjournal.files.old_cooks.fitting import DIMENSIONS, Fit, fits_of
from pitjournal.files.old_cooks.grid import not_a_table, sheets_of
from pitjournal.files.old_cooks.heads import head_scores, unit_of_head
from pitjournal.files.old_cooks.hours import on_to_off
from pitjournal.files.old_cooks.layout import Table, table_of
from pitjournal.files.old_cooks.limits import why_not
from pitjournal.files.old_cooks.report import (
    ColumnAnswer,
    ColumnQuestion,
    OldCook,
    OldCooks,
    SheetColumn,
    Skipped,
    Value,
)
from pitjournal.files.old_cooks.sheets import one_table, upright
from pitjournal.files.old_cooks.words import head_words, is_blank, plain

Progress = Callable[[float], None]


def read_old_cooks(
    data: bytes,
    name: str,
    answers: Mapping[str, ColumnAnswer] | None = None,
    progress: Progress | None = None,
) -> OldCooks:
    """Return the cooks that a table holds.

    Parameters
    ----------
    data, name
        The file's bytes, and its name for what is said.
    answers
        What the cook said of columns, by head or letter.
    progress
        Told the share done, 0 to 1; may raise to stop.

    Raises
    ------
    JournalError
        If the file is no table, or none of its rows can be a cook.
    """
    tables = [table for sheet in sheets_of(data, name) if (table := table_of(upright(sheet)))]
    table = one_table(tables)
    if table is None or not table.rows:
        raise not_a_table(name, "it holds no rows of cooks")
    reading = _Reading(table, answers or {}, progress)
    if not reading.is_about_cooks():
        raise not_a_table(
            name, "no column is about a cook: no date, cut, weight, temperature or time"
        )
    return reading.result(name)


_ABOUT_COOKS = frozenset(
    {"date", "cut", "set_point", "time_on", "wrap", "wood", "cooker", "rub", "internal_off"}
)
_SHOPPING = frozenset(
    {"date", "title", "number", "cut", "pieces", "price", "cost", "supplier", "mass_bought"}
)
"""What a list of what was bought holds, and nothing that was cooked."""
_GERMAN_OR_SPANISH = frozenset(
    [
        "datum",
        "fleisch",
        "gewicht",
        "dauer",
        "holz",
        "bemerkung",
        "bemerkungen",
        "notizen",
        "garzeit",
        "kerntemperatur",
        "fecha",
        "carne",
        "corte",
        "peso",
        "tiempo",
        "horas",
        "notas",
        "lena",
        "madera",
        "temperatura",
        "nota",
        "observaciones",
        "duracion",
        "puntuacion",
    ]
)


@dataclass
class _Taken:
    """What a row's cells say so far."""

    day: date | None = None
    values: dict[str, Value] = field(default_factory=dict)
    written: dict[str, str] = field(default_factory=dict)
    others: dict[str, str] = field(default_factory=dict)

    def take(self, cell: str, row: int, column: ReadColumn, head: str) -> None:
        """Take a cell in: as its column's value, else as what stands under its head."""
        variable = column.variable
        read = None if variable is None else column.read(cell, row)
        if variable is None or read is None:
            if variable is None or not is_blank(cell):
                self.others[head] = cell
            return
        value, typed = read
        if why := why_not(variable, value):
            self.others[head] = f"{cell} (not taken: {why})"
            return
        if isinstance(value, date):
            self.day = value
        elif variable == "notes" and isinstance(self.values.get("notes"), str):
            self.values["notes"] = f"{self.values['notes']}\n{head}: {cell}"
        elif not (_is_text(value) and is_blank(cell) and variable != "wrap"):
            self.values[variable] = value
        if typed and not isinstance(value, date):
            self.written[variable] = typed


@dataclass
class _Reading:
    """A table being read."""

    table: Table
    answers: Mapping[str, ColumnAnswer]
    progress: Progress | None
    looks: list[ColumnProfile] = field(default_factory=list)
    fits: dict[int, Fit] = field(default_factory=dict)
    columns: list[ReadColumn] = field(default_factory=list)

    def __post_init__(self) -> None:
        table = self.table
        self._carry_down()
        cells = [table.column(index) for index in range(len(table.heads))]
        self.comma = decimal_comma(cell for column in cells for cell in column)
        self.looks = [profile_of(column, comma=self.comma) for column in cells]
        self.fits = {fit.column: fit for fit in fits_of(table.heads, self.looks)}
        around = Around(self.comma, self._foreign(), self._units(), table.years)
        self.columns = [self._column(index, around) for index in range(len(table.heads))]

    def is_about_cooks(self) -> bool:
        """Whether the table can be one of cooks: enough columns, one of which only cooks have."""
        known = {fit.variable for fit in self.fits.values()}
        if "time_on_at" in known:  # the day stands with the time, or is missed row by row
            known.add("date")
        by_head = {fit.variable for fit in self.fits.values() if fit.by_head}
        cuts = any(looks.share("cut") >= 0.4 for looks in self.looks)
        special = {"set_point", "wrap", "wood", "cooker", "rub", "internal_off"} & by_head
        if known & {"price", "cost"} and known <= _SHOPPING:
            return False
        if self.table.named:
            return len(known & _ABOUT_COOKS) >= 2 and (
                cuts or (len(special) >= 1 and len(known) >= 3)
            )
        return cuts and len(known) >= 2

    def result(self, name: str) -> OldCooks:
        """Return the report."""
        cooks: list[OldCook] = []
        skipped = list(self.table.skipped)
        for done, (number, row) in enumerate(self.table.rows):
            if self.progress and done % 200 == 0:
                self.progress(done / len(self.table.rows))
            cook = self._cook(number, row)
            if cook is None:
                skipped.append(
                    Skipped(number, "not a cook: neither a date nor a cut with anything measured")
                )
            else:
                cooks.append(cook)
        if not cooks:
            raise not_a_table(name, "it holds no rows of cooks")
        return OldCooks(
            name,
            self._sheet_columns(),
            tuple(cooks),
            tuple(sorted(skipped, key=lambda one: one.row)),
        )

    def _carry_down(self) -> None:
        """Fill what a merged or once-written cell leaves empty below it: dates, numbers, titles."""
        table = self.table
        for index, head in enumerate(table.heads):
            scores = head_scores(head)
            best = max(scores, key=lambda key: scores[key], default="")
            if best not in {"date", "number", "title"} or scores[best] < 8.0:
                continue
            cells = table.column(index)
            empty = [at for at, cell in enumerate(cells) if not cell]
            if not cells or not cells[0] or not empty or len(empty) < 0.25 * len(cells):
                continue
            last = ""
            for at, (number, row) in enumerate(table.rows):
                last = row[index] or last
                table.rows[at] = (number, (*row[:index], last, *row[index + 1 :]))

    def _foreign(self) -> bool:
        """Whether the table's language writes the day first and weighs in kilograms."""
        told = " ".join(head_words(head) for head in self.table.heads).split()
        return self.comma or any(word in _GERMAN_OR_SPANISH for word in told)

    def _units(self) -> dict[str, str]:
        """Return the units that heads, cells or titles of the table name, by dimension."""
        found: dict[str, Counter[str]] = {}
        for index, head in enumerate(self.table.heads):
            for dimension in ("mass", "temperature"):
                if unit := unit_of_head(head, dimension):
                    found.setdefault(dimension, Counter())[unit] += 1
                elif self.looks[index].share(dimension) > 0.5:
                    units = [
                        u for cell in self.looks[index].cells if (u := _unit_in(cell, dimension))
                    ]
                    found.setdefault(dimension, Counter()).update(units[:1])
        for word in re.split(r"[\s,;:()·]+", self.table.above):
            named = unit_named(word)
            if named and named[0] in {"mass", "temperature"} and _says_a_unit(word):
                found.setdefault(named[0], Counter())[named[1]] += 1
        return {
            dimension: units.most_common(1)[0][0]
            for dimension, units in found.items()
            if len(units) == 1
        }

    def _answer(self, index: int) -> ColumnAnswer | None:
        head, letter = self.table.heads[index], letters(index)
        wanted = {plain(key): answer for key, answer in self.answers.items()}
        return (
            wanted.get(plain(head)) if head and plain(head) in wanted else wanted.get(plain(letter))
        )

    def _column(self, index: int, around: Around) -> ReadColumn:
        head, fit, answer = self.table.heads[index], self.fits.get(index), self._answer(index)
        column = read_column(head, fit, self.looks[index], around, answer)
        if answer is not None and answer.variable is not None:
            return column
        if not self.table.named:
            return replace(column, question=column.question or _unnamed(column.variable))
        if fit and not fit.by_head and not (column.question or self._tells_itself(index, fit)):
            question = ColumnQuestion(
                f"Is this “{_spoken(fit.variable)}”? Its cells look like it; its name does not say so.",
                (
                    ("yes", ColumnAnswer(variable=fit.variable)),
                    ("keep it as a note", ColumnAnswer(variable="")),
                ),
            )
            return replace(column, question=question)
        return column

    def _tells_itself(self, index: int, fit: Fit) -> bool:
        """Whether nothing else looks like a column's cells: a cut, or the one weight with its unit."""
        if fit.variable in {"date", "cut", "wrap", "rating", "notes"}:
            return True
        sort = DIMENSIONS.get(fit.variable, "")
        alike = [looks for looks in self.looks if looks.share(sort) > 0.5]
        return self.looks[index].share(sort) > 0.9 and len(alike) == 1

    def _sheet_columns(self) -> tuple[SheetColumn, ...]:
        return tuple(
            SheetColumn(
                header=head,
                letter=letters(index),
                variable=_public(column.variable),
                unit=column.unit,
                first=next((cell for cell in self.looks[index].cells if cell), ""),
                said=column.said,
                question=column.question,
            )
            for index, (head, column) in enumerate(zip(self.table.heads, self.columns, strict=True))
        )

    def _cook(self, number: int, row: Sequence[str]) -> OldCook | None:
        taken = _Taken()
        for index, (cell, column) in enumerate(zip(row, self.columns, strict=True)):
            if cell:
                taken.take(cell, number, column, self.table.heads[index] or letters(index))
        values, written = taken.values, taken.written
        title, cut_written = str(values.pop("title", "")), str(values.pop("cut", ""))
        group = str(values.pop("number", ""))
        measured = set(values) - {"notes", "time_on_at", "time_off_at"}
        if taken.day is None and isinstance(values.get("time_on_at"), str):
            taken.day = self._day_it_went_on(str(values["time_on_at"]))
        undated = taken.day is None
        nameless = undated and self._has("date") and self._has("cut") and not cut_written
        if nameless or (undated and not cut_written) or not (measured or cut_written):
            return None
        on_clock = self._clock_times(taken)
        cut = find_cut(cut_written)
        if cut_written and cut is not None and plain(cut.name) != plain(cut_written):
            written["cut"] = cut_written
        name = cut.name if cut else cut_written
        cells = "\t".join(plain(cell) for cell in row)
        return OldCook(
            number, taken.day, title, name, values, written, taken.others, group, on_clock, cells
        )

    def _day_it_went_on(self, cell: str) -> date | None:
        """Return the day of a moment that is written in one cell with its time."""
        found = read_date(cell)
        return found.on(day_first=self._foreign(), year=None) if found else None

    def _has(self, variable: str) -> bool:
        return any(column.variable == variable for column in self.columns)

    def _clock_times(self, taken: _Taken) -> int | None:
        """Turn times of day on and off into a length, past midnight where off is before on.

        What gives none is kept as a note. Return the minute of the day it went on.
        """
        values = taken.values
        on, off = str(values.pop("time_on_at", "")), str(values.pop("time_off_at", ""))
        begin, passed = on_to_off(on, off, self._day_it_went_on)
        if passed is not None and "time_on" not in values:
            values["time_on"] = float(passed)
            taken.written["time_on"] = f"{on} to {off}"
        elif off:
            taken.others[self._head("time_off_at")] = off
        if on and begin is None:
            taken.others[self._head("time_on_at")] = on
        return begin

    def _head(self, variable: str) -> str:
        """Return the head of the column that became a variable, or its letter."""
        index = next(at for at, one in enumerate(self.columns) if one.variable == variable)
        return self.table.heads[index] or letters(index)


def _says_a_unit(word: str) -> bool:
    """Whether a word of a sentence is a unit, not an article or a sign."""
    return word in {"F", "C"} or (len(word) > 1 and plain(word) != "grad")


def _is_text(value: Value) -> bool:
    return isinstance(value, str)


def _public(variable: str | None) -> str | None:
    return None if variable in {None, "number"} else variable


@cache
def _labels() -> Mapping[str, str]:
    catalogue = Catalogue()
    return {key: catalogue[key].label for key in catalogue}


def _spoken(variable: str) -> str:
    """Return a variable in a cook's words."""
    plainly = variable.removeprefix("score.").removesuffix("_at").replace("_", " ")
    return _labels().get(variable, plainly)


def _unnamed(variable: str | None) -> ColumnQuestion:
    if variable is None:
        return ColumnQuestion("The table has no heads: what is this column?", ())
    return ColumnQuestion(
        f"The table has no heads: is this “{_spoken(variable)}”?",
        (
            ("yes", ColumnAnswer(variable=variable)),
            ("keep it as a note", ColumnAnswer(variable="")),
        ),
    )


def _unit_in(cell: str, dimension: str) -> str:
    found = unit_named(re.sub(r"^[\d.,/\s~–-]+", "", plain(cell)))
    return found[1] if found and found[0] == dimension else ""


def letters(index: int) -> str:
    """Return a column's name in a spreadsheet: A to Z, then AA."""
    name, number = "", index + 1
    while number:
        number, rest = divmod(number - 1, 26)
        name = chr(65 + rest) + name
    return name
