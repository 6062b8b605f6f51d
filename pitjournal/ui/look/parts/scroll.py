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


def scroll_layout(layout: QLayout, name: str, *, sideways: bool = False) -> QScrollArea:
    """Return a layout that scrolls."""
    inner = QWidget()
    inner.setLayout(layout)
    return scroll(inner, name, sideways=sideways)
