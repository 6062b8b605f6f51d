"""The forecast of eight probes worked out again, and the first answer, on their own thread."""

from statistics import median
from time import thread_time

from pitjournal.analysis.forecast.forecast import forecast, shared_of
from tests.benchmarks.cook_simulator import house, simulate
from tests.benchmarks.forecast_grade import asked_at, past_of
from tests.benchmarks.measure import Measurement, rounds

PROBES = 8
MOST, FIRST = 0.100, 1.5
"""Seconds of the thread: to work out eight anew, and the first of all."""

ROUNDS = rounds(12)


def run() -> Measurement:
    """Measure ribs and butts, half and half, with twelve past cooks each; CPU of the thread."""
    asked = []
    for cut, now in (("St. Louis ribs", 90), ("pork butt", 330)):
        cooks = simulate(house(4, cut), 13, 4, 7.0)
        past = past_of(cooks)
        asked += [asked_at(cooks, past, now + minute, 93.0) for minute in range(PROBES // 2)]

    def update() -> float:
        begun = thread_time()
        for one in asked:
            forecast(one)
        return thread_time() - begun

    shared_of.cache_clear()
    first = update()
    assert first < FIRST, f"the first answer took {first:.2f} s"
    return Measurement("forecast", median(update() for _ in range(ROUNDS)), MOST, 1.0)
