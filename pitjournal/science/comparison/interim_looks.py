"""Looking at the same comparison after every cook, without finding what is not there.

A test at 5 % after each of eight cooks would find a difference that does not exist in about one
series of five. So the 5 % are spent: each look is held to a smaller level, fixed before, however
the looks before it came out (Slud & Wei 1982, JASA 77, 862–868; Lan & DeMets 1983, Biometrika 70,
659–663; levels of Student's t as in Jennison & Turnbull 2000, Group Sequential Methods; all three
from memory).

How the levels were chosen, by simulation (`tests.benchmarks.coverage` holds them to it). Where
nothing differs in any cook, all looks at eight cooks together find something in 4 to 5 % of series.
Where cooks truly differ from each other and their mean is none, the looks at joined cooks find
something in at most 5 %, however much they differ.
"""

from collections.abc import Sequence
from dataclasses import dataclass

ALPHA = 0.05
"""What all looks together may spend."""

FIRST_LEVEL = 0.035
"""The level of the first cook, judged by its own pieces."""

FIRST_JOINED = 3
"""Two cooks may agree by chance; so many joined ones may find something."""

ALIKE_LEVELS = {3: 0.006}
ALIKE_LEVEL = 0.01
"""The level where no spread between cooks is seen, and all their pieces answer together."""

APART_FROM = 4
APART_LEVEL = 0.008
"""The level where cooks are seen to differ, from so many on: each of them is one answer."""

EVEN_UNTIL = 8
"""Beyond so many cooks the levels fall with the square of their number."""

STANDS = 2.0
"""What was found stays said while the joined difference is so many standard errors from none."""


@dataclass(frozen=True)
class Look:
    """One look: over how many `cooks`, their p value, and whether they are `alike`.

    Alike are cooks between which no spread is seen; their p value has the degrees of freedom of
    their pieces. Where they are not, it has one less than there are cooks.
    """

    cooks: int
    p: float | None
    alike: bool = True

    @property
    def level(self) -> float:
        """The two-sided level of the look; 0 where it may not find anything."""
        if self.cooks <= 1:
            return FIRST_LEVEL
        if self.cooks < (FIRST_JOINED if self.alike else APART_FROM):
            return 0.0
        level = ALIKE_LEVELS.get(self.cooks, ALIKE_LEVEL) if self.alike else APART_LEVEL
        return level * min(1.0, EVEN_UNTIL / self.cooks) ** 2

    @property
    def spent(self) -> float:
        """The p value so scaled that 0.05 is the level; 1 where nothing may be found."""
        if self.p is None or not self.level:
            return 1.0
        return min(1.0, self.p * ALPHA / self.level)


def first_p(p: float | None) -> float:
    """Return the p value of a first cook so scaled that 0.05 is what a first look may spend."""
    return Look(1, p).spent


def series_p(looks: Sequence[Look]) -> tuple[float, int]:
    """Return the p value of a series that was looked at after every cook.

    Returns
    -------
    tuple
        The smallest scaled p value, and over how many cooks it was; (1, 0) where none counts.
    """
    best = min(looks, key=lambda look: look.spent, default=None)
    return (1.0, 0) if best is None or best.spent >= 1 else (best.spent, best.cooks)


def times_as_long(level: float, df: float | None = None) -> float:
    """Return how many times as long an interval at this level is as one at 5 %, looked at once.

    Parameters
    ----------
    level
        Two-sided, above 0.
    df
        Degrees of freedom; None for many.
    """
    from scipy import stats

    law = stats.norm() if df is None else stats.t(df)
    return float(law.isf(level / 2) / law.isf(ALPHA / 2))
