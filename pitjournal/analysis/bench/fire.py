"""How the fire burns so far, and how long what is in it lasts."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from pitjournal.domain.event import EventKind
from pitjournal.domain.fires import usual_burn
from pitjournal.domain.treatment import FuelLoad, FuelStage
from pitjournal.domain.whole_cook import WholeCook

LEAST = timedelta(minutes=30)
"""Over less, a rate says nothing."""


@dataclass(frozen=True)
class Burning:
    """A fire now.

    Attributes
    ----------
    slow, fast
        Its rate, g/s: one number when it is measured, else the usual range of the cooker.
    measured
        Whether the rate is this fire's own.
    by_left
        Whether it is, by what was left; else what was added is taken for burnt.
    least_left, most_left
        How long what is in it lasts, s, at the fast and at the slow rate.
    """

    slow: float
    fast: float
    measured: bool
    by_left: bool
    least_left: float
    most_left: float


def burning(whole: WholeCook, now: datetime) -> Burning | None:
    """Return how the fire burns; None while nothing is known of it, or not what it began with.

    Measured, the rate is what was burnt over the time since lighting: in + added − left, up to
    when what is left was weighed; else what was added, up to the last time it was: a fire is
    fed what it has burnt. Without either it is the usual range of the cooker's class.
    """
    lit = whole.first(EventKind.LIT)
    loads = [load for load in whole.fuel_loads if load.stage is not FuelStage.ASH]
    given = sum(load.mass for load in loads if load.stage is not FuelStage.LEFT)
    begun_with = any(load.stage is FuelStage.IN for load in loads)
    if lit is None or lit.happened_at is None or not begun_with or now <= lit.happened_at:
        return None
    if not given:
        return None
    own = _measured(loads, given, lit.happened_at)
    if own is not None:
        slow = fast = own
    else:
        usual = usual_burn(whole.cooker)
        if usual is None:
            return None
        slow, fast = usual
    time = (now - lit.happened_at).total_seconds()
    lasts = [max(0.0, given / rate - time) for rate in (fast, slow)]
    by_left = any(load.stage is FuelStage.LEFT for load in loads)
    return Burning(slow, fast, own is not None, own is not None and by_left, lasts[0], lasts[1])


def _measured(loads: list[FuelLoad], given: float, lit: datetime) -> float | None:
    timed = [load for load in loads if load.at is not None and load.at - lit >= LEAST]
    ends = [load.at for load in timed if load.at is not None and load.stage is not FuelStage.IN]
    if not ends:
        return None
    left = [load.mass for load in timed if load.stage is FuelStage.LEFT]
    added = sum(load.mass for load in timed if load.stage is FuelStage.ADDED)
    burnt = given - sum(left) if left else added
    return burnt / (max(ends) - lit).total_seconds() if burnt > 0 else None
