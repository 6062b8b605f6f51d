"""Panning eight channels of 600,000 readings must cost about what it costs with 6,000."""

from tests.benchmarks.chart_pan import READINGS, ROUNDS, Panning, application, ours, traces
from tests.benchmarks.measure import Measurement, alternately

LIMIT = 1.5
FEW_READINGS = 6_000


def run() -> Measurement:
    """Measure ten frames of panning."""
    application()
    many, few = ours(traces(READINGS)), ours(traces(FEW_READINGS))
    times = alternately(Panning(many.box, many.plot), Panning(few.box, few.plot), ROUNDS)
    many.close()
    few.close()
    return Measurement("chart-length", *times, LIMIT)
