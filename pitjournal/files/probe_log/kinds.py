"""What each column is: readings, channels' names, units, or none of these."""

import itertools
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from pitjournal.files.probe_log.asides import (
    bare_degree,
    is_amount,
    no_temperature,
    other_unit,
    plain_words,
)
from pitjournal.files.probe_log.cells import reading
from pitjournal.files.probe_log.heads import split_unit
from pitjournal.files.probe_log.times.clock import Clock
from pitjournal.files.probe_log.times.find_clock import COUNTER_HEAD, SHARE, TIME_HEAD, share
from pitjournal.files.probe_log.units import unit_named

_UNIT_HEAD = re.compile(
    r"^\W*(?:units?|einheit|scale|skala|escala|unit[ée]|unidad|unità|eenheid|u|uom)\W*\d*$|_units?$|"
    r"\bunit$|einheit$",
    re.IGNORECASE,
)
_NAME_HEAD = re.compile(
    r"probe|channel|sensor|name|kanal|canal|series|where|\bch\b|\bchan\b|label|source|location|\btag\b|"
    r"position|thermometer|fühler|sonde|sonda|\bport\b|\binput\b|\bslot\b|messstelle|eingang|entrada|"
    r"\bvoie\b|ingresso",
    re.IGNORECASE,
)
_ONE_PROBE = re.compile(
    r"^\W*(?:channel|probe|ch|chan|sensor|kanal|canal|sonde|sonda)\W*$", re.IGNORECASE
)
_LONG = 16
_MOST_PROBES = 32
"""Of one logger; greater numbers name probes only where they come again in strict turn."""
_MOST_NAMES = 64
_NEARLY_ALL = 0.9
_ODD, _MANY = 2, 20
"""Of so many cells one that comes no oftener may be damaged."""
_SIGNS = "°º"
_WARM = 60.0
"""A fire is warmer than this, °C: amounts that never are are not temperatures by a letter."""
_FALLS = 0.2
"""Of the moves of a fire's readings at least so many go down."""
_SLOWLY = 5.0
"""The usual step from one reading of a probe to the next is less than this, K."""
_SMALL = 6.0
"""Where others have a unit, a column without one that never exceeds this is no temperature."""


@dataclass(frozen=True)
class Kinds:
    """Columns by what they hold.

    Attributes
    ----------
    readings
        Columns of temperatures.
    name
        In a long file the column of channels' names or numbers.
    units
        The column of units of each column of readings that has one.
    aside
        Columns of something else.
    """

    readings: tuple[int, ...]
    name: int | None = None
    units: dict[int, int] = field(default_factory=dict)
    aside: tuple[int, ...] = ()


def kinds_of(
    columns: Sequence[Sequence[str]], heads: Sequence[str], units: Sequence[str], clock: Clock
) -> Kinds:
    """Return what each column is, the clock's apart."""
    rest = [place for place in range(len(columns)) if place not in clock.columns]
    said = [place for place in rest if _is_units(columns[place], heads[place])]
    if said:  # Beside one of temperatures a column of other units needs no head.
        said = [p for p in rest if p in said or (not heads[p] and _says_units(columns[p]))]
    left = [place for place in rest if place not in said]
    beside = _beside(left, said)
    aside = [
        place
        for place in left
        if _is_aside(place, columns, heads, units)
        or (place in beside and share(columns[beside[place]], _temperature) < 0.1)
    ]
    left = [place for place in left if place not in aside]
    stamps = [
        tuple(columns[place][row] for place in clock.columns) for row in range(len(columns[0]))
    ]
    names = [p for p in left if _names(columns[p], heads[p], stamps)]
    numbers = [p for p in rest if p not in said + aside and _readable(columns[p], heads[p])]
    values = [place for place in numbers if place not in names]
    amounts = [p for p in aside if is_amount(heads[p]) and _readable(columns[p], heads[p])]
    if said and amounts and not values:
        # Rows that name a unit have a reading: it is never the number of their probe.
        measured = _measured(amounts, said, names, columns)
        own = dict.fromkeys(measured, said[0])
        aside = [place for place in aside if place not in measured]
        return Kinds(tuple(measured), next(iter(names), None), own, (*aside, *said))
    if not values or not names:
        # Also numbers under a counter's head, or under none, can be those of probes.
        headed = [place for place in aside if not heads[place] or COUNTER_HEAD.match(heads[place])]
        unnamed = headed + [place for place in numbers if not heads[place]]
        counted = [p for p in unnamed if _counts_probes(columns[p], heads[p], stamps)][:1]
        others = [place for place in numbers if place not in counted]
        if counted and len(others) == 1:
            names, values = counted, others
            aside = [place for place in aside if place not in names]
    if names and len(values) == 1:
        own = {values[0]: beside.get(values[0], said[0])} if said else {}
        return Kinds(tuple(values), names[0], own, (*aside, *said))
    if not values and aside and not said:
        # Beside what something else reads, numbers under a probe's head are the probes'.
        numbers = [p for p in numbers if units[p] or split_unit(heads[p])[1]]
    own = {place: beside.get(place, said[0]) for place in numbers} if said else {}
    return Kinds(tuple(numbers), None, own, (*aside, *said))


def _measured(
    amounts: Sequence[int],
    said: Sequence[int],
    names: Sequence[int],
    columns: Sequence[Sequence[str]],
) -> list[int]:
    """Return the one column that is headed as an amount and holds what rows give a unit of.

    A degree sign tells that it holds temperatures. Letters alone ("C" may be counts) tell it
    only of numbers that go as temperatures over a fire do.
    """
    found = list(amounts)
    units = [cell for place in said for cell in columns[place] if cell]
    if len(found) != 1 or share(units, _temperature) < SHARE:
        return []
    whose = columns[names[0]] if names else [""] * len(columns[0])
    runs: dict[str, list[float]] = {}
    for cell, name, unit in zip(columns[found[0]], whose, columns[said[0]], strict=True):
        value = reading(cell).value
        if value is not None:
            celsius = (value - 32) / 1.8 if unit_named(unit) == "degF" else value
            runs.setdefault(name, []).append(celsius)
    signs = all(any(char in unit for char in _SIGNS) or len(unit) > 1 for unit in units)
    return found if signs or _go_like_meat_and_fire(list(runs.values())) else []


def _go_like_meat_and_fire(runs: Sequence[Sequence[float]]) -> bool:
    """Whether numbers, °C, change as slowly as temperatures, and one goes up and down as a fire.

    What is counted does not fall, or only where the counting begins anew.
    """
    for run in runs:
        steps = sorted(abs(b - a) for a, b in itertools.pairwise(run))
        if steps and steps[len(steps) // 2] > _SLOWLY:
            return False
    return any(max(run) > _WARM and _goes_up_and_down(run) for run in runs)


def _goes_up_and_down(run: Sequence[float]) -> bool:
    moves = [b - a for a, b in itertools.pairwise(run) if a != b]
    return bool(moves) and sum(move < 0 for move in moves) >= _FALLS * len(moves)


def _is_units(cells: Sequence[str], head: str) -> bool:
    """Whether a column holds units, of temperatures or of others."""
    if share(cells, _temperature) >= SHARE:
        return True
    return _UNIT_HEAD.search(head) is not None and share(cells, _any_unit) >= SHARE


def _says_units(cells: Sequence[str]) -> bool:
    return share(cells, _any_unit) >= _NEARLY_ALL


def _temperature(cell: str) -> str | None:
    return unit_named(cell) or None


def _any_unit(cell: str) -> bool | None:
    return True if unit_named(cell) or other_unit(cell) else None


def _beside(places: Sequence[int], said: Sequence[int]) -> dict[int, int]:
    """Return the units' column of each column that has one of its own beside it."""
    if len(said) < 2:
        return {}
    step = 1 if min(places, default=0) < min(said) else -1
    return {place: place + step for place in places if place + step in said}


def _is_aside(
    place: int, columns: Sequence[Sequence[str]], heads: Sequence[str], units: Sequence[str]
) -> bool:
    """Whether a column is neither a reading nor a name: said by its head, its unit, its cells."""
    cells, head, unit = columns[place], heads[place], units[place]
    in_cells = sum(bool(reading(cell).unit) for cell in cells) > len(cells) / 2
    stated = "degC" if in_cells else unit_named(unit) or split_unit(head)[1]
    if no_temperature(head, stated, heads):
        return True
    if unit and not stated and not bare_degree(unit) and (other_unit(unit) or _any(units)):
        return True
    if TIME_HEAD.search(plain_words(head)) and not stated:
        return True
    if not stated and (_any(units) or any(split_unit(other)[1] for other in heads)):
        values = [value for cell in cells if (value := reading(cell).value) is not None]
        if values and max(map(abs, values)) <= _SMALL and len(values) > len(cells) / 2:
            return not _NAME_HEAD.search(plain_words(head))
    return not stated and (_is_counter(cells) or (not head and _is_one_number(cells)))


def _any(units: Sequence[str]) -> bool:
    return any(map(unit_named, units))


def _is_counter(cells: Sequence[str]) -> bool:
    """Whether whole numbers go up by one from row to row, as those of rows do."""
    first = cells[:40]
    if len(first) < 8 or not all(is_whole(cell) for cell in first):
        return False
    return {int(b) - int(a) for a, b in itertools.pairwise(first)} == {1}


def _is_one_number(cells: Sequence[str]) -> bool:
    """Whether all cells are the same small whole number: a probe's or a device's."""
    return len(set(cells)) == 1 and is_whole(cells[0]) and int(cells[0]) <= _MOST_PROBES


def is_whole(cell: str) -> bool:
    """Whether a cell is a whole number of a size that a counter or a probe's number can have."""
    return cell.isdecimal() and len(cell) < _LONG


def _readable(cells: Sequence[str], head: str) -> bool:
    states = Counter(reading(cell).state for cell in cells)
    if states["value"]:
        return states["value"] + states["missing"] + states["word"] >= 0.8 * len(cells) and (
            states["value"] >= 0.05 * states["word"]
        )
    return bool(head) and states["missing"] >= 0.8 * len(cells)


def _names(cells: Sequence[str], head: str, stamps: Sequence[tuple[str, ...]]) -> bool:
    """Whether a column names the channel of its row: few words that take turns."""
    named = bool(_NAME_HEAD.search(plain_words(head)))
    filled = [cell for cell in cells if cell]
    different = set(filled)
    # A damaged record or two may have lost their name; more have none.
    if not 1 <= len(different) <= min(_MOST_NAMES, max(2, len(cells) // 2)) or (
        len(filled) < 0.9 * len(cells)
    ):
        return False
    words = sum(reading(cell).state in {"bad", "word"} for cell in filled)
    turns = sum(a != b for a, b in itertools.pairwise(filled))
    if words < 0.9 * len(filled):
        return named and _numbers_probes(cells, head, stamps)
    return named or (len(different) > 1 and turns >= 0.3 * len(filled))


def _numbers_probes(cells: Sequence[str], head: str, stamps: Sequence[tuple[str, ...]]) -> bool:
    """Whether whole numbers are those of probes."""
    filled = [cell for cell in cells if cell]
    # A damaged number or two may be none, or one of its own.
    counts = Counter(filled)
    different = {cell for cell, count in counts.items() if count > _ODD or len(filled) < _MANY}
    if sum(map(_is_number, filled)) < _NEARLY_ALL * len(filled) or not different:
        return False
    if not all(map(_is_number, different)):
        return False
    if len(different) == 1:
        return _ONE_PROBE.match(head) is not None and _number(filled[0]) <= _MOST_PROBES
    turns = sum(a != b for a, b in itertools.pairwise(filled))
    if all(_number(cell) <= _MOST_PROBES for cell in different):
        apart = turns >= 0.3 * len(filled) or turns < len(counts) + _ODD
        return apart and not head[-1:].isdecimal()
    return _in_turn(cells, stamps)


def _counts_probes(cells: Sequence[str], head: str, stamps: Sequence[tuple[str, ...]]) -> bool:
    """Whether a column headed as a counter's ("No.", "ID") has the numbers of probes."""
    numbers = [cell for cell in cells if _is_number(cell)]
    few = 1 < len(set(numbers)) <= _MOST_PROBES and len(numbers) >= _NEARLY_ALL * len(cells)
    return few and not TIME_HEAD.search(plain_words(head)) and _in_turn(cells, stamps)


def _in_turn(cells: Sequence[str], stamps: Sequence[tuple[str, ...]]) -> bool:
    """Whether each time comes once with each number: in strict turn, or block after block."""
    counts = Counter(cells)
    count = sum(often > _ODD or len(cells) < _MANY for often in counts.values())
    turns = sum(a != b for a, b in itertools.pairwise(cells))
    if turns < count + 2 * (len(counts) - count):
        return len(set(stamps)) < len(stamps)
    size = max(5 * count, _MANY)
    starts = range(0, max(len(cells) - size, 0) + 1, size)
    return any(_strict(cells[at : at + size], stamps[at : at + size], count) for at in starts)


def _strict(cells: Sequence[str], stamps: Sequence[tuple[str, ...]], count: int) -> bool:
    """Whether so many numbers come in the same order again and again, each time with each.

    Asked of one stretch after another: one that is damaged says nothing of the others.
    """
    again = sum(a == b for a, b in zip(cells, cells[count:], strict=False))
    strict = len(cells) > 2 * count and again >= 0.8 * (len(cells) - count)
    return strict and len(set(stamps)) <= 0.8 * len(cells)


def _is_number(cell: str) -> bool:
    return is_whole(cell.strip("#. "))


def _number(cell: str) -> int:
    return int(cell.strip("#. "))
