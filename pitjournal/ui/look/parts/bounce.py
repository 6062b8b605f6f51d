"""A key that bounces under a glove is one press, as a finger on a tap is."""

from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication


class Bounce:
    """Holds each press of a key against the one before it."""

    def __init__(self) -> None:
        self._key = self._at = 0

    def takes(self, event: QKeyEvent, within: int | None = None) -> bool:
        """Note a press; whether it is one with the last: the same key so soon, or held down.

        The same event, met twice on its way, is no bounce, nor is one without a time. `within`
        so many milliseconds; as for a double tap where it is not said.
        """
        last, at = self._at, event.timestamp()
        same = event.key() == self._key
        if event.isAutoRepeat():
            return same
        self._key, self._at = event.key(), at
        if not same or not last or not at:
            return False
        longest = QApplication.doubleClickInterval() if within is None else within
        return 0 < at - last < longest
