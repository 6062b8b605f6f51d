"""The piece, which is the experimental unit, and its weighings."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from math import fsum
from typing import ClassVar

from pitjournal.domain.record import Measured


class Stage(StrEnum):
    """When a piece is weighed, in the order of a cook."""

    BOUGHT = "bought"
    TRIMMED = "trimmed"
    TREATED = "treated"
    ON = "on"
    WRAPPED = "wrapped"
    OFF = "off"
    RESTED = "rested"
    EDIBLE = "edible"


@dataclass(frozen=True, kw_only=True)
class Piece(Measured):
    """One piece of meat.

    `thickness_1` to `thickness_3` m at up to three points, `declared_solution` fraction of
    weight on the label, `price` money per g. `box` is its turn when a contest's box is filled, from
    1; None is not for the box. `gives` is what it gives when it is carved, as the cook says it.
    """

    KIND: ClassVar[str] = "piece"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook"}
    LOOSE: ClassVar[Mapping[str, str]] = {"arm_id": "arm"}

    cook_id: str
    position: int
    label: str
    cut: str
    arm_id: str | None = None
    animal: str = ""
    pack: str = ""
    pair: str = ""
    side: str = ""
    end: str = ""
    grade: str = ""
    supplier: str = ""
    lot: str = ""
    frozen: bool | None = None
    declared_solution: float | None = None
    price: float | None = None
    thickness_1: float | None = None
    thickness_2: float | None = None
    thickness_3: float | None = None
    slot: str = ""
    note: str = ""
    box: int | None = None
    gives: str = ""

    @property
    def thickness(self) -> float | None:
        """Mean of the thicknesses that were measured, m."""
        points = (self.thickness_1, self.thickness_2, self.thickness_3)
        known = [point for point in points if point is not None]
        return fsum(known) / len(known) if known else None

    @property
    def block(self) -> str:
        """What the piece is compared within: its pair, else its pack, else its animal."""
        return self.pair or self.pack or self.animal

    @property
    def cut_from(self) -> str:
        """What the piece is compared within, and which end of it it is: "slab 1, front"."""
        return ", ".join(part for part in (self.block, self.end) if part)


@dataclass(frozen=True, kw_only=True)
class Weighing(Measured):
    """A piece's mass, g, at a stage."""

    KIND: ClassVar[str] = "weighing"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook", "piece_id": "piece"}
    UNIQUE: ClassVar[tuple[str, ...]] = ("piece_id", "stage")

    cook_id: str
    piece_id: str
    stage: Stage
    mass: float
    at: datetime | None = None
