"""Panning eight long traces, against pyqtgraph's own clipping and peak down-sampling.

The peer draws plain thin lines and nothing else; ours also paints numbers, times, marks and
labels in every frame.
"""

import numpy as np
import pyqtgraph as pg
from PySide6.QtWidgets import QApplication

from pitjournal.ui.charts.trace.chart import Line, TraceChart
from pitjournal.ui.look.theme import look
from tests.benchmarks.measure import Measurement, alternately, rounds, size

LIMIT = 0.25
READINGS = size(600_000, 20_000)
CHANNELS = 8
ROUNDS = rounds(12)
FRAMES = 10
STEPS = 100
"""A frame pans by a hundredth of what is seen."""

Traces = list[tuple[np.ndarray, np.ndarray]]


def traces(readings: int) -> Traces:
    """Return wandering channels of a second's spacing (seeded)."""
    rng = np.random.default_rng(1)
    times = 1.7e9 + np.arange(readings, dtype=np.float64) * (READINGS / readings)
    return [(times, 100.0 + rng.normal(0, 1, readings).cumsum() * 0.01) for _ in range(CHANNELS)]


def ours(channels: Traces) -> TraceChart:
    """Return a chart of the channels, showing a quarter of them."""
    chart = TraceChart()
    chart.resize(1100, 500)
    chart.show_lines([Line(str(n), str(n), *channel, arm=n) for n, channel in enumerate(channels)])
    chart.show()
    return chart


def peer(channels: Traces) -> pg.PlotWidget:
    """Return pyqtgraph's plot of the channels."""
    plot = pg.PlotWidget()
    plot.resize(1100, 500)
    curves = [plot.plot(*channel) for channel in channels]
    for curve in curves:
        curve.setClipToView(True)
        curve.setDownsampling(auto=True, method="peak")
    plot.show()
    return plot


class Panning:
    """Pans a view box by a hundredth of what it shows a frame, to and fro."""

    def __init__(self, box: pg.ViewBox, view: pg.GraphicsView) -> None:
        self._box, self._view, self._frames = box, view, 0
        box.setXRange(1.7e9, 1.7e9 + READINGS / 4, padding=0)
        QApplication.processEvents()

    def __call__(self) -> None:
        """Pan and paint ten frames, so that one that paints more than others counts."""
        for _ in range(FRAMES):
            self._frames += 1
            onward = self._frames % (2 * STEPS) < STEPS
            self._box.translateBy(x=(1 if onward else -1) * READINGS / 4 / STEPS, y=0)
            self._view.viewport().repaint()


def application() -> None:
    """Start and dress an application, if there is none yet."""
    found = QApplication.instance() or QApplication(["benchmark"])
    assert isinstance(found, QApplication)
    look().start(found, "light")


def run() -> Measurement:
    """Measure ten frames of panning."""
    application()
    chart, plot = ours(traces(READINGS)), peer(traces(READINGS))
    against = alternately(Panning(chart.box, chart.plot), Panning(plot.getViewBox(), plot), ROUNDS)
    chart.close()
    plot.close()
    return Measurement("chart-pan", *against, LIMIT)
