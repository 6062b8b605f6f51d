"""The records of one invented cook: what is known before the fire is lit."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from pitjournal.domain.cook import Arm, Cook, CookKind
from pitjournal.domain.cuts import means, meat_of, same_cut
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.domain.treatment import Seasoning, Treatment, TreatmentKind
from pitjournal.journal.demonstration.cuts import MINUTE
from pitjournal.journal.demonstration.day import Lot
from pitjournal.journal.demonstration.plans import CookPlan
from pitjournal.units import Dimension, UnitSystem, from_display
from pitjournal.units.scales import OUNCE

ZONE = ZoneInfo("America/Chicago")
INJECTION = "house injection"
BRINE = "dry brine, 0.8 % salt"
RED_RUB, BASE_RUB, BIRD_RUB = "house red rub", "salt and pepper base", "bird rub"


@dataclass(frozen=True, eq=False)
class Setup:
    """A cook with what it starts from: its plan, its lot, when it was lit, its records."""

    plan: CookPlan
    pieces_lot: Lot
    lit: datetime
    cook: Cook
    arms: tuple[Arm, ...]
    pieces: tuple[Piece, ...]
    bought: tuple[tuple[float, str], ...]

    def at(self, seconds: float) -> datetime:
        """Return the moment so many s after lighting."""
        return self.lit + timedelta(seconds=seconds)

    def pick(self, places: tuple[int, ...]) -> tuple[str, ...]:
        """Return the ids of pieces by their place."""
        return tuple(self.pieces[place].id for place in places)


def set_up(
    plan: CookPlan, pieces_lot: Lot, lit: datetime, cooker_id: str, lot: np.random.Generator
) -> Setup:
    """Return the cook, its arms and its pieces."""
    cook = _cook(plan, lit, cooker_id, lot)
    arms = tuple(
        Arm(cook_id=cook.id, position=place, name=way.name, control=place == 0)
        for place, way in enumerate(plan.arms)
    )
    bought = tuple(_ounces(plan, lot) for _ in pieces_lot.arm)
    pieces = tuple(
        _piece(plan, pieces_lot, place, cook, arms) for place in range(pieces_lot.arm.size)
    )
    return Setup(plan, pieces_lot, lit, cook, arms, pieces, bought)


LAST_DAY = 325
"""The day of the year on which the scenario ends, whatever the calendar says: 21 November."""


def outside(plan: CookPlan, lot: np.random.Generator) -> float:
    """Return the day's temperature, °C: warm in July, cold in January, and a lot.

    The seasons are those of the scenario, so that what it hides does not change with the day
    on which it is made.
    """
    day = (LAST_DAY - plan.days_ago) % 365
    return round(13.0 - 12.0 * float(np.cos(2 * np.pi * (day - 20) / 365)) + lot.normal(0, 2.5), 1)


def _cook(plan: CookPlan, lit: datetime, cooker_id: str, lot: np.random.Generator) -> Cook:
    ambient = outside(plan, lot)
    watched = bool(lot.random() < 0.7)
    stop = "Each comes off at the first check that feels 4."
    if plan.series:
        stop += " One of each arm stays on until it feels 6."
    return Cook(
        number=0,
        title=plan.title,
        starts_at=lit,
        zone=ZONE.key,
        kind=plan.kind,
        question=plan.question,
        outcome=plan.outcome,
        stop_rule=stop if plan.arms else "",
        held="cut, rub, cooker, set point, fuel and wood" if plan.arms else "",
        place="contest field" if plan.kind is CookKind.CONTEST else "back yard",
        cooker_id=cooker_id,
        set_point=from_display(plan.set_point, Dimension.TEMPERATURE, UnitSystem.US),
        vents="lower half, upper whole" if plan.cooker.sort == "drum" else "",
        water_pan=plan.cooker.sort == "offset" or None,
        altitude=214.0,
        ambient=ambient,
        wind=round(float(lot.gamma(2.0, 1.4)), 1) if watched else None,
        humidity=round(float(lot.uniform(0.35, 0.85)), 2) if watched else None,
        weather=str(lot.choice(["clear", "cloudy", "drizzle"])) if watched else "",
        cost=round(12.0 + plan.cut.price * plan.cut.mass * plan.blocks, 2),
        note=f"{plan.note} Invented for the demonstration.".strip(),
        typed={"set_point": f"{plan.set_point:.0f} F", "altitude": "214 m"},
    )


def _ounces(plan: CookPlan, lot: np.random.Generator) -> tuple[float, str]:
    """Return a weight as bought, g, and as a label says it."""
    ounces = round((plan.cut.mass + plan.cut.mass_spread * float(lot.normal())) / OUNCE)
    pounds, left = divmod(ounces, 16)
    return ounces * OUNCE, f"{pounds} lb {left} oz" if pounds else f"{left} oz"


def _piece(plan: CookPlan, pieces_lot: Lot, place: int, cook: Cook, arms: tuple[Arm, ...]) -> Piece:
    block = place // max(len(arms), 1)
    arm = arms[int(pieces_lot.arm[place])] if arms else None
    flat = same_cut(plan.cut.cut, "brisket flat")
    measured = bool(arms)
    millimetres = [
        round(1000 * float(pieces_lot.thickness[place]) + more, 1) for more in (-1.0, 0.0, 1.0)
    ]
    points = [mm / 1000 if measured else None for mm in millimetres]
    return Piece(
        cook_id=cook.id,
        position=place,
        label=f"{arm.name[0]}{block + 1}" if arm else str(place + 1),
        cut=plan.cut.cut,
        arm_id=arm.id if arm else None,
        pack="" if flat or not arms else f"pack {block + 1}",
        pair="the flat" if flat else "",
        end=("front", "back")[place] if flat else "",
        grade=plan.grade or ("choice" if "brisket" in plan.cut.cut else ""),
        frozen=False if measured else None,
        declared_solution=0.0 if measured else None,
        price=plan.cut.price,
        thickness_1=points[0],
        thickness_2=points[1],
        thickness_3=points[2],
        slot=("top", "middle", "bottom")[int(pieces_lot.slot[place])] if measured else "",
        typed={f"thickness_{n}": f"{mm:g} mm" for n, mm in enumerate(millimetres, start=1)}
        if measured
        else {},
    )


def preparations(setup: Setup) -> Iterator[Record]:
    """Yield the treatments of each arm, and the layers of rub."""
    for arm, way in zip(setup.arms, setup.plan.arms, strict=True):
        for kind in way.treatments:
            yield _treatment(setup, arm, kind)
    cook_id = setup.cook.id
    if meat_of(setup.plan.cut.cut).is_poultry:
        yield Seasoning(cook_id=cook_id, position=0, rub=BIRD_RUB, mass=4, set_time=20 * MINUTE)
        return
    heavy = setup.plan.cut.mass > 2000
    yield Seasoning(
        cook_id=cook_id,
        position=0,
        rub=BASE_RUB,
        mass=30 if heavy else 12,
        set_time=20 * MINUTE,
        typed={"mass": "30 g" if heavy else "12 g", "set_time": "20 min"},
    )
    if means(setup.plan.cut.cut, "ribs") or heavy:
        yield Seasoning(
            cook_id=cook_id,
            position=1,
            rub=RED_RUB,
            mass=45 if heavy else 18,
            set_time=30 * MINUTE,
            note="back first, then front",
        )


def _treatment(setup: Setup, arm: Arm, kind: TreatmentKind) -> Treatment:
    cook_id, ahead = setup.cook.id, setup.plan.ahead
    if kind is TreatmentKind.INJECTED:
        own = setup.pieces_lot.arm == arm.position
        grams = sum(mass for (mass, _), mine in zip(setup.bought, own, strict=True) if mine)
        return Treatment(
            cook_id=cook_id,
            kind=kind,
            arm_id=arm.id,
            recipe=INJECTION,
            liquid=round(0.10 * grams, -1),
            salt=0.025,
            phosphate=0.015,
            target_pickup=0.08,
            time=ahead,
            tool="two-needle injector",
            typed={"target_pickup": "8 %", "salt": "2.5 %", "phosphate": "1.5 %"},
        )
    if kind is TreatmentKind.NEEDLED:
        return Treatment(
            cook_id=cook_id,
            kind=kind,
            arm_id=arm.id,
            time=ahead,
            passes=2,
            sides=1,
            tool="hand tool with 48 needles",
        )
    if kind is TreatmentKind.DRY_BRINED:
        return Treatment(
            cook_id=cook_id, kind=kind, arm_id=arm.id, recipe=BRINE, salt=0.008, time=ahead
        )
    return Treatment(cook_id=cook_id, kind=kind, arm_id=arm.id)
