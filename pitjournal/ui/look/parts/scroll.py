"""What scrolls up and down where it must, without a frame of its own."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QFrame, QLayout, QScrollArea, QSizePolicy, QWidget


def scroll(inner: QWidget, name: str, *, sideways: bool = False) -> QScrollArea:
    """Return a widget that scrolls; `name` tells it to assistive technology."""
    inner.setObjectName("scrolled")
    area = QScrollArea()
    area.setAccessibleName(name)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    if not sideways:
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(inner)
    return area


class Sideways(QScrollArea):
    """What scrolls to the side where it is too wide, and is as high as what it holds."""

    def __init__(self, layout: QLayout, name: str) -> None:
        super().__init__()
        inner = QWidget()
        inner.setLayout(layout)
        inner.setObjectName("scrolled")
        self.setAccessibleName(name)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(inner)
        self.verticalScrollBar().rangeChanged.connect(self.fit)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Make room for the bar where there is one."""
        super().resizeEvent(event)
        self.fit()

    def fit(self) -> None:
        """Take the height of what is in it: by itself where that grew, else when told."""
        inner = self.widget()
        assert inner is not None
        bar = self.horizontalScrollBar().sizeHint().height()
        over = inner.minimumSizeHint().width() > self.viewport().width()
        high = inner.sizeHint().height() + bar * over
        if high != self.minimumHeight():
            self.setFixedHeight(high)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page, unless it turns to the side."""
        if event.angleDelta().x():
            super().wheelEvent(event)
        else:
            event.ignore()


def has_more(widget: QWidget) -> bool:
    """Whether a widget scrolls up and down, and holds more than is seen."""
    return isinstance(widget, QScrollArea) and widget.verticalScrollBar().maximum() > 0


MARGIN = 24
"""What stays in sight below a widget that was scrolled to, px."""


def show_within_area(widget: QWidget) -> None:
    """Scroll what holds a widget so far that all of it is seen."""
    parent = widget.parentWidget()
    while parent is not None:
        if isinstance(parent, QScrollArea):
            parent.ensureWidgetVisible(widget, MARGIN, MARGIN)
        parent = parent.parentWidget()


def scroll_layout(layout: QLayout, name: str, *, sideways: bool = False) -> QScrollArea:
    """Return a layout that scrolls."""
    inner = QWidget()
    inner.setLayout(layout)
    return scroll(inner, name, sideways=sideways)
