"""Between records and rows, and between rows and the JSON of their images."""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import fields
from datetime import datetime
from enum import StrEnum
from typing import Any, TypeVar

from pitjournal.domain.catalogue import Kind, Level
from pitjournal.domain.cook import Cook, CookKind, CookStatus
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import OwnVariable
from pitjournal.domain.times.moments import is_zone
from pitjournal.store.columns import as_tuples, fields_of, moment_text
from pitjournal.units import Dimension

R = TypeVar("R", bound=Record)


Words = Mapping[str, Mapping[Any, StrEnum]]
"""Each field that is one of a few words: what each of them means."""

_ENUMS: dict[type[Record], Words] = {}
_NAMES: dict[type[Record], tuple[str, ...]] = {}


def _enums(record: type[Record]) -> Words:
    if record not in _ENUMS:
        kinds = {
            name: kind for name, (kind, _) in fields_of(record).items() if issubclass(kind, StrEnum)
        }
        _ENUMS[record] = _words_of(kinds | _ALSO_WORDS.get(record, {}))
    return _ENUMS[record]


def _words_of(kinds: Mapping[str, type[StrEnum]]) -> Words:
    return {name: {one.value: one for one in kind} for name, kind in kinds.items()}


_ALSO_WORDS: dict[type[Record], dict[str, type[StrEnum]]] = {
    OwnVariable: {"level": Level, "kind": Kind, "dimension": Dimension},
}
"""Texts that are one of a few words although their records, which the words need, do not say."""


def _names(record: type[Record]) -> tuple[str, ...]:
    if record not in _NAMES:
        _NAMES[record] = tuple(field.name for field in fields(record))
    return _NAMES[record]


def row_of(record: Record) -> dict[str, Any]:
    """Return the record's columns."""
    return {name: getattr(record, name) for name in _names(type(record))}


class Missed(dict[tuple[str, str], str]):
    """Rows that could not be read and were left out: why, by kind and id."""

    def note(self, kind: str, row_id: object, why: str) -> None:
        """Remember one."""
        self[kind, str(row_id)] = why


def records_of(kind: type[R], rows: Iterable[Sequence[Any]], missed: Missed) -> list[R]:
    """Build records from whole rows of their table, whose columns lie as the fields do.

    A row with a value that no record of this kind can have is left out, and noted.
    """
    names, enums, sound = _names(kind), _enums(kind), _SOUND.setdefault(kind, {})
    found = []
    for row in rows:
        shape = tuple(map(type, row))
        numbers = sound.get(shape)
        if numbers is None and not _odd_types(kind, row):
            numbers = tuple(place for place, plain in enumerate(shape) if plain in _NUMBERS)
            sound[shape] = numbers
        if numbers is None or (numbers and not _have_ends(row, numbers)):
            why = "; ".join(odd_fields(kind, row).values())
            missed.note(kind.KIND, row[names.index("id")], why)
            continue
        values = dict(zip(names, row, strict=True))
        odd = _odd_words(values, enums)
        if odd:
            missed.note(kind.KIND, values["id"], "; ".join(odd.values()))
            continue
        found.append(_born(kind, values))
    return found


def _born(kind: type[R], values: Mapping[str, Any]) -> R:
    """Return a record with all its fields.

    Its own maker, as all of frozen dataclasses, sets field by field by way of `object`, which
    takes ten times as long; a year of taps is read again and again.
    """
    record = object.__new__(kind)
    vars(record).update(values)
    return record


def _have_ends(row: Sequence[Any], numbers: Iterable[int]) -> bool:
    """Whether no number of a row is larger than any can be."""
    for place in numbers:  # noqa: SIM110 - it is asked of each row, and `all` takes twice as long
        if not -MOST <= row[place] <= MOST:
            return False
    return True


def records_again(
    kind: type[R],
    stored: Sequence[tuple[Any, ...]],
    made: Callable[[Sequence[Any]], tuple[Any, ...]],
    missed: Missed,
) -> list[R]:
    """Build records from rows as they are stored; a row seen before is the record it was then.

    A tap reads its whole cook again, of which one row is new: records are frozen, so that a
    thousand others need not be made anew.

    Parameters
    ----------
    stored
        Whole rows as the driver gives them.
    made
        Makes the row that `records_of` takes of one.
    """
    known = _AGAIN.setdefault(kind, {})
    found: list[R] = []
    for row in stored:
        shape, record = known.get(row, _NEVER)
        if record is None or shape != tuple(map(type, row)):  # 1, 1.0 and True are one key
            new = records_of(kind, (made(row),), missed)
            found += new
            if new:
                if len(known) >= KEPT:
                    known.clear()
                known[row] = tuple(map(type, row)), new[0]
        else:
            found.append(record)
    return found


KEPT = 8192
"""So many rows of a kind are kept with their records: more than one cook has."""

_AGAIN: dict[type[Record], dict[tuple[Any, ...], tuple[tuple[type, ...], Any]]] = {}
"""Records by the rows they were made of; of any journal, for a row says all that a record is."""

_NEVER: tuple[tuple[type, ...], Any] = ((), None)

_SOUND: dict[type[Record], dict[tuple[type, ...], tuple[int, ...]]] = {}
"""The types of the columns of rows that were found good, so that few rows are looked at; and
which of them are numbers, for one without end (9e999 in SQL) has the type of any other."""

MOST = 2.0**53
"""No number is larger: fractions cannot tell whole numbers apart beyond (IEEE 754, binary64), and
one that SQLite's largest follows cannot be kept."""

_NUMBERS = {float, int}

_MAY_BE: tuple[tuple[type, tuple[type, ...]], ...] = (
    (bool, (bool,)),
    (StrEnum, (str,)),
    (str, (str,)),
    (int, (int,)),
    (float, (float, int)),
    (datetime, (datetime,)),
    (tuple, (tuple,)),
    (Mapping, (dict,)),
)


def may_be(plain: type) -> tuple[type, ...]:
    """Return the types that a field of this type has in a row that was read."""
    return next(types for kind, types in _MAY_BE if issubclass(plain, kind))


def odd_fields(kind: type[Record], row: Sequence[Any]) -> dict[str, str]:
    """Return why each field of a row, as it was read, is none that this record can have."""
    odd = _odd_types(kind, row)
    values = dict(zip(_names(kind), row, strict=True))
    return odd | _odd_words({k: v for k, v in values.items() if k not in odd}, _enums(kind))


def _odd_types(kind: type[Record], row: Sequence[Any]) -> dict[str, str]:
    return {
        name: _is(name, value)
        for (name, (plain, optional)), value in zip(fields_of(kind).items(), row, strict=True)
        if not (value is None and optional) and not _is_of(plain, value)
    }


def _is_of(plain: type, value: object) -> bool:
    """Whether a value that was read is one that a field of this type has."""
    if type(value) not in may_be(plain):
        return False
    return type(value) not in _NUMBERS or bool(-MOST <= value <= MOST)  # type: ignore[operator]


def _odd_words(values: dict[str, Any], words: Words) -> dict[str, str]:
    """Turn words into choices; return which are unknown."""
    odd = {}
    for name, choices in words.items():
        word = values.get(name)
        if word is None:
            continue
        if word in choices:
            values[name] = choices[word]
        else:
            odd[name] = _is(name, word)
    if "zone" in values and not is_zone(values["zone"]):
        odd["zone"] = _is("zone", values["zone"])
    return odd


def _is(name: str, value: object) -> str:
    return f"{name} is {value!r}"[:120]


def odd_cook(starts_at: object, zone: object, kind: object, status: object) -> str:
    """Return why a cook with these columns cannot be shown, or nothing."""
    values = {"starts_at": starts_at, "zone": zone, "kind": kind, "status": status}
    odd = {
        name: _is(name, values[name])
        for name, plain in (("starts_at", datetime), ("zone", str))
        if type(values[name]) is not plain
    }
    left = {name: value for name, value in values.items() if name not in odd}
    return "; ".join((odd | _odd_words(left, _COOK_WORDS)).values())


def odd_own(**values: object) -> str:
    """Return why these fields of a cook, as they were read, cannot be shown, or nothing."""
    known = fields_of(Cook)
    odd = (
        _is(name, value)
        for name, value in values.items()
        if not (value is None and known[name][1]) and not _is_of(known[name][0], value)
    )
    return "; ".join(odd)


_COOK_WORDS = _words_of({"kind": CookKind, "status": CookStatus})


def image_of(record: Record) -> str:
    """Return a row's image: its columns as JSON."""
    return _AS_IMAGE(row_of(record))


def _plain(value: object) -> object:
    if isinstance(value, datetime):
        return moment_text(value)
    if isinstance(value, Mapping):
        return dict(value)
    raise TypeError(type(value).__name__)


_AS_IMAGE = json.JSONEncoder(ensure_ascii=False, default=_plain).encode
"""Made once, as the statements are: a tap writes an image of each row it touches."""


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
