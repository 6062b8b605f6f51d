"""Where a sheet's table begins and ends: titles, heads, units, totals, repeats."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from pitjournal.files.old_cooks.amounts import LONGEST_FIGURE, unit_named
from pitjournal.files.old_cooks.grid import Sheet
from pitjournal.files.old_cooks.heads import head_scores
from pitjournal.files.old_cooks.ratings import scale_of_head
from pitjournal.files.old_cooks.report import Skipped
from pitjournal.files.old_cooks.words import is_blank, plain, words

_SEARCHED = 40
_YEAR = re.compile(r"\b(19[89]\d|20[0-4]\d)\b")


@dataclass
class Table:
    """A sheet's table: heads, units below them, rows with their number, what stood above."""

    name: str
    heads: list[str]
    named: bool
    rows: list[tuple[int, tuple[str, ...]]]
    skipped: list[Skipped] = field(default_factory=list)
    above: str = ""
    years: dict[int, int] = field(default_factory=dict)
    """The year that a line of its own gave, by row."""
    counts: dict[str, int] = field(default_factory=dict)

    def column(self, index: int) -> list[str]:
        """Return a column's cells."""
        return [row[index] for _, row in self.rows]


def table_of(sheet: Sheet) -> Table | None:
    """Return a sheet's table; None where it holds none."""
    width = max((len(row) for row in sheet.rows), default=0)
    rows = [tuple(row) + ("",) * (width - len(row)) for row in sheet.rows]
    used = [column for column in range(width) if any(row[column] for row in rows)]
    if not used:
        return None
    head = _head_row(rows)
    begin = 0 if head is None else head + 1
    heads = _heads(rows, head, used)
    table = Table(
        sheet.name,
        heads,
        named=head is not None,
        rows=[],
        above=" · ".join(cell for row in rows[: head or 0] for cell in row if cell),
    )
    if head is not None:
        table.counts["title"] = sum(any(row) for row in rows[:head])
    begin = _units_row(rows, begin, used, table)
    _take_rows(rows, begin, used, table)
    return table


def _head_score(row: Sequence[str]) -> float:
    told = [cell for cell in row if cell]
    if len(told) < 2:
        return 0.0
    known = sum(
        min(1.0, max(head_scores(cell).values(), default=0.0) / 10.0)
        for cell in told
        if len(cell) <= 60
    )
    figures = sum(bool(re.match(r"^[\d$€£.,:/ -]+$", cell)) for cell in told)
    return known - 1.5 * figures


def _head_row(rows: Sequence[tuple[str, ...]]) -> int | None:
    best, where = 0.0, None
    for index, row in enumerate(rows[:_SEARCHED]):
        score = _head_score(row)
        if score > best + 0.5:
            best, where = score, index
    told = 0 if where is None else sum(bool(cell) for cell in rows[where])
    return where if best >= min(1.6, 0.5 * told) and best >= 1.0 else None


def _heads(rows: Sequence[tuple[str, ...]], head: int | None, used: Sequence[int]) -> list[str]:
    if head is None:
        return ["" for _ in used]
    heads = [" ".join(rows[head][column].split()) for column in used]
    if head == 0:
        return heads
    over = [rows[head - 1][column] for column in used]
    told = [cell for cell in over if cell]
    if len(told) == 1 and not over[0] and scale_of_head(told[0]).known:
        return _under(over, heads)
    if len(told) >= 2 and len(told) < len(used) and len(set(told)) == len(told):
        joined = _under(over, heads)
        if all(head_scores(cell) for cell in told) or _head_score(joined) > (
            _head_score(heads) + 0.3
        ):
            return joined
    return heads


def _under(over: Sequence[str], heads: Sequence[str]) -> list[str]:
    """Return heads with what stands over them, also over a cell to their left that spans them."""
    carried, joined = "", []
    for above, head in zip(over, heads, strict=True):
        carried = above or carried
        both = f"{carried} {head}".strip()
        scores = head_scores(head)
        own = max(scores, key=lambda key: scores[key], default="rating")
        scored = scale_of_head(carried).known and own.startswith(("rating", "score."))
        fits = max(head_scores(both).values(), default=0.0) >= 7.0 or scored
        joined.append(both if above or (head and fits) else head)
    return joined


def _units_row(
    rows: Sequence[tuple[str, ...]], begin: int, used: Sequence[int], table: Table
) -> int:
    """Take a row of units below the heads into them."""
    if not table.named or begin >= len(rows):
        return begin
    cells = [rows[begin][column].strip("()[] ") for column in used]
    told = [cell for cell in cells if cell]
    units = sum(
        unit_named(cell) is not None or bool(re.fullmatch(r"[\d]+\s*[-–]\s*\d+|y/n|%", cell))
        for cell in told
    )
    if (len(told) >= 1 and units == len(told)) or (units >= 2 and units >= 0.6 * len(told)):
        table.heads = [
            f"{head} ({cell})" if cell else head
            for head, cell in zip(table.heads, cells, strict=True)
        ]
        return begin + 1
    return begin


def _take_rows(
    rows: Sequence[tuple[str, ...]], begin: int, used: Sequence[int], table: Table
) -> None:
    seen: dict[tuple[str, ...], int] = {}
    year = next(
        (int(found[1]) for text in (table.above, table.name) if (found := _YEAR.search(text))), None
    )
    bare_heads = [plain(head.split(" (")[0]) for head in table.heads]
    for index in range(begin, len(rows)):
        row, number = tuple(rows[index][column] for column in used), index + 1
        told = [cell for cell in row if cell]
        if not told:
            table.counts["blank"] = table.counts.get("blank", 0) + 1
            continue
        if (
            len(told) == 1
            and len(told[0]) <= LONGEST_FIGURE
            and (
                found := re.fullmatch(
                    r"\W*(?:season|saison|temporada|jahr|ano|year)?\W*(\d{4})\W*", plain(told[0])
                )
            )
            and _YEAR.fullmatch(found[1])
        ):
            year = int(found[1])
            table.skipped.append(Skipped(number, "a heading"))
            continue
        if table.named and _same_heads(row, bare_heads):
            table.skipped.append(Skipped(number, "the heads again"))
            continue
        first = next(cell for cell in row if cell)
        if _is_leftover(first, row):
            table.skipped.append(Skipped(number, "a total or a mean, not a cook"))
            continue
        key = tuple(plain(cell) for cell in row)
        if key in seen and len(told) >= 3:
            table.skipped.append(Skipped(number, f"the same as row {seen[key]}"))
            continue
        seen.setdefault(key, number)
        if year is not None:
            table.years[number] = year
        table.rows.append((number, row))


def _same_heads(row: Sequence[str], heads: Sequence[str]) -> bool:
    told = [
        (plain(cell.split(" (")[0]), head) for cell, head in zip(row, heads, strict=True) if cell
    ]
    return len(told) >= 2 and sum(cell == head for cell, head in told) >= 0.7 * len(told)


def _is_leftover(first: str, row: Sequence[str]) -> bool:
    text = plain(first).strip(" :.=")
    starts = any(
        text == word or text.startswith((f"{word} ", f"{word}:", f"{word} ("))
        for word in words().leftovers
    )
    if not starts:
        return False
    figures = sum(bool(re.search(r"\d", cell)) for cell in row)
    filled = sum(not is_blank(cell) for cell in row)
    return figures >= filled - 2 and filled <= max(3, 0.7 * len(row))
