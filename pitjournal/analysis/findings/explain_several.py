"""How cooks are joined, what looking after each of them costs, and whose spread was borrowed."""

from collections.abc import Sequence

from pitjournal.analysis.findings.across import Across
from pitjournal.analysis.findings.comparison import Difference
from pitjournal.analysis.findings.worked import Worked
from pitjournal.analysis.trade_words import many
from pitjournal.science.comparison.interim_looks import (
    ALIKE_LEVEL,
    ALIKE_LEVELS,
    APART_FROM,
    APART_LEVEL,
    EVEN_UNTIL,
    FIRST_JOINED,
    FIRST_LEVEL,
    times_as_long,
)
from pitjournal.units.figures import figure, trimmed


def several(joined: Across) -> Worked:
    """Return how an arm's cooks were joined."""
    data = "; ".join(
        f"cook {cook.number}: {trimmed(cook.estimate, 4, signed=True)} from {cook.pieces} {many(joined.noun)}"
        for cook in joined.cooks
    )
    if joined.by_cook:
        return Worked(
            data,
            "paired over cooks, k − 1 degrees of freedom: no cook knows its own spread",
            "mean of the cooks’ differences ± t × their standard deviation ÷ √k",
            "Student (1908), Biometrika 6, 1–25",
            "Each cook counts as one pair, however many pieces it had. The differences scatter from "
            "cook to cook like a bell. Only cooks of the same cut are joined unless you ask for "
            "others.",
        )
    return Worked(
        data,
        f"{joined.method}, k − 1 degrees of freedom; one spread within cooks for all of them",
        "mean weighted by 1 ÷ (variance within a cook + variance between cooks) ± t × its error, "
        "which is times √max(1, Q ÷ (k − 1)): cooks that agree by chance make it no shorter",
        "Hartung & Knapp (2001), Statistics in Medicine 20, 3875–3889; Röver, Knapp & Friede "
        "(2015), BMC Medical Research Methodology 15, 99; checked on the BCG trials (Colditz et "
        "al. 1994)",
        "The cooks are like those still to come, and the true difference scatters from cook to "
        "cook like a bell. Only cooks of the same cut are joined unless you ask for others. They "
        "are said to contradict each other where Q, as an F, has a chance below 0.02; where pieces "
        "scatter unlike from cook to cook (Bartlett), by Welch’s F too. Pieces are taken to scatter "
        "alike in every cook: a cook whose pieces are very much alike counts no more for it.",
    )


def looking(across: Sequence[Across]) -> Worked:
    """Return what was spent on looking after every cook, and what that costs."""
    costs = [_cost(joined) for joined in across]
    first = times_as_long(FIRST_LEVEL)
    data = "; ".join(costs) or f"one cook: what it is held to is {figure(first, 2)} times as long"
    return Worked(
        data,
        f"5 % for all looks at a comparison together. The first cook alone is held to "
        f"{_percent(FIRST_LEVEL)}; {FIRST_JOINED} joined cooks that agree to "
        f"{_percent(ALIKE_LEVELS[FIRST_JOINED])} and more of them to {_percent(ALIKE_LEVEL)}, by all "
        f"their pieces; from {APART_FROM} cooks that differ on to {_percent(APART_LEVEL)}, by cooks. "
        f"Beyond {EVEN_UNTIL} cooks less and less. Later cooks say nothing by themselves.",
        "p of a look × 0.05 ÷ its level; the smallest of them counts, while the difference is two "
        "of its errors from none and its 95 % interval, with each cook as one answer, leaves none "
        "out; Holm over several arms for both",
        "Slud & Wei (1982), JASA 77, 862–868; Lan & DeMets (1983), Biometrika 70, 659–663 (from "
        "memory). Simulated: of series of eight cooks without any difference, 4 to 5 % ever read as "
        "one, where a look at 5 % after each would let about 20 % do so",
        "It costs power: a difference has to be found at a smaller level than if it had been looked "
        "at once. Which cooks are joined is not chosen by how they came out.",
    )


def _cost(joined: Across) -> str:
    seen = joined.series
    count = len(joined.cooks)
    if not seen.level:
        return f"{joined.arm}: {count} cooks are too few to answer together"
    times = times_as_long(seen.level, seen.df)
    return (
        f"{joined.arm}: this look at {count} cooks is held to {_percent(seen.level)}, an interval "
        f"{figure(times, 2)} times as long as looked at once"
    )


def _percent(level: float) -> str:
    return f"{trimmed(100 * level, 2)} %"


def borrowed_words(difference: Difference) -> Worked:
    """Return whose spread a cook borrowed, and what came of it."""
    borrowed = difference.borrowed
    assert borrowed is not None
    own = "" if difference.df is None else f" on {trimmed(difference.df, 3)} degrees of freedom"
    return Worked(
        f"the spread within {borrowed.cooks} past cooks of this cut and outcome, and within this "
        f"one{own}; it comes to {trimmed(borrowed.df, 3)} with what is borrowed",
        "moderated t: this cook's variance is drawn towards what past cooks' usually is, by as much "
        "as they are alike; never for more than one degree of freedom a past cook",
        "variance = (d₀ × s₀² + d × s²) ÷ (d₀ + d); difference ± t on d₀ + d degrees of freedom",
        "Smyth (2004), Stat. Appl. Genet. Mol. Biol. 3, article 3; checked by other means to 40 "
        "digits, and against results stored with his program. Simulated with three to eight past cooks, 94 to 95.5 % of such "
        "intervals hold the truth",
        "Pieces scatter in this cook much as they did in those. The answer as JSON also has the "
        "interval from this cook's own pieces.",
    )


def matters(declared: Sequence[Difference], across: Sequence[Across]) -> list[tuple[str, Worked]]:
    """Return how "no difference that matters" is judged, where something was said to matter."""
    if not any([*(one.matters for one in declared), *(one.matters for one in across)]):
        return []
    told = Worked(
        "the difference that the plan says is worth knowing",
        "two one-sided tests, each held to the level of its look: both have to show that the true "
        "difference is smaller; Holm over several arms",
        "(margin − |difference|) ÷ error above t; so the interval of 1 − 2 × level lies inside",
        "Schuirmann (1987), J. Pharmacokinet. Biopharm. 15, 657–680",
        "What matters was said before it was seen how the cook came out.",
    )
    return [("No difference that matters", told)]
