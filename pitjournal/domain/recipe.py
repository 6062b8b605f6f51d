"""A recipe on the Shelf: what it is made of, by weight."""

import re
from collections.abc import Mapping

from pitjournal.errors import JournalError
from pitjournal.units import Dimension, UnitSystem, parse

_PART = re.compile(r"^(?P<name>.*?)[\s:=]+(?P<amount>[\d.,/]+)\s*(?P<unit>\D*)$")


def parts_of(details: Mapping[str, object]) -> dict[str, float]:
    """Return a recipe's parts by weight: ``{"salt": 25.0}``, as shares or in g.

    They may be a mapping, or words such as "stock 960 g, salt 25 g, phosphate 15 g". Words that
    are not understood give no parts.
    """
    found = details.get("parts")
    if isinstance(found, Mapping):
        amounts = {str(name): amount for name, amount in found.items()}
        return {name: float(a) for name, a in amounts.items() if isinstance(a, int | float)}
    parts: dict[str, float] = {}
    for words in str(found or "").split(","):
        part = _PART.match(words.strip())
        amount = None if part is None else _amount(part["amount"], part["unit"].strip())
        if part is None or amount is None:
            return {}
        parts[part["name"].strip()] = amount
    return parts


def _amount(number: str, unit: str) -> float | None:
    try:
        if unit in {"", "%", "part", "parts"}:
            return parse(number, Dimension.NUMBER, UnitSystem.METRIC)
        return parse(f"{number} {unit}", Dimension.MASS, UnitSystem.METRIC)
    except JournalError:
        return None
