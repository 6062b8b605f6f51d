"""Which cook would tell most next, what it could show, and its plan."""

import math
from dataclasses import dataclass, replace
from datetime import datetime

from pitjournal.analysis.findings.comparison import Difference
from pitjournal.analysis.findings.found import Findings
from pitjournal.analysis.findings.trade_words import counted, pieces_of
from pitjournal.analysis.findings.wording import step
from pitjournal.analysis.plan.layout import (
    BLOCK_WORDS,
    Blocks,
    Draft,
    PlannedArm,
    blocks_of,
    cook_of,
)
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.record import Record, new_id
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem

MOST_PACKS = 6
"""A cook of more is not offered: several cooks tell more than one large one."""
SERIES_PACKS = 4
CHECKS = "Probe every 15 min, at the same points."
PULLS = "Pull in series: one 30 min early, one on time, one 30 and one 60 min late."
SERIES = f"{PULLS} {CHECKS}"


@dataclass(frozen=True)
class NextPlan:
    """What a cook to do next is made of: ways with their treatments, packs, and a stop rule."""

    title: str
    ways: tuple[tuple[str, tuple[Treatment, ...]], ...]
    blocks: int
    stop_rule: str


@dataclass(frozen=True)
class Suggestion:
    """A cook to do next: what, why or what it could show, and its plan where there is one."""

    heading: str
    words: str
    plan: NextPlan | None = None


def suggestions(found: Findings, whole: WholeCook, system: UnitSystem) -> tuple[Suggestion, ...]:
    """Return what would tell most, the first one first; nothing where nothing was compared."""
    if len(whole.arms) < 2 or found.outcome is None:
        return ()
    made = [_two_by_two(found, whole, system)]
    settled = {joined.look for joined in found.across if joined.tells}
    open_ones = [
        d
        for d in found.declared
        if d.estimate is not None and not d.tells and d.look not in settled
    ]
    if open_ones:
        hopeful = max(open_ones, key=lambda d: abs(d.estimate or 0.0))
        made.append(_again(found, whole, hopeful, system))
    timed = [leeway for leeway in found.leeways if leeway.axis == "time" and leeway.pieces]
    if timed and not all(leeway.known for leeway in timed):
        plan = NextPlan(f"{whole.cook.title}, left on", _ways(whole), SERIES_PACKS, PULLS)
        words = f"{SERIES} Then both ends of the stay are seen, to 15 min a {found.noun}."
        made.append(Suggestion("Leave one on past right", words, plan))
    return tuple(one for one in made if one is not None)


def start(
    plan: NextPlan, whole: WholeCook, starts_at: datetime, seed: int
) -> tuple[Cook, tuple[Record, ...]]:
    """Return a planned cook like this one, but by another plan; slots drawn from the seed."""
    old = whole.cook
    wraps = {arm.name: arm.wrap for arm in whole.arms}
    within = blocks_of(whole.pieces)
    fits = within is not Blocks.HALVES or len(plan.ways) == 2
    cook, parts = cook_of(
        Draft(
            title=plan.title,
            cut=whole.pieces[0].cut if whole.pieces else "not said",
            arms=tuple(PlannedArm(name, wrap=wraps.get(name, "")) for name, _ in plan.ways),
            blocks=plan.blocks,
            within=within if fits else Blocks.PACKS,
            seed=seed,
            starts_at=starts_at,
            zone=old.zone,
            question=old.question,
            outcome=old.outcome,
            stop_rule=plan.stop_rule or old.stop_rule,
            cooker_id=old.cooker_id,
            set_point=old.set_point,
            kind=old.kind,
        )
    )
    arms = [part for part in parts if isinstance(part, Arm)]
    treatments = [
        replace(treatment, id=new_id(), cook_id=cook.id, arm_id=arm.id, piece_id=None)
        for arm, (_, treated) in zip(arms, plan.ways, strict=True)
        for treatment in treated
    ]
    return cook, (*parts, *treatments)


def _ways(whole: WholeCook) -> tuple[tuple[str, tuple[Treatment, ...]], ...]:
    return tuple((arm.name, _treated(whole, arm)) for arm in whole.ordered_arms)


def _treated(whole: WholeCook, arm: Arm) -> tuple[Treatment, ...]:
    return tuple(t for t in whole.treatments if t.arm_id == arm.id)


def _two_by_two(found: Findings, whole: WholeCook, system: UnitSystem) -> Suggestion | None:
    """Return each of two ways alone and both together, where a cook had them side by side."""
    control = whole.control
    others = [arm for arm in whole.ordered_arms if not arm.control]
    if control is None or len(others) != 2:
        return None
    treated = [
        [t for t in _treated(whole, arm) if t.kind is not TreatmentKind.NONE] for arm in others
    ]
    if any(len(own) != 1 for own in treated) or treated[0][0].kind is treated[1][0].kind:
        return None
    one, two = (arm.name for arm in others)
    blocks = max(2, min(len(whole.pieces_of(control)), MOST_PACKS))
    could = _main_effect(found, blocks, system)
    words = (
        f"Neither, each alone, and both, in {counted(blocks)} packs of four: it shows whether the "
        f"two add up, and counts each way twice.{could}"
    )
    both = f"{one} and {two.casefold()}"
    ways = (*_ways(whole), (both, (*treated[0], *treated[1])))
    plan = NextPlan(f"{one}, {two.casefold()}, or both", ways, blocks, "")
    return Suggestion(f"{one} × {two.casefold()}, two by two", words, plan)


def _main_effect(found: Findings, blocks: int, system: UnitSystem) -> str:
    """Say what such a cook could show of each way: 2 × blocks pieces with it, as many without."""
    spread = next((s for d in found.declared if (s := _piece_spread(d)) is not None), None)
    if spread is None or found.outcome is None:
        return ""
    from pitjournal.science.power import noncentrality_shown  # noqa: PLC0415 - scipy, when needed

    shown = noncentrality_shown(float(3 * (blocks - 1)))
    if shown is None:
        return ""
    size = step(shown * spread / math.sqrt(blocks), found.outcome, system, signed=False)
    return f" Could show {size}."


def _piece_spread(difference: Difference) -> float | None:
    """Return the standard deviation of pieces within blocks, from the error of a difference."""
    control, other = difference.control_pieces, difference.pieces - difference.control_pieces
    if not difference.se or not control or not other:
        return None
    return difference.se / math.sqrt(1 / control + 1 / other)


def _again(
    found: Findings, whole: WholeCook, difference: Difference, system: UnitSystem
) -> Suggestion | None:
    assert found.outcome is not None
    packs = f"{BLOCK_WORDS[blocks_of(whole.pieces)]}s"
    if difference.low is None or difference.high is None or not difference.estimate:
        words = f"Two {packs} or more: only then can an interval be given."
        plan = NextPlan(whole.cook.title, _ways(whole), 2, "")
        return Suggestion(f"The same again, with more {packs}", words, plan)
    one = _piece_spread(difference)
    if one is None:
        return None
    from pitjournal.science.power import paired_effect, pairs_needed  # noqa: PLC0415 - scipy

    spread = one * 2**0.5  # of a pair; by the pieces that were used, also where arms are unequal
    needed = pairs_needed(abs(difference.estimate) / spread)
    size = step(abs(difference.estimate), found.outcome, system, signed=False)
    if needed is None or needed > 200:
        return Suggestion(
            "Rather another question",
            f"If {pieces_of(difference.arm, found.noun)} differ by {size}, it would take more than "
            f"200 {packs} to show.",
        )
    blocks = max(2, min(needed, MOST_PACKS))
    shown = paired_effect(blocks)
    could = ""
    if shown is not None:
        least = step(shown * spread, found.outcome, system, signed=False)
        could = f" {counted(blocks).capitalize()} more {packs} could show {least} by themselves."
    return Suggestion(
        f"The same again, with {counted(blocks)} more {packs}",
        f"If {pieces_of(difference.arm, found.noun)} really differ by {size}, about {needed} {packs} "
        f"show it four times in five.{could}",
        NextPlan(whole.cook.title, _ways(whole), blocks, ""),
    )
