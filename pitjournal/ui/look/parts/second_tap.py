"""A tap that is asked about first: the same tap again does it, unless anything came between."""

from collections.abc import Callable

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

STANDS = 8000
"""Milliseconds for which a question stands: who comes back later is asked anew."""


class SecondTap:
    """Whether a tap is the second of two, about the same thing and soon after the first."""

    def __init__(self, holder: QWidget, put_away: Callable[[], object]) -> None:
        self._about: object = None
        self._put_away = put_away
        self._timer = QTimer(holder, interval=STANDS, singleShot=True)
        self._timer.timeout.connect(self.forget)

    def comes(self, about: object) -> bool:
        """Return whether the question about this stands; else it stands from now on.

        Parameters
        ----------
        about
            What is asked about; never None.
        """
        stood, self._about = self._about == about, about
        if stood:
            self.forget()
        else:
            self._timer.start()
        return stood

    def forget(self) -> None:
        """Put the question away: something else was done, or it stood long enough."""
        if self._about is not None:
            self._about = None
            self._timer.stop()
            self._put_away()
