"""Small pictures at the size they are shown in: unpacked when first seen, a few at a time."""

import time
from collections import OrderedDict
from collections.abc import Callable

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QObject, QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QImage, QImageReader, QPixmap

from pitjournal.errors import JournalError

KEPT = 256
"""So many are kept unpacked: a few screens full, 23 MB."""

WAITING = 64
"""No more wait to be unpacked: what was scrolled past is out of sight by then."""

TURN = 0.008
"""Seconds of unpacking in one turn of the event loop."""


class SmallPictures(QObject):
    """Squares cut from the middle of kept pictures, by the picture's SHA-256.

    Parameters
    ----------
    read
        Returns a kept file's bytes.

    Signals
    -------
    there()
        More are unpacked: what shows them paints anew.
    """

    there = Signal()

    def __init__(self, read: Callable[[str], bytes], parent: QObject) -> None:
        super().__init__(parent)
        self._read = read
        self._kept: OrderedDict[tuple[str, int], QPixmap] = OrderedDict()
        self._wanted: OrderedDict[tuple[str, int], None] = OrderedDict()
        self._soon = QTimer(self, interval=0, singleShot=True)
        self._soon.timeout.connect(self._go_on)

    def of(self, sha: str, side: int) -> QPixmap | None:
        """Return a square of so many device pixels, empty where it is lost; None for not yet."""
        key = sha, side
        found = self._kept.get(key)
        if found is None:
            self._wanted[key] = None
            if len(self._wanted) > WAITING:
                self._wanted.popitem(last=False)
            if not self._soon.isActive():
                self._soon.start()
        else:
            self._kept.move_to_end(key)
        return found

    @property
    def waits(self) -> bool:
        """Whether some are still to be unpacked."""
        return bool(self._wanted)

    def _go_on(self) -> None:
        ends = time.perf_counter() + TURN
        while self._wanted and time.perf_counter() < ends:
            key, _ = self._wanted.popitem(last=False)
            self._kept[key] = self._unpacked(*key)
            if len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        if self._wanted:
            self._soon.start()
        self.there.emit()

    def _unpacked(self, sha: str, side: int) -> QPixmap:
        try:
            data = self._read(sha)
        except JournalError:
            return QPixmap()
        return QPixmap.fromImage(square_of(data, side))


def square_of(data: bytes, side: int) -> QImage:
    """Return the middle of a picture as a square of so many pixels, unpacked at that size."""
    held = QByteArray(data)
    buffer = QBuffer(held)
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer)
    size = reader.size()
    if not size.isEmpty():
        over = size.scaled(QSize(side, side), Qt.AspectRatioMode.KeepAspectRatioByExpanding)
        reader.setScaledSize(over)
        left, top = (over.width() - side) // 2, (over.height() - side) // 2
        reader.setScaledClipRect(QRect(left, top, side, side))
    return reader.read()
