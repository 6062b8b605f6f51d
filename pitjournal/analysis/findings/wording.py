"""Findings in words: what a cook would say and a statistician would sign.

No sentence is more certain than its numbers: a difference is only said to be one when its
interval leaves out none; else it is "not enough to tell", with what this cook could have shown.
"""

from collections.abc import Mapping, Sequence

from pitjournal.analysis.findings.across import Across
from pitjournal.analysis.findings.comparison import ArmSummary, Difference, PieceValues, number
from pitjournal.analysis.findings.leeway import NOT_BEFORE, NOT_PAST, ArmLeeway, PieceWindow, span
from pitjournal.analysis.findings.several_words import across_sentence
from pitjournal.analysis.findings.went_with import WentWith, company_of, first_words
from pitjournal.analysis.trade_words import (
    bounds_of,
    differed,
    in_letters,
    interval,
    number_of,
    pieces_of,
    signed_size,
    size_of,
)
from pitjournal.domain.blocks import Value
from pitjournal.domain.catalogue import Variable
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science.comparison.equivalence import two_sided_reach
from pitjournal.science.comparison.interim_looks import FIRST_LEVEL
from pitjournal.units import UnitSystem
from pitjournal.units.figures import figure, trimmed
from pitjournal.units.first_letter import capital

BLIND = "The scores stay blind until the codes are revealed."


def _bounds(found: Difference, variable: Variable, system: UnitSystem) -> str:
    """Return a telling interval in the direction of its difference, without signs."""
    low, high = found.shown
    assert low is not None
    assert high is not None
    low, high = sorted((abs(low), abs(high)))
    return f"{bounds_of(low, high, variable, system)}{_borrowed_words(found)}"


def _signed_bounds(found: Difference, variable: Variable, system: UnitSystem) -> str:
    return f"{interval(*found.shown, variable, system)}{_borrowed_words(found)}"


def _borrowed_words(found: Difference) -> str:
    """Return whose spread an interval rests on where it is not this cook's alone."""
    if found.borrowed is None:
        return ""
    return f", spread borrowed from your last {in_letters(found.borrowed.cooks)} cooks"


def arm_sentence(  # noqa: PLR0917 - what a sentence on an arm is made of
    difference: Difference,
    joined: Across | None,
    control: ArmSummary,
    arm: ArmSummary,
    variable: Variable,
    system: UnitSystem,
    noun: str = "piece",
) -> str:
    """Return what is known of an arm: this cook, or all that made the same comparison.

    Where several did, they answer together and this cook's own difference stands beside: a look
    at one of a series finds by chance what is not there.

    Parameters
    ----------
    difference
        An arm against the control.
    joined
        The same over several cooks; None where it is the first.
    control
        The arm the others are compared with.
    arm
        The arm meant.
    variable
        The variable meant.
    system
        The units of the words.
    noun
        What one piece is called, such as "rack".
    """
    if joined is None:
        return difference_sentence(difference, control, arm, variable, system, noun)
    together = across_sentence(joined, variable, system)
    if difference.estimate is None:
        return f"{together} In this cook it is not recorded for both arms."
    size = signed_size(difference.estimate, variable, system)
    known = "no interval"
    if difference.shown[0] is not None:
        known = f"95 % interval {_signed_bounds(difference, variable, system)}"
    alone = _beside_alone(difference, variable, system)
    return f"{together} This cook alone: {size} ({known}; {_pieces(control, arm, noun)}){alone}."


def _beside_alone(found: Difference, variable: Variable, system: UnitSystem) -> str:
    """Return what keeps one of several cooks from telling, though its interval leaves none out."""
    low, high = found.shown
    if low is None or high is None or not (low > 0 or high < 0) or found.tells:
        return ""
    why = "one look of several"
    if found.adjusted is not None:
        why = f"several arms were held against the control (p {figure(found.adjusted, 3)})"
    own = ""
    if found.borrowed is not None and found.low is not None and found.high is not None:
        own = f", and by its own pieces the interval is {interval(found.low, found.high, variable, system)}"
    return f", which does not hold by itself: {why}{own}"


def difference_sentence(  # noqa: PLR0917 - what a sentence on a difference is made of
    difference: Difference,
    control: ArmSummary,
    arm: ArmSummary,
    variable: Variable,
    system: UnitSystem,
    noun: str = "piece",
) -> str:
    """Return what one cook says of an arm.

    Parameters
    ----------
    difference
        An arm against the control.
    control
        The arm the others are compared with.
    arm
        The arm meant.
    variable
        The variable meant.
    system
        The units of the words.
    noun
        What one piece is called, such as "rack".
    """
    name = capital(pieces_of(difference.arm, noun))
    base = pieces_of(control.name, noun)
    if difference.estimate is None:
        return f"{name}: {variable.label} is not recorded for both arms."
    size = signed_size(difference.estimate, variable, system)
    said = differed(difference.estimate, variable, system)
    same = size.split()[0] == "0"
    if difference.shown[0] is None:
        if same:
            said = f"came out alike in {variable.label}"
        seen = f"{name} {said} {'as' if same else 'than'} {base}"
        if difference.why == "one piece of each":
            return (
                f"{seen}, one {noun} of each. No interval exists, so nothing says how sure that is."
            )
        return f"{seen}; {difference.why}."
    if difference.tells:
        return (
            f"{name} {said} than {base} (95 % interval {_bounds(difference, variable, system)}; "
            f"{_pieces(control, arm, noun)}).{_but_small(difference, variable, system)}"
        )
    if difference.too_small:
        inside = _inside(difference, variable, system)
        return (
            f"{name}: no difference that matters to you ({size} in {variable.label}, {inside}; "
            f"{_pieces(control, arm, noun)})."
        )
    bounds = _signed_bounds(difference, variable, system)
    return (
        f"{name}: not enough to tell ({size} in {variable.label}, 95 % interval {bounds}; "
        f"{_pieces(control, arm, noun)}).{_why_not(difference, variable, system)}"
    )


def _but_small(difference: Difference, variable: Variable, system: UnitSystem) -> str:
    """Say where a difference is there, but smaller than what was said to matter."""
    if not difference.too_small or difference.matters is None:
        return ""
    size = size_of(difference.matters, variable, system)
    return f" That is less than the {size} that matter to you."


def _why_not(difference: Difference, variable: Variable, system: UnitSystem) -> str:
    """Return what a cook that did not tell could have shown, or what it was held to."""
    low, high = difference.shown
    if low is not None and high is not None and (low > 0 or high < 0):
        if difference.adjusted is not None:
            return " By itself it would be, but several arms were held against the control."
        return (
            f" At 5 % it would be, but a first cook is held to {trimmed(100 * FIRST_LEVEL, 3)} %, as looking "
            "again after later ones costs too."
        )
    could = difference.could_show if difference.borrowed is None else difference.borrowed.could_show
    if could is None:
        return ""
    if variable.ends is not None and could > variable.ends[1] - variable.ends[0]:
        return " This cook could have shown nothing on this scale."
    return f" This cook could have shown {size_of(could, variable, system)}."


def _inside(difference: Difference, variable: Variable, system: UnitSystem) -> str:
    """Return the interval of both one-sided tests, and the margin it lies within."""
    assert difference.matters is not None
    reach = two_sided_reach(difference.estimate, *difference.shown_error, FIRST_LEVEL)
    assert reach is not None
    margin = size_of(difference.matters, variable, system)
    return (
        f"{trimmed(100 * (1 - 2 * FIRST_LEVEL), 3)} % interval {interval(*reach, variable, system)}"
        f"{_borrowed_words(difference)}, less than {margin} either way"
    )


def _pieces(control: ArmSummary, arm: ArmSummary, noun: str) -> str:
    one, two = len(control.points), len(arm.points)
    if one == two:
        return f"{number_of(one, noun)} of each"
    return f"{number_of(two, noun)} against {in_letters(one)}"


def short_words(difference: Difference) -> str:
    """Return what stands under an arm's name beside its interval."""
    return difference.verdict


def leeway_sentence(leeways: Sequence[ArmLeeway], noun: str = "piece") -> str:
    """Return how long the arms stayed right, as bounds."""
    timed = [leeway for leeway in leeways if leeway.axis == "time" and leeway.pieces]
    if not timed:
        return ""
    if not any(leeway.known for leeway in timed):
        early = any(leeway.reason == NOT_BEFORE for leeway in timed)
        return f"How long the meat stays right is {NOT_BEFORE if early else NOT_PAST}."
    parts = []
    for leeway in timed:
        bounds = span(leeway.least)
        if bounds is None:
            continue
        low, high = round(bounds[0] / 60), round(bounds[1] / 60)
        minutes = f"{low} min" if low == high else f"{low} to {high} min"
        parts.append(f"{pieces_of(leeway.arm, noun)} for at least {minutes}")
    return f"Seen right by feel: {', '.join(parts)}." if parts else ""


def contradicted_sentence(windows: Sequence[PieceWindow]) -> str:
    """Return which pieces' feels contradict each other at the pit, or nothing."""
    labels = [w.label for w in windows if w.axis == "time" and not w.consistent]
    if not labels:
        return ""
    names = f"{', '.join(labels[:-1])} and {labels[-1]}" if labels[1:] else labels[0]
    its, they = ("their", "they") if labels[1:] else ("its", "it")
    return (
        f"The feels of {names} contradict each other, right or over and then less again: {its} "
        f"bounds are the widest that {they} allow{'' if labels[1:] else 's'}."
    )


def moved_sentence(whole: WholeCook) -> str:
    """Return which pieces were treated otherwise than the arm they stand in, or nothing."""
    said = []
    for piece in whole.pieces:
        own = [t.kind for t in whole.treatments if t.piece_id == piece.id]
        arm = whole.arm_of(piece)
        if arm is None or not own:
            continue
        kinds = {t.kind for t in whole.treatments if t.arm_id == arm.id}
        if own[0] not in kinds:
            said.append(f"{piece.label} was {own[0]} but stands in {arm.name}")
    return f"{'; '.join(said)}: it is counted where it stands." if said else ""


GROWN = 1.005
"""A share of its weight that a piece cannot come off with by the scale's rounding alone."""


def grown_sentence(whole: WholeCook, values: PieceValues) -> str:
    """Return which pieces weighed more when they came off than before, or nothing."""
    grown = [piece.label for piece in whole.pieces if _grew(values.get(piece.id, {}))]
    if not grown:
        return ""
    names = f"{', '.join(grown[:-1])} and {grown[-1]}" if grown[1:] else grown[0]
    return (
        f"{names} weighed more when {'they' if grown[1:] else 'it'} came off than before: look at "
        "the weights, meat does not gain on the fire. No yield is worked out of what grew by more "
        "than 2 %."
    )


def _grew(known: Mapping[str, Value]) -> bool:
    """Whether a piece came off heavier than it went on, or than it was once trimmed."""
    on, off, trimmed, bought = (
        number(known.get(key)) for key in ("mass_on", "mass_off", "mass_trimmed", "mass_bought")
    )
    before = trimmed if trimmed is not None else bought
    earlier = [mass for mass in (on, before) if mass is not None]
    return off is not None and any(off > GROWN * mass for mass in earlier)


def headline(
    differences: Sequence[Difference],
    variable: Variable | None,
    system: UnitSystem,
    names: Mapping[str, str] | None = None,
) -> str:
    """Return the few words that stand for one cook's comparison in the list of cooks.

    Parameters
    ----------
    differences
        Each arm against the control.
    variable
        The variable meant.
    system
        The units of the words.
    names
        What each arm is called, by its id, with what went with it; without, as it is named.
    """
    declared = [d for d in differences if d.declared and d.estimate is not None]
    if variable is None or not declared:
        return ""
    called = names or {}
    telling = [d for d in declared if d.tells]
    if not telling:
        small = all(d.too_small for d in declared)
        return "no difference that matters" if small else "not enough to tell"
    return "; ".join(
        f"{called.get(d.arm_id, d.arm)}: {variable.label} "
        f"{signed_size(d.estimate or 0.0, variable, system)}"
        for d in telling
    )


def declared_sentences(  # noqa: PLR0917 - what the sentences are made of
    differences: Sequence[Difference],
    across: Sequence[Across],
    arms: Sequence[ArmSummary],
    variable: Variable,
    system: UnitSystem,
    noun: str,
    went_with: Sequence[WentWith] = (),
) -> list[str]:
    """Return a sentence for each arm held against the control.

    Parameters
    ----------
    differences
        Each arm against the control.
    across
        The same comparisons over several cooks.
    arms
        The arms, the control first.
    variable
        The variable meant.
    system
        The units of the words.
    noun
        What one piece is called, such as "rack".
    went_with
        What went with an arm completely: it stands before what is said of that arm.
    """
    control = next((arm for arm in arms if arm.control), None)
    if control is None:
        return ["No arm is the control, so nothing is compared."]
    by_id: Mapping[str, ArmSummary] = {arm.arm_id: arm for arm in arms}
    joined = {one.look: one for one in across}
    said = []
    for d in differences:
        if not d.declared:
            continue
        together = joined.get(d.look)
        words = arm_sentence(d, together, control, by_id[d.arm_id], variable, system, noun)
        judged = together or d
        first = first_words(judged, company_of(went_with, judged))
        goes_on = first and words.startswith("Over ")
        said.append(first + (f"o{words[1:]}" if goes_on else words))
    return said
