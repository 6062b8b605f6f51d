"""When what is being typed is saved: at a pause, and at the latest after a while."""

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer

PAUSE = 700
"""Milliseconds after the last key at which what stands there is saved already."""

AT_LATEST = 2000
"""Milliseconds after the first key not saved yet at which it is saved without a pause.

A second is left for a slow disk and a busy computer: a kill costs at most three seconds.
"""


class Pauses(QObject):
    """Says when to save what is being typed: at a pause, and at the latest after a while."""

    def __init__(self, parent: QObject, save: Callable[[], object]) -> None:
        super().__init__(parent)
        self._pause = QTimer(self, interval=PAUSE, singleShot=True)
        self._latest = QTimer(self, interval=AT_LATEST, singleShot=True)
        for timer in (self._pause, self._latest):
            timer.timeout.connect(save)

    def typed(self, *_: object) -> None:
        """Hear that a key was typed."""
        self._pause.start()
        if not self._latest.isActive():
            self._latest.start()

    def at_once(self) -> None:
        """Save as soon as the hands are off."""
        self._pause.start(0)

    def stop(self) -> None:
        """Wait no more: it is being saved."""
        self._pause.stop()
        self._latest.stop()

    @property
    def waits(self) -> bool:
        """Whether something typed waits to be saved."""
        return self._pause.isActive() or self._latest.isActive()
