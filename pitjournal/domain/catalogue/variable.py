"""What one variable is: the entry of the catalogue that everything else reads."""

from dataclasses import dataclass
from enum import StrEnum

from pitjournal.units import Dimension


class Level(StrEnum):
    """What a variable is a property of."""

    COOK = "cook"
    ARM = "arm"
    PIECE = "piece"
    TASTING = "tasting"


class Kind(StrEnum):
    """What sort of value it has."""

    NUMBER = "number"
    CHOICE = "choice"
    YES_NO = "yes/no"
    TIME = "time"
    TEXT = "text"
    WORDS = "words"
    """What is searched for words: it chooses cooks, and is no value of its own."""


class Origin(StrEnum):
    """Where its value comes from."""

    RECORDED = "recorded"
    DERIVED = "derived"
    OWN = "own"


class Family(StrEnum):
    """What several variables say, each in its own way, so that one of them explains no other."""

    LOSS = "what is lost from the meat"
    WEIGHT = "weight"
    TRIMMING = "trimming"
    PACE = "how long the cook took"
    HEATING = "how far and how fast the meat heated"
    FUEL = "fuel"
    DAY = "the length of the day"
    LEEWAY = "leeway"
    PIT = "temperature of the pit"
    TREATMENT = "treatment"
    WRAPPING = "wrapping"
    COOKER = "cooker"
    OCCASION = "occasion"
    SOURCE = "where the meat came from"
    MONEY = "money"
    DONENESS = "doneness when off"
    SCORE = "score"


@dataclass(frozen=True, kw_only=True)
class Variable:
    """One variable.

    `field` names the field of the level's record that holds a recorded value; numbers are in
    the storage unit of `dimension`. `measure` says that Trends may show it; `ledger` that it
    belongs among the differences that a comparison should be read beside. `outcome` says that it
    comes of a cook rather than goes into it, so that it explains no other outcome; of two that
    share one of `families` neither explains the other. A score has the `criterion` it is of and
    the `ends` of its scale. `formula` is the version of how a derived one is worked out: whoever
    changes that raises it, and every journal works its cooks out anew.
    """

    key: str
    label: str
    level: Level
    kind: Kind = Kind.NUMBER
    dimension: Dimension = Dimension.NUMBER
    origin: Origin = Origin.RECORDED
    field: str = ""
    choices: tuple[str, ...] = ()
    ledger: bool = False
    help: str = ""
    outcome: bool = False
    families: tuple[Family, ...] = ()
    criterion: str = ""
    ends: tuple[float, float] | None = None
    formula: int = 1

    @property
    def measure(self) -> bool:
        """Whether a mean or a share of it says something."""
        return self.kind in {Kind.NUMBER, Kind.YES_NO}

    def related(self, other: "Variable") -> bool:
        """Whether the two say much the same."""
        return self.key == other.key or not set(self.families).isdisjoint(other.families)


FROM_TRACE, FROM_MEAT = 2, 6
"""The versions of what is read from a trace (a span that is left out holds its last reading), and
from a meat's (what its probe read elsewhere is left out, and no dose is said of one that may not
be the middle)."""
