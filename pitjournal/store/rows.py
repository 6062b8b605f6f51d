"""Between records and rows, and between rows and the JSON of their images."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields
from datetime import datetime
from enum import StrEnum
from typing import Any, TypeVar

from pitjournal.domain.record import Record
from pitjournal.store.columns import as_tuples, fields_of, moment_text

R = TypeVar("R", bound=Record)


_ENUMS: dict[type[Record], dict[str, type[StrEnum]]] = {}
_NAMES: dict[type[Record], tuple[str, ...]] = {}


def _enums(record: type[Record]) -> dict[str, type[StrEnum]]:
    if record not in _ENUMS:
        _ENUMS[record] = {
            name: kind for name, (kind, _) in fields_of(record).items() if issubclass(kind, StrEnum)
        }
    return _ENUMS[record]


def _names(record: type[Record]) -> tuple[str, ...]:
    if record not in _NAMES:
        _NAMES[record] = tuple(field.name for field in fields(record))
    return _NAMES[record]


def row_of(record: Record) -> dict[str, Any]:
    """Return the record's columns."""
    return {name: getattr(record, name) for name in _names(type(record))}


def records_of(kind: type[R], rows: Iterable[Sequence[Any]]) -> list[R]:
    """Build records from whole rows of their table, whose columns lie as the fields do."""
    names, enums = _names(kind), _enums(kind)
    found = []
    for row in rows:
        values = dict(zip(names, row, strict=True))
        for name, choices in enums.items():
            if values[name] is not None:
                values[name] = choices(values[name])
        found.append(kind(**values))
    return found


def image_of(record: Record) -> str:
    """Return a row's image: its columns as JSON."""
    return json.dumps(row_of(record), ensure_ascii=False, default=_plain)


def _plain(value: object) -> object:
    if isinstance(value, datetime):
        return moment_text(value)
    if isinstance(value, Mapping):
        return dict(value)
    raise TypeError(type(value).__name__)


def record_of_image(kind: type[R], image: str) -> R:
    """Build a record from a row's image.

    A field that the image does not know (it is older than the field) takes its default.
    """
    found = json.loads(image)
    values: dict[str, Any] = {}
    for name, (plain, _) in fields_of(kind).items():
        if name not in found:
            continue
        value = found[name]
        if value is not None and issubclass(plain, datetime):
            value = datetime.fromisoformat(value)
        elif isinstance(value, list):
            value = as_tuples(value)
        elif value is not None and issubclass(plain, StrEnum):
            value = plain(value)
        values[name] = value
    return kind(**values)
