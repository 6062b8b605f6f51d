"""From rows of somebody's table to cooks of the journal: what is new, and the step that adds it."""

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from pitjournal.domain.cook import Cook
from pitjournal.domain.record import Record
from pitjournal.errors import JournalError
from pitjournal.files.old_cooks import ColumnAnswer, OldCook, OldCooks
from pitjournal.journal.commands.bring import BringCooks
from pitjournal.journal.journal import Journal
from pitjournal.journal.old_cook_records import OneCook, Shelf


@dataclass(frozen=True)
class Bringing:
    """What bringing a table along would do.

    `command` is None where nothing is new; `fresh` counts the cooks it adds, `known` those that
    are there from an earlier time, `undated` those without a day, which are left out.
    """

    command: BringCooks | None
    fresh: int
    known: int
    undated: tuple[int, ...] = ()
    cooks: tuple[Cook, ...] = field(default=())


def bringing(journal: Journal, old: OldCooks, zone: str) -> Bringing:
    """Work out which cooks of a table are new, and the one step that adds them.

    Parameters
    ----------
    journal
        The journal they are to join.
    old
        The table as it was understood.
    zone
        The IANA name of the zone of its days.
    """
    there = {mark for cook in journal.find(Cook) for mark in cook.brought_as.split()}
    shelf = Shelf(journal)
    records: list[Record] = []
    cooks: list[Cook] = []
    known, undated = 0, []
    for rows in _groups(old.cooks):
        if rows[0].date is None:
            undated += [row.row for row in rows]
            continue
        marks = _marks(rows)
        if there & set(marks):
            known += 1
            continue
        there.update(marks)
        made = OneCook(rows, old.file, " ".join(marks), zone, shelf).records()
        records += made
        cooks += [record for record in made if isinstance(record, Cook)]
    if not cooks:
        return Bringing(None, 0, known, tuple(undated))
    words = "1 old cook" if len(cooks) == 1 else f"{len(cooks)} old cooks"
    command = BringCooks((*shelf.made, *records), f"Bring {words} along")
    return Bringing(command, len(cooks), known, tuple(undated), tuple(cooks))


def cooks_of(old: OldCooks) -> tuple[tuple[OldCook, ...], ...]:
    """Return a table's rows cook by cook, those without a day left out."""
    return tuple(tuple(rows) for rows in _groups(old.cooks) if rows[0].date is not None)


def _groups(rows: Sequence[OldCook]) -> Iterable[list[OldCook]]:
    """Return the rows cook by cook: those of one number, or of one day under one title."""

    def same(row: OldCook) -> tuple[object, ...]:
        if row.group:
            return (row.group, row.date)
        arms = any(key in row.values for key in ("arm", "treatment"))
        if row.date is not None and (arms or row.title):
            return (row.date, row.title, row.values.get("cooker"), arms)
        return (row.row,)

    return [list(group) for _, group in groupby(rows, key=same)]


def left_open(old: OldCooks, answers: Mapping[str, ColumnAnswer]) -> dict[str, ColumnAnswer]:
    """Return the answers with which what is not settled is kept as a note, not as a figure.

    A weight without a unit, a temperature, a score without a scale: none is recorded before
    the cook has said what it is. Dates and cuts are needed, and stay as they were taken.
    """
    found = dict(answers)
    for column in old.questions:
        if column.variable and _is_figure(column.variable):
            key = column.header or column.letter
            found[key] = replace(found.get(key, ColumnAnswer()), variable="")
    return found


def _is_figure(variable: str) -> bool:
    return variable.startswith(("mass_", "time_", "score.")) or variable in {
        "set_point",
        "internal_off",
        "ambient",
        "rating",
        "thickness",
        "wind",
        "fuel_used",
    }


def _marks(rows: Sequence[OldCook]) -> tuple[str, str]:
    """Return what tells a cook of a table from all others, wherever it stands in which file.

    Two marks: by what was understood, the same from CSV and XLSX; and by the cells, the same
    however they were understood.
    """
    said = [
        [
            row.date.isoformat() if row.date else None,
            row.title,
            row.cut,
            dict(row.values),
            dict(row.others),
        ]
        for row in rows
    ]
    text = json.dumps(said, sort_keys=True, ensure_ascii=False, default=str)
    cells = "\n".join(row.cells for row in rows)
    return _hash(text), _hash(cells)


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", errors="replace")).hexdigest()


def answers_of(text: str) -> dict[str, ColumnAnswer]:
    """Return the answers of a file: what the cook said of columns, by head or letter.

    Raises
    ------
    JournalError
        If it is no JSON of that form.
    """
    hint = 'Write it as {"Weight": {"unit": "lb"}, "Date": {"day_first": true}}.'
    try:
        told = json.loads(text)
        told = told.get("columns", told)
        return {str(head): ColumnAnswer(**answer) for head, answer in told.items()}
    except (ValueError, TypeError, AttributeError):
        raise JournalError("The answers cannot be read.", hint) from None
