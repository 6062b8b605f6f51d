"""When each temperature on the way is reached, and what that says of the stall."""

from dataclasses import dataclass, replace

import numpy as np

from pitjournal.analysis.forecast.asked import ForecastAsked
from pitjournal.analysis.forecast.forecast import Forecast, forecast
from pitjournal.analysis.traces.features import STALL_HIGH, stall
from pitjournal.domain.samples import Samples

STEPS = 12
"""Temperatures looked at on the way, at most."""

CLOSEST = 1.0
"""Two of them lie at least so far apart, °C."""


def fan(asked: ForecastAsked) -> tuple[Forecast, ...]:
    """Return the forecasts of the temperatures between now and the highest target.

    Drawn with time along and temperature up, the bands of each open from the last reading: that
    is the fan. Empty where the highest target is refused or reached.
    """
    top = max(asked.targets)
    here = float(np.median(asked.trace.meat[-5:])) if asked.trace.meat.size else top
    if top - here < CLOSEST:
        return ()
    count = int(min(STEPS, (top - here) / CLOSEST))
    levels = tuple(float(level) for level in np.linspace(here, top, count + 1)[1:])
    return tuple(
        one
        for one in forecast(replace(asked, targets=levels))
        if not one.refused and one.median is not None
    )


@dataclass(frozen=True)
class StallAhead:
    """The stall as it most likely will have been, s from on: when it begins, and ends."""

    begins: float
    ends: float
    begun: bool
    """Whether it has begun already, by the same rule."""


def stall_ahead(asked: ForecastAsked, ahead: tuple[Forecast, ...]) -> StallAhead | None:
    """Return the stall by the rule that the finished trace is judged by.

    The rule (`features.stall`: under 3 K an hour over 20 min between 55 and 85 °C, for 25 min or
    more) is laid on the trace so far with the most likely course joined to it. None where there is
    no stall to be seen, or where the course does not reach past where stalls lie.
    """
    course = [(one.median, one.target) for one in ahead if one.median is not None]
    if not course:
        return None
    times = np.array([*asked.trace.seconds, *(at for at, _ in course)])
    values = np.array([*asked.trace.meat, *(level for _, level in course)])
    minutes = np.arange(float(times[0]), float(times[-1]), 60.0)
    even = Samples(minutes, np.interp(minutes, times, values).astype(np.float32))
    found = stall(even, float(minutes[0]), float(minutes[-1]))
    if found is None or (not found.ended and course[-1][1] < STALL_HIGH):
        return None
    return StallAhead(found.start, found.start + found.length, begun=found.start < asked.now)
