"""What meat a piece is: its animal, its form, its cut, and which rule it is judged by."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property


class Animal(StrEnum):
    """What animal meat is of."""

    PORK = "pork"
    BEEF = "beef"
    VEAL = "veal"
    LAMB = "lamb"
    GOAT = "goat"
    CHICKEN = "chicken"
    TURKEY = "turkey"
    DUCK = "duck"
    GOOSE = "goose"
    QUAIL = "quail"
    OTHER_BIRD = "other bird"
    RATITE = "ratite"
    FISH = "fish"
    SHELLFISH = "shellfish"
    VENISON = "venison"
    BOAR = "boar"
    BEAR = "bear"
    RABBIT = "rabbit"
    BISON = "bison"
    OTHER_GAME = "other game"
    OTHER = "other animal"


POULTRY = frozenset(
    {
        Animal.CHICKEN,
        Animal.TURKEY,
        Animal.DUCK,
        Animal.GOOSE,
        Animal.QUAIL,
        Animal.OTHER_BIRD,
    }
)
GAME = frozenset({Animal.VENISON, Animal.BOAR, Animal.BEAR, Animal.RABBIT, Animal.OTHER_GAME})
"""Taken for wild: the rule for farmed game asks less."""
SEAFOOD = frozenset({Animal.FISH, Animal.SHELLFISH})


class Form(StrEnum):
    """What was done to the meat before it was a piece, in order of what is asked of it."""

    WHOLE = "whole"
    NON_INTACT = "non-intact"
    GROUND = "ground"
    STUFFED = "stuffed"

    @property
    def rank(self) -> int:
        """How much is asked of it: 0 for whole meat."""
        return list(Form).index(self)


class JudgedAs(StrEnum):
    """Which rule meat is judged by, in order of what is asked; the value is said to a cook."""

    WHOLE = "whole meat"
    SEAFOOD = "fish"
    NON_INTACT = "non-intact meat"
    RATITE = "ostrich, emu or rhea"
    VARIETY = "variety meat"
    GROUND = "ground meat"
    STUFFED = "stuffed meat"
    GAME = "wild game"
    POULTRY = "poultry"
    VARIETY_UNSAID = "variety meat of an animal not said"
    GROUND_UNSAID = "ground meat of an animal not said"
    UNKNOWN = "meat not known"


ASKED_ABOUT = frozenset({JudgedAs.VARIETY_UNSAID, JudgedAs.GROUND_UNSAID, JudgedAs.UNKNOWN})
"""Judged by the strictest rule until more is said of them."""


@dataclass(frozen=True)
class Range:
    """From and to, in the unit of what it is a range of."""

    low: float
    high: float


@dataclass(frozen=True, kw_only=True)
class Cut:
    """A cut of the catalogue.

    Attributes
    ----------
    key
        Its lasting name: "st-louis-ribs".
    name
        What the trade calls it: "St. Louis ribs". Completion offers it.
    animal
        None where the name alone does not say ("sausage").
    form
        Whole, non-intact, ground or stuffed.
    shape
        "slab", "cylinder", "box", "strip", "ball", "whole bird", "whole fish", "whole animal".
    thickness
        m at its thickest.
    pit
        °C.
    hours
        s on the cooker. None where it goes by weight.
    per_mass
        s on the cooker per g, for a cut that goes by weight.
    usual_mass
        g of one that was not weighed, for a cut that goes by weight.
    off
        °C inside when it comes off; never below the published end point of its meat.
    wrap
        s after going on when it is wrapped. None where it is not, or goes by `wrap_share`.
    wrap_share
        Share of the time on when it is wrapped.
    rest
        s it rests or is held.
    bone
        Whether it is usually on the bone.
    served
        "pulled", "sliced" or "whole".
    word
        What one piece is called: "rack".
    groups
        What it is found under besides its animal: "ribs".
    """

    key: str
    name: str
    animal: Animal | None
    form: Form
    shape: str
    thickness: Range
    pit: Range
    hours: Range | None
    per_mass: Range | None
    usual_mass: float | None
    off: Range
    wrap: Range | None
    wrap_share: Range | None
    rest: Range
    bone: bool
    served: str
    word: str
    groups: tuple[str, ...]

    @property
    def is_poultry(self) -> bool:
        """Whether it is of a bird."""
        return self.animal in POULTRY

    @property
    def is_variety(self) -> bool:
        """Whether it is tongue, liver, heart or their like."""
        return "variety meat" in self.groups

    def time_on(self, mass: float | None = None) -> Range:
        """Return how long it is on, s; a mass in g counts where it goes by weight."""
        if self.hours is not None:
            return self.hours
        assert self.per_mass is not None
        grams = mass or self.usual_mass or 0.0
        return Range(self.per_mass.low * grams, self.per_mass.high * grams)

    def time_to_wrap(self, time_on: float) -> Range | None:
        """Return when it is wrapped after going on, s; None where it usually is not."""
        if self.wrap is not None or self.wrap_share is None:
            return self.wrap
        return Range(self.wrap_share.low * time_on, self.wrap_share.high * time_on)


@dataclass(frozen=True)
class Meat:
    """What a text says that a piece is.

    Attributes
    ----------
    text
        As written.
    cut
        The cut it means; None where it means none or several.
    cuts
        All it may mean: for "ribs" every cut of ribs.
    animals
        All it may be of; empty where that is not said.
    form
        The form that asks most of those it may have.
    known
        Whether it is enough to judge it by a rule.
    unknown
        Its words that nobody knows.
    """

    text: str
    cut: Cut | None
    cuts: tuple[Cut, ...]
    animals: frozenset[Animal]
    form: Form
    known: bool
    unknown: tuple[str, ...] = ()

    @property
    def is_poultry(self) -> bool:
        """Whether it may be of a bird."""
        return bool(self.animals & POULTRY)

    @property
    def is_variety(self) -> bool:
        """Whether it may be tongue, liver, heart or their like."""
        return any(cut.is_variety for cut in self.cuts)

    @cached_property
    def judged_as(self) -> JudgedAs:
        """The rule that asks most of those that could apply."""
        could = (
            (not self.known or Animal.OTHER in self.animals, JudgedAs.UNKNOWN),
            (self.form is Form.GROUND and not self.animals, JudgedAs.GROUND_UNSAID),
            (self.is_variety and not self.animals, JudgedAs.VARIETY_UNSAID),
            (self.is_poultry, JudgedAs.POULTRY),
            (bool(self.animals & GAME), JudgedAs.GAME),
            (self.form is Form.STUFFED, JudgedAs.STUFFED),
            (self.form is Form.GROUND, JudgedAs.GROUND),
            (self.is_variety, JudgedAs.VARIETY),
            (Animal.RATITE in self.animals, JudgedAs.RATITE),
            (self.form is Form.NON_INTACT, JudgedAs.NON_INTACT),
            (bool(self.animals) and self.animals <= SEAFOOD, JudgedAs.SEAFOOD),
        )
        return next((judged for holds, judged in could if holds), JudgedAs.WHOLE)

    @property
    def question(self) -> str:
        """What a cook is asked so that it is known; empty where nothing is."""
        if Animal.OTHER in self.animals:
            return "No rule here is for this animal."
        part = bool(self.cuts) and not self.unknown
        if self.judged_as is JudgedAs.UNKNOWN and self.animals and not (self.unknown or self.cuts):
            return "Which cut of it is it, or is it ground?"
        if self.judged_as is JudgedAs.UNKNOWN and not part:
            return "What meat is it?"
        return "Of what animal is it?" if self.judged_as in ASKED_ABOUT else ""


def over(ranges: Sequence[Range]) -> Range:
    """Return what holds all of some ranges."""
    return Range(min(one.low for one in ranges), max(one.high for one in ranges))


@dataclass(frozen=True)
class UsualCut:
    """What is usual for a cut, or over the cuts that a text may mean: s, °C, and its word."""

    time_on: Range
    off: Range
    rest: Range
    word: str
    cuts: tuple[Cut, ...]

    def time_to_wrap(self, time_on: float) -> Range | None:
        """Return when it is wrapped after going on, s; None where one of them usually is not."""
        found = [cut.time_to_wrap(time_on) for cut in self.cuts]
        known = [wrap for wrap in found if wrap is not None]
        return over(known) if len(known) == len(found) else None
