"""The cook and its arms."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import ClassVar

from pitjournal.domain.record import Measured, Record


class CookKind(StrEnum):
    """What a cook is for."""

    PRACTICE = "practice"
    CONTEST = "contest"
    HOME = "home"
    CLASS = "class"


class CookStatus(StrEnum):
    """Where a cook is in its life."""

    PLANNED = "planned"
    RUNNING = "running"
    DONE = "done"


@dataclass(frozen=True, kw_only=True)
class Cook(Measured):
    """One cook: a day at one cooker, with or without a comparison.

    Quantities: `altitude` m, `ambient` and `set_point` °C, `wind` m/s, `humidity` fraction.
    `outcome` is the catalogue key of the one declared outcome, such as ``"score.tenderness"``.
    `worth_knowing` and `spread_guess` are in its unit: the least difference that would matter, and
    the spread as guessed. `seed` drew the places; `evened` is the key of what the draw of the arms
    was held even in, such as ``"mass_trimmed"``, or empty.
    `brought_from` names the table or bundle it was brought along from, `brought_as` tells one of
    a table from others. `hands` are the names of all who help that day; none named is one pair.
    Times are aware and UTC; `zone` is the IANA name of the cook's own zone.
    """

    KIND: ClassVar[str] = "cook"
    LOOSE: ClassVar[Mapping[str, str]] = {"cooker_id": "shelf_item"}

    number: int
    title: str
    starts_at: datetime
    zone: str
    kind: CookKind = CookKind.PRACTICE
    status: CookStatus = CookStatus.PLANNED
    question: str = ""
    outcome: str | None = None
    stop_rule: str = ""
    held: str = ""
    place: str = ""
    serve_at: datetime | None = None
    cooker_id: str | None = None
    set_point: float | None = None
    vents: str = ""
    water_pan: bool | None = None
    altitude: float | None = None
    ambient: float | None = None
    wind: float | None = None
    humidity: float | None = None
    weather: str = ""
    cost: float | None = None
    note: str = ""
    worth_knowing: float | None = None
    spread_guess: float | None = None
    seed: int | None = None
    evened: str = ""
    brought_from: str = ""
    brought_as: str = ""
    hands: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Arm(Record):
    """A treatment group of a cook. `position` 0 is drawn first; one arm is the control.

    `wrap` is what its pieces are to be wrapped in, or "none"; empty where that is not planned.
    """

    KIND: ClassVar[str] = "arm"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook"}

    cook_id: str
    position: int
    name: str
    control: bool = False
    wrap: str = ""
