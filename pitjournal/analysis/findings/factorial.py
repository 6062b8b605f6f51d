"""A two-by-two: neither, each alone, and both. Each way is counted twice, and their sum tested."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from pitjournal.analysis.findings.across import Across
from pitjournal.analysis.findings.comparison import CONFIDENCE, ArmSummary
from pitjournal.analysis.findings.several_words import across_sentence
from pitjournal.analysis.findings.went_with import (
    WentWith,
    company_of,
    first_of_effects,
    first_words,
)
from pitjournal.analysis.findings.worked import Worked
from pitjournal.analysis.trade_words import (
    bounds_of,
    differed,
    many,
    size_of,
)
from pitjournal.domain.catalogue import Variable
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science.comparison.interim_looks import first_p
from pitjournal.units import UnitSystem
from pitjournal.units.figures import trimmed
from pitjournal.units.first_letter import capital


@dataclass(frozen=True)
class Effect:
    """What one way does with and without the other, or what both do beyond their sum.

    Storage unit, with its 95 % interval; `adjusted` is Holm's p value over the three effects.
    """

    name: str
    together: bool
    estimate: float
    low: float
    high: float
    p: float
    adjusted: float
    pieces: int
    df: float

    @property
    def tells(self) -> bool:
        """Whether there is one, after the correction for three looks, as a first cook is held."""
        return first_p(self.adjusted) < 1 - CONFIDENCE


def effects_of(whole: WholeCook, arms: Sequence[ArmSummary]) -> tuple[Effect, ...]:
    """Return both effects and what they do together; nothing where it is no two-by-two."""
    square = _square(whole)
    if square is None:
        return ()
    by_id = {arm.arm_id: place for place, arm in enumerate(arms)}
    neither, one, two, both = (by_id[arm_id] for arm_id in square)
    names = [arms[one].name, arms[two].name]
    found = [
        _effect(arms, names[0], {one: 0.5, both: 0.5, neither: -0.5, two: -0.5}),
        _effect(arms, names[1], {two: 0.5, both: 0.5, neither: -0.5, one: -0.5}),
        _effect(
            arms,
            f"{names[0]} and {names[1].casefold()}",
            {both: 1.0, neither: 1.0, one: -1.0, two: -1.0},
            together=True,
        ),
    ]
    known = [effect for effect in found if effect is not None]
    if len(known) < len(found):
        return ()
    from pitjournal.science.comparison.multiplicity import holm

    adjusted = holm([effect.p for effect in known])
    return tuple(replace(e, adjusted=float(p)) for e, p in zip(known, adjusted, strict=True))


def _square(whole: WholeCook) -> tuple[str, str, str, str] | None:
    """Return the ids of neither, one, the other and both, or None."""
    if whole.control is None or len(whole.arms) != 4:
        return None
    kinds = {
        arm.id: frozenset(
            t.kind
            for t in whole.treatments
            if t.arm_id == arm.id and t.kind is not TreatmentKind.NONE
        )
        for arm in whole.ordered_arms
    }
    if kinds[whole.control.id]:
        return None
    single = [arm for arm, own in kinds.items() if len(own) == 1]
    double = [arm for arm, own in kinds.items() if len(own) == 2]
    if len(single) != 2 or len(double) != 1 or kinds[single[0]] == kinds[single[1]]:
        return None
    if kinds[single[0]] | kinds[single[1]] != kinds[double[0]]:
        return None
    return whole.control.id, single[0], single[1], double[0]


def _effect(
    arms: Sequence[ArmSummary], name: str, weights: Mapping[int, float], *, together: bool = False
) -> Effect | None:
    from pitjournal.science.comparison.paired import blocked_contrast

    points = [(place, point) for place, arm in enumerate(arms) for point in arm.points]
    packed = all(point.block for _, point in points)
    blocks = sorted({point.block for _, point in points})
    found = blocked_contrast(
        [point.value for _, point in points],
        [place for place, _ in points],
        [blocks.index(point.block) if packed else 0 for _, point in points],
        weights,
    )
    if found.low is None or found.high is None or found.p is None or found.df is None:
        return None
    ends = found.low, found.high
    return Effect(name, together, found.estimate, *ends, found.p, 1.0, found.n, found.df)


def factorial_sentences(
    effects: Sequence[Effect], variable: Variable, system: UnitSystem, noun: str
) -> list[str]:
    """Return what each way does over all pieces, and whether the two add up.

    Parameters
    ----------
    effects
        The effects of a two-by-two.
    variable
        The variable meant.
    system
        The units of the words.
    noun
        What one piece is called, such as "rack".
    """
    return [_sentence(effect, variable, system, noun) for effect in effects]


def seen_again(effects: Sequence[Effect], variable: Variable, system: UnitSystem, noun: str) -> str:
    """Return the effects of a two-by-two that was cooked before: a look of several, no finding.

    Parameters
    ----------
    effects
        The effects of a two-by-two.
    variable
        The variable meant.
    system
        The units of the words.
    noun
        What one piece is called, such as "rack".
    """
    told = [
        f"{capital(e.name.casefold()) if e.together else e.name}{' together' * e.together} "
        f"{size_of(e.estimate, variable, system, signed=True)} "
        f"({bounds_of(e.low, e.high, variable, system, signed=True)})"
        for e in effects
    ]
    return (
        f"This cook alone, with and without the other, in {variable.label} with 95 % intervals: "
        f"{', '.join(told)}; {effects[0].pieces} {many(noun)}, one of several cooks."
    )


def _sentence(effect: Effect, variable: Variable, system: UnitSystem, noun: str) -> str:
    bounds = bounds_of(effect.low, effect.high, variable, system, signed=True)
    size = size_of(effect.estimate, variable, system, signed=True)
    told = f"{size} in {variable.label}, 95 % interval {bounds}; {effect.pieces} {many(noun)}"
    if effect.together:
        name = capital(effect.name.casefold())
        if not effect.tells:
            return f"{name} together: the two add up, or it is not enough to tell ({told})."
        way = "more" if effect.estimate > 0 else "less"
        return f"{name} together do {way} than each alone adds up to ({told})."
    if not effect.tells:
        return f"{effect.name}, with and without the other: not enough to tell ({told})."
    low, high = sorted((abs(effect.low), abs(effect.high)))
    sure = bounds_of(low, high, variable, system)
    return (
        f"{effect.name} {many(noun)} {differed(effect.estimate, variable, system)}, with and without the "
        f"other (95 % interval {sure}; {effect.pieces} {many(noun)})."
    )


def worked_of(effects: Sequence[Effect]) -> Worked:
    """Return how the effects were worked out."""
    first = effects[0]
    return Worked(
        f"{first.pieces} pieces of four arms",
        f"two-by-two by least squares on arms and packs, {trimmed(first.df, 3)} degrees of freedom; said to "
        "differ only if Holm's p over the three effects is below 0.05",
        "effect = mean with it − mean without it; together = both − each alone + neither",
        "Box, Hunter & Hunter (2005), Statistics for Experimenters; checked on their pilot plant",
        "Packs shift all their pieces alike; what is left scatters about evenly and like a bell.",
    )


def two_by_two_sentences(  # noqa: PLR0917 - what its words are made of
    effects: Sequence[Effect],
    across: Sequence[Across],
    outcome: Variable,
    system: UnitSystem,
    noun: str,
    went: Sequence[WentWith],
) -> list[str]:
    """Return what a two-by-two showed; where it was cooked before, all such cooks together.

    Parameters
    ----------
    effects, across
        Of this cook, and the same over several.
    outcome, system, noun
        The variable, the units of the words, and what one piece is called.
    went
        What went with the arms.
    """
    if len(across) < len(effects):
        told = factorial_sentences(effects, outcome, system, noun)
        return [f"{first_of_effects(went)}{told[0]}", *told[1:]]
    together = [
        first_words(joined, company_of(went, joined)) + across_sentence(joined, outcome, system)
        for joined in across
    ]
    return [*together, seen_again(effects, outcome, system, noun)]
