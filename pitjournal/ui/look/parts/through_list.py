"""A click beside an open list of used words means what lies there, not only "close the list".

X11 alone gives the press to the list, which closes and swallows it; elsewhere Qt plays the press
again to what lies below.
"""

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtGui import QGuiApplication, QMouseEvent
from PySide6.QtWidgets import QAbstractButton, QWidget


def swallows() -> bool:
    """Whether an open list keeps a press beside it to itself."""
    return QGuiApplication.platformName() == "xcb"


class ThroughList(QObject):
    """Passes a press beside a list on: a button is pressed, anything else gets the focus."""

    def __init__(self, popup: QWidget, field: QWidget) -> None:
        super().__init__(popup)
        self._popup, self._field = popup, field
        popup.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Close the list, and press what lies below."""
        if (
            watched is self._popup
            and isinstance(event, QMouseEvent)
            and event.type() is QEvent.Type.MouseButtonPress
            and not self._popup.rect().contains(event.position().toPoint())
            and swallows()
        ):
            self._popup.hide()
            window = self._field.window()
            at = window.mapFromGlobal(event.globalPosition().toPoint())
            below = window.childAt(at)
            if below is not None:
                QTimer.singleShot(0, below, lambda: _press(below))
            return True
        return super().eventFilter(watched, event)


def _press(below: QWidget) -> None:
    below.setFocus()
    if isinstance(below, QAbstractButton):
        below.click()
