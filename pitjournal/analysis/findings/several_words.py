"""What several cooks say together, in words; and which cooks are beside them."""

from collections.abc import Collection, Mapping, Sequence

from pitjournal.analysis.findings.across import IN_WHICH_WAY, Across, CookEffect
from pitjournal.analysis.findings.comparison import CONFIDENCE
from pitjournal.analysis.findings.like import (
    OtherCut,
    called_otherwise,
    is_turned,
    other_scales,
)
from pitjournal.analysis.trade_words import (
    bounds_of,
    differed,
    in_letters,
    interval,
    many,
    over_cooks,
    pieces_of,
    signed_size,
    size_of,
)
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science.comparison.equivalence import two_sided_reach
from pitjournal.science.comparison.interim_looks import FIRST_JOINED
from pitjournal.units import UnitSystem
from pitjournal.units.figures import trimmed
from pitjournal.units.first_letter import capital

ONE_SPREAD = ", one spread for all cooks"
"""Pieces of few cooks are not enough to tell each cook's spread from the others'."""

MOST_NAMED = 8
"""So many cooks are named with their own difference; the newest."""


def across_sentence(joined: Across, variable: Variable, system: UnitSystem) -> str:
    """Return what the same comparison showed over several cooks, however it came out.

    Parameters
    ----------
    joined
        The same comparison over several cooks.
    variable
        The variable meant.
    system
        The units of the words.
    """
    if joined.low is None or joined.high is None:
        size = signed_size(joined.estimate, variable, system)
        name = pieces_of(joined.arm, joined.noun)
        each = _each(joined, variable, system)
        why = "no interval, as the cooks do not scatter" if joined.by_cook else "no interval"
        return f"{_over(joined)}: {name} {size} in {variable.label}, {_pieces(joined)} ({each}); {why}."
    if joined.contradicts and not joined.tells:
        return _contradicting(joined, variable, system)
    say = _difference_words if joined.tells else _too_small if joined.too_small else _open
    said = say(joined, variable, system)
    if joined.by_cook:
        said += f" By cook, each as one pair: {_each(joined, variable, system)}."
    return said


def _over(joined: Across) -> str:
    return capital(over_cooks(len(joined.cooks)))


def _spread(joined: Across) -> str:
    """Return what an interval takes for granted: one spread of pieces for all the cooks."""
    return "" if joined.by_cook else ONE_SPREAD


def _pieces(joined: Across) -> str:
    return f"{joined.pieces} {many(joined.noun)}"


def _difference_words(joined: Across, variable: Variable, system: UnitSystem) -> str:
    assert joined.low is not None
    assert joined.high is not None
    told = differed(joined.estimate, variable, system)
    name, base = (pieces_of(arm, joined.noun) for arm in (joined.arm, joined.control))
    low, high = sorted((abs(joined.low), abs(joined.high)))
    said = (
        f"{_over(joined)} {name} {told} than {base} (95 % interval "
        f"{bounds_of(low, high, variable, system)}{_spread(joined)}; {_pieces(joined)})."
        f"{_held_to(joined, variable, system)}"
    )
    if joined.contradicts:
        how = joined.contradiction
        said += f" The cooks contradict each other {how}: {_each(joined, variable, system)}."
    if joined.too_small and joined.matters is not None:
        size = size_of(joined.matters, variable, system)
        said += f" That is less than the {size} that matter to you."
    return said


def _held_to(joined: Across, variable: Variable, system: UnitSystem) -> str:
    """Return what a difference was held to, as it is looked at after every cook."""
    seen = joined.series
    if seen.after < len(joined.cooks):
        when = "the first cook" if seen.after == 1 else f"{in_letters(seen.after)} cooks"
        return f" It was found after {when}, and stands."
    if seen.low is None or seen.high is None:
        return ""
    low, high = sorted((abs(seen.low), abs(seen.high)))
    held = (
        f"{trimmed(100 * (1 - seen.level), 3)} % interval {bounds_of(low, high, variable, system)}"
    )
    if joined.by_cook or not seen.alike:
        return f" Looked at after every cook it is held to its {held}."
    return (
        f" Looked at after every cook it is held to the {held} of all their pieces together "
        f"({trimmed(seen.df, 3)} degrees of freedom), as no spread between cooks is seen; so few "
        "cooks may hide one."
    )


def _contradicting(joined: Across, variable: Variable, system: UnitSystem) -> str:
    how = "" if joined.contradiction == IN_WHICH_WAY else f", {joined.contradiction}"
    mean = signed_size(joined.estimate, variable, system)
    bounds = interval(joined.low, joined.high, variable, system)
    return (
        f"{capital(pieces_of(joined.arm, joined.noun))}: the cooks contradict each other "
        f"in {variable.label}{how}: {_each(joined, variable, system)}. Their mean, {mean} (95 % interval "
        f"{bounds}{_spread(joined)}; {_pieces(joined)}), speaks for none of them: look for what was different."
    )


def _each(joined: Across, variable: Variable, system: UnitSystem) -> str:
    named = joined.cooks[-MOST_NAMED:]
    said = ", ".join(_one(cook, variable, system) for cook in named)
    older = len(joined.cooks) - len(named)
    return f"{said} and {older} older ones" if older else said


def _one(cook: CookEffect, variable: Variable, system: UnitSystem) -> str:
    return f"cook {cook.number} {signed_size(cook.estimate, variable, system)}"


def _too_small(joined: Across, variable: Variable, system: UnitSystem) -> str:
    assert joined.matters is not None
    name, base = (pieces_of(arm, joined.noun) for arm in (joined.arm, joined.control))
    size = signed_size(joined.estimate, variable, system)
    margin = size_of(joined.matters, variable, system)
    bounds = f"95 % interval {interval(joined.low, joined.high, variable, system)}"
    seen = joined.series
    reach = two_sided_reach(joined.estimate, joined.se, seen.df, seen.level)
    if reach is not None:
        held = f"{trimmed(100 * (1 - 2 * seen.level), 3)} % interval"
        bounds = f"{held} {interval(*reach, variable, system)}"
    return (
        f"{_over(joined)}: no difference that matters to you in {variable.label} between {name} and "
        f"{base} ({size}, {bounds}, less than {margin} either way{_spread(joined)}; {_pieces(joined)})."
    )


def _open(joined: Across, variable: Variable, system: UnitSystem) -> str:
    assert joined.low is not None
    assert joined.high is not None
    size = signed_size(joined.estimate, variable, system)
    bounds = f"95 % interval {interval(joined.low, joined.high, variable, system)}"
    count = len(joined.cooks)
    why = ""
    if joined.series.p < 1 - CONFIDENCE:
        why = f" {_hidden(joined)}"
    elif count < FIRST_JOINED:
        why = f" Together they can answer from {in_letters(FIRST_JOINED)} cooks on."
    elif (joined.low > 0 or joined.high < 0) and joined.series.low is not None:
        wide = interval(joined.series.low, joined.series.high, variable, system)
        allowed = ", the other arms not yet allowed for" * joined.with_others
        why = (
            " By itself this look would tell; looked at after every cook, the interval is "
            f"{wide}{allowed}."
        )
    return (
        f"{capital(pieces_of(joined.arm, joined.noun))}: {in_letters(count)} cooks of the same "
        f"comparison are not enough to tell ({size} in {variable.label}, {bounds}{_spread(joined)}; "
        f"{_pieces(joined)}).{why}"
    )


def _hidden(joined: Across) -> str:
    """Return what would tell, were it not that cooks may differ from each other."""
    after = joined.series.after
    found = (
        "All their pieces together would tell"
        if after == len(joined.cooks)
        else "The first cook told by itself"
        if after == 1
        else f"{capital(in_letters(after))} cooks told by all their pieces"
    )
    others = " and the other arms allowed for" if joined.with_others else ""
    return f"{found}; with each cook as one answer{others}, so few do not."


def series_headline(
    joined: Mapping[str, Across], names: Mapping[str, str], variable: Variable, system: UnitSystem
) -> str:
    """Return the few words that stand for a comparison of several cooks in the list of cooks.

    Parameters
    ----------
    joined, names
        Each arm against the control over several cooks, and what it is called; by the arm's id.
    variable
        The variable meant.
    system
        The units of the words.
    """
    over = over_cooks(max(len(one.cooks) for one in joined.values()))
    told = [
        f"{names[arm_id]}: {variable.label} {signed_size(one.estimate, variable, system)}, "
        f"{over_cooks(len(one.cooks))}"
        for arm_id, one in joined.items()
        if one.tells
    ]
    if told:
        return "; ".join(told)
    apart = next((arm_id for arm_id, one in joined.items() if one.contradicts), None)
    if apart is not None:
        return f"{names[apart]}: {joined[apart].verdict}, {over}"
    small = all(one.too_small for one in joined.values())
    return f"{'no difference that matters' if small else 'not enough to tell'}, {over}"


def next_sentence(joined: Across, variable: Variable, system: UnitSystem) -> str:
    """Return where the true difference of one more such cook would lie, or nothing.

    Parameters
    ----------
    joined
        The same comparison over several cooks.
    variable
        The variable meant.
    system
        The units of the words.
    """
    if joined.next_low is None or joined.next_high is None:
        return ""
    bounds = interval(joined.next_low, joined.next_high, variable, system)
    return f"{joined.arm}: one more such cook would truly differ by {bounds} (95 % interval)."


def not_told_apart_sentence(
    found: Sequence[tuple[int, tuple[str, ...]]], hardly: Sequence[bool] = ()
) -> str:
    """Return in which of the other cooks joined something went with an arm, or nothing.

    Parameters
    ----------
    found
        The numbers of those cooks, each with what went with an arm, in words.
    hardly
        Of all that went with one, whether a few pieces told the two apart.
    """
    if not found:
        return ""
    can = "can hardly" if hardly and all(hardly) else "cannot"
    if any(hardly) and not all(hardly):
        can = "cannot, or can hardly,"
    named = "; ".join(
        f"cook {number}: {' and '.join(f'the {label}' for label in labels)}"
        for number, labels in found[-MOST_NAMED:]
    )
    return (
        f"Among the cooks joined, an arm {can} be told apart from what it came with ({named}). "
        "What differed there may come from that."
    )


def one_armed_sentence(numbers: Sequence[int]) -> str:
    """Return in which other cooks joined a taster met one arm alone or nearly, or nothing."""
    if not numbers:
        return ""
    named = ", ".join(f"cook {number}" for number in numbers[-MOST_NAMED:])
    return (
        f"Among the cooks joined, some tasters met one arm alone, or nearly ({named}): how kind they "
        "are may be part of what differed there."
    )


def other_cuts_sentence(beside: Sequence[OtherCut], *, every_cut: bool) -> str:
    """Return which cooks made the same comparison with other cuts, and whether they count."""
    if not beside:
        return ""
    named = "; ".join(
        f"cook {one.number}, {' and '.join(one.cuts)}" for one in beside[-MOST_NAMED:]
    )
    if len(beside) > MOST_NAMED:
        named = f"the newest {in_letters(MOST_NAMED)}: {named}"
    count = in_letters(len(beside))
    if len(beside) == 1:
        said = f"One cook made the same comparison with another cut ({named})"
        return f"{said} and is {'joined as you asked' if every_cut else 'not joined'}."
    said = f"{capital(count)} cooks made the same comparison with other cuts ({named})"
    return f"{said} and are {'joined as you asked' if every_cut else 'not joined'}."


def other_controls_sentence(beside: Sequence[WholeCook]) -> str:
    """Return which cooks held the same arm against another control, and so are not joined."""
    told = [cook for cook in beside if cook.control is not None][-MOST_NAMED:]
    if not told:
        return ""
    named = "; ".join(
        f"cook {cook.cook.number}, against {cook.control.name}" for cook in told if cook.control
    )
    if len(beside) > len(told):
        named = f"the newest {in_letters(MOST_NAMED)}: {named}"
    if len(beside) == 1:
        return f"One cook held the same arm against another control ({named}) and is not joined."
    count = capital(in_letters(len(beside)))
    return f"{count} cooks held the same arm against another control ({named}) and are not joined."


def turned_sentence(numbers: Sequence[int]) -> str:
    """Return which cooks joined took the other arm for the control, or nothing."""
    if not numbers:
        return ""
    named = [f"cook {number}" for number in numbers[-MOST_NAMED:]]
    if len(numbers) > len(named):
        named[0] = f"the newest {in_letters(MOST_NAMED)}, {named[0]}"
    its = "its difference counts" if len(named) == 1 else "their differences count"
    return (
        f"Marked the other way round, with the arm as the control ({', '.join(named)}): {its} "
        "with the sign turned."
    )


def how_joined(
    whole: WholeCook, others: Sequence[WholeCook], joined: Collection[str], catalogue: Catalogue
) -> list[str]:
    """Return which cooks are joined otherwise than by name and control, or not for their scale.

    Parameters
    ----------
    whole, others
        The cook, and those that may have made its comparison.
    joined
        Those that are joined, by id.
    catalogue
        The variables of the journal.
    """
    inside = [cook for cook in others if cook.cook.id in joined]
    outside = [cook for cook in others if cook.cook.id not in joined]
    outcome = catalogue.get(whole.cook.outcome or "")
    label = "" if outcome is None else outcome.label
    return [
        turned_sentence([cook.cook.number for cook in inside if is_turned(whole, cook)]),
        other_scales_sentence(other_scales(whole, outside, catalogue), label),
        called_otherwise_sentence(called_otherwise(whole, inside)),
    ]


def other_scales_sentence(found: Sequence[tuple[int, str]], variable: str) -> str:
    """Return which cooks of the same comparison scored it on another scale, or nothing.

    Parameters
    ----------
    found
        Their numbers, with what they declared.
    variable
        What this cook declared.
    """
    if not found:
        return ""
    named = "; ".join(f"cook {number}, {label}" for number, label in found[-MOST_NAMED:])
    who = "A cook" if len(found) == 1 else capital(in_letters(len(found))) + " cooks"
    joined = "is not joined" if len(found) == 1 else "are not joined"
    return f"{who} of the same comparison declared another scale than {variable} ({named}) and {joined}."


def called_otherwise_sentence(found: Sequence[tuple[int, str, str]]) -> str:
    """Return which arms are joined by what was done to them, though they are called otherwise."""
    if not found:
        return ""
    told = found[-MOST_NAMED:]
    named = "; ".join(f"“{there}” of cook {number} as “{here}”" for number, there, here in told)
    more = f" and {in_letters(len(found) - len(told))} more" if len(found) > len(told) else ""
    return f"Joined by what was done, not by name: {named}{more}."
