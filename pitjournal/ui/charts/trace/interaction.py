"""What takes the mouse on a chart of traces, and what is painted over it."""

from collections.abc import Callable
from typing import Any

import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

ZOOMS = {Qt.Key.Key_Plus: 0.7, Qt.Key.Key_Equal: 0.7, Qt.Key.Key_Minus: 1 / 0.7}
"""By how much a key zooms about the middle; less than 1 comes nearer."""

PANS = {Qt.Key.Key_Left: -0.2, Qt.Key.Key_Right: 0.2}
"""By which share of what is seen a key pans."""


class DayBox(pg.ViewBox):  # type: ignore[misc]
    """Drag pans; with Shift it brushes a stretch, with Ctrl it may move the lines.

    The wheel zooms where it is the chart's.
    """

    def __init__(
        self,
        wheel_zooms: Callable[[], bool],
        brush: Callable[..., None],
        move: Callable[..., bool],
    ) -> None:
        super().__init__(enableMenu=False, defaultPadding=0.0)
        self._wheel_zooms, self._brush, self._move = wheel_zooms, brush, move
        self.setMouseEnabled(x=True, y=False)

    def mouseDragEvent(self, event: Any, axis: int | None = None) -> None:  # noqa: ANN401 - untyped there
        """Pan, brush the stretch to zoom to, or move the lines."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            begin, now = (
                self.mapToView(place).x() for place in (event.buttonDownPos(), event.pos())
            )
            if self._move(now - begin, done=event.isFinish()):
                event.accept()
                return
        if not event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            super().mouseDragEvent(event, axis=axis)
            return
        event.accept()
        ends = [self.mapToView(place).x() for place in (event.buttonDownPos(), event.pos())]
        self._brush(min(ends), max(ends), done=event.isFinish())

    def wheelEvent(self, event: Any, axis: int | None = None) -> None:  # noqa: ANN401 - untyped there
        """Zoom, unless the wheel is meant for the page that the chart scrolls with."""
        if self._wheel_zooms():
            super().wheelEvent(event, axis=axis)
        else:
            event.ignore()

    def step_by_key(self, key: Qt.Key) -> bool:
        """Zoom or pan by a key; return whether it is one of those."""
        factor, share = ZOOMS.get(key), PANS.get(key)
        if factor is not None:
            self.scaleBy((factor, 1.0))
        if share is not None:
            (start, end), _ = self.viewRange()
            self.translateBy(x=share * (end - start), y=0)
        return factor is not None or share is not None


def bare_plot(box: DayBox) -> pg.GraphicsView:
    """Return of pyqtgraph's view only what takes the mouse."""
    plot = pg.GraphicsView(background=None)
    plot.setCentralItem(box)
    plot.setFrameShape(pg.GraphicsView.Shape.NoFrame)
    plot.setStyleSheet("background: transparent;")
    plot.viewport().setAutoFillBackground(False)
    plot.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    plot.setMinimumSize(1, 1)
    return plot


class Over(QWidget):
    """Paints the chart over the plot, which only takes the hands."""

    def __init__(self, chart: QWidget, paint: Callable[[QPainter], None]) -> None:
        super().__init__(chart)
        self._paint = paint
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        painter = QPainter(self)
        self._paint(painter)
        painter.end()
