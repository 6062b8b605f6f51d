"""What is used again: cookers, fuels, woods, rubs, recipes, probes, tasters, schemes."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, ClassVar

from pitjournal.domain.record import Measured, Record


class ShelfKind(StrEnum):
    """Sorts of thing on the Shelf; the value is its heading in the singular."""

    COOKER = "cooker"
    FUEL = "fuel"
    WOOD = "wood"
    RUB = "rub"
    RECIPE = "recipe"
    INGREDIENT = "ingredient"
    PROBE = "probe"
    TASTER = "taster"
    SCHEME = "scheme"


COOKER_CLASSES = (
    "offset",
    "drum",
    "ceramic",
    "pellet",
    "gravity-fed charcoal",
    "kettle",
    "bullet",
    "cabinet",
)


@dataclass(frozen=True, kw_only=True)
class ShelfItem(Record):
    """A thing with a name and details of its own sort, such as ``{"class": "drum"}``."""

    KIND: ClassVar[str] = "shelf_item"

    kind: ShelfKind
    name: str
    details: Mapping[str, Any] = field(default_factory=dict)
    retired: bool = False


SLOTS, ACROSS = "slots", "across"
"""The details of a cooker that say how many lie in it, and how many side by side."""


def count_of(cooker: ShelfItem | None, key: str) -> int | None:
    """Return a count that a cooker's details say; None where there is none."""
    said = str(cooker.details.get(key) or "") if cooker is not None else ""
    return int(said) or None if said.isdecimal() else None


def plain_name(name: str) -> str:
    """Return a name as it is told from others: in any case and spacing it is the same."""
    return " ".join(name.split()).casefold()


TABLESPOON = "tablespoon"
"""The detail of a rub or an ingredient that says what a tablespoon of it weighs, g."""

QUARTER_CUP = "salt.quarter cup"
"""The journal's choice that says what a quarter cup of the cook's salt weighs, g."""

TABLESPOON_TYPED = "tablespoon typed"
"""The detail that says it in the words typed, with their unit."""


PRICE, PRICE_TYPED = "price", "price typed"
"""The details of a fuel that say what it costs, in the cook's money a g, and the words typed."""


def price_of(details: Mapping[str, Any]) -> float | None:
    """Return what a fuel costs, a g; None where its details do not say."""
    said = details.get(PRICE)
    return float(said) if isinstance(said, int | float) and said >= 0 else None


def tablespoon_of(details: Mapping[str, Any]) -> float | None:
    """Return what a tablespoon of a thing weighs, g; None where its details do not say."""
    said = details.get(TABLESPOON)
    return float(said) if isinstance(said, int | float) and said > 0 else None


OWN_LEVELS = ("cook", "arm", "piece")
OWN_KINDS = ("number", "choice", "yes/no", "text")
"""What a variable of the cook's own can be of, and what sort of value it has."""


@dataclass(frozen=True, kw_only=True)
class OwnVariable(Record):
    """A variable of the cook's own: its `level` is of `OWN_LEVELS`, its `kind` of `OWN_KINDS`.

    `dimension` says what its numbers are a quantity of. A retired one is offered no longer; what
    cooks have of it stays, and is still asked for in Trends.
    """

    KIND: ClassVar[str] = "own_variable"

    name: str
    level: str
    kind: str
    dimension: str = "number"
    choices: tuple[str, ...] = ()
    retired: bool = False


@dataclass(frozen=True, kw_only=True)
class OwnValue(Measured):
    """The value of an own variable for a cook, an arm or a piece, which is `owner_id`.

    `number` is in the storage unit of the variable's dimension, `answer` that of a yes/no.
    """

    KIND: ClassVar[str] = "own_value"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook", "variable_id": "own_variable"}
    UNIQUE: ClassVar[tuple[str, ...]] = ("variable_id", "owner_id")

    cook_id: str
    variable_id: str
    owner_id: str
    number: float | None = None
    text: str | None = None
    answer: bool | None = None

    @property
    def value(self) -> float | str | bool | None:
        """What was given, whatever sort it is."""
        if self.number is not None:
            return self.number
        return self.answer if self.answer is not None else self.text


@dataclass(frozen=True, kw_only=True)
class SavedQuestion(Record):
    """A question of Trends, kept by name."""

    KIND: ClassVar[str] = "saved_question"

    name: str
    question: Mapping[str, Any]
    position: int = 0
    pinned: bool = False


@dataclass(frozen=True, kw_only=True)
class Setting(Record):
    """A choice kept with the journal: its `id` is the name of the setting."""

    KIND: ClassVar[str] = "setting"

    value: str
