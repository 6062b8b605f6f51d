"""What stands above the rows: heads, and units in a row of their own."""

import re
from collections.abc import Sequence
from typing import NamedTuple

from pitjournal.files.probe_log.asides import bare_degree, other_unit, plain_words
from pitjournal.files.probe_log.cells import is_mark, reading
from pitjournal.files.probe_log.heads import split_unit, without_comment
from pitjournal.files.probe_log.tables.table import Row
from pitjournal.files.probe_log.times.find_clock import TIME_HEAD
from pitjournal.files.probe_log.times.stamps import any_time
from pitjournal.files.probe_log.units import unit_named

LOOK_BACK = 8
_LABEL = re.compile(
    r"^\W*(?:units?|einheit(?:en)?|scale|unit[ée]s?|unidad(?:es)?|eenheid|unità|enhet|uom|dimension)\W*$",
    re.IGNORECASE,
)
_TYPE = re.compile(
    r"^\W*(?:(?:tc|thermocouple|sensor|probe|element)\s*)?(?:type|typ|tipo)\b|^\W*(?:thermo|element)",
    re.IGNORECASE,
)
_LONGEST_TYPE = 4


class Above(NamedTuple):
    """Heads and units of the columns, and where the heads stand (or −1)."""

    heads: tuple[str, ...]
    units: tuple[str, ...]
    place: int


def heads_above(
    above: Sequence[Row], width: int, clock: Sequence[int], look_back: int = LOOK_BACK
) -> Above:
    """Return the heads and the units that stand above the first readings, in either order.

    Where heads stand in two rows, the nearer ones count and the farther ones fill their gaps.
    """
    units: tuple[str, ...] = ("",) * width
    heads: tuple[str, ...] | None = None
    first = last = -1
    for row in reversed(above[-look_back:] if look_back else []):
        cells = _aligned(without_comment(row.cells), width, clock)
        if cells is None or all(is_mark(cell) for cell in cells):
            continue
        if heads is not None and (row.place < first - 2 or _is_whole(heads, units)):
            break
        if _is_types(cells):
            continue
        if is_units_row(cells):
            units = cells if not any(units) or _only_letters_k(units) else units
            first = row.place if heads is not None else first
        elif is_heads(cells):
            last = row.place if heads is None else last
            heads = cells if heads is None else _filled(heads, cells)
            first = row.place
    if heads is None:
        return Above(("",) * width, units, -1)
    return Above(heads, units, last)


def _is_whole(heads: Sequence[str], units: Sequence[str]) -> bool:
    """Whether every column has its head, and some their unit."""
    return all(heads) and (any(units) or any(split_unit(head)[1] for head in heads))


def _filled(heads: Sequence[str], farther: Sequence[str]) -> tuple[str, ...]:
    return tuple(near or far for near, far in zip(heads, farther, strict=True))


def _is_types(cells: Sequence[str]) -> bool:
    """Whether a row tells the types of the probes ("K" is one)."""
    rest = [cell for cell in cells[1:] if cell]
    return _TYPE.search(cells[0]) is not None and all(len(cell) <= _LONGEST_TYPE for cell in rest)


def _only_letters_k(units: Sequence[str]) -> bool:
    """Whether units are nothing but K, as are types of thermocouples."""
    return {unit for unit in units if unit_named(unit)} == {"K"}


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
    if not units or any(map(any_time, cells)) or _is_types(cells):
        return False
    others = sum(other_unit(cell) or is_mark(cell) or bare_degree(cell) for cell in filled)
    labelled = _LABEL.match(cells[0]) is not None
    words = len(filled) - units - others - labelled
    times = sum(bool(TIME_HEAD.search(cell)) for cell in filled)
    # Below a blank or a label a word or two may be units that nobody knows.
    unknown = units // 2 if labelled or not cells[0] else 0
    return words <= max(min(times, 2), unknown)


def is_heads(cells: Sequence[str]) -> bool:
    """Whether a row holds words: no times, and numbers only beside a head for the time."""
    if any(map(any_time, cells)):
        return False
    filled = [cell for cell in cells if cell]
    numbers = sum(reading(cell).state == "value" for cell in filled)
    timed = any(TIME_HEAD.search(plain_words(cell)) for cell in filled)
    return bool(filled) and (numbers == 0 or (timed and numbers < len(filled)))
