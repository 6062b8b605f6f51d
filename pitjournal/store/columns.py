"""Column types: how a record's fields lie in a table, in any SQL dialect."""

import json
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields
from datetime import UTC, datetime
from enum import StrEnum
from types import NoneType, UnionType
from typing import Any, get_args, get_origin, get_type_hints

from sqlalchemy import Boolean, Float, Integer, String, Text
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator, TypeEngine

from pitjournal.domain.record import Record


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

    def process_result_value(self, value: str | None, dialect: Dialect) -> Any:  # noqa: ANN401 - any JSON
        """Read back an aware time; `Unreadable` where there is something else."""
        del dialect
        if value is None:
            return None
        try:
            found = datetime.fromisoformat(value)
        except (ValueError, TypeError):
            return Unreadable(value)
        return found if found.tzinfo is not None else Unreadable(value)


_SORTED = json.JSONEncoder(ensure_ascii=False, sort_keys=True).encode


class JsonText(TypeDecorator[Any]):
    """A small mapping or list as JSON text; lists come back as tuples."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: object, dialect: Dialect) -> str | None:
        """Write with sorted keys, so that equal values are equal text."""
        del dialect
        if value is None:
            return None
        if not value and isinstance(value, tuple | dict):  # most of a log
            return "[]" if isinstance(value, tuple) else "{}"
        return _SORTED(value)

    def process_result_value(self, value: str | None, dialect: Dialect) -> object:
        """Read back."""
        del dialect
        if value is None:
            return None
        if value == "[]":  # most of a log: no need to take it apart
            return ()
        if value == "{}":
            return {}
        try:
            return as_tuples(json.loads(value))
        except (ValueError, TypeError, RecursionError):
            return Unreadable(value)


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


_SQL_TYPES: tuple[tuple[type, Callable[[], TypeEngine[Any]]], ...] = (
    (bool, Boolean),
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
