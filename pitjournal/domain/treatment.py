"""What is done to the meat before the fire, and what goes into the fire."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Any, ClassVar

from pitjournal.domain.record import Measured


class TreatmentKind(StrEnum):
    """Ways of treating meat; the value is what a cook calls it."""

    NONE = "left alone"
    INJECTED = "injected"
    BRINED = "brined"
    DRY_BRINED = "dry-brined"
    NEEDLED = "needled"
    BLADED = "blade-tenderised"
    MARINATED = "marinated"
    OTHER = "other"


NON_INTACT = frozenset({TreatmentKind.INJECTED, TreatmentKind.NEEDLED, TreatmentKind.BLADED})
"""Treatments that carry the surface into the meat (FDA Food Code 1-201.10(B), 3-401.11(A)(2))."""


@dataclass(frozen=True, kw_only=True)
class Treatment(Measured):
    """A treatment of an arm, or of one piece.

    `salt` and `phosphate` are fractions of the liquid (of the meat, for a dry brine);
    `liquid` g in all, `target_pickup` fraction of green weight, `time` s before going on.
    `cure` is curing salt, g in the liquid in all (on the meat, for a dry brine), and
    `cure_strength` the fraction of it that is nitrite, by its label. `made_of` is the recipe as
    it was when the cook began (`used_recipe`); empty, it is as the Shelf has it.
    """

    KIND: ClassVar[str] = "treatment"
    PARENTS: ClassVar[Mapping[str, str]] = {
        "cook_id": "cook",
        "arm_id": "arm",
        "piece_id": "piece",
    }

    cook_id: str
    kind: TreatmentKind
    arm_id: str | None = None
    piece_id: str | None = None
    recipe: str = ""
    liquid: float | None = None
    salt: float | None = None
    phosphate: float | None = None
    target_pickup: float | None = None
    time: float | None = None
    passes: int | None = None
    sides: int | None = None
    tool: str = ""
    note: str = ""
    cure: float | None = None
    cure_strength: float | None = None
    made_of: Mapping[str, Any] = field(default_factory=dict)


SIDES = ("both sides", "back first", "front")
"""Which side of a piece a layer of rub goes on; the back is that of the bones, or of the fat."""


@dataclass(frozen=True, kw_only=True)
class Seasoning(Measured):
    """A layer of rub: `mass` g a piece, `set_time` s left to set. No arm means every arm.

    `side` is one of `SIDES`, or empty where it was not said.
    """

    KIND: ClassVar[str] = "seasoning"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook", "arm_id": "arm"}

    cook_id: str
    position: int
    rub: str
    arm_id: str | None = None
    mass: float | None = None
    set_time: float | None = None
    note: str = ""
    side: str = ""


class FuelStage(StrEnum):
    """What a weighed load of fuel was."""

    IN = "in"
    ADDED = "added"
    LEFT = "left"
    ASH = "ash"


@dataclass(frozen=True, kw_only=True)
class FuelLoad(Measured):
    """A weighed load of fuel, g. Used = in + added − reusable left."""

    KIND: ClassVar[str] = "fuel_load"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook"}

    cook_id: str
    stage: FuelStage
    fuel: str
    mass: float
    at: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class WoodAddition(Measured):
    """Wood for smoke: its kind, form (chunk, chip, split), mass g, and where it sat."""

    KIND: ClassVar[str] = "wood_addition"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook"}

    cook_id: str
    wood: str
    form: str = ""
    mass: float | None = None
    where: str = ""
    at: datetime | None = None
