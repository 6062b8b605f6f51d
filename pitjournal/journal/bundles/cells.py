"""Between a record and the cells of a table that other software can read."""

import json
from collections.abc import Callable, Mapping
from datetime import datetime
from enum import StrEnum
from math import isfinite
from typing import Any

from pitjournal.domain.record import Record
from pitjournal.files.bundle.content import Column
from pitjournal.store.columns import as_tuples, fields_of, moment_text

_GUARDED = ("=", "+", "-", "@", "'", "\t", "\r")
"""Beginnings of a text that a spreadsheet might take for more than a text."""

_GUARD = "'"

_KINDS: tuple[tuple[type, str], ...] = (
    (bool, "boolean"),
    (str, "string"),
    (int, "integer"),
    (float, "number"),
    (datetime, "datetime"),
    (tuple, "array"),
    (Mapping, "object"),
)

UNITS: Mapping[str, str] = {
    "altitude": "m",
    "ambient": "°C",
    "set_point": "°C",
    "wind": "m/s",
    "humidity": "fraction of 1",
    "cost": "money",
    "paid": "money",
    "given_total": "points",
    "price": "money per g",
    "worth_knowing": "unit of the outcome",
    "spread_guess": "unit of the outcome",
    "mass": "g",
    "liquid": "g",
    "cure": "g",
    "cure_strength": "fraction of 1",
    "salt": "fraction of 1",
    "phosphate": "fraction of 1",
    "target_pickup": "fraction of 1",
    "declared_solution": "fraction of 1",
    "time": "s",
    "set_time": "s",
    "uncertainty": "s",
    "takes": "s",
    "after": "s",
    "interval": "s",
    "shift": "s",
    "drift": "fraction of 1",
    "correction": "K",
    "correction_slope": "K per K",
    "internal": "°C",
    "served_temperature": "°C",
    "thickness_1": "m",
    "thickness_2": "m",
    "thickness_3": "m",
    "value": "points, or as the criterion has it",
    "number": "unit of the variable",
}
"""What the numbers of a column are in. `low` and `high` depend on the table."""

_ENDS = {"alarm": "°C", "tasting": "points"}


def columns_of(kind: type[Record]) -> tuple[Column, ...]:
    """Return the columns of a kind's table, as its fields lie."""
    found = []
    for name, (plain, optional) in fields_of(kind).items():
        unit = ""
        if issubclass(plain, float):
            unit = _ENDS[kind.KIND] if name in {"low", "high"} else UNITS[name]
        words = ", ".join(map(str, plain)) if issubclass(plain, StrEnum) else ""
        link = name in kind.PARENTS or name == "id"
        needed = not optional and (link or not issubclass(plain, str))
        found.append(Column(name, _kind_of(plain), words, unit, needed))
    return tuple(found)


def _kind_of(plain: type) -> str:
    return next(words for kind, words in _KINDS if issubclass(plain, kind))


def cells_of(record: Record) -> tuple[str, ...]:
    """Return a record's cells; what is not recorded is empty."""
    return tuple(cell_of(getattr(record, name)) for name in fields_of(type(record)))


def cell_of(value: object) -> str:
    """Return a value as a cell: a text is guarded, what is not recorded is empty."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f"{_GUARD}{value}" if value.startswith(_GUARDED) else str(value)
    if isinstance(value, datetime):
        return moment_text(value)
    if isinstance(value, int | float):
        return repr(value)
    return json.dumps(value, ensure_ascii=False, sort_keys=True)


def values_of(kind: type[Record], cells: Mapping[str, str]) -> dict[str, Any]:
    """Return the fields of a record by its cells; those the table lacks are left out.

    Raises
    ------
    ValueError
        If a cell cannot be what its column holds; "column: cell" says which.
    """
    found: dict[str, Any] = {}
    for name, (plain, optional) in fields_of(kind).items():
        text = cells.get(name)
        if text is None:
            continue
        try:
            found[name] = _value(text, plain, optional=optional)
        except (ValueError, RecursionError, OverflowError):
            message = f"{name}: {text[:40]!r}"
            raise ValueError(message) from None
    return found


def _value(text: str, plain: type, *, optional: bool) -> object:
    if issubclass(plain, str):
        bare = text[1:] if text.startswith(_GUARD) else text
        return None if not bare and optional else bare
    if not text and optional:
        return None
    return next(read for kind, read in _READ if issubclass(plain, kind))(text)


def _number(text: str) -> float:
    number = float(text)
    if not isfinite(number):
        raise ValueError
    return number


def _yes_or_no(text: str) -> bool:
    if text not in {"true", "false"}:
        raise ValueError
    return text == "true"


def _json(text: str) -> object:
    return as_tuples(json.loads(text))


_READ: tuple[tuple[type, Callable[[str], object]], ...] = (
    (bool, _yes_or_no),
    (int, int),
    (float, _number),
    (datetime, datetime.fromisoformat),
    (tuple, _json),
    (Mapping, _json),
)
