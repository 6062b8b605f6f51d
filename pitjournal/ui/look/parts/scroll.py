"""What scrolls up and down where it must, without a frame of its own."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLayout, QScrollArea, QWidget


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
