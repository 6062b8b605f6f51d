"""A table of one's own past cooks, as the command line's forecast takes it."""

import csv
import io
import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

from pitjournal.domain.plausible import PIECE, PIT, THICK
from pitjournal.errors import JournalError

if TYPE_CHECKING:
    from pitjournal.analysis.forecast.asked import PastCook
    from pitjournal.domain.cuts.meat import Cut

COLUMNS = ("cut", "cooker", "weight_g", "thickness_mm", "set_point_degC", "wrap", "wrap_min")

BARE = frozenset({"", "none", "no", "-"})
"""What stands where a cook was not wrapped."""

LONGEST = 60 * 24 * 60.0
"""Minutes: no cook is longer."""

TOLD = 5
"""So many lines that are left out are named."""


@dataclass(frozen=True)
class PastTable:
    """Past cooks of a table, what they are in words, and what of the table was left out."""

    cooks: tuple["PastCook", ...]
    words: str
    left_out: tuple[str, ...] = ()


LONGEST_CELL = 1000
"""Letters: what is longer began with a quotation mark that nothing ends."""

NO_PAST = PastTable((), "")


def past_cooks(path: Path, cut: "Cut", cooker: str) -> PastTable:
    """Return the past cooks of a table that are of a cut, of a cooker where enough are.

    Parameters
    ----------
    path
        The table: columns parted by commas, semicolons or tabs, named as in `COLUMNS` and
        ``min_to_60`` to ``min_to_93``.
    cut, cooker
        What is cooked, and in what.

    Raises
    ------
    JournalError
        If it is no such table.
    """
    from pitjournal.domain.cuts import means

    alike = [(n, row) for n, row in _rows(path) if means(row["cut"], cut.name)]
    same = [one for one in alike if one[1]["cooker"].casefold() == cooker.strip().casefold()]
    chosen, words = (same, f"{cut.name}, {cooker}") if len(same) >= 3 else (alike, cut.name)
    cooks, reasons = [], []
    for number, row in chosen:
        found = _past_cook(row)
        if isinstance(found, str):
            reasons.append(f"line {number}: {found}")
        else:
            cooks.append(found)
    left = (_left_out(path.name, reasons),) if reasons else ()
    return PastTable(tuple(cooks), words, left)


def _left_out(name: str, reasons: list[str]) -> str:
    more = f" and {len(reasons) - TOLD} more" if len(reasons) > TOLD else ""
    return f"left out of {name}: {', '.join(reasons[:TOLD])}{more}"


def _rows(path: Path) -> list[tuple[int, dict[str, str]]]:
    """Return the rows with the number of the line that each ends on, by the columns' names."""
    from pitjournal.files import strangers
    from pitjournal.files.probe_log.tables.decode import decode

    data = strangers.file_bytes(path)
    try:
        text = decode(data, path.name).data.decode("utf-8", errors="replace")
    except JournalError as error:  # its words are of a logger's file
        raise _no_table(path) from error
    head = text.lstrip("\r\n").split("\n", 1)[0]
    comma = max(",;\t", key=head.count)
    named = {
        name.casefold(): name for name in (*COLUMNS, *(f"min_to_{m}" for m in (60, 71, 90, 93)))
    }
    try:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=comma)
        lines = [(reader.line_num, [cell.strip() for cell in row]) for row in reader]
    except csv.Error as error:
        raise _no_table(path) from error
    lines = [(number, row) for number, row in lines if any(row)]
    if any(len(cell) > LONGEST_CELL for _, row in lines for cell in row):
        raise _no_table(path)
    names = [named.get(cell.casefold(), cell) for cell in lines[0][1]] if lines else []
    if not set(COLUMNS) <= set(names):
        raise _no_table(path)
    blank = dict.fromkeys(names, "")
    decimal = "." if comma == "," else ","
    return [
        (number, {**blank, **_cells(names, row, decimal)})
        for number, row in lines[1:]
        if row != names
    ]


def _cells(names: list[str], row: list[str], decimal: str) -> dict[str, str]:
    cells = dict(zip(names, row, strict=False))
    return {name: cell.replace(decimal, ".") for name, cell in cells.items()}


def _no_table(path: Path) -> JournalError:
    return JournalError(
        f"{path.name} is no table of past cooks.",
        f"Its columns are {', '.join(COLUMNS)}, min_to_60 …",
    )


def _past_cook(row: Mapping[str, str]) -> "PastCook | str":
    """Return a past cook, or why there is none."""
    from pitjournal.analysis.forecast.asked import MARKS, PastCook

    def number(key: str, most: float = math.inf) -> float | None:
        try:
            value = float(row.get(key) or "")
        except ValueError:
            return None
        return value if 0 < value < most else None

    thickness, set_point = number("thickness_mm"), number("set_point_degC")
    if thickness is None or THICK.why_not(thickness / 1000.0):
        return "no thickness that can be"
    if set_point is None or PIT.why_not(set_point):
        return "no set point that can be"
    if PIECE.why_not(number("weight_g") or 0.0):
        return "no weight that can be"
    marks = [(level, at) for level in MARKS if (at := number(f"min_to_{round(level)}", LONGEST))]
    if any(later < earlier for (_, earlier), (_, later) in pairwise(marks)):
        return "warm before it was cold"
    if not marks:
        return "no minutes to a temperature"
    wrap = row["wrap"].casefold()
    return PastCook(
        thickness / 1000.0,
        number("weight_g"),
        set_point,
        "none" if wrap in BARE else wrap,
        number("wrap_min", LONGEST),
        tuple(marks),
    )
