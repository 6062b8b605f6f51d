"""Nested values of records as flat texts by their path of keys."""

from typing import Any

from pitjournal.files.probe_log.units import unit_named

_MEASURES = {"value", "val", "v", "temp", "temperature", "t", "reading"}


def scalar(value: object) -> str | None:
    """Return a single value as text; None where it is none."""
    if value is None:
        return "null"
    if isinstance(value, bool):
        return str(value).casefold()
    return str(value) if isinstance(value, str | int | float) else None


def _measured(value: dict[str, Any]) -> str:
    """Return a value and its unit as one text, where an object is just these; else nothing."""
    keys = {key.casefold(): key for key in value}
    if len(keys) == 1:
        unit, number = next(iter(value.items()))
        return f"{scalar(number) or ''} {unit}".strip() if unit_named(unit) else ""
    measures = [key for key in keys if key in _MEASURES]
    units = [key for key in keys if key.startswith("unit")]
    if len(measures) != 1 or len(keys) != 1 + len(units) or not units:
        return ""
    return f"{scalar(value[keys[measures[0]]]) or ''} {value[keys[units[0]]]}".strip()


def flattened(record: dict[str, Any], before: str = "") -> dict[str, str]:
    """Return a record's scalars by their path of keys."""
    found: dict[str, str] = {}
    for key, value in record.items():
        if isinstance(value, dict):
            measured = _measured(value)
            if measured:
                found[f"{before}{key}"] = measured
            else:
                found |= flattened(value, f"{before}{key}.")
        elif isinstance(value, list):
            for number, part in enumerate(value, 1):
                text = scalar(part)
                if text is not None:
                    found[f"{before}{key} {number}"] = text
        elif (text := scalar(value)) is not None:
            found[f"{before}{key}"] = text
    return found


def flat_lists(value: dict[str, Any], before: str = "") -> dict[str, list[Any]]:
    """Return an object's lists of scalars by their path of keys."""
    found: dict[str, list[Any]] = {}
    for key, part in value.items():
        if isinstance(part, dict):
            found |= flat_lists(part, f"{before}{key}.")
        elif isinstance(part, list) and part and all(scalar(item) is not None for item in part):
            found[f"{before}{key}"] = part
    return found
