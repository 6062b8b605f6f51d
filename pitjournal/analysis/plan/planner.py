"""How many pieces it takes: what a comparison can show before the meat is bought.

A difference is set against the spread it stands in: of the differences between two pieces of one
pack where pieces have packs, else of single pieces. The spread is that of one's own past
comparisons, pooled within them, or a guess that is said to be one.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pitjournal.analysis.plan.layout import BLOCK_WORDS, blocks_of
from pitjournal.analysis.trade_words import in_letters, many, size_of
from pitjournal.domain.catalogue import Variable
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science.comparison.interim_looks import FIRST_LEVEL
from pitjournal.science.comparison.power import (
    paired_effect,
    paired_power,
    pairs_needed,
    pieces_needed,
    two_sample_power,
)
from pitjournal.units import UnitSystem
from pitjournal.units.figures import figure

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pitjournal.analysis.trends.columns.frame import Frame

LEAST_DF = 4
"""With fewer degrees of freedom a spread is not worth being called one's own."""

GOOD_CHANCE = 0.8
"""Four times in five is the usual wish (Cohen 1988, Statistical Power Analysis; from memory)."""

MOST_SHOWN = 24
"""The curve ends here: more packs than anybody buys."""


@dataclass(frozen=True)
class Spread:
    """A standard deviation in the outcome's own unit, and what it comes from."""

    value: float
    df: int = 0
    cooks: int = 0

    @property
    def own(self) -> bool:
        """Whether it comes from one's own cooks."""
        return self.cooks > 0


@dataclass(frozen=True)
class PlannerAsked:
    """What is to be found out, with how much.

    `worth` is the difference worth knowing and `guess` the spread as guessed, both in the
    outcome's unit; None leaves the difference as large as the spread. `noun` is what pieces are
    compared within where they are paired: a pack, a slab, an animal.
    """

    outcome: str | None
    per_arm: int
    arms: int
    paired: bool
    worth: float | None = None
    guess: float | None = None
    noun: str = "pack"


@dataclass(frozen=True)
class Planner:
    """What a comparison can show.

    `curve` holds the number of packs (or pieces of each arm) and the chance of finding the
    difference `worth`; `sizes` says how large that is in standard deviations.
    """

    asked: PlannerAsked
    spread: Spread | None
    size: float
    curve: tuple[tuple[int, float], ...]
    chance: float | None
    needed: int | None
    shows: float | None


def asked_of(whole: WholeCook) -> PlannerAsked:
    """Return what a planned cook asks: by its arm with the fewest pieces."""
    counts = [len(whole.pieces_of(arm)) for arm in whole.arms]
    mine = [piece for piece in whole.pieces if piece.arm_id is not None]
    paired = bool(mine) and all(piece.block for piece in mine)
    cook = whole.cook
    return PlannerAsked(
        cook.outcome,
        min(counts, default=0),
        len(whole.arms),
        paired,
        cook.worth_knowing,
        cook.spread_guess,
        BLOCK_WORDS[blocks_of(mine)],
    )


def plan(asked: PlannerAsked, spread: Spread | None) -> Planner:
    """Return what a comparison can show, judged as Findings will: a first cook at its level.

    Parameters
    ----------
    asked
        What is asked; its guess is taken where `spread` is None, else one's own counts.
    spread
        From one's own cooks, or None.
    """
    known = spread or (Spread(asked.guess) if asked.guess else None)
    size = asked.worth / known.value if asked.worth and known else 1.0
    power = paired_power if asked.paired else two_sample_power
    last = min(max(MOST_SHOWN // 2, 2 * asked.per_arm), MOST_SHOWN)
    curve = tuple((n, power(size, n, FIRST_LEVEL) or 0.0) for n in range(2, last + 1))
    chance = power(size, asked.per_arm, FIRST_LEVEL) if asked.per_arm >= 2 else None
    needed = (pairs_needed if asked.paired else pieces_needed)(size, GOOD_CHANCE, FIRST_LEVEL)
    shows = _shows(asked)
    return Planner(asked, known, size, curve, chance, needed, shows)


def _shows(asked: PlannerAsked) -> float | None:
    """Return the difference, in standard deviations, that is found four times in five."""
    if asked.per_arm < 2:
        return None
    if asked.paired:
        return paired_effect(asked.per_arm, GOOD_CHANCE, FIRST_LEVEL)
    from scipy import optimize

    def short(size: float) -> float:
        return (two_sample_power(size, asked.per_arm, FIRST_LEVEL) or 0.0) - GOOD_CHANCE

    return float(optimize.brentq(short, 1e-6, 60.0))


# the spread of one's own cooks


def own_spread(frame: "Frame", outcome: str, *, paired: bool, skip: str = "") -> Spread | None:
    """Return the spread of an outcome in one's own past comparisons.

    Paired: of the differences between an arm and its control within a pack, about the mean
    difference of that arm in that cook. Else: of pieces, about the mean of their arm in their
    cook. Both are pooled over cooks, so that neither days nor effects count as spread.

    Parameters
    ----------
    frame
        All cooks' values.
    outcome
        Its catalogue key.
    paired
        Whether pieces are compared within packs.
    skip
        The id of a cook that does not count.

    Returns
    -------
    Spread or None
        None with fewer than four degrees of freedom.
    """
    import numpy as np

    values = frame.numbers(outcome)
    arms, _ = frame.choices("arm")
    packs = _blocks(frame)
    control = frame.numbers("control")
    known = np.isfinite(values) & (arms >= 0)
    if skip in frame.cook_names:
        known &= frame.cooks != frame.cook_names.index(skip)
    rows = np.flatnonzero(known)
    rows = rows[np.argsort(frame.cooks[rows], kind="stable")]
    starts = np.flatnonzero(np.diff(frame.cooks[rows])) + 1
    total, df, cooks = 0.0, 0, 0
    for mine in np.split(rows, starts):
        if paired:
            groups = _differences(values[mine], arms[mine], packs[mine], control[mine])
        else:
            groups = [values[mine][arms[mine] == arm] for arm in np.unique(arms[mine])]
        own = [group for group in groups if len(group) > 1]
        total += float(sum(((group - group.mean()) ** 2).sum() for group in own))
        df += sum(len(group) - 1 for group in own)
        cooks += bool(own)
    if df < LEAST_DF or total <= 0:
        return None
    return Spread(math.sqrt(total / df), df, cooks)


def _blocks(frame: "Frame") -> "NDArray[np.int32]":
    """Return the pack of each piece as a code, else its animal; −1 where neither is known."""
    import numpy as np

    packs, names = frame.choices("pack")
    animals, _ = frame.choices("animal")
    animal = np.where(animals >= 0, animals + len(names), -1)
    return np.where(packs >= 0, packs, animal).astype(np.int32)


def _differences(
    values: "NDArray[np.float64]",
    arms: "NDArray[np.int32]",
    packs: "NDArray[np.int32]",
    control: "NDArray[np.float64]",
) -> "list[NDArray[np.float64]]":
    """Return for each arm its differences from the control, a pack each."""
    import numpy as np

    base: Mapping[int, float] = {
        int(pack): float(values[(packs == pack) & (control == 1)].mean())
        for pack in np.unique(packs[control == 1])
        if pack >= 0
    }
    found = []
    for arm in np.unique(arms[control != 1]):
        mine = arms == arm
        found.append(
            np.array(
                [
                    values[mine & (packs == pack)].mean() - base[int(pack)]
                    for pack in np.unique(packs[mine])
                    if int(pack) in base
                ]
            )
        )
    return found


# in words


def planner_words(planner: Planner, outcome: Variable | None, system: UnitSystem) -> str:
    """Return what a comparison can and can't show, in words.

    Parameters
    ----------
    planner
        What the sizes of a comparison can show.
    outcome
        The variable that a cook is judged by.
    system
        The units of the words.
    """
    asked = planner.asked
    if asked.arms < 2:
        return "With one arm there is nothing to compare."
    unit = many(asked.noun) if asked.paired else "pieces of each arm"
    if asked.per_arm < 2:
        return (
            "One piece of each arm shows a difference and no more: nothing says how sure it is. "
            f"Two {unit} are the least."
        )
    worth = _worth(planner, outcome, system)
    have = f"{in_letters(asked.per_arm)} {unit}".capitalize()
    found = f"{have} find {worth} {_times(planner.chance)}"
    more = ""
    if asked.worth and outcome is not None and planner.spread is None:
        size = size_of(asked.worth, outcome, system)
        more = f" Say the spread, as a guess, to see how often it finds {size}."
    if planner.needed is not None and planner.needed > asked.per_arm:
        more += f" {in_letters(planner.needed).capitalize()} {unit} would find it 8 times in 10."
    return f"{found}, {_whence(planner, outcome, system)}.{more} {_least(planner, outcome, system)}"


def _worth(planner: Planner, outcome: Variable | None, system: UnitSystem) -> str:
    if planner.asked.worth and planner.spread is not None and outcome is not None:
        return f"a difference of {size_of(planner.asked.worth, outcome, system)}"
    spread = "between pieces"
    if planner.asked.paired:
        spread = f"of the differences within {many(planner.asked.noun)}"
    return f"a difference as large as the spread {spread}"


HARDLY, FEW = 5, 20
"""Chances below these, %, are hardly ever, and said in hundredths."""


def _times(chance: float | None) -> str:
    hundredths, tenths = round(100 * (chance or 0.0)), round(10 * (chance or 0.0))
    if hundredths < HARDLY:
        return "hardly ever"
    if hundredths < FEW:
        return f"{hundredths} times in 100"
    return f"{tenths} times in 10" if tenths < 10 else "nearly always"


def _whence(planner: Planner, outcome: Variable | None, system: UnitSystem) -> str:
    spread = planner.spread
    if spread is None or outcome is None:
        return "whatever that spread is"
    shown = size_of(spread.value, outcome, system)
    if not spread.own:
        return f"if the spread is {shown}, which is a guess"
    cooks = "comparison" if spread.cooks == 1 else f"{spread.cooks} comparisons"
    return f"by the spread of your last {cooks}, {shown}"


def _least(planner: Planner, outcome: Variable | None, system: UnitSystem) -> str:
    """Say from which difference on this cook would show it four times in five."""
    if planner.shows is None:
        return ""
    if planner.spread is not None and outcome is not None:
        least = size_of(planner.shows * planner.spread.value, outcome, system)
    else:
        least = f"{figure(planner.shows, 1)} times the spread"
    return f"Four times in five it shows only a difference of {least} or more."
