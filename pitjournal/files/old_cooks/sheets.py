"""Several sheets, or one on its side, as one table."""

import re
from collections.abc import Sequence
from dataclasses import replace

from pitjournal.files.old_cooks.grid import Sheet
from pitjournal.files.old_cooks.heads import head_scores
from pitjournal.files.old_cooks.layout import Table
from pitjournal.files.old_cooks.words import head_words


def upright(sheet: Sheet) -> Sheet:
    """Return a sheet with a row a cook, also where it was kept with a column a cook."""
    rows = [row for row in sheet.rows if any(row)]
    if len(rows) < 3 or len(rows) > 60:
        return sheet
    across = max(sum(_known(cell) for cell in row) for row in rows[:10])
    down = sum(_known(row[0]) for row in rows if row)
    if down < 4 or down < 0.6 * len(rows) or across >= down:
        return sheet
    width = max(len(row) for row in sheet.rows)
    turned = [
        tuple(row[column] if column < len(row) else "" for row in sheet.rows)
        for column in range(width)
    ]
    return Sheet(sheet.name, tuple(turned))


def _known(cell: str) -> bool:
    return (
        bool(cell)
        and not re.match(r"^[\d.,:/-]+$", cell)
        and max(head_scores(cell).values(), default=0.0) >= 9.9
    )


def one_table(tables: Sequence[Table]) -> Table | None:
    """Return one table of all sheets: years put below one another, or pieces joined to cooks."""
    good = [table for table in tables if table.rows]
    if len(good) <= 1:
        return good[0] if good else None
    named = [table for table in good if table.named]
    if not named:
        return max(good, key=lambda table: len(table.rows))
    main = max(named, key=lambda table: len(table.rows) * len(table.heads))
    alike = [table for table in named if _same(table.heads, main.heads)]
    if len(alike) > 1:
        return _below_one_another(alike)
    for other in named:
        if other is not main and (joined := _joined(main, other)):
            return joined
    return main


def _same(one: Sequence[str], other: Sequence[str]) -> bool:
    return [head_words(head) for head in one] == [head_words(head) for head in other]


def _below_one_another(tables: Sequence[Table]) -> Table:
    first = tables[0]
    whole = Table(
        first.name,
        first.heads,
        first.named,
        [],
        above=" · ".join(t.above for t in tables if t.above),
    )
    shift = 0
    for table in tables:
        whole.rows += [(number + shift, row) for number, row in table.rows]
        whole.skipped += [replace(one, row=one.row + shift) for one in table.skipped]
        whole.years |= {number + shift: year for number, year in table.years.items()}
        shift += max([number for number, _ in table.rows] + [one.row for one in table.skipped])
    return whole


def _joined(one: Table, other: Table) -> Table | None:
    """Return pieces with what their cook says; None where no number joins the two sheets."""
    for mine, head in enumerate(one.heads):
        for theirs, name in enumerate(other.heads):
            if head_words(head) != head_words(name) and not {"number"} <= set(
                head_scores(head)
            ) & set(head_scores(name)):
                continue
            keys, others = one.column(mine), other.column(theirs)
            if not all(keys) or not all(others):
                continue
            for many, few, at, to in ((one, other, mine, theirs), (other, one, theirs, mine)):
                many_keys, few_keys = many.column(at), few.column(to)
                unique = len(set(few_keys)) == len(few_keys)
                shared = len(set(many_keys) & set(few_keys)) >= 0.6 * len(set(many_keys))
                if unique and shared and (len(many.rows) > len(few.rows) or many is one):
                    return _join(many, few, at, to)
    return None


def _join(many: Table, few: Table, at: int, to: int) -> Table:
    by_key = {row[to]: row for _, row in few.rows}
    added = [
        index
        for index in range(len(few.heads))
        if index != to and few.heads[index] not in many.heads
    ]
    empty = tuple("" for _ in few.heads)
    rows = [
        (number, (*(by_key.get(row[at], empty)[index] for index in added), *row))
        for number, row in many.rows
    ]
    heads = [*(few.heads[index] for index in added), *many.heads]
    above = " · ".join(text for text in (few.above, many.above) if text)
    return Table(
        many.name, heads, True, rows, list(many.skipped), above, dict(many.years), dict(many.counts)
    )
