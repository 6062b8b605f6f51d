"""A recipe on the Shelf: lines of ingredients with amounts, which scale; and its note."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from pitjournal.domain.shelf import plain_name
from pitjournal.errors import JournalError
from pitjournal.units import (
    WATER,
    Density,
    Dimension,
    UnitSystem,
    by_volume,
    of_tablespoon,
    parse,
    show,
    weighed_in,
)
from pitjournal.units.figures import trimmed

LINES, NOTE, PARTS, SPOONS = "lines", "note", "parts", "spoons"
"""Details of a recipe: its lines as typed, its note, what older journals kept instead; and, where
it is kept with a cook, what a tablespoon of an ingredient weighed that day, g by plain name."""

Densities = Mapping[str, Density]
"""What is known to weigh what, by plain name."""

NOT_ON_SHELF = "counted as water: what a tablespoon of it weighs is not on the Shelf"

AS_WRITTEN = (
    "not scaled: work curing salt out from its label, in grams; blends hold 6.25, 5.88 or 0.6 % "
    "nitrite, and nothing here approves an amount"
)
CURE_SOURCE = "9 CFR 424.21(c), 424.22(b)"

_PART = re.compile(r"^(?P<name>.*?)[\s:=]+(?P<amount>[\d.,/]+)\s*(?P<unit>\D*)$")
_CURE = re.compile(
    r"\bcur(?:e|ing)\b|nitrit|nitrat|saltpet|salpeter|pink salt|powder\s*(?:#|n[or]\.?)\s*[12]\b"
    r"|p(?:ö|oe)kel|sal (?:de|para) cura|sal nitro|salitre",
    re.IGNORECASE,
)
_US_VOLUME = re.compile(r"oz|ounce|cup|sp|spoon|pint|pt|quart|qt|gal", re.IGNORECASE)
_WET = re.compile(
    r"\b(?:water|ice|stock|broth|juice|vinegar|cider|beer|ale|lager|wine|sherry|port|bourbon|"
    r"whisk(?:e?y)|rum|brandy|coffee|tea|soda|cola|milk|buttermilk|cream|sauce|brine|tamari|soy)\b",
    re.IGNORECASE,
)
_ONE_UNIT = re.compile(r"^\D*?[\d.,/\s¼½¾⅓⅔⅛⅜⅝⅞-]*?(?P<unit>[^\W\d_¼½¾⅓⅔⅛⅜⅝⅞][^\d]*)$")
_SPELLED = frozenset({"cup", "pint", "quart", "gallon", "tablespoon", "teaspoon", "fluid ounce"})
_NO_DENSITIES: Densities = {}
_SHARE = re.compile(r"^(?P<number>[\d.,/\s]+)(?:%|parts?)?$")


class By(StrEnum):
    """What an amount is measured by."""

    WEIGHT = "weight"
    VOLUME = "volume"
    PART = "part"


@dataclass(frozen=True)
class Line:
    """An ingredient: `amount` is g, mL or a part of the whole; None where there is none to read.

    `density` is what is known of what a volume of it weighs.
    """

    name: str
    typed: str = ""
    amount: float | None = None
    by: By = By.WEIGHT
    density: Density | None = None

    @property
    def is_cure(self) -> bool:
        """Whether it is curing salt, which is never scaled."""
        return speaks_of_cure(self.name)

    @property
    def weight(self) -> float | None:
        """What it weighs, g (a share as it is); a volume of unknown density counts as water."""
        if self.amount is None or self.by is not By.VOLUME:
            return self.amount
        return self.amount * (self.density or WATER).per_ml

    @property
    def is_weighed(self) -> bool:
        """Whether its weight is known, and not only counted as water."""
        return self.by is not By.VOLUME or self.density is not None

    @property
    def is_wet(self) -> bool:
        """Whether it is a liquid that is much like water."""
        return _WET.search(self.name) is not None

    @property
    def made_of_it(self) -> str:
        """What was made of a volume, and by which density; an empty text of what was weighed."""
        if self.by is not By.VOLUME or self.amount is None:
            return ""
        if self.density is None:
            return WATER.said if self.is_wet else NOT_ON_SHELF
        return f"{show(self.weight, Dimension.MASS, UnitSystem.METRIC)}: {self.density.said}"

    @property
    def written(self) -> str:
        """The line as it was written."""
        return f"{self.name} {self.typed}".strip()


def speaks_of_cure(text: str) -> bool:
    """Whether a text names curing salt, as the trade calls it."""
    return _CURE.search(text) is not None


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


def lines_of(
    details: Mapping[str, object], densities: Densities = _NO_DENSITIES
) -> tuple[Line, ...]:
    """Return a recipe's lines: those typed, else what an older one's parts say.

    `densities` weigh spoons and cups of ingredients by plain name, unless the details do so
    themselves.
    """
    known = {**densities, **_kept_densities(details)}
    kept = details.get(LINES)
    if isinstance(kept, list | tuple):
        pairs = [pair for pair in kept if isinstance(pair, list | tuple) and len(pair) == 2]
        return tuple(_line(str(name), str(typed), known) for name, typed in pairs)
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
        amount = "" if part is None else f"{part[2]} {part[3]}".strip()
        line = None if part is None else _line(part["name"].strip(), amount, known)
        if line is None or line.amount is None:
            return ()
        lines.append(line)
    return tuple(lines)


def _kept_densities(details: Mapping[str, object]) -> Densities:
    """Return the densities that were kept with the recipe of a cook."""
    kept = details.get(SPOONS)
    spoons = kept.items() if isinstance(kept, Mapping) else ()
    return {str(n): of_tablespoon(g) for n, g in spoons if isinstance(g, int | float) and g > 0}


def _line(name: str, typed: str, densities: Densities) -> Line:
    try:
        amount, by = read_amount(typed, UnitSystem.METRIC)
    except JournalError:
        amount, by = None, By.WEIGHT
    density = densities.get(plain_name(name)) if by is By.VOLUME else None
    return Line(name, typed, amount, by, density)


def note_of(details: Mapping[str, object]) -> str:
    """Return a recipe's note; the text of an older recipe stays as that."""
    kept = details.get(NOTE)
    old = details.get(PARTS)
    return str(kept) if kept is not None else (old if isinstance(old, str) else "")


def parts_of(lines: Iterable[Line]) -> dict[str, float]:
    """Return what scales, by weight: ``{"salt": 25.0}``, as shares or in g; empty where it cannot.

    Volumes weigh what their density says, and count as water where none is known. Curing salt is
    none of it.
    """
    scaling = [line for line in lines if not line.is_cure]
    ways = {line.by is By.PART for line in scaling}
    if len(ways) != 1 or any(line.amount is None for line in scaling):
        return {}
    parts: dict[str, float] = {}
    for line in scaling:
        parts[line.name] = parts.get(line.name, 0.0) + (line.weight or 0.0)
    return parts


def share_of(lines: Sequence[Line], name: str) -> float | None:
    """Return what share of a recipe an ingredient is; None where that is not known by weight."""
    parts = parts_of(lines)
    whole = sum(parts.values())
    weighed = all(line.is_weighed for line in lines if line.name == name)
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
            weight = line.weight if line.density is not None else None
            shown = show(factor * weight, Dimension.MASS, UnitSystem.METRIC) if weight else ""
            beside = f" ({shown})" if shown else ""
            said.append(f"{line.name} {_volume(line, amount, system)}{beside}")
        else:
            own = weighed_in((line.typed,), system)
            said.append(f"{line.name} {show(amount, Dimension.MASS, own)}")
    return said


def _volume(line: Line, amount: float, system: UnitSystem) -> str:
    """Return mL of a line in the unit that it was typed in: 2 tbsp and no fluid ounce."""
    if _US_VOLUME.search(line.typed) is None:
        return show(amount, Dimension.VOLUME, weighed_in((line.typed,), system))
    found = _ONE_UNIT.match(line.typed.strip())
    one = by_volume(f"1 {found['unit']}", system) if found is not None else None
    if found is None or not one:
        return show(amount, Dimension.VOLUME, UnitSystem.US)
    number, unit = trimmed(amount / one, 3), found["unit"].strip()
    if unit.rstrip("s") in _SPELLED:
        unit = unit.rstrip("s") + ("" if number == "1" else "s")
    return f"{number} {unit}"


def made_of_volumes(lines: Iterable[Line]) -> str:
    """Return what volumes were taken to weigh, and by what, in words; empty where all is weighed."""
    told = [line for line in lines if line.made_of_it and not line.is_cure]
    weighed = [f"{line.written} is {line.made_of_it}" for line in told if line.density]
    unknown = [f"{line.name} is {NOT_ON_SHELF}" for line in told if line.made_of_it == NOT_ON_SHELF]
    water = [f"volumes {WATER.said}"] if any(line.made_of_it == WATER.said for line in told) else []
    return "; ".join((*weighed, *unknown, *water))


def cures(lines: Iterable[Line]) -> list[str]:
    """Return the lines of curing salt, as they are written."""
    return [line.written for line in lines if line.is_cure]
