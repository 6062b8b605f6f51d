"""What several cooks say together of an arm, and how they differ from each other."""

from dataclasses import dataclass

from pitjournal.analysis.findings.comparison import CONFIDENCE
from pitjournal.science.comparison.interim_looks import STANDS

DIFFER = 0.02
"""Below this chance of scattering as they do, cooks are said to contradict each other.

It is asked after every cook: of series of six without any difference 4 to 7 % ever say so."""

IN_HOW_MUCH, IN_WHICH_WAY = "in how much", "in direction"
PERHAPS = "in how much, perhaps in direction"
"""What cooks contradict each other in: all lie on one side of none, or some clearly on either; where
they lie on both and not clearly, it may be either."""


@dataclass(frozen=True)
class CookEffect:
    """What one cook showed of the comparison, storage unit; `turned` where its control is the arm."""

    cook_id: str
    number: int
    title: str
    estimate: float
    low: float | None
    high: float | None
    pieces: int
    turned: bool = False

    @property
    def clear(self) -> bool:
        """Whether its own interval, where it has one, leaves none out."""
        if self.low is None or self.high is None:
            return bool(self.estimate)
        return self.low > 0 or self.high < 0


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
    def contradiction(self) -> str:
        """What the cooks contradict each other in: the direction, or only how much; or nothing."""
        if not self.contradicts:
            return ""
        ways = {cook.estimate > 0 for cook in self.cooks if cook.estimate}
        clear = {cook.estimate > 0 for cook in self.cooks if cook.clear}
        return IN_WHICH_WAY if len(clear) > 1 else PERHAPS if len(ways) > 1 else IN_HOW_MUCH

    @property
    def verdict(self) -> str:
        """What the cooks say together, in a few words."""
        if self.tells:
            return "higher" if self.estimate > 0 else "lower"
        if self.contradicts:
            how = "" if self.contradiction == IN_WHICH_WAY else f" {self.contradiction}"
            return f"the cooks contradict each other{how}"
        return "no difference that matters" if self.too_small else "not enough to tell"
