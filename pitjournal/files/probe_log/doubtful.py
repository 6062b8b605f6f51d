"""A row with a word where a reading should stand, or beside one: what of it can be kept."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from pitjournal.files.probe_log.asides import other_unit
from pitjournal.files.probe_log.cells import NUMBER, reading
from pitjournal.files.probe_log.columns import Layout
from pitjournal.files.probe_log.tables.table import Row, Table
from pitjournal.files.probe_log.times.stamps import Moment, any_time
from pitjournal.files.probe_log.units import unit_named

_NEAR = 3.0
"""Readings this near to those of the row beside, in the file's degrees, are surely its own."""

_FAR = 15.0
"""A number with a word behind it is a reading where one beside is nearer than this, degrees."""

_LOOK = 6
"""Rows before and after that are looked at for whole neighbours."""

_WORDED = re.compile(rf"^\s*({NUMBER})\s+([^\W\d_]{{3}}[^\d]*)$", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_]{3}")


@dataclass(frozen=True)
class Doubtful:
    """A row with a time and a cell that is neither a reading nor a known mark for none."""

    row: Row
    moment: Moment
    bad: tuple[int, ...]
    words: tuple[int, ...]


def is_remark(cell: str) -> bool:
    """Whether a cell behind the last column is what someone wrote beside the readings."""
    said = reading(cell)
    if said.state == "word":
        return True
    return said.value is None and _WORD.search(cell) is not None and not any_time(cell)


def without_words(table: Table, layout: Layout, doubt: Doubtful) -> tuple[Doubtful, str] | None:
    """Return a row whose readings have words behind them ("226 lid") without those words, and them.

    None where one is no such cell, names the unit of something else, or lies far from the
    readings of the rows around: then it may be no temperature.
    """
    cells, words = list(doubt.row.cells), ""
    around = list(_whole_beside(table, layout, doubt.row.place, len(cells)))
    for place in doubt.bad:
        found = _WORDED.match(cells[place])
        if found is None or other_unit(found[2].split()[0]) or unit_named(found[2].split()[0]):
            return None
        value = reading(found[1]).value
        near = (
            abs(value - (reading(row[place]).value or 0.0)) for row in around if value is not None
        )
        if min(near, default=_FAR) >= _FAR:
            return None
        cells[place], words = found[1], found[2].strip()
    if not words:
        return None
    return replace(doubt, row=Row(doubt.row.place, tuple(cells)), bad=()), words


def in_their_columns(table: Table, layout: Layout, doubt: Doubtful) -> bool:
    """Whether the readings beside a word stand where those of the rows around do.

    A word that someone put between the cells moves what comes after it one column on, which
    shows where a blank was cut off behind. So the readings behind it must be nearer to those of
    their own column than to those of the column before.
    """
    places = layout.readings
    if doubt.bad or len(doubt.words) >= len(places):
        return False
    width = len(table.cells(doubt.row.place))
    behind = [p for p in places if p > doubt.words[0] and p not in doubt.words]
    behind = [p for p in behind if reading(doubt.row.cells[p]).value is not None]
    found = list(_whole_beside(table, layout, doubt.row.place, width))
    if not found:
        return False
    return not behind or all(_fits(doubt, places, behind, cells) for cells in found)


def _fits(
    doubt: Doubtful, places: Sequence[int], behind: Sequence[int], cells: Sequence[str]
) -> bool:
    here = moved = 0.0
    for place in behind:
        value = reading(doubt.row.cells[place]).value or 0.0
        before = places[places.index(place) - 1]
        here += abs(value - (reading(cells[place]).value or 0.0))
        moved += abs(value - (reading(cells[before]).value or 0.0))
    return here < moved or here <= _NEAR * len(behind)


def _whole_beside(
    table: Table, layout: Layout, place: int, width: int
) -> Iterator[tuple[str, ...]]:
    """Yield the nearest rows before and after that are as wide and have all their readings."""
    for step in (-1, 1):
        for away in range(1, _LOOK + 1):
            there = place + step * away
            if not layout.first <= there < len(table):
                break
            cells = table.cells(there)
            if len(cells) == width and all(
                p < len(cells) and reading(cells[p]).value is not None for p in layout.readings
            ):
                yield cells
                break
