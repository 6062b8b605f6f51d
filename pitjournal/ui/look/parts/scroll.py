"""What scrolls up and down where it must, without a frame of its own."""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QLayout, QScrollArea, QSizePolicy, QWidget

DEEPEST = 10
"""So often what scrolls may take another size within taking one; it settles in two or three."""


class Scroll(QScrollArea):
    """What scrolls, and bears that what it holds never settles on a size.

    Qt gives what it holds the size it asks for, again and again until that is the one it has.
    Where the least size goes with the size it has, and back, that never ends, and the program does.
    """

    def __init__(self) -> None:
        super().__init__()
        self._deep = 0

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let go of a size too many."""
        if event.type() is not QEvent.Type.Resize:
            return super().eventFilter(watched, event)
        if self._deep >= DEEPEST:
            return False
        self._deep += 1
        try:
            return super().eventFilter(watched, event)
        finally:
            self._deep -= 1

    def room(self, part: QWidget) -> int:
        """Return the width there is for a part of what it holds, whatever that part asks for."""
        inner = self.widget()
        beside = 0 if inner is None else inner.width() - part.width()
        return self.maximumViewportSize().width() - beside


def scroll(inner: QWidget, name: str, *, sideways: bool = False) -> Scroll:
    """Return a widget that scrolls; `name` tells it to assistive technology."""
    inner.setObjectName("scrolled")
    area = Scroll()
    area.setAccessibleName(name)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    if not sideways:
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(inner)
    return area


class Sideways(Scroll):
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


def scroll_layout(
    layout: QLayout, name: str, *, sideways: bool = False, into: QBoxLayout | None = None
) -> Scroll:
    """Return a layout that scrolls.

    Where it stands in the end is made first, and filled then: each time that a part with all
    that is in it is put into another, Qt dresses it anew.

    Parameters
    ----------
    into
        What it is added to, and takes the room of.
    """
    inner = QWidget()
    area = scroll(inner, name, sideways=sideways)
    if into is not None:
        into.addWidget(area, 1)
    inner.setLayout(layout)
    return area
