"""What is understood of a table of past cooks."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

Value = float | str | Mapping[str, Any]


@dataclass(frozen=True)
class ColumnAnswer:
    """What a cook says of a column that could not be told.

    `variable` is a key of the catalogue, "" for one that is kept as a note, None as proposed;
    `unit` such as "lb", "kg", "degF", "degC", "h", "min"; `day_first` for dates; `low` and `high`
    the worst and the best score of a scale; `year` for dates without one.
    """

    variable: str | None = None
    unit: str = ""
    day_first: bool | None = None
    low: float | None = None
    high: float | None = None
    year: int | None = None


@dataclass(frozen=True)
class ColumnQuestion:
    """Something about a column that the table does not say.

    `choices` are answers that could be right, each with the words for it; the first is what is
    taken until it is settled.
    """

    words: str
    choices: tuple[tuple[str, ColumnAnswer], ...]


@dataclass(frozen=True)
class SheetColumn:
    """A column: its head as written, what it becomes, and what is not certain of it.

    `letter` names it as a spreadsheet does, `first` is its first cell, `said` what was read of it.
    `variable` is None where it fits none and is kept as a note.
    """

    header: str
    letter: str
    variable: str | None
    unit: str = ""
    first: str = ""
    said: str = ""
    question: ColumnQuestion | None = None

    @property
    def uncertain(self) -> bool:
        """Whether a cook is asked about it."""
        return self.question is not None


@dataclass(frozen=True)
class Skipped:
    """A row that is left out, counted from 1, and why."""

    row: int
    reason: str


@dataclass(frozen=True)
class OldCook:
    """A row: a cook, an arm of one or a piece.

    `values` by catalogue key: masses g, temperatures °C, durations minutes, lengths mm, texts as
    written, `wrap` one of none, foil, paper, boat, yes; `rating` has value, low and high.
    `written` holds what a value was typed as where reading it lost something (a range);
    `notes` what fits no variable, by head. `group` is the same for rows of one cook; `on_clock` minutes since midnight.
    """

    row: int
    date: date | None
    title: str
    cut: str
    values: Mapping[str, Value]
    written: Mapping[str, str]
    others: Mapping[str, str]
    group: str = ""
    on_clock: int | None = None
    cells: str = ""
    """The row's cells as one text: the same however they are read."""

    def as_json(self) -> dict[str, Any]:
        """Return it as the command line says it."""
        return {
            "row": self.row,
            "date": self.date.isoformat() if self.date else None,
            "title": self.title,
            "cut": self.cut,
            "values": dict(self.values),
            "written": dict(self.written),
            "others": dict(self.others),
        }


@dataclass(frozen=True)
class OldCooks:
    """A table read: its columns, the rows that became cooks, and the rows left out."""

    file: str
    columns: tuple[SheetColumn, ...]
    cooks: tuple[OldCook, ...]
    skipped: tuple[Skipped, ...]
    sheets: tuple[str, ...] = ()

    @property
    def questions(self) -> Sequence[SheetColumn]:
        """The columns a cook is asked about."""
        return [column for column in self.columns if column.uncertain]

    def as_json(self) -> dict[str, Any]:
        """Return it as the command line says it."""
        return {
            "columns": [
                {
                    "header": column.header,
                    "variable": column.variable,
                    "unit": column.unit,
                    "uncertain": column.uncertain,
                    "question": column.question.words if column.question else None,
                    "read": column.said,
                }
                for column in self.columns
            ],
            "rows_kept": len(self.cooks),
            "rows_skipped": [{"row": one.row, "reason": one.reason} for one in self.skipped],
            "cooks": [cook.as_json() for cook in self.cooks],
        }
