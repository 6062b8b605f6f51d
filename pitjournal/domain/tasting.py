"""Blind tasting: a session, its coded samples, and the scores."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import ClassVar

from pitjournal.domain.record import Record


class TastingState(StrEnum):
    """A session is scored, then locked, then revealed."""

    OPEN = "open"
    LOCKED = "locked"
    REVEALED = "revealed"


HOME_PANEL = ("tenderness", "juiciness", "flavour", "appearance")
"""The criteria of a home panel, 1 to 9 each."""


@dataclass(frozen=True, kw_only=True)
class Tasting(Record):
    """A session. `orders` gives each taster's serving order as sample ids."""

    KIND: ClassVar[str] = "tasting"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook"}

    cook_id: str
    scheme: str
    criteria: tuple[str, ...]
    low: float
    high: float
    state: TastingState = TastingState.OPEN
    served_at: datetime | None = None
    seed: int = 0
    tasters: tuple[str, ...] = ()
    orders: Mapping[str, list[str]] = field(default_factory=dict)
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Sample(Record):
    """A piece under a three-digit code."""

    KIND: ClassVar[str] = "sample"
    PARENTS: ClassVar[Mapping[str, str]] = {
        "cook_id": "cook",
        "tasting_id": "tasting",
        "piece_id": "piece",
    }

    cook_id: str
    tasting_id: str
    piece_id: str
    code: str


@dataclass(frozen=True, kw_only=True)
class Score(Record):
    """What one taster gave one sample on one criterion. `taster` is a name on the Shelf."""

    KIND: ClassVar[str] = "score"
    PARENTS: ClassVar[Mapping[str, str]] = {
        "cook_id": "cook",
        "tasting_id": "tasting",
        "sample_id": "sample",
    }
    UNIQUE: ClassVar[tuple[str, ...]] = ("sample_id", "taster", "criterion")

    cook_id: str
    tasting_id: str
    sample_id: str
    taster: str
    criterion: str
    value: float
