"""The same comparison made in several cooks, joined by random effects, looked at after each."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from pitjournal.analysis.findings.borrowed import Known, borrowing
from pitjournal.analysis.findings.comparison import CONFIDENCE, Difference, compare, summaries
from pitjournal.analysis.findings.like import cuts_of, of_cuts, same_comparison, way_of
from pitjournal.analysis.trade_words import noun_of
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science.comparison.interim_looks import STANDS, Look, series_p

if TYPE_CHECKING:
    from pitjournal.science.comparison.pooled import Pooled

LEAST = 2
"""Fewer cooks are not joined."""

EVERY_LOOK = 24
"""Beyond so many cooks only every so many looks count; to look less often never finds more."""

OVER_COOKS = "paired over cooks"
"""The method where each cook is one pair (`science.pooled` names it so)."""

DIFFER = 0.02
"""Below this chance of scattering as they do, cooks are said to contradict each other.

It is asked after every cook: of series of six without any difference 4 to 7 % ever say so."""


@dataclass(frozen=True)
class CookEffect:
    """What one cook showed of the comparison, storage unit."""

    cook_id: str
    number: int
    title: str
    estimate: float
    low: float | None
    high: float | None
    pieces: int


@dataclass(frozen=True)
class Series:
    """What looking after every cook found.

    `p` is the p value of the whole series of looks, corrected for several arms, and `after` over
    how many cooks it was; `small_p` and `small_after` the same of "no difference that matters".
    `low` and `high` bound the difference as widely as this look's `level` and degrees of freedom
    (`df`) have it; None where so few cooks are joined that the look may not find anything. `alike`
    is whether no spread between cooks is seen, and `differ_p` the chance that cooks that are truly
    alike scatter as these do.
    """

    p: float = 1.0
    after: int = 0
    small_p: float = 1.0
    small_after: int = 0
    low: float | None = None
    high: float | None = None
    level: float = 0.0
    df: float | None = None
    alike: bool = True
    differ_p: float | None = None


@dataclass(frozen=True)
class Across:
    """An arm against its control over all cooks that compared them.

    `low` and `high` bound the mean difference (95 %, looked at once); `next_low` and `next_high`
    where the true difference of one further cook would lie. `se` is the standard error of the
    mean difference, `matters` the least difference that was said to be worth knowing. `by_cook`
    says that no cook knows its own spread, so that each counts as one pair;
    `with_others` that other arms were held against the control too. `p` belongs to `low` and
    `high`, on `df` degrees of freedom; `p_of_arms` is the same, corrected for several arms.
    """

    arm: str
    control: str
    look: int
    cooks: tuple[CookEffect, ...]
    estimate: float
    low: float | None
    high: float | None
    next_low: float | None
    next_high: float | None
    pieces: int
    method: str
    noun: str = "piece"
    series: Series = Series()
    se: float | None = None
    p: float | None = None
    tau: float | None = None
    i2: float | None = None
    matters: float | None = None
    by_cook: bool = False
    with_others: bool = False
    df: float | None = None
    p_of_arms: float | None = None

    @property
    def p_corrected(self) -> float:
        """The p value the verdict goes by: of all looks and of the interval shown, over all arms.

        A look may answer by all pieces together, which takes days that differ for chance; what
        is said has to hold with each cook as one answer too.
        """
        return max(self.series.p, self.p_of_arms or self.p or 0.0)

    @property
    def tells(self) -> bool:
        """Whether the series of looks found a difference that the cooks still bear out."""
        stands = self.se is not None and abs(self.estimate) > STANDS * self.se
        if self.low is not None and self.high is not None:
            stands = stands and (self.low > 0 or self.high < 0)
        return stands and self.p_corrected < 1 - CONFIDENCE

    @property
    def too_small(self) -> bool:
        """Whether the series found the difference smaller than what was said to matter."""
        if self.se is None or self.matters is None:
            return False
        stands = abs(self.estimate) + STANDS * self.se < self.matters
        return stands and self.series.small_p < 1 - CONFIDENCE

    @property
    def contradicts(self) -> bool:
        """Whether the cooks differ from each other by more than their pieces explain."""
        return self.series.differ_p is not None and self.series.differ_p < DIFFER

    @property
    def verdict(self) -> str:
        """What the cooks say together, in a few words."""
        if self.tells:
            return "higher" if self.estimate > 0 else "lower"
        if self.contradicts:
            return "the cooks contradict each other"
        return "no difference that matters" if self.too_small else "not enough to tell"


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
            found.append(joined)
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
            c.cook.id, c.cook.number, c.cook.title, d.estimate or 0.0, d.low, d.high, d.pieces
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
