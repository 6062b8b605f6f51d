"""The lists of a plan, and the card of its day, as they are read and printed."""

from pitjournal.analysis.plan.carving import carving
from pitjournal.analysis.plan.lists import Listed, Recipes, mixes, packing, shopping
from pitjournal.analysis.plan.past import Past
from pitjournal.domain.day.schedule import NIGHT_BEFORE
from pitjournal.domain.shelf import ShelfKind, plain_name
from pitjournal.domain.times.moments import show_day
from pitjournal.domain.used_recipe import details_of, lines_used
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.plan_card import CardSlot, CardStep, PlanCard
from pitjournal.journal import Journal
from pitjournal.journal.queries.plan_notes import notes_of_plan
from pitjournal.ui.plan.drawing import shelves_of
from pitjournal.ui.plan.schedule_model import planned_steps, step_lines
from pitjournal.units import UnitSystem

BUY, PREPARE, PACK, CARVE = "buy", "prepare", "pack", "carve"


def lists_of(
    journal: Journal, whole: WholeCook, past: Past | None, system: UnitSystem
) -> dict[str, Listed]:
    """Return the lists of a plan by name."""
    shelf, densities = details_of(journal.shelf.items(ShelfKind.RECIPE)), journal.shelf.densities()
    recipes = {
        plain_name(treatment.recipe): lines_used(treatment, shelf, densities)
        for treatment in whole.treatments
    }
    return {
        BUY: shopping(whole, system, recipes, past),
        PREPARE: night_before(whole, system, recipes),
        PACK: packing(whole),
        CARVE: carving(whole, system),
    }


def night_before(whole: WholeCook, system: UnitSystem, recipes: Recipes) -> Listed:
    """Return what is done before the day of the cook, with its times, and what is mixed."""
    kinds = {step.id: step.kind for step in planned_steps(whole)}
    day = ""
    lines = []
    for line in step_lines(whole, system):
        day = line.day or day
        if kinds[line.step_id] in NIGHT_BEFORE:
            who = f" ({line.who})" if line.who else ""
            lines.append(f"{day} {line.clock}  {line.text}{who}")
    lines += [f"Mix {mix}" for mix in mixes(whole, system, recipes)]
    return Listed("The night before, or earlier", tuple(lines))


def card_of(journal: Journal, whole: WholeCook, past: Past | None, system: UnitSystem) -> PlanCard:
    """Return a cook's day as it is printed."""
    cook = whole.cook
    under = [f"Cook {cook.number}", show_day(cook.starts_at, cook.zone)]
    under += [whole.cooker.name] if whole.cooker else []
    steps = [
        CardStep(
            line.day,
            line.clock,
            line.text,
            line.who,
            tuple(look for look in line.looks if look is not None),
            line.strong,
        )
        for line in step_lines(whole, system)
    ]
    arms = [(whole.arm_index(a.id) or 0, a.name, _how(whole, a.id)) for a in whole.ordered_arms]
    shelves = [
        (shelf.name, [CardSlot(p.label, p.block, p.arm) for p in shelf.pieces])
        for shelf in shelves_of(whole)
    ]
    lists = lists_of(journal, whole, past, system)
    return PlanCard(
        cook.title,
        " · ".join(under),
        cook.question,
        arms,
        steps,
        shelves,
        [
            (lists[name].heading, lists[name].lines)
            for name in (BUY, PACK, *((CARVE,) if whole.turn_ins else ()))
        ],
        notes_of_plan(whole),
    )


def _how(whole: WholeCook, arm_id: str) -> str:
    kinds = [str(t.kind) for t in whole.treatments if t.arm_id == arm_id]
    arm = next(arm for arm in whole.arms if arm.id == arm_id)
    told = [kind for kind in kinds if kind != arm.name.casefold()]
    return " and ".join([*told, *([f"in {arm.wrap}"] if arm.wrap not in {"", "none"} else [])])
