"""Column types: how a record's fields lie in a table, in any SQL dialect."""

import json
import math
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields
from datetime import MAXYEAR, MINYEAR, UTC, datetime
from enum import StrEnum
from types import NoneType, UnionType
from typing import Any, get_args, get_origin, get_type_hints

from sqlalchemy import Boolean, Float, Integer, String, Text
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator, TypeEngine

from pitjournal.domain.record import Record
from pitjournal.domain.scheme import Rules
from pitjournal.store.shapes import Fits, each, fits, keyed


class Unreadable:
    """What stands in the place of a value that is not as this program writes it.

    It never leaves the store: the record is left out, and named by a check.
    """

    def __init__(self, found: object) -> None:
        self.found = found

    def __repr__(self) -> str:
        return f"{str(self.found)[:60]!r}"


class Moment(TypeDecorator[datetime]):
    """An aware UTC time as ISO 8601 text to the millisecond, which sorts as it reads."""

    impl = String(24)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> str | None:
        """Write as text; a time without an offset is a bug and is refused."""
        del dialect
        return None if value is None else moment_text(value)

    def result_processor(self, dialect: Dialect, coltype: object) -> Callable[[Any], Any]:
        """Read back an aware time; `Unreadable` where there is something else."""
        del dialect, coltype
        return _moment


def _moment(value: str | None) -> datetime | Unreadable | None:
    if value is None:
        return None
    try:
        found = datetime.fromisoformat(value)
    except (ValueError, TypeError):
        return Unreadable(value)
    # The first and the last year of all cannot be shown in every zone.
    known = found.tzinfo is not None and MINYEAR < found.year < MAXYEAR
    return found if known else Unreadable(value)


class _Truths(dict[object, object]):
    def __missing__(self, kept: object) -> Unreadable:
        return Unreadable(kept)


_TRUTHS = _Truths({0: False, 1: True, None: None})


class Truth(TypeDecorator[bool]):
    """Yes or no as 1 or 0; SQLAlchemy's own takes any number, text or bytes for a yes."""

    impl = Boolean
    cache_ok = True

    def result_processor(self, dialect: Dialect, coltype: object) -> Callable[[Any], Any]:
        """Read back; `Unreadable` where there is something else."""
        del dialect, coltype
        return _TRUTHS.__getitem__


_SORTED = json.JSONEncoder(ensure_ascii=False, sort_keys=True).encode


def _finite(text: str) -> float:
    value = float(text)
    if not math.isfinite(value):
        raise ValueError(text)
    return value


_READ_JSON = json.JSONDecoder(parse_float=_finite, parse_constant=_finite).decode


class JsonText(TypeDecorator[Any]):
    """A small mapping or list as JSON text; lists come back as tuples.

    Parameters
    ----------
    shape
        Whether what was read has the shape of its field.
    """

    impl = Text
    cache_ok = True

    def __init__(self, shape: Fits | None = None) -> None:
        super().__init__()
        self.shape = shape

    def process_bind_param(self, value: object, dialect: Dialect) -> str | None:
        """Write with sorted keys, so that equal values are equal text."""
        del dialect
        if value is None:
            return None
        if not value and isinstance(value, tuple | dict):  # most of a log
            return "[]" if isinstance(value, tuple) else "{}"
        return _SORTED(value)

    def result_processor(self, dialect: Dialect, coltype: object) -> Callable[[Any], Any]:
        """Read back; `Unreadable` where there is something else."""
        del dialect, coltype
        shape = self.shape

        def read(value: str | None) -> object:
            if value is None:
                return None
            if value == "[]":  # most of a log: no need to take it apart
                return ()
            if value == "{}":
                return {}
            try:
                found = as_tuples(_READ_JSON(value))
                sound = shape is None or shape(found)
            except (ValueError, TypeError, RecursionError):
                return Unreadable(value)
            return found if sound else Unreadable(value)

        return read


def as_tuples(found: object) -> object:
    """Return a list, and the lists in it, as tuples; anything else as it is."""
    return tuple(map(as_tuples, found)) if isinstance(found, list) else found


def moment_text(moment: datetime) -> str:
    """Return ``2026-11-14T08:30:00.000Z`` for an aware time.

    Raises
    ------
    ValueError
        If the time has no offset.
    """
    if moment.tzinfo is None:
        message = "a time without an offset cannot be stored"
        raise ValueError(message)
    if moment.tzinfo is not UTC:
        moment = moment.astimezone(UTC)
    return f"{moment.isoformat(timespec='milliseconds')[:-6]}Z"  # +00:00 is Z


_FIELDS: dict[type[Record], Mapping[str, tuple[type, bool]]] = {}
"""What is known of each kind's fields: types are read slowly, and for every record of the past."""


def fields_of(record: type[Record]) -> Mapping[str, tuple[type, bool]]:
    """Return each field's plain type and whether it may be unknown."""
    if record not in _FIELDS:
        hints = get_type_hints(record)
        _FIELDS[record] = {field.name: _plain(hints[field.name]) for field in fields(record)}
    return _FIELDS[record]


def _plain(hint: object) -> tuple[type, bool]:
    if get_origin(hint) is UnionType:
        known = [part for part in get_args(hint) if part is not NoneType]
        return _bare(known[0]), True
    return _bare(hint), False


def _bare(hint: object) -> type:
    bare = get_origin(hint) or hint
    if not isinstance(bare, type):
        raise TypeError(hint)
    return bare


_WORDS = fits(str | None)
_SHAPES: Mapping[tuple[str, str], Fits] = {
    ("scheme", "rules"): fits(Rules),
    ("tasting", "rules"): fits(Rules),
    ("shelf_item", "details"): keyed({"class": _WORDS}),
    ("probe_file", "report"): keyed(
        {
            "channels": each(
                keyed(
                    {"name": fits(str), "count": fits(float), "start_s": fits(float | None)},
                    ("name", "count"),
                )
            ),
            "read_as": fits(Mapping[str, bool | str | None]),
        }
    ),
}
"""What stands in fields of which the record says less."""


def column_of(record: type[Record], name: str) -> TypeEngine[Any]:
    """Return the SQL type of a record's field."""
    made = column_type(fields_of(record)[name][0])
    if isinstance(made, JsonText):
        known = _SHAPES.get((record.KIND, name))
        return JsonText(known or fits(get_type_hints(record)[name]))
    return made


_SQL_TYPES: tuple[tuple[type, Callable[[], TypeEngine[Any]]], ...] = (
    (bool, Truth),
    (StrEnum, lambda: String(32)),
    (str, Text),
    (int, Integer),
    (float, Float),
    (datetime, Moment),
    (tuple, JsonText),
    (Mapping, JsonText),
)


def column_type(field: type) -> TypeEngine[Any]:
    """Return the SQL type of a field's Python type.

    Raises
    ------
    TypeError
        If no column can hold it.
    """
    for kind, make in _SQL_TYPES:
        if issubclass(field, kind):
            return make()
    raise TypeError(field)


def default_text(record: type[Record], name: str) -> str | None:
    """Return the default of a field as SQL keeps it; None where the field has none.

    A program that does not know the field yet can then still add rows.
    """
    field = next(field for field in fields(record) if field.name == name)
    value = field.default if field.default_factory is MISSING else field.default_factory()
    if value is MISSING or value is None:
        return None
    if isinstance(value, bool):
        return str(int(value))
    if isinstance(value, str | int | float):
        return str(value)
    return json.dumps(list(value) if isinstance(value, tuple) else value)
