"""What an invented cook taps, weighs and notes on the day."""

from collections.abc import Iterator
from datetime import datetime, timedelta

import numpy as np

from pitjournal.domain.cook import CookKind
from pitjournal.domain.cuts import served_as
from pitjournal.domain.event import DonenessCheck, Event, EventKind, Note
from pitjournal.domain.piece import Stage
from pitjournal.domain.treatment import FuelLoad, FuelStage, TreatmentKind, WoodAddition
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.bench import CheckDoneness, CorrectEvent, LogEvent, Weigh
from pitjournal.journal.commands.records import Add
from pitjournal.journal.demonstration.cuts import HOUR, MINUTE
from pitjournal.journal.demonstration.day import Day, Happening
from pitjournal.journal.demonstration.plans import BURNS
from pitjournal.journal.demonstration.records import Setup

_LATE_TAP = 20 * MINUTE
_PICKUP = {TreatmentKind.INJECTED: 0.086, TreatmentKind.DRY_BRINED: -0.006}
_BRIEF = frozenset({Stage.BOUGHT, Stage.ON, Stage.OFF, Stage.EDIBLE})

Timed = tuple[float, Command]
"""A command and when it is given, s after lighting."""


def taps(setup: Setup, day: Day, *, corrected: bool) -> Iterator[Timed]:
    """Yield the events in time order; the first spray is tapped late and mended if `corrected`."""
    happenings = sorted((*day.happenings, *_around(setup, day)), key=lambda h: h.at)
    mended = False
    for happening in happenings:
        late = corrected and not mended and happening.kind == EventKind.SPRITZ
        event = _event(setup, happening, _LATE_TAP if late else 0.0)
        yield happening.at, LogEvent(event, label=f"Log {event.kind}")
        if late:
            mended = True
            yield happening.at, CorrectEvent(event.id, setup.at(happening.at), 300.0)


def _event(setup: Setup, happening: Happening, late: float) -> Event:
    tapped = setup.at(happening.at + late)
    return Event(
        cook_id=setup.cook.id,
        kind=str(happening.kind),
        happened_at=tapped,
        entered_at=tapped + timedelta(seconds=3),
        planned_at=_planned(setup, happening),
        pieces=setup.pick(happening.pieces),
        details=happening.details,
    )


def _planned(setup: Setup, happening: Happening) -> datetime | None:
    after = setup.plan.cut.wrap_after
    if happening.kind == EventKind.ON:
        return setup.at(setup.plan.cooker.preheat)
    if happening.kind == EventKind.WRAP and after is not None:
        return setup.at(setup.plan.cooker.preheat + after)
    return None


def carved(setup: Setup) -> EventKind:
    """Return how the meat is taken apart: pulled where its cut is, else sliced for the panel."""
    return EventKind.PULLED if served_as(setup.plan.cut.cut) == "pulled" else EventKind.SLICED


def _around(setup: Setup, day: Day) -> Iterator[Happening]:
    """Yield the feeding of a wood fire, and what follows once all is off: hold, slice, box."""
    cut = setup.plan.cut
    if setup.plan.cooker.sort == "offset":
        for at in np.arange(45 * MINUTE, day.over, 45 * MINUTE):
            yield Happening(float(at), "split added")  # a kind of this cook's own
    if cut.rest >= HOUR:
        yield Happening(day.over + 5 * MINUTE, EventKind.HELD, (), {"where": "warm box"})
    yield Happening(day.over + cut.rest, carved(setup))
    if setup.plan.kind is CookKind.CONTEST:
        yield Happening(day.over + cut.rest + 9 * MINUTE, EventKind.BOXED)


def probings(setup: Setup, day: Day) -> Iterator[Timed]:
    """Yield the doneness checks."""
    for probing in day.probings:
        check = DonenessCheck(
            cook_id=setup.cook.id,
            piece_id=setup.pieces[probing.piece].id,
            at=setup.at(probing.at),
            internal=probing.internal,
            feel=probing.feel,
            point="middle",
            typed={"internal": f"{probing.internal:g} C"},
        )
        yield probing.at, CheckDoneness(check)


def weighings(setup: Setup, day: Day, lot: np.random.Generator) -> Iterator[Timed]:
    """Yield each piece's weights: all of them in a comparison, some of them otherwise."""
    full = bool(setup.arms)
    for place, piece in enumerate(setup.pieces):
        grams, label = setup.bought[place]
        for stage, (at, mass) in _masses(setup, day, place, grams, lot).items():
            if np.isnan(at) or (not full and stage not in _BRIEF):
                continue
            bought = stage is Stage.BOUGHT
            typed = {"mass": label} if bought else {"mass": f"{mass:.0f} g"}
            weigh = Weigh(setup.cook.id, piece.id, stage, mass, setup.at(at), typed)
            yield at, weigh


def _masses(
    setup: Setup, day: Day, place: int, bought: float, lot: np.random.Generator
) -> dict[Stage, tuple[float, float]]:
    """Return time and mass by stage; the scale shows 5 g, or 1 g for what is small."""
    plan, cut = setup.plan, setup.plan.cut
    step = 5.0 if bought > 500 else 1.0
    before = -plan.ahead
    trimmed = bought * (1 - cut.trim * float(lot.uniform(0.8, 1.2)))
    kinds = plan.arms[int(setup.pieces_lot.arm[place])].treatments if plan.arms else ()
    gain = sum(_PICKUP.get(kind, 0.0) for kind in kinds) * float(lot.normal(1.0, 0.08))
    treated = trimmed * (1 + gain)
    on = treated * (1.008 if gain >= 0 else 1.004)
    wrapped, off = (float(times[place]) for times in (day.wrapped, day.off))
    after = on * (1 - day.loss(place, off))
    rested = after * (1 - float(lot.uniform(0.008, 0.02)))
    found = {
        Stage.BOUGHT: (before - HOUR, bought),
        Stage.TRIMMED: (before - 0.5 * HOUR, trimmed),
        Stage.TREATED: (before, treated),
        Stage.ON: (day.on - 10 * MINUTE, on),
        Stage.WRAPPED: (wrapped, 0.0 if np.isnan(wrapped) else on * (1 - day.loss(place, wrapped))),
        Stage.OFF: (off + MINUTE, after),
        Stage.RESTED: (off + cut.rest, rested),
        Stage.EDIBLE: (day.over + cut.rest + 5 * MINUTE, rested * (1 - cut.waste)),
    }
    return {
        stage: (at, mass if stage is Stage.BOUGHT else step * round(mass / step))
        for stage, (at, mass) in found.items()
    }


def fire(setup: Setup, day: Day, lot: np.random.Generator) -> Iterator[Timed]:
    """Yield the fuel in, added and left, and the wood."""
    plan, cook_id = setup.plan, setup.cook.id
    hours = day.over / HOUR
    colder = 1.0 + 0.003 * (13.0 - (setup.cook.ambient or 13.0))
    rate = plan.cooker.burns * BURNS[plan.fuel] * colder * float(lot.normal(1.0, 0.045))
    used = 10.0 * round(rate * hours / 10.0)
    first = 50.0 * round(0.8 * used / 50.0)
    more = 50.0 * round(0.35 * used / 50.0)
    loads = [
        (-5 * MINUTE, FuelStage.IN, first),
        (0.55 * day.over, FuelStage.ADDED, more),
        (day.over + 3 * HOUR, FuelStage.LEFT, first + more - used),
    ]
    for at, stage, mass in loads:
        load = FuelLoad(
            cook_id=cook_id, stage=stage, fuel=plan.fuel, mass=mass, at=setup.at(max(at, 0.0))
        )
        yield at, Add((load,), "Weigh fuel")
    if plan.cooker.sort == "offset":
        wood = WoodAddition(cook_id=cook_id, wood=plan.wood, form="splits", at=setup.at(0.0))
        yield 0.0, Add((wood,), "Add wood")
        return
    for at in (day.on - 10 * MINUTE, day.on + 40 * MINUTE):
        wood = WoodAddition(
            cook_id=cook_id,
            wood=plan.wood,
            form="chunk",
            mass=5.0 * round(float(lot.uniform(60, 110)) / 5),
            where="on the coals",
            at=setup.at(at),
        )
        yield at, Add((wood,), "Add wood")


_REMARKS = (
    "Wind turned at noon; gave the intake a quarter more.",
    "Colour took longer than last time.",
    "Lid gasket leaks at the hinge.",
    "Sprayed less than planned: the bark was soft.",
    "Fire sat well all day.",
    "Ran out of apple juice, used water.",
)


def remarks(setup: Setup, day: Day, lot: np.random.Generator) -> Iterator[Timed]:
    """Yield a note or none."""
    if lot.random() < 0.6:
        at = day.on + float(lot.uniform(0.5, 2.0)) * HOUR
        text = str(lot.choice(_REMARKS))
        yield at, Add((Note(cook_id=setup.cook.id, text=text, at=setup.at(at)),), "Add a note")
