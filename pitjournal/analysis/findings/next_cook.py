"""Which cook would tell most next, what it could show, and its plan."""

import math
from dataclasses import dataclass, replace
from datetime import datetime

from pitjournal.analysis.findings.comparison import Difference
from pitjournal.analysis.findings.confounded import HELD
from pitjournal.analysis.findings.findings import Findings
from pitjournal.analysis.findings.worked import WITHIN
from pitjournal.analysis.plan.layout import (
    BLOCK_WORDS,
    Blocks,
    Draft,
    PlannedArm,
    blocks_of,
    cook_of,
)
from pitjournal.analysis.trade_words import in_letters, many, pieces_of, size_of
from pitjournal.domain.catalogue import Variable
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.record import Record, new_id
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science.comparison.interim_looks import (
    APART_FROM,
    FIRST_JOINED,
    FIRST_LEVEL,
    Look,
)
from pitjournal.units import UnitSystem
from pitjournal.units.first_letter import capital

EFFECTS = 3
"""Of a two-by-two: each way, and what both do beyond their sum."""

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
    """Return what would tell most, the first one first; nothing where nothing was compared.

    Parameters
    ----------
    found
        What the cook showed.
    whole
        The cook, with all its records.
    system
        The units of the words.
    """
    if len(whole.arms) < 2 or found.outcome is None:
        return ()
    made = [_mixed(found, whole), _two_by_two(found, whole, system), _parted(found)]
    open_ones = [d for d in found.declared if d.estimate is not None and _is_open(found, d)]
    if open_ones:
        made.append(_again(found, whole, open_ones[0], system))
    timed = [leeway for leeway in found.leeways if leeway.axis == "time" and leeway.pieces]
    if timed and not all(leeway.known for leeway in timed):
        plan = NextPlan(f"{whole.cook.title}, left on", _ways(whole), SERIES_PACKS, PULLS)
        words = f"{SERIES} Then both ends of the stay are seen, to 15 min a {found.noun}."
        made.append(Suggestion("Leave one on past right", words, plan))
    return tuple(one for one in made if one is not None)


def _mixed(found: Findings, whole: WholeCook) -> Suggestion | None:
    """Return each arm in every pack, where a pack and an arm go together in this cook."""
    mine = [one for one in found.confounded if one.variable.key in HELD]
    if not mine:
        return None
    packs = many(BLOCK_WORDS[blocks_of(whole.pieces)])
    sizes = [len(whole.pieces_of(arm)) for arm in whole.arms]
    one = mine[0]
    words = (
        f"{capital(pieces_of(one.arm, found.noun))} cannot be told apart from "
        f"{one.variable.label} here. Give every one of the {packs} one {found.noun} of each arm, "
        "drawn by lot: then what a pack is like falls on all arms alike."
    )
    plan = NextPlan(whole.cook.title, _ways(whole), max(2, min(*sizes, MOST_PACKS)), "")
    return Suggestion("Each arm in every pack", words, plan)


def _is_open(found: Findings, difference: Difference) -> bool:
    """Whether an arm has no answer yet, by all cooks of its comparison where there are several."""
    joined = next((one for one in found.across if one.look == difference.look), None)
    judged = difference if joined is None else joined
    apart = joined is not None and joined.contradicts
    return not judged.tells and not judged.too_small and not apart


def _parted(found: Findings) -> Suggestion | None:
    """Return that cooks which contradict each other ask for a cause, and not for more packs."""
    apart = next((one for one in found.across if one.contradicts and not one.tells), None)
    if apart is None:
        return None
    ordered = sorted(apart.cooks, key=lambda cook: cook.estimate)
    return Suggestion(
        "Find what parted the cooks",
        f"On {pieces_of(apart.arm, apart.noun)} cook {ordered[0].number} and cook "
        f"{ordered[-1].number} lie furthest apart. More packs will not settle it: put the two side "
        "by side, change one thing that differed between them, and cook both arms on one day.",
    )


def start(
    plan: NextPlan, whole: WholeCook, starts_at: datetime, seed: int
) -> tuple[Cook, tuple[Record, ...]]:
    """Return a planned cook like this one, but by another plan; slots drawn from the seed.

    Parameters
    ----------
    plan
        What the next cook is to be.
    whole
        The cook, with all its records.
    starts_at
        When it starts, aware.
    seed
        Of the lot.
    """
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
    return replace(cook, worth_knowing=old.worth_knowing), (*parts, *treatments)


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
        f"Neither, each alone, and both, in {in_letters(blocks)} packs of four: it shows whether the "
        f"two add up, and counts each arm twice.{could}"
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
    from pitjournal.science.comparison.power import noncentrality_shown

    # Three effects share the level of a first look: Holm holds the clearest to a third of it.
    shown = noncentrality_shown(float(3 * (blocks - 1)), alpha=FIRST_LEVEL / EFFECTS)
    if shown is None:
        return ""
    size = size_of(shown * spread / math.sqrt(blocks), found.outcome, system)
    return f" Could show {size}."


def _piece_spread(difference: Difference) -> float | None:
    """Return the standard deviation of pieces within blocks, from the error of a difference."""
    control, other = difference.control_pieces, difference.pieces - difference.control_pieces
    if not difference.se or not control or not other:
        return None
    return difference.se / math.sqrt(1 / control + 1 / other)


def _pair_spread(difference: Difference) -> tuple[float, float] | None:
    """Return the spread of the differences of pairs, and its degrees of freedom.

    By the pieces that were used, also where arms are unequal; with what past cooks lent.
    """
    one, df = _piece_spread(difference), difference.df
    if difference.borrowed is not None:
        one, df = difference.borrowed.sd, difference.borrowed.df
    return None if one is None or not df else (one * 2**0.5, df)


def _again(
    found: Findings, whole: WholeCook, difference: Difference, system: UnitSystem
) -> Suggestion | None:
    """Return the same cook again, as large as the difference worth knowing asks for.

    Never sized on the difference just seen: that is as often too large as it is too small.
    """
    packs = many(BLOCK_WORDS[blocks_of(whole.pieces)])
    if difference.shown[0] is None and found.outcome is not None:
        words = _no_interval(whole, difference, packs, found.outcome)
        plan = NextPlan(whole.cook.title, _ways(whole), 2, "")
        return Suggestion(f"The same again, with more {packs}", words, plan)
    known = _pair_spread(difference)
    if known is None:
        return None
    if not difference.matters:
        return _unasked(found, whole, difference, known[0], packs, system)
    return _sized(found, whole, difference, known, packs, system)


def _no_interval(whole: WholeCook, difference: Difference, packs: str, outcome: Variable) -> str:
    """Say why there is no interval, and what would give one."""
    more = f"so there is no spread to judge it by. More {packs} give one, or a finer scale."
    if difference.pieces > 2 and difference.method == WITHIN:
        count = in_letters(len({piece.block for piece in whole.pieces if piece.block}))
        return f"{count.capitalize()} {packs} differ by exactly the same in {outcome.label}, {more}"
    if difference.pieces > 2:
        return f"Within each arm all came out exactly alike in {outcome.label}, {more}"
    if len(whole.pieces) > len(whole.arms):
        return (
            f"Only one piece of each arm has {outcome.label}: an interval takes two {packs} or more "
            "of which both are known."
        )
    return f"Two {packs} or more: only then can an interval be given."


def next_level(found: Findings, difference: Difference) -> float:
    """Return the two-sided level that the look after one more cook is held to.

    Where that look may find nothing yet, the level of the first that may.
    """
    joined = next((one for one in found.across if one.look == difference.look), None)
    alike = joined is None or not joined.tau
    cooks = 1 + (1 if joined is None else len(joined.cooks))
    return Look(max(cooks, FIRST_JOINED if alike else APART_FROM), None, alike).level


def pairs_so_far(found: Findings, difference: Difference) -> int:
    """Return how many pairs the next look has already: of all joined cooks, or of this one."""
    joined = next((one for one in found.across if one.look == difference.look), None)
    if joined is not None:
        return joined.pieces // 2
    return min(difference.control_pieces, difference.pieces - difference.control_pieces)


def _unasked(  # noqa: PLR0917 - what a size is made of
    found: Findings,
    whole: WholeCook,
    difference: Difference,
    spread: float,
    packs: str,
    system: UnitSystem,
) -> Suggestion:
    """Return the same cook again where nobody said what difference would matter."""
    assert found.outcome is not None
    own = len({piece.block for piece in whole.pieces if piece.block})
    blocks = max(2, min(own or len(whole.pieces) // len(whole.arms), MOST_PACKS))
    return Suggestion(
        f"The same again, with {in_letters(blocks)} more {packs}",
        f"{_could(found, difference, spread, blocks, packs, system)} Say in the plan what difference in "
        f"{found.outcome.label} is worth knowing: then this says how many {packs} it takes.",
        NextPlan(whole.cook.title, _ways(whole), blocks, ""),
    )


def _sized(  # noqa: PLR0917 - what a size is made of
    found: Findings,
    whole: WholeCook,
    difference: Difference,
    known: tuple[float, float],
    packs: str,
    system: UnitSystem,
) -> Suggestion:
    """Return the same cook again, large enough to show the difference that matters."""
    from pitjournal.science.comparison.power import pairs_assured

    assert found.outcome is not None
    assert difference.matters is not None
    spread, df = known
    level, done = next_level(found, difference), pairs_so_far(found, difference)
    needed = pairs_assured(difference.matters, spread, df, alpha=level)
    size = size_of(difference.matters, found.outcome, system)
    name = pieces_of(difference.arm, found.noun)
    if needed is None:
        return Suggestion(
            "Rather another question",
            f"If {name} differ by {size}, which is worth knowing to you, it would take more than "
            f"200 {packs} to show.",
        )
    more = max(2, needed - done)
    blocks = min(more, MOST_PACKS)
    return Suggestion(
        f"The same again, with {in_letters(blocks)} more {packs}",
        f"If {name} really differ by {size}, which is worth knowing to you, about {more} more "
        f"{packs} show it four times in five, with those so far and over all looks, however badly "
        "the spread is known by now. "
        f"{_could(found, difference, spread, blocks, packs, system)}",
        NextPlan(whole.cook.title, _ways(whole), blocks, ""),
    )


def _could(  # noqa: PLR0917 - what a size is made of
    found: Findings,
    difference: Difference,
    spread: float,
    blocks: int,
    packs: str,
    system: UnitSystem,
) -> str:
    """Say what so many more pairs could show four times in five, as the next look is held to."""
    from pitjournal.science.comparison.power import paired_effect

    assert found.outcome is not None
    pairs = blocks + pairs_so_far(found, difference)
    level = next_level(found, difference)
    least = size_of((paired_effect(pairs, alpha=level) or 0.0) * spread, found.outcome, system)
    return f"{in_letters(blocks).capitalize()} more {packs} could show {least}, with those so far."
