"""The few words of the plate: the answer, what else there is to know, what has changed since."""

from collections.abc import Sequence

from pitjournal.analysis.findings.confounded import cannot
from pitjournal.analysis.findings.findings import Findings
from pitjournal.analysis.findings.ledger_words import ledger_sentence
from pitjournal.analysis.findings.one_arm import hardly_words
from pitjournal.analysis.trade_words import (
    in_letters,
    listed,
    pieces_of,
    size_of,
    ways_apart,
)
from pitjournal.domain.catalogue import Variable
from pitjournal.domain.conclusion import Conclusion
from pitjournal.domain.tasting import Blindness
from pitjournal.domain.times.moments import show_date
from pitjournal.units import UnitSystem
from pitjournal.units.first_letter import capital

NOT_ENOUGH, NO_MATTER = "Not enough to tell", "No difference that matters"
CONTRADICT = "The cooks contradict each other"
ALIKE = "Nothing else differed that was measured"
NOTHING_KNOWN = "Nothing else that differed is recorded"
MOST = 2
"""So many facts stand beside the answer; the rest stands in the drawers."""


def more_or_less(value: float, variable: Variable) -> str:
    """Return in which way pieces differed, as in "More tender", "Came off later".

    Parameters
    ----------
    value
        The difference, in any unit.
    variable
        The variable meant.
    """
    more, less = ways_apart(variable, "were")
    verb, _, way = (more if value >= 0 else less).partition("{}")
    plain = verb.strip() in {"were", "had"}
    return capital(" ".join(way.split()) if plain else f"{verb.strip()}{way.rstrip()}")


def how_much(value: float, variable: Variable, system: UnitSystem) -> str:
    """Return the size of a difference without its sign.

    Parameters
    ----------
    value
        Storage unit.
    variable
        The variable meant.
    system
        The units of the words.
    """
    return size_of(abs(value), variable, system)


def could_show_words(could: float | None, variable: Variable, system: UnitSystem) -> str:
    """Return what a cook that did not tell could have shown, or nothing.

    Parameters
    ----------
    could
        Storage unit; None where that is not known.
    variable
        The variable meant.
    system
        The units of the words.
    """
    if could is None:
        return ""
    if variable.ends is not None and could > variable.ends[1] - variable.ends[0]:
        return ". This cook could show nothing on this scale"
    return f". This cook could show {size_of(could, variable, system)}"


def but_of(found: Findings, system: UnitSystem) -> tuple[str, int]:
    """Return what has to be known beside the answer, biggest first, and how much more there is.

    What cannot be told apart from an arm comes first, for no number sizes it. An empty text where
    nothing was compared.
    """
    if len(found.arms) < 2 or found.outcome is None:
        return "", 0
    facts = _facts(found, system)
    if not facts:
        return (ALIKE if found.ledger else NOTHING_KNOWN), 0
    return f"But {', and '.join(facts[:MOST])}.", max(len(facts) - MOST, 0)


def _facts(found: Findings, system: UnitSystem) -> list[str]:
    said = []
    for arm_id in dict.fromkeys(one.arm_id for one in found.confounded):
        mine = [one for one in found.confounded if one.arm_id == arm_id]
        names = listed([f"the {one.variable.label}" for one in mine])
        said.append(
            f"{pieces_of(mine[0].arm, found.noun)} {cannot(mine)} be told apart from {names}"
        )
    said += [
        f"{pieces_of(name, found.noun)} cannot be told apart from {listed(what)}"
        for name, what in found.treated_besides
    ]
    few = dict.fromkeys(arm for one in found.one_arm for arm in one.few)
    if few:
        said.append(f"some tasted hardly any {listed([pieces_of(a, found.noun) for a in few])}")
    alone = [one for one in found.one_arm if not one.few]
    arms = dict.fromkeys(one.arm for one in alone)
    if arms:
        but = hardly_words(alone)
        said.append(f"some tasted {but} {listed([pieces_of(a, found.noun) for a in arms])}")
    if Blindness.OPEN in found.seen:
        said.append("it was tasted with eyes open")
    if found.late:
        said.append("some of it was decided after the reveal")
    if found.not_told_apart or found.one_armed:
        cooks = dict.fromkeys([*(number for number, _ in found.not_told_apart), *found.one_armed])
        which = f"cook{'s' * (len(cooks) > 1)} {listed([str(number) for number in cooks])}"
        said.append(f"in {which} an arm came with something else")
    ledger = ledger_sentence(found.ledger, system, found.noun)
    if ledger:
        said.append(ledger.removeprefix("But ").removesuffix("."))
    return said


def concluded(conclusion: Conclusion, zone: str, over: Sequence[str], said: Sequence[str]) -> str:
    """Return when a conclusion was written, and what has changed since.

    Parameters
    ----------
    conclusion
        As it was written.
    zone
        Of the cook, IANA.
    over
        Ids of the cooks that the answer rests on now.
    said
        The answer of each arm now.
    """
    when = f"written {show_date(conclusion.at, zone)}"
    more = len(set(over) - set(conclusion.over))
    fewer = len(set(conclusion.over) - set(over))
    parts = []
    if more:
        parts.append(f"{in_letters(more)} more cook{'s' * (more > 1)} since")
    if fewer:
        parts.append(f"{in_letters(fewer)} no longer joined")
    if conclusion.said and tuple(said) != conclusion.said:
        parts.append("the answer was another then")
    return ", ".join((when, *parts))
