"""What an invented cook sets out to do, and the effects hidden in the ways of doing it."""

from dataclasses import dataclass

from pitjournal.domain.cook import CookKind
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.journal.demonstration.cuts import (
    HOUR,
    MINUTE,
    RIBS,
    CutCharacter,
)
from pitjournal.journal.demonstration.simulation import DRUM, GRAVITY, OFFSET, PitCharacter

COVER = {"none": 1.0, "foil": 0.07, "paper": 0.1, "boat": 0.3}
"""Share of the evaporation that a wrap lets pass, set by eye."""


@dataclass(frozen=True)
class CookerPlan:
    """A cooker of the scenario: its fuel by the hour when lump is burnt, g/h."""

    name: str
    sort: str
    character: PitCharacter
    burns: float
    preheat: float


GRAVITY_BOX = CookerPlan("the gravity box", "gravity-fed charcoal", GRAVITY, 640.0, 35 * MINUTE)
OLD_DRUM = CookerPlan("the old drum", "drum", DRUM, 560.0, 50 * MINUTE)
LONG_OFFSET = CookerPlan("the long offset", "offset", OFFSET, 2050.0, 60 * MINUTE)
COOKERS = (GRAVITY_BOX, OLD_DRUM, LONG_OFFSET)

BURNS = {"lump": 1.0, "compressed log": 0.85, "oak splits": 1.0}
"""Fuel by the hour against lump."""


@dataclass(frozen=True, kw_only=True)
class ArmPlan:
    """A way of doing it, with what it is hidden to do.

    `tender` and `juicy` are points on the panel's scale, `leeway` s.
    """

    name: str
    treatments: tuple[TreatmentKind, ...] = ()
    wrap: str = ""
    tender: float = 0.0
    juicy: float = 0.0
    leeway: float = 0.0


ALONE = ArmPlan(name="Left alone", treatments=(TreatmentKind.NONE,))
INJECTED = ArmPlan(
    name="Injected", treatments=(TreatmentKind.INJECTED,), tender=0.9, leeway=25 * MINUTE
)
NEEDLED = ArmPlan(name="Needled", treatments=(TreatmentKind.NEEDLED,))
BOTH = ArmPlan(name="Both", treatments=(*INJECTED.treatments, *NEEDLED.treatments))
DRY_BRINED = ArmPlan(name="Dry-brined", treatments=(TreatmentKind.DRY_BRINED,), juicy=1.0)
PAPER = ArmPlan(name="Paper", wrap="paper")
FOIL = ArmPlan(name="Foil", wrap="foil")


@dataclass(frozen=True, kw_only=True)
class CookPlan:
    """One cook.

    `days_ago` counts back from the day of "now". With no `arms` nothing is compared, and
    `blocks` is the number of pieces; else it is that of each arm. `series` leaves one piece an
    arm on past right. `logger` is empty for a cook without a probe file. `ahead` is s between
    a treatment and going on. `judged` pieces are scored by the judges of a contest too. `spray_every` is s, and 0 for
    never.
    """

    days_ago: int
    title: str
    cut: CutCharacter = RIBS
    cooker: CookerPlan = GRAVITY_BOX
    fuel: str = "lump"
    wood: str = "hickory"
    set_point: float = 250.0
    lit: str = "07:10"
    kind: CookKind = CookKind.PRACTICE
    question: str = ""
    outcome: str | None = None
    arms: tuple[ArmPlan, ...] = ()
    blocks: int = 2
    wrap: str = "foil"
    series: bool = False
    logger: str = "wide"
    second_logger: bool = False
    panel: bool = True
    judged: bool = False
    grade: str = ""
    spray_every: float = 45 * MINUTE
    photos: bool = False
    ahead: float = 10 * HOUR
    note: str = ""
