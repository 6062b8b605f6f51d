"""Times known only as bounds: Turnbull's estimate, and models with an effect of the arm.

An interval (low, high] says that something happened after `low` and by `high`: `low` 0 is
left-censored, `high` infinite right-censored, and low = high is exactly known.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pitjournal.science.arrays import Array
from pitjournal.science.times.log_times import Bounds, Law, covariance, maxima, middle

VAGUEST = 3.0
"""A log factor with a standard error above this (twenty-fold either way) says nothing."""


@dataclass(frozen=True)
class Mass:
    """Probability that lies somewhere in (low, high], no one can say where."""

    low: float
    high: float
    share: float


def intervals(low: ArrayLike, high: ArrayLike) -> tuple[Array, Array]:
    """Return the intervals that make sense: 0 ≤ low ≤ high, both given, low finite."""
    left, right = (np.asarray(v, dtype=np.float64).ravel() for v in (low, high))
    if left.size != right.size:
        raise ValueError(f"{left.size} lower bounds cannot go with {right.size} upper ones")
    whole = np.isfinite(left) & ~np.isnan(right) & (left >= 0) & (right >= left) & (right > 0)
    return left[whole], right[whole]


def _innermost(left: Array, right: Array) -> list[tuple[float, float]]:
    """Return the innermost intervals: from a lower end to the next end, if that is an upper one.

    At one place an upper end comes before a lower one, since intervals are open below;
    an exactly known time opens just before it closes.
    """
    exact = left == right
    ends = sorted(
        [(float(v), 1, float(v)) for v in left[~exact]]
        + [(float(v), 0, float(v)) for v in right[~exact]]
        + [(float(v), -1, float(v)) for v in left[exact]]
    )
    inner: list[tuple[float, float]] = []
    opened: float | None = None
    for place, kind, _ in ends:
        if kind == 1:
            opened = place
        elif kind == -1:
            inner.append((place, place))
            opened = None
        elif opened is not None:
            inner.append((opened, place))
            opened = None
    return sorted(set(inner))


def turnbull(low: ArrayLike, high: ArrayLike, *, tolerance: float = 1e-10) -> list[Mass]:
    """Return the shares of highest likelihood, without any assumed shape (Turnbull 1976).

    Self-consistency steps, run until no share moves; shares that die out are left away.
    Between the intervals returned the estimate is flat; within one it is not defined.

    Parameters
    ----------
    low, high
        Bounds of each piece's time, any unit, shape (n,).
    tolerance
        Largest remaining change of a share, and gap to the conditions of the maximum.

    Returns
    -------
    list of Mass
        In order; the last may reach to infinity. Empty without intervals.
    """
    left, right = intervals(low, high)
    inner = _innermost(left, right)
    if not inner:
        return []
    starts, ends = (np.array(part) for part in zip(*inner, strict=True))
    exact = left == right
    holds = (left[:, None] <= starts) & (ends <= right[:, None])
    points = starts == ends
    holds &= np.where(exact[:, None], points, ~points | (left[:, None] < starts))  # open below
    cover = holds.astype(np.float64)
    shares: Array = np.full(len(inner), 1 / len(inner))
    for _ in range(100_000):
        pull = cover.T @ (1 / (cover @ shares)) / left.size
        moved = shares * pull
        done = bool(np.max(np.abs(moved - shares)) < tolerance)
        shares = moved
        if done and float(np.max(pull)) < 1 + 1e-7:
            break
    kept = shares > 1e-7
    shares = np.where(kept, shares, 0.0)
    shares /= np.sum(shares)
    return [
        Mass(low_, high_, float(share))
        for (low_, high_), share, stays in zip(inner, shares, kept, strict=True)
        if stays
    ]


def median_bounds(masses: list[Mass]) -> tuple[float, float] | None:
    """Return the interval in which half have happened; None without masses."""
    reached = 0.0
    for mass in masses:
        reached += mass.share
        if reached >= 0.5 - 1e-9:
            return mass.low, mass.high
    return None


@dataclass(frozen=True, eq=False)
class ArmTimes:
    """A log-normal or Weibull model of times, with one factor for each arm.

    Attributes
    ----------
    law
        The shape assumed.
    coefficients
        Log time of the control, then the log factor of each other arm, shape (k,).
    covariance
        Of the coefficients and the log of the scale, shape (k + 1, k + 1).
    scale
        Standard deviation of log time (log-normal), or 1 ÷ shape (Weibull).
    log_likelihood
        At the maximum.
    n
        Pieces.
    """

    law: Law
    coefficients: Array
    covariance: Array
    scale: float
    log_likelihood: float
    n: int

    @property
    def errors(self) -> Array:
        """Standard errors of the coefficients."""
        spread = np.diag(self.covariance)[: self.coefficients.size]
        return np.asarray(np.sqrt(spread), dtype=np.float64)

    def median(self, arm: int) -> float:
        """Return the median time of an arm: 0 the control, then in the order of the fit."""
        return math.exp(self._place(arm) + self.scale * middle(self.law))

    def median_error(self, arm: int) -> float:
        """Return the standard error of the log of the median of an arm."""
        direction = np.zeros(self.covariance.shape[0])
        direction[0] = 1.0
        if arm:
            direction[arm] = 1.0
        direction[-1] = self.scale * middle(self.law)
        return math.sqrt(float(direction @ self.covariance @ direction))

    def median_interval(
        self, arm: int, confidence: float = 0.95, *, few: bool = True
    ) -> tuple[float, float]:
        """Return the interval of the median of an arm, worked on the log scale.

        Parameters
        ----------
        arm
            0 the control.
        confidence
            0 to 1.
        few
            Student's t and errors widened for the coefficients fitted, as few pieces need;
            otherwise the plain normal interval, which is too short for them.
        """
        return self._spread(math.log(self.median(arm)), self.median_error(arm), confidence, few)

    def factor(
        self, arm: int, confidence: float = 0.95, *, few: bool = True
    ) -> tuple[float, float, float]:
        """Return an arm's times ÷ the control's, with its interval worked on the log scale.

        Parameters
        ----------
        arm
            1 the first arm beside the control.
        confidence, few
            As for `median_interval`.
        """
        centre, error = float(self.coefficients[arm]), float(self.errors[arm])
        return (math.exp(centre), *self._spread(centre, error, confidence, few))

    def _spread(
        self, centre: float, error: float, confidence: float, few: bool
    ) -> tuple[float, float]:
        from scipy import stats

        level = 0.5 + confidence / 2
        df = self.n - self.coefficients.size
        if few and df > 0:
            reach = float(stats.t.ppf(level, df)) * error * math.sqrt(self.n / df)
        else:
            reach = float(stats.norm.ppf(level)) * error
        return math.exp(centre - reach), math.exp(centre + reach)

    def _place(self, arm: int) -> float:
        return float(self.coefficients[0]) + (float(self.coefficients[arm]) if arm else 0.0)


def _fits(left: Array, right: Array, design: Array) -> bool:
    """Whether a maximum exists: in every arm something is known from both sides.

    Without an upper bound times could be endless, without a lower one nothing; and when one
    common time lies in all intervals of each arm, no spread at all fits best.
    """
    spread = False
    for own in _arms(design):
        lows, highs = left[own], right[own]
        if not np.any(np.isfinite(highs)) or not np.any(lows > 0):
            return False
        spread |= bool(np.max(lows) >= np.min(highs)) and bool(np.min(highs) < np.max(highs))
    return spread


def _arms(design: Array) -> list[NDArray[np.bool_]]:
    """Return for each distinct row of the design which pieces have it."""
    _, places = np.unique(design, axis=0, return_inverse=True)
    flat = places.ravel()
    return [flat == arm for arm in range(int(flat.max()) + 1)]


def arm_times(
    low: ArrayLike, high: ArrayLike, arms: ArrayLike | None = None, law: Law = "log-normal"
) -> ArmTimes | None:
    """Return the model of highest likelihood, each arm stretching time by its own factor.

    Parameters
    ----------
    low, high
        Bounds of each piece's time, any unit, shape (n,).
    arms
        0 for the control and 1, 2, … for the other arms, shape (n,); None for one arm.
    law
        Shape of the times.

    Returns
    -------
    ArmTimes or None
        None where no maximum exists: an arm with nothing known from above or from below, or
        intervals that a single time without any spread would explain; and where the errors
        are too large to say anything.
    """
    left, right = (np.asarray(v, dtype=np.float64).ravel() for v in (low, high))
    codes = np.zeros(left.size, np.int64) if arms is None else np.asarray(arms, np.int64).ravel()
    whole = np.isfinite(left) & ~np.isnan(right) & (left >= 0) & (right >= left) & (right > 0)
    left, right, codes = left[whole], right[whole], codes[whole]
    if not left.size:
        return None
    others = np.arange(1, int(codes.max()) + 1)
    design = np.column_stack([np.ones(left.size), *(codes == arm for arm in others)])
    if np.linalg.matrix_rank(design) < design.shape[1] or not _fits(left, right, design):
        return None
    bounds = Bounds.of(law, left, right, design)
    found = maxima(bounds, np.ones((1, left.size)))
    if not found.settled[0]:
        return None
    spread = covariance(bounds, found.coefficients[0], float(found.scale[0]))
    if spread is None or np.max(np.diag(spread)) > VAGUEST**2:
        return None
    return ArmTimes(
        law,
        found.coefficients[0],
        spread,
        float(found.scale[0]),
        float(found.log_likelihood[0]),
        int(left.size),
    )
