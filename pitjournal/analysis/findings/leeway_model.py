"""How long, or over how many degrees, each way stays right: a model, where pieces are enough.

Each piece gives its stay only as bounds. Turnbull's estimate takes no shape for granted; the
log-normal and the Weibull let each arm stretch the stay by its own factor. The interval comes
from drawing cooks anew, and pieces within each: where cooks differ, pieces are no replicates.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from pitjournal.analysis.findings.leeway import Stay

if TYPE_CHECKING:
    from pitjournal.science.times.log_times import Law

ENOUGH = 6
"""Fewer pieces of an arm give bounds only."""
SEEN_PAST = 3
"""So many of them must have been seen past right."""
DRAWS = 400
SEED = 20260501
TOO_WIDE = "one stay would explain every piece, so the spread is not seen: probe more often"
MOST_LOST = 0.1
"""Share of draws without a maximum beyond which no interval is shown."""


@dataclass(frozen=True)
class Stays:
    """What a model is made of, so that the same data are never worked out twice.

    `arms` names the ways, the control first; `stays` are the pieces', over several cooks.
    """

    axis: str
    arms: tuple[str, ...]
    stays: tuple[Stay, ...]


@dataclass(frozen=True)
class ArmStay:
    """Half the pieces of an arm stay right for at least `median`: s, or K on that axis.

    `low` and `high` bound it (95 %); None where the pieces set no bound.
    """

    arm: str
    pieces: int
    median: float
    low: float | None
    high: float | None


@dataclass(frozen=True)
class Half:
    """Between which times half the pieces of an arm stop being right, whatever their shape.

    s, or K on that axis; `before` None where it was not seen. `past` of the `pieces` were seen
    past right.
    """

    arm: str
    pieces: int
    past: int
    after: float
    before: float | None


@dataclass(frozen=True)
class FeltStretch:
    """How many times as long an arm stays right as the control, with its interval."""

    arm: str
    factor: float
    low: float | None
    high: float | None

    @property
    def tells(self) -> bool:
        """Whether the interval leaves out that both stay right alike."""
        return (self.low is not None and self.low > 1) or (self.high is not None and self.high < 1)


@dataclass(frozen=True)
class LeewayModel:
    """A fitted model of the arms with enough pieces, and what the others lack.

    `law` is the likelier of the two shapes, `other` the medians by the other one. There are
    stretches only where the control is among the arms.
    """

    axis: str
    cooks: int
    lacks: tuple[str, ...] = ()
    law: str = ""
    arms: tuple[ArmStay, ...] = ()
    stretches: tuple[FeltStretch, ...] = ()
    other: tuple[float, ...] = ()

    @property
    def known(self) -> bool:
        """Whether there is an estimate."""
        return bool(self.arms)


@lru_cache(maxsize=128)
def model_of(data: Stays) -> LeewayModel:
    """Return the model of some stays; kept for as long as the same stays are asked for."""
    lacks = [_lack(data, place) for place in range(len(data.arms))]
    enough = [place for place, lack in enumerate(lacks) if not lack]
    missing = tuple(lack for lack in lacks if lack)
    kept = _only(data, enough)
    cooks = len({stay.cook_id for stay in kept.stays})
    if not enough:
        return LeewayModel(data.axis, cooks, missing)
    from pitjournal.science.times.censored import arm_times

    low, high = _bounds(kept.stays)
    codes = [stay.arm for stay in kept.stays]
    laws: tuple[Law, Law] = ("log-normal", "Weibull")
    fits = [fit for law in laws if (fit := arm_times(low, high, codes, law)) is not None]
    if not fits:
        return LeewayModel(data.axis, cooks, (*missing, TOO_WIDE))
    best = max(fits, key=lambda fit: fit.log_likelihood)
    rest = [fit for fit in fits if fit is not best]
    arms, stretches = _intervals(kept, best.law)
    return LeewayModel(
        data.axis,
        cooks,
        missing,
        best.law,
        arms,
        stretches if 0 in enough else (),
        tuple(rest[0].median(arm) for arm in range(len(enough))) if rest else (),
    )


def _lack(data: Stays, place: int) -> str:
    """Say what an arm lacks for an estimate, or nothing."""
    own = [stay for stay in data.stays if stay.arm == place]
    past = sum(stay.most is not None for stay in own)
    name = data.arms[place]
    if len(own) < ENOUGH:
        return f"{name}: {len(own)} of the {ENOUGH} pieces that an estimate needs, so bounds only"
    if past < SEEN_PAST:
        return f"{name}: {past} of {len(own)} seen past right, and an estimate needs {SEEN_PAST}"
    return ""


def _only(data: Stays, places: Sequence[int]) -> Stays:
    """Return the stays of some arms, coded in their order."""
    code = {place: number for number, place in enumerate(places)}
    stays = tuple(replace(s, arm=code[s.arm]) for s in data.stays if s.arm in code)
    return Stays(data.axis, tuple(data.arms[place] for place in places), stays)


def _bounds(stays: Sequence[Stay]) -> tuple[list[float], list[float]]:
    low = [stay.least for stay in stays]
    return low, [math.inf if stay.most is None else stay.most for stay in stays]


def _intervals(data: Stays, law: "Law") -> tuple[tuple[ArmStay, ...], tuple[FeltStretch, ...]]:
    import numpy as np

    from pitjournal.science.comparison.resampled import drawn_with_groups
    from pitjournal.science.times.log_times import Bounds, maxima, middle

    low, high = (np.array(part) for part in _bounds(data.stays))
    codes = np.array([stay.arm for stay in data.stays])
    design = np.column_stack([np.ones(codes.size), *(codes == a for a in range(1, len(data.arms)))])
    cooks = [stay.cook_id for stay in data.stays]
    weights = np.vstack([np.ones(codes.size), drawn_with_groups(cooks, DRAWS, SEED)])
    found = maxima(Bounds.of(law, low, high, design), weights)
    heights = found.coefficients[:, :1] + np.hstack(
        [np.zeros((DRAWS + 1, 1)), found.coefficients[:, 1:]]
    )
    heights = heights + found.scale[:, None] * middle(law)
    settled = found.settled.copy()
    for place in range(len(data.arms)):
        own = weights * (codes == place)
        endless = ~np.any((own > 0) & np.isfinite(high), axis=1)  # in this draw nothing ends
        heights[endless, place] = np.inf
        settled |= endless & np.any(own > 0, axis=1)
    drawn = heights[1:][settled[1:]]
    enough = drawn.shape[0] >= (1 - MOST_LOST) * DRAWS
    arms = []
    counts = [int(np.count_nonzero(codes == place)) for place in range(len(data.arms))]
    drawn_of = [_replicates(data, place) for place in range(len(data.arms))]
    for place, name in enumerate(data.arms):
        bounds = _bounded(drawn[:, place], drawn_of[place]) if enough else (None, None)
        arms.append(ArmStay(name, counts[place], math.exp(float(heights[0, place])), *bounds))
    stretches = []
    for place, name in enumerate(data.arms[1:], 1):
        with np.errstate(invalid="ignore"):
            ratio = drawn[:, place] - drawn[:, 0]
        kept = ratio[~np.isnan(ratio)]
        whole = enough and kept.size >= (1 - MOST_LOST) * DRAWS
        bounds = _bounded(kept, min(drawn_of[0], drawn_of[place])) if whole else (None, None)
        factor = math.exp(float(heights[0, place] - heights[0, 0]))
        stretches.append(FeltStretch(name, factor, *bounds))
    return tuple(arms), tuple(stretches)


def _replicates(data: Stays, place: int) -> int:
    """Return how many were drawn of an arm: its cooks, and in a single cook its pieces."""
    own = [stay for stay in data.stays if stay.arm == place]
    cooks = len({stay.cook_id for stay in own})
    return cooks if cooks > 1 else len(own)


def _bounded(logs: object, n: int) -> tuple[float | None, float | None]:
    from pitjournal.science.comparison.resampled import expanded_percentiles

    low, high = expanded_percentiles(logs, n)  # type: ignore[arg-type]
    return (
        math.exp(low) if math.isfinite(low) else None,
        math.exp(high) if math.isfinite(high) else None,
    )


@lru_cache(maxsize=128)
def halves(data: Stays) -> tuple[Half, ...]:
    """Return Turnbull's bounds of each arm with enough pieces; kept while the stays stay."""
    from pitjournal.science.times.censored import median_bounds, turnbull

    found = []
    for place, name in enumerate(data.arms):
        own = [stay for stay in data.stays if stay.arm == place]
        bounds = None if _lack(data, place) else median_bounds(turnbull(*_bounds(own)))
        if bounds is not None:
            past = sum(stay.most is not None for stay in own)
            before = bounds[1] if math.isfinite(bounds[1]) else None
            found.append(Half(name, len(own), past, bounds[0], before))
    return tuple(found)
