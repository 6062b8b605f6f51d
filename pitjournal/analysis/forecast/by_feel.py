"""When it will probably feel right: a target that is itself not sure, by one's own feels."""

import math
from dataclasses import dataclass, replace

from pitjournal.analysis.forecast.asked import ForecastAsked
from pitjournal.analysis.forecast.forecast import Forecast, forecast

QUARTER, TAIL = 0.674, 1.645
"""How many spreads out a quarter and a twentieth of a normal law lie."""

EARLY = 10.0 / 1.8
"""Probing begins so far below the target, °C (10 °F: common practice, no source)."""


@dataclass(frozen=True)
class Right:
    """Where one's own pieces of a cut were right: °C at a quarter, half and three quarters."""

    low: float
    middle: float
    high: float
    pieces: int


@dataclass(frozen=True)
class ByFeel:
    """When it is probably right by feel, and when to start probing for it, s from on."""

    right: Forecast
    probe_from: float | None
    """None where that is unknown; a moment behind means: now."""


def by_feel(asked: ForecastAsked, right: Right) -> ByFeel:
    """Return when a piece will probably be right, and when to start probing for it.

    The bands are those of the middle temperature, widened by how far one's own pieces lay apart
    when they were right: half of them lay between `low` and `high`.
    """
    start = right.low - EARLY
    probing, low, middle, high = forecast(
        replace(asked, targets=(start, right.low, right.middle, right.high))
    )
    return ByFeel(_widened(low, middle, high, asked.now), probing.median)


def _widened(low: Forecast, middle: Forecast, high: Forecast, now: float) -> Forecast:
    known = (low.median, middle.median, high.median)
    if middle.refused or any(at is None for at in known):
        return middle
    early, at, late = (max(at or 0.0, now + 60.0) for at in known)
    apart = math.log((late - now) / (early - now)) / (2.0 * QUARTER)

    def moved(band: float | None, spreads: float) -> float | None:
        if band is None:
            return None
        own = math.log(max(band - now, 1.0) / (at - now)) / spreads
        return now + (at - now) * math.exp(spreads * math.hypot(own, apart))

    return replace(
        middle,
        low50=moved(middle.low50, -QUARTER),
        high50=moved(middle.high50, QUARTER),
        low90=moved(middle.low90, -TAIL),
        high90=moved(middle.high90, TAIL),
    )
