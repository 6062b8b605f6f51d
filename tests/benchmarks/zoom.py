"""Zooming into eight long traces and resizing their chart, against pyqtgraph's plain plot."""

import pyqtgraph as pg
from PySide6.QtWidgets import QApplication, QWidget

from tests.benchmarks.chart_pan import READINGS, application, ours, peer, traces
from tests.benchmarks.measure import Measurement, alternately, rounds

LIMIT = 1.2
ROUNDS = rounds(12)
FRAMES = 8


class Zooming:
    """Zooms in and out by a tenth a frame, then makes the chart wider and narrower again."""

    def __init__(self, whole: QWidget, box: pg.ViewBox, view: pg.GraphicsView) -> None:
        self._whole, self._box, self._view = whole, box, view
        box.setXRange(1.7e9, 1.7e9 + READINGS, padding=0)
        QApplication.processEvents()

    def __call__(self) -> None:
        """Paint each frame as it comes."""
        for frame in range(FRAMES):
            self._box.scaleBy((0.9 if frame < FRAMES // 2 else 1 / 0.9, 1.0))
            self._view.viewport().repaint()
        for frame in range(FRAMES):
            self._whole.resize(1100 - 20 * min(frame, FRAMES - 1 - frame), 500)
            QApplication.processEvents()


def run() -> Measurement:
    """Measure zooming and resizing together."""
    application()
    chart, plot = ours(traces(READINGS)), peer(traces(READINGS))
    against = alternately(
        Zooming(chart, chart.box, chart.plot), Zooming(plot, plot.getViewBox(), plot), ROUNDS
    )
    chart.close()
    plot.close()
    return Measurement("zoom", *against, LIMIT)
