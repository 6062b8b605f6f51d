"""The same comparison made in several cooks, joined by random effects, looked at after each."""

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from pitjournal.analysis.findings.across import Across, CookEffect, Series
from pitjournal.analysis.findings.borrowed import Known, borrowing
from pitjournal.analysis.findings.comparison import Difference, compare, summaries
from pitjournal.analysis.findings.like import (
    cuts_of,
    is_turned,
    of_cuts,
    same_comparison,
    turned_like,
    way_of,
)
from pitjournal.analysis.trade_words import noun_of
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science.comparison.interim_looks import Look, series_p

if TYPE_CHECKING:
    from pitjournal.science.comparison.pooled import Pooled

LEAST = 2
"""Fewer cooks are not joined."""

EVERY_LOOK = 24
"""Beyond so many cooks only every so many looks count; to look less often never finds more."""

OVER_COOKS = "paired over cooks"
"""The method where each cook is one pair (`science.pooled` names it so)."""


def across_cooks(
    whole: WholeCook,
    key: str,
    others: Sequence[Known],
    *,
    every_cut: bool = False,
    past: Sequence[Known] = (),
    own: Sequence[Difference] = (),
) -> tuple[Across, ...]:
    """Join what this and other cooks showed, for each arm of this cook.

    Parameters
    ----------
    whole
        The cook whose comparison it is.
    key
        The catalogue key of the outcome.
    others
        All cooks that may have made it too, this one among them, with their pieces' values,
        oldest first.
    every_cut
        Whether cooks of other cuts are joined too.
    past
        Cooks that may lend their spread to the first one, oldest first.
    own
        This cook's own declared differences, for the arms that no other cook compared.
    """
    control = whole.control
    if control is None:
        return ()
    compared = _compared(whole, key, others, past, every_cut=every_cut)
    matters = whole.cook.worth_knowing
    turned = frozenset(cook.cook.id for cook, _ in others if is_turned(whole, cook))
    found = []
    for arm in whole.arms:
        if arm.control:
            continue
        way = way_of(whole, arm)
        made = [
            (cook, difference)
            for cook, differences in compared
            for difference in _of_way(cook, differences, way)
        ]
        look = whole.arm_index(arm.id) or 0
        joined = _join(arm.name, control.name, look, made, matters)
        if joined is not None:
            cooks = tuple(replace(one, turned=one.cook_id in turned) for one in joined.cooks)
            found.append(replace(joined, cooks=cooks))
    looks = {joined.look for joined in found}
    alone = [d for d in own if d.look not in looks and d.p is not None]
    return _corrected_over_arms(found, alone)


def _compared(
    whole: WholeCook,
    key: str,
    others: Sequence[Known],
    past: Sequence[Known],
    *,
    every_cut: bool,
) -> list[tuple[WholeCook, tuple[Difference, ...]]]:
    """Return the differences of each cook that was done, in its pieces of the same cuts.

    The first cook is judged as it was when it was the only one: with what its past lent it.
    """
    cuts = cuts_of(whole)
    found: list[tuple[WholeCook, tuple[Difference, ...]]] = []
    for cook, values in others:
        if not same_comparison(whole, cook) or cook.cook.status is CookStatus.PLANNED:
            continue
        cook = turned_like(whole, cook)  # noqa: PLW2901 - the same cook, its control as in this one
        mine = cook if every_cut else of_cuts(cook, cuts)
        arms = summaries(mine, values, key)
        differences = compare(arms, key, declared=False)
        if not found and any(d.estimate is not None for d in differences):
            before = [one for one in past if one[0].cook.starts_at < cook.cook.starts_at]
            differences = borrowing(arms, differences, before, cuts_of(mine))
        found.append((cook, differences))
    return found


def _of_way(cook: WholeCook, differences: Sequence[Difference], way: str) -> list[Difference]:
    """Return a cook's difference of one way, at most one."""
    wanted = {arm.id for arm in cook.arms if not arm.control and way_of(cook, arm) == way}
    return [d for d in differences if d.arm_id in wanted and d.estimate is not None][:1]


def _join(
    name: str,
    control: str,
    look: int,
    made: Sequence[tuple[WholeCook, Difference]],
    matters: float | None,
) -> Across | None:
    if len(made) < LEAST:
        return None
    differences = [difference for _, difference in made]
    joined = joined_differences(differences)
    if not math.isfinite(joined.estimate) or joined.n < LEAST:
        return None
    by_cook = joined.method == OVER_COOKS
    cooks = tuple(
        CookEffect(
            c.cook.id,
            c.cook.number,
            c.cook.title,
            d.estimate or 0.0,
            d.low,
            d.high,
            d.pieces,
        )
        for c, d in made
    )
    return Across(
        name,
        control,
        look,
        cooks,
        joined.estimate,
        joined.low,
        joined.high,
        joined.prediction_low,
        joined.prediction_high,
        sum(cook.pieces for cook in cooks),
        joined.method,
        noun_of(piece.cut for cook, _ in made for piece in cook.pieces),
        series_of(differences, matters),
        joined.se,
        joined.p,
        None if by_cook else math.sqrt(joined.tau2),
        None if by_cook else joined.i2,
        matters,
        by_cook,
        df=joined.df,
    )


def _corrected_over_arms(
    found: Sequence[Across], alone: Sequence[Difference]
) -> tuple[Across, ...]:
    """Return the answers with Holm's correction over all arms held against the control."""
    if len(found) + len(alone) < 2:
        return tuple(found)
    from pitjournal.science.comparison.multiplicity import holm

    every = [*(joined.series for joined in found), *(series_of([d], d.matters) for d in alone)]
    p, small = holm([one.p for one in every]), holm([one.small_p for one in every])
    once = [*(joined.p for joined in found), *(d.shown_p for d in alone)]
    of_arms = holm([math.nan if one is None else one for one in once])
    return tuple(
        replace(
            joined,
            with_others=True,
            p_of_arms=None if joined.p is None else float(of_arms[place]),
            series=replace(joined.series, p=float(p[place]), small_p=float(small[place])),
        )
        for place, joined in enumerate(found)
    )


def series_of(differences: Sequence[Difference], matters: float | None) -> Series:
    """Return what looking after each of these cooks found, the first one first."""
    from pitjournal.science.comparison.equivalence import one_sided_p

    first = differences[0]
    found = [Look(1, first.shown_p)]
    tiny = [Look(1, one_sided_p(first.estimate, *first.shown_error, matters))]
    joined: Pooled | None = None
    df: float | None = None
    for count in _counts(len(differences)):
        joined = joined_differences(differences[:count])
        alike = joined.tau2 == 0
        df = _freedom(differences[:count]) if alike else joined.df
        found.append(Look(count, _two_sided_p(joined, df), alike))
        small = one_sided_p(joined.estimate, joined.se, df, matters)
        tiny.append(Look(count, small, alike))
    last = found[-1]
    low, high = (None, None) if joined is None else _as_wide(joined, df, last.level)
    return Series(
        *series_p(found),
        *series_p(tiny),
        low=low,
        high=high,
        level=last.level,
        df=df,
        alike=last.alike,
        differ_p=None if joined is None else _differ(differences),
    )


def _counts(cooks: int) -> list[int]:
    """Return after how many cooks is looked: after each at first, and seldomer among many."""
    return [
        count
        for count in range(LEAST, cooks + 1)
        if count <= EVERY_LOOK or count % EVERY_LOOK == 0 or count == cooks
    ]


def _freedom(differences: Sequence[Difference]) -> float:
    """Return the degrees of freedom of all pieces together."""
    return sum(d.df or 0.0 for d in differences)


def _two_sided_p(joined: "Pooled", df: float | None) -> float | None:
    if not joined.se or not df:
        return None
    from scipy import stats

    return 2 * float(stats.t.sf(abs(joined.estimate) / joined.se, df))


def _as_wide(joined: "Pooled", df: float | None, level: float) -> tuple[float | None, float | None]:
    """Return the interval that a look at this level has to leave none out of."""
    if not level or not joined.se or not df:
        return None, None
    from scipy import stats

    half = float(stats.t.isf(level / 2, df)) * joined.se
    return joined.estimate - half, joined.estimate + half


def _differ(differences: Sequence[Difference]) -> float | None:
    """Return the chance that cooks of one true difference scatter so; None where none can be said.

    The spread within cooks is itself found from their pieces.
    """
    from pitjournal.science.comparison.scatter import scatter_p

    return scatter_p(*zip(*map(_parts, differences), strict=True))


def joined_differences(differences: Sequence[Difference]) -> "Pooled":
    """Join the differences of several cooks, each known as well as its pieces make it."""
    return _joined(tuple(map(_parts, differences)))


def _parts(difference: Difference) -> tuple[float, float, float, float]:
    """Return the difference, the variance of a piece, its degrees of freedom and the leverage."""
    leverage = _leverage(difference)
    error = math.nan if difference.se is None else difference.se
    return difference.estimate or 0.0, error**2 / leverage, difference.df or 0.0, leverage


@lru_cache(maxsize=512)
def _joined(cooks: tuple[tuple[float, float, float, float], ...]) -> "Pooled":
    from pitjournal.science.comparison.pooled import (
        over_cooks,
        random_effects,
        shared_variances,
    )

    estimates, own, dfs, leverages = zip(*cooks, strict=True)
    variances = shared_variances(own, dfs, leverages)
    if len(cooks) >= LEAST and not any(variance > 0 for variance in variances):
        return over_cooks(estimates)  # one piece an arm, or pieces exactly alike
    return random_effects(estimates, variances, profile=False)


def _leverage(difference: Difference) -> float:
    """Return what turns the spread between pieces into that of a difference: 1/n + 1/m."""
    control = difference.control_pieces
    return 1 / control + 1 / (difference.pieces - control)
