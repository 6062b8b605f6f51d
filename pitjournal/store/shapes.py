"""Whether what was read from JSON has the shape that a field's type says."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import MISSING, fields, is_dataclass
from enum import StrEnum
from functools import cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

Fits = Callable[[object], bool]


@cache
def fits(hint: Any) -> Fits:  # noqa: ANN401 - any type a field may have
    """Return what tells whether a value is of a type, with all that is in it.

    Parameters
    ----------
    hint
        `Any`, a plain type, a choice of words, a union, tuples, lists and mappings of such, or a
        dataclass of which the value is the mapping.

    Raises
    ------
    TypeError
        If nothing of that type is kept as JSON.
    """
    if hint is Any or hint is object:
        return lambda _: True
    origin, inner = get_origin(hint), get_args(hint)
    if origin in {UnionType, Union}:
        choices = [fits(one) for one in inner]
        return lambda value: any(choice(value) for choice in choices)
    if origin in {tuple, list}:
        return _of_many(origin, inner)
    if origin is Mapping or origin is dict:
        one = fits(inner[1])
        return lambda value: isinstance(value, dict) and all(map(one, value.values()))
    if isinstance(hint, type):
        return _of_one(hint)
    raise TypeError(hint)


def keyed(parts: Mapping[str, Fits], needed: Collection[str] = ()) -> Fits:
    """Return what tells whether a mapping has these keys, and what these parts say where it does.

    Parameters
    ----------
    parts
        What tells, by key; other keys may hold anything.
    needed
        Keys that must be there.
    """
    known = dict(parts)
    return lambda value: (
        isinstance(value, dict)
        and value.keys() >= set(needed)
        and all(fit(value[key]) for key, fit in known.items() if key in value)
    )


def each(part: Fits) -> Fits:
    """Return what tells whether a list holds nothing but such parts."""
    return lambda value: isinstance(value, list | tuple) and all(map(part, value))


def _of_many(origin: type, inner: tuple[Any, ...]) -> Fits:
    if origin is list or inner[-1] is Ellipsis:
        return each(fits(inner[0]))
    parts = [fits(one) for one in inner]
    return lambda value: (
        isinstance(value, list | tuple)
        and len(value) == len(parts)
        and all(part(one) for part, one in zip(parts, value, strict=True))
    )


def _of_one(plain: type) -> Fits:
    if is_dataclass(plain):
        return _of_fields(plain)
    if issubclass(plain, StrEnum):
        words = frozenset(map(str, plain))
        return lambda value: isinstance(value, str) and value in words
    if plain is float:
        return lambda value: type(value) in {float, int}
    if plain in {int, str, bool, NoneType}:
        return lambda value: type(value) is plain
    raise TypeError(plain)


def _of_fields(kind: type[Any]) -> Fits:
    hints = get_type_hints(kind)
    own = [field for field in fields(kind) if field.init]
    parts = {field.name: fits(hints[field.name]) for field in own}
    needed = {f.name for f in own if f.default is MISSING and f.default_factory is MISSING}

    def fit(value: object) -> bool:
        return (
            isinstance(value, dict)
            and needed <= value.keys() <= parts.keys()
            and all(parts[name](one) for name, one in value.items())
        )

    return fit
