"""A recipe on the Shelf: lines of ingredients with amounts, which scale; and its note."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from pitjournal.errors import JournalError
from pitjournal.units import (
    WATER,
    Dimension,
    UnitSystem,
    by_volume,
    parse,
    show,
    weighed_in,
)
from pitjournal.units.figures import trimmed

LINES, NOTE, PARTS = "lines", "note", "parts"
"""Details of a recipe: its lines as typed, its note, and what older journals kept instead."""

AS_WRITTEN = (
    "not scaled: work curing salt out from its label, in grams; blends hold 6.25, 5.88 or 0.6 % "
    "nitrite, and nothing here approves an amount"
)
CURE_SOURCE = "9 CFR 424.21(c), 424.22(b)"

_PART = re.compile(r"^(?P<name>.*?)[\s:=]+(?P<amount>[\d.,/]+)\s*(?P<unit>\D*)$")
_CURE = re.compile(r"\bcur(?:e|ing)\b|nitrite|nitrate|saltpet|pink salt", re.IGNORECASE)
_US_VOLUME = re.compile(r"oz|ounce|cup|sp|spoon|pint|pt|quart|qt|gal", re.IGNORECASE)
_SHARE = re.compile(r"^(?P<number>[\d.,/\s]+)(?:%|parts?)?$")


class By(StrEnum):
    """What an amount is measured by."""

    WEIGHT = "weight"
    VOLUME = "volume"
    PART = "part"


@dataclass(frozen=True)
class Line:
    """An ingredient: `amount` is g, mL or a part of the whole; None where there is none to read."""

    name: str
    typed: str = ""
    amount: float | None = None
    by: By = By.WEIGHT

    @property
    def is_cure(self) -> bool:
        """Whether it is curing salt, which is never scaled."""
        return _CURE.search(self.name) is not None

    @property
    def written(self) -> str:
        """The line as it was written."""
        return f"{self.name} {self.typed}".strip()


def read_amount(typed: str, system: UnitSystem) -> tuple[float | None, By]:
    """Return what an amount means, and by what it is measured; an empty one is unknown.

    Raises
    ------
    JournalError
        If it is neither a weight, a volume, per cent nor parts.
    """
    if not typed.strip():
        return None, By.WEIGHT
    share = _SHARE.match(typed.strip())
    if share is not None:
        number = parse(share["number"], Dimension.NUMBER, UnitSystem.METRIC)
        return _some(number / 100 if "%" in typed else number), By.PART
    volume = by_volume(typed, system)
    if volume is not None:
        return _some(volume), By.VOLUME
    return _some(parse(typed, Dimension.MASS, system)), By.WEIGHT


def _some(amount: float) -> float:
    if amount <= 0:
        raise JournalError("An amount must be more than nothing.", "Type 25 g, 1 L or 2.5 %.")
    return amount


def lines_of(details: Mapping[str, object]) -> tuple[Line, ...]:
    """Return a recipe's lines: those typed, else what an older one's parts say."""
    kept = details.get(LINES)
    if isinstance(kept, list | tuple):
        pairs = [pair for pair in kept if isinstance(pair, list | tuple) and len(pair) == 2]
        return tuple(_line(str(name), str(typed)) for name, typed in pairs)
    found = details.get(PARTS)
    if isinstance(found, Mapping):
        parts = {str(n): a for n, a in found.items() if isinstance(a, int | float) and a > 0}
        shares = sum(parts.values()) <= 1 + 1e-9
        return tuple(
            Line(n, f"{trimmed(100 * a)} %" if shares else f"{trimmed(a)} parts", float(a), By.PART)
            for n, a in parts.items()
        )
    lines = []
    for words in str(found or "").split(","):
        part = _PART.match(words.strip())
        line = None if part is None else _line(part["name"].strip(), f"{part[2]} {part[3]}".strip())
        if line is None or line.amount is None:
            return ()
        lines.append(line)
    return tuple(lines)


def _line(name: str, typed: str) -> Line:
    try:
        amount, by = read_amount(typed, UnitSystem.METRIC)
    except JournalError:
        amount, by = None, By.WEIGHT
    return Line(name, typed, amount, by)


def note_of(details: Mapping[str, object]) -> str:
    """Return a recipe's note; the text of an older recipe stays as that."""
    kept = details.get(NOTE)
    old = details.get(PARTS)
    return str(kept) if kept is not None else (old if isinstance(old, str) else "")


def parts_of(lines: Iterable[Line]) -> dict[str, float]:
    """Return what scales, by weight: ``{"salt": 25.0}``, as shares or in g; empty where it cannot.

    Volumes count as water. Curing salt is none of it.
    """
    scaling = [line for line in lines if not line.is_cure]
    ways = {line.by is By.PART for line in scaling}
    if len(ways) != 1 or any(line.amount is None for line in scaling):
        return {}
    parts: dict[str, float] = {}
    for line in scaling:
        weight = (line.amount or 0.0) * (WATER.per_ml if line.by is By.VOLUME else 1.0)
        parts[line.name] = parts.get(line.name, 0.0) + weight
    return parts


def share_of(lines: Sequence[Line], name: str) -> float | None:
    """Return what share of a recipe an ingredient is; None where that is not known by weight."""
    parts = parts_of(lines)
    whole = sum(parts.values())
    weighed = all(line.by is not By.VOLUME for line in lines if line.name == name)
    if name not in parts or not weighed:
        return None
    return parts[name] / whole if whole > 1 else parts[name]


def scaled(lines: Sequence[Line], factor: float, system: UnitSystem) -> list[str]:
    """Return each line that scales with its amount times a factor, in the unit it was typed in.

    Parts become grams by the factor.
    """
    said = []
    for line in lines:
        if line.is_cure or line.amount is None:
            continue
        amount = line.amount * factor
        if line.by is By.VOLUME:
            ours = _US_VOLUME.search(line.typed) is not None
            own = UnitSystem.US if ours else weighed_in((line.typed,), system)
            said.append(f"{line.name} {show(amount, Dimension.VOLUME, own)}")
        else:
            own = weighed_in((line.typed,), system)
            said.append(f"{line.name} {show(amount, Dimension.MASS, own)}")
    return said


def cures(lines: Iterable[Line]) -> list[str]:
    """Return the lines of curing salt, as they are written."""
    return [line.written for line in lines if line.is_cure]
