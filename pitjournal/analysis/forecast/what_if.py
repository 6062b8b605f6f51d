"""What if: the same bodies run on once more with another wrap or another pit."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from pitjournal.analysis.forecast.ahead import Agreed, crossing, later_wraps, quantile, run_on
from pitjournal.analysis.forecast.asked import ForecastAsked, Trace, Wrapping
from pitjournal.analysis.forecast.forecast import MEMBERS, SEED, Forecast, agreed_of, forecast
from pitjournal.analysis.forecast.pit import OF_LATE, SETTLING, pit_ahead

HOTTER = 15.0
"""How much hotter a pit is asked about, °C."""

LEAST_DIPS = 1.0
"""Lids that cost the pit less than this on average, °C, are not worth a word."""


@dataclass(frozen=True)
class WhatIf:
    """What one change would do to the most likely time: `minutes` later, or earlier if below 0."""

    change: str
    minutes: float


def what_if(asked: ForecastAsked) -> tuple[WhatIf, ...]:
    """Return what changes to a cook under way would do to its first target.

    The bodies that agree with the trace are run on with and without the change; the share by which
    their middle moves is laid on the forecast. Empty where the forecast is refused.
    """
    (usual,) = forecast(replace(asked, targets=asked.targets[:1]))
    if usual.refused or usual.median is None:
        return ()
    agreed, pit = agreed_of(asked), pit_ahead(asked.trace, asked.set_point)
    as_now = later_wraps(asked.wrapping, asked.past, asked.now, MEMBERS, SEED)
    base = _left(agreed, as_now, pit, usual.target)
    if base is None:
        return ()
    found = []
    for change, wrap, warmer in _changes(asked):
        later = as_now if wrap is None else [Wrapping(asked.now, wrap)] * MEMBERS
        changed = _left(agreed, later, pit + warmer, usual.target)
        if changed is not None:
            found.append(WhatIf(change, _moved(usual, asked.now, changed / base)))
    return tuple(found)


def _changes(asked: ForecastAsked) -> list[tuple[str, str | None, float]]:
    """Return each change: its words, a wrap from now on, and degrees of the pit."""
    found: list[tuple[str, str | None, float]] = []
    if asked.wrapped is None:
        found += [
            ("it were wrapped in foil now", "foil", 0.0),
            ("it were wrapped in paper now", "paper", 0.0),
        ]
    found.append(("the pit were 15 °C (27 °F) hotter", None, HOTTER))
    if dips(asked.trace) > LEAST_DIPS:
        found.append(("the lid stayed shut", None, dips(asked.trace)))
    return found


def dips(trace: Trace) -> float:
    """Return what opening the lid has cost the pit of late on average, °C."""
    end = float(trace.seconds[-1])
    if end < 2.0 * SETTLING:
        return 0.0
    recent = trace.pit[trace.seconds >= max(SETTLING, end - OF_LATE)]
    return max(0.0, float(np.median(recent) - np.mean(recent)))


def _left(
    agreed: Agreed, later: Sequence[Wrapping | None], pit: float, target: float
) -> float | None:
    """Return the middle of the seconds left; None where most never get there."""
    ahead = run_on(agreed, later, pit_ahead=pit, top=target)
    middle = quantile(crossing(ahead, target), ahead.weights, 0.5)
    return max(middle - ahead.now, 20.0) if math.isfinite(middle) else None


def _moved(usual: Forecast, now: float, share: float) -> float:
    assert usual.median is not None
    return (usual.median - now) * (share - 1.0) / 60.0
