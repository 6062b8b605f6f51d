"""What a cook calls pieces, ways and differences."""

import re
from collections.abc import Iterable, Sequence

from pitjournal.domain.catalogue import Variable
from pitjournal.domain.cuts import usual_of
from pitjournal.units import UnitSystem, difference_of, show, show_interval

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")

MORE = {
    "score.tenderness": ("were {} more tender", "were {} less tender"),
    "score.juiciness": ("were {} juicier", "were {} less juicy"),
    "score.flavour": ("were {} better in flavour", "were {} worse in flavour"),
    "score.appearance": ("looked {} better", "looked {} worse"),
    "time_on": ("came off {} later", "came off {} earlier"),
    "time_rested": ("rested {} longer", "rested {} less"),
    "internal_off": ("came off {} hotter", "came off {} cooler"),
    "feel_off": ("felt {} further along", "felt {} less far along"),
    "leeway_at_least": ("were seen right {} longer", "were seen right {} less"),
    "mass_on": ("were {} heavier when they went on", "were {} lighter when they went on"),
    "mass_trimmed": ("were {} heavier once trimmed", "were {} lighter once trimmed"),
    "thickness": ("were {} thicker", "were {} thinner"),
    "cook_loss": ("lost {} more weight", "lost {} less weight"),
    "yield_off": ("yielded {} more", "yielded {} less"),
}
"""What more and less of a variable is called."""


def in_letters(count: int) -> str:
    """Return a small number in letters."""
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def noun_of(cuts: Iterable[str]) -> str:
    """Return what one piece of these cuts is called."""
    found = [usual_of(cut) for cut in cuts]
    nouns = {usual.word if usual is not None else "piece" for usual in found}
    return nouns.pop() if len(nouns) == 1 else "piece"


PRONOUNS = frozenset({"ours", "mine", "yours", "theirs", "his", "hers", "us", "them", "me", "you"})
"""Arms so called do not stand before a piece: nobody says "ours butts"."""


def many(noun: str) -> str:
    """Return several of what pieces are called: bellies, racks, halves, brushes."""
    if re.search(r"[^aeiou]y$", noun):
        return f"{noun[:-1]}ies"
    if noun.endswith("lf"):
        return f"{noun[:-1]}ves"
    return f"{noun}es" if noun.endswith(("s", "x", "ch", "sh")) else f"{noun}s"


def in_points(text: str) -> str:
    """Return the words of a difference between shares, which is no share: 5 percentage points."""
    one = re.sub(r"(?<![\d.,])1\s%", "1 percentage point", text)
    return re.sub(r"\s%", " percentage points", one)


def size_of(value: float, variable: Variable, system: UnitSystem, *, signed: bool = False) -> str:
    """Return a difference in a variable, in the cook's units.

    Parameters
    ----------
    value
        Storage unit.
    variable
        The variable meant.
    system
        The units of the words.
    signed
        Whether a sign is written.
    """
    return in_points(show(value, difference_of(variable.dimension), system, signed=signed))


def signed_size(value: float, variable: Variable, system: UnitSystem) -> str:
    """Return a difference in a variable with its sign, in the cook's units.

    Parameters
    ----------
    value
        Storage unit.
    variable
        The variable meant.
    system
        The units of the words.
    """
    return size_of(value, variable, system, signed=True)


def bounds_of(
    low: float | None,
    high: float | None,
    variable: Variable,
    system: UnitSystem,
    *,
    signed: bool = False,
) -> str:
    """Return the interval of a difference in the cook's units; "none" where there is none.

    Parameters
    ----------
    low, high
        Storage unit; None where it is not known.
    variable
        The variable meant.
    system
        The units of the words.
    signed
        Whether a sign is written.
    """
    what = difference_of(variable.dimension)
    return in_points(show_interval(low, high, what, system, signed=signed))


def interval(low: float | None, high: float | None, variable: Variable, system: UnitSystem) -> str:
    """Return the interval of a difference in the cook's units; "none" where there is none.

    Parameters
    ----------
    low, high
        Storage unit; None where it is not known.
    variable
        What it is a difference in.
    system
        The units of the words.
    """
    return bounds_of(low, high, variable, system, signed=True)


def pieces_of(arm: str, noun: str = "piece") -> str:
    """Return what the pieces of an arm are called, as in "injected racks", "racks left alone"."""
    name = arm.strip()
    low = name.casefold()
    if low == "left alone":
        return f"{many(noun)} left alone"
    if low in PRONOUNS:
        return f"{many(noun)} of “{name}”"
    if len(name.split()) > 2 or low.startswith(("the ", "a ", "with ", "in ")) or not name:
        return f"{many(noun)} of “{name}”"
    return f"{low} {many(noun)}"


def number_of(count: int, noun: str) -> str:
    """Return so many pieces, as in "three racks"."""
    return f"{in_letters(count)} {noun if count == 1 else many(noun)}"


def over_cooks(count: int) -> str:
    """Return "over five cooks"."""
    return f"over {number_of(count, 'cook')}"


def ways_apart(variable: Variable, scores: str) -> tuple[str, str]:
    """Return what more and less of a variable is called, with room for how much.

    Parameters
    ----------
    variable
        The variable meant.
    scores
        What pieces do that come out higher in a score without words of its own: "scored".
    """
    label = variable.label
    if variable.key in MORE:
        return MORE[variable.key]
    if variable.key.startswith("score."):
        return f"{scores} {{}} higher in {label}", f"{scores} {{}} lower in {label}"
    return f"had {{}} more {label}", f"had {{}} less {label}"


def differed(value: float, variable: Variable, system: UnitSystem) -> str:
    """Return how pieces differed, as in "were 0.8 points more tender".

    Parameters
    ----------
    value
        Storage unit.
    variable
        The variable meant.
    system
        The units of the words.
    """
    size = size_of(abs(value), variable, system)
    more, less = ways_apart(variable, "scored")
    return (more if value >= 0 else less).format(size)


def listed(parts: Sequence[str]) -> str:
    """Return some things as a cook says them: "a, b and c"; nothing for none."""
    return f"{', '.join(parts[:-1])} and {parts[-1]}" if len(parts) > 1 else "".join(parts)
