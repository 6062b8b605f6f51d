"""Panning eight long traces, against pyqtgraph's own clipping and peak down-sampling."""

import numpy as np
import pyqtgraph as pg
from PySide6.QtWidgets import QApplication

from pitjournal.ui.charts.trace_chart import Line, TraceChart
from pitjournal.ui.look.theme import look
from tests.benchmarks.measure import Measurement, alternately

LIMIT = 0.25
READINGS = 600_000
CHANNELS = 8
ROUNDS = 20


def run() -> Measurement:
    """Measure a frame of panning at a twentieth of the whole."""
    application = QApplication.instance() or QApplication(["benchmark"])
    assert isinstance(application, QApplication)
    look().start(application, "light")
    rng = np.random.default_rng(1)
    times = 1.7e9 + np.arange(READINGS, dtype=np.float64)
    values = [100.0 + rng.normal(0, 1, READINGS).cumsum() * 0.01 for _ in range(CHANNELS)]
    chart = TraceChart()
    chart.resize(1100, 500)
    chart.show_lines([Line(str(n), str(n), times, v, n) for n, v in enumerate(values)])
    chart.show()
    plot = pg.PlotWidget()
    plot.resize(1100, 500)
    curves = [plot.plot(times, v) for v in values]
    for curve in curves:
        curve.setClipToView(True)
        curve.setDownsampling(auto=True, method="peak")
    plot.show()
    for box in (chart.box, plot.getViewBox()):
        box.setXRange(times[0], times[0] + READINGS / 4, padding=0)
    application.processEvents()

    def frame(box: pg.ViewBox, widget: pg.PlotWidget) -> None:
        box.translateBy(x=READINGS / 400, y=0)
        widget.viewport().repaint()

    ours, peer = alternately(
        lambda: frame(chart.box, chart.plot), lambda: frame(plot.getViewBox(), plot), ROUNDS
    )
    chart.close()
    plot.close()
    return Measurement("chart-pan", ours, peer, LIMIT)
