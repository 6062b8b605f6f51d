"""A spread borrowed from one's own past cooks: Smyth's moderated t.

Three pieces an arm know their own spread badly. Where past cooks knew theirs, the variances of
all of them are taken as draws from one scaled inverse chi-square law, and a cook's own variance
is drawn towards what is usual, by as much as cooks are alike (Smyth 2004, Stat. Appl. Genet.
Mol. Biol. 3, article 3).
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.comparison.paired import Estimate, t_estimate

LEAST_PAST = 3
"""With fewer past cooks nothing is borrowed."""


@dataclass(frozen=True)
class Prior:
    """What a variance usually is: `variance`, worth as many degrees of freedom as `df`.

    `df` is infinite where cooks do not differ in their spread by more than chance; `most` is what
    all `cooks` together have, the present one among them.
    """

    variance: float
    df: float
    most: float
    cooks: int

    @property
    def worth(self) -> float:
        """As many degrees of freedom as it counts for: never more than there are past cooks.

        How alike cooks are is itself known badly from a few. Simulated with three to eight past
        cooks of two to four degrees of freedom, a nominal 95 % interval covers 92.5 to 94.5 %
        with `df` as it is, and 94 to 95.5 % with this.
        """
        return min(self.df, self.cooks - 1.0)


def trigamma_inverse(value: float) -> float:
    """Return the number whose trigamma is this one.

    Newton's steps on 1 ÷ trigamma, which is nearly straight (Smyth 2004, appendix).

    Parameters
    ----------
    value
        Above 0.
    """
    from scipy import special

    if value > 1e7:
        return 1 / math.sqrt(value)
    if value < 1e-6:
        return 1 / value
    found = 0.5 + 1 / value
    for _ in range(50):
        now = float(special.polygamma(1, found))
        step = now * (1 - now / value) / float(special.polygamma(2, found))
        found += step
        if -step / found < 1e-8:
            break
    return found


def usual_variance(variances: ArrayLike, dfs: ArrayLike) -> Prior | None:
    """Return what a variance usually is, from those of several cooks by moments of logarithms.

    Parameters
    ----------
    variances
        Of the pieces within each cook, shape (k,); those that are not above 0 are left out.
    dfs
        Their degrees of freedom, shape (k,); may be fractions.

    Returns
    -------
    Prior or None
        None with fewer than four cooks: three past ones and the present.
    """
    from scipy import special

    s2 = np.asarray(variances, dtype=np.float64).ravel()
    df = np.asarray(dfs, dtype=np.float64).ravel()
    known = np.isfinite(s2) & (s2 > 0) & (df > 0)
    s2, df = s2[known], df[known]
    if s2.size <= LEAST_PAST:
        return None
    logs = np.log(s2) - special.digamma(df / 2) + np.log(df / 2)
    mean = float(np.mean(logs))
    more = float(np.var(logs, ddof=1)) - float(np.mean(special.polygamma(1, df / 2)))
    most = float(np.sum(df))
    if more <= 0:
        return Prior(float(np.sum(s2 * df)) / most, math.inf, most, s2.size)
    freedom = 2 * trigamma_inverse(more)
    usual = math.exp(mean + float(special.digamma(freedom / 2)) - math.log(freedom / 2))
    return Prior(usual, freedom, most, s2.size)


def moderated(  # noqa: PLR0917 - what a difference and its spread are made of
    estimate: float,
    variance: float,
    df: float,
    leverage: float,
    prior: Prior,
    n: int,
    *,
    confidence: float = 0.95,
) -> Estimate:
    """Return a difference with the interval that a borrowed spread gives.

    Parameters
    ----------
    estimate
        The difference.
    variance, df
        Of the pieces within this cook, and its degrees of freedom.
    leverage
        What turns the variance of pieces into that of the difference.
    prior
        What a variance usually is; this cook is among those it was found from.
    n
        Pieces.
    confidence
        Of the interval, 0 to 1.
    """
    drawn = drawn_to(variance, df, prior)
    freedom = min(df + prior.worth, prior.most)
    se = math.sqrt(drawn * leverage)
    return t_estimate(estimate, se, freedom, n, "moderated t", confidence=confidence)


def drawn_to(variance: float, df: float, prior: Prior) -> float:
    """Return a variance drawn towards the usual one, each by its degrees of freedom."""
    return (prior.worth * prior.variance + df * variance) / (prior.worth + df)
