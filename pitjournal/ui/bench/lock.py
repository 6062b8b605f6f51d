"""The stray-touch lock: nothing on the window answers until its foot is held for a second."""

import time

from PySide6.QtCore import QEvent, QObject, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QHideEvent, QKeyEvent, QMouseEvent, QPainter, QPen, QShowEvent
from PySide6.QtWidgets import QApplication, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.scrim import TOUCHES
from pitjournal.ui.look.theme import bold_letters, colour, high, look, px

HOLD = 1000
"""Milliseconds that the foot, or the key, is held to unlock."""

KEY = Qt.Key.Key_L

_KEYS = frozenset({QEvent.Type.KeyPress, QEvent.Type.KeyRelease, QEvent.Type.ShortcutOverride})


class Veil(QWidget):
    """Lies over a window and takes every touch and key; what is below stays to be read.

    Signals
    -------
    opened()
        It was held long enough, and is gone.
    """

    opened = Signal()

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self.setAccessibleName("Locked. Hold the foot of the window, or the key L, to unlock.")
        self._since: float | None = None
        self._held = QTimer(self, interval=HOLD, singleShot=True)
        self._held.timeout.connect(self._open)
        self._paint = QTimer(self, interval=40)
        self._paint.timeout.connect(self.update)
        look().changed.connect(self.update)
        application = QApplication.instance()
        assert application is not None
        self._application = application
        self.setGeometry(window.rect())
        self.show()
        self.raise_()

    def showEvent(self, event: QShowEvent) -> None:
        """Watch what is meant for the window, from now on."""
        self._application.installEventFilter(self)
        super().showEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:
        """Watch no more: a window that is closed goes with all its parts, and these are let die."""
        self._application.removeEventFilter(self)
        super().hideEvent(event)

    def foot(self) -> QRectF:
        """Return where it is held."""
        width = min(float(px(460)), self.width() - 2.0 * tokens.XL)
        height = float(high(tokens.TAP_HEIGHT + tokens.L))
        left = (self.width() - width) / 2
        return QRectF(left, self.height() - height - tokens.L, width, height)

    # what it takes

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take what is meant for the window; other windows, such as a file dialog, live on."""
        kind = event.type()
        window = self.parentWidget()
        if window is None or not isinstance(watched, QWidget) or watched.window() is not window:
            return False
        if kind is QEvent.Type.Resize and watched is window:
            self.setGeometry(window.rect())
        if kind in _KEYS:
            assert isinstance(event, QKeyEvent)
            self._key(event)
            event.accept()  # an override that is accepted starts no shortcut
            return True
        return kind in TOUCHES and watched is not self

    def _key(self, event: QKeyEvent) -> None:
        if event.key() != KEY or event.isAutoRepeat():
            return
        if event.type() is QEvent.Type.KeyPress:
            self._begin()
        elif event.type() is QEvent.Type.KeyRelease:
            self._end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin to hold."""
        if self.foot().contains(event.position()):
            self._begin()
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go too early."""
        self._end()
        event.accept()

    def _begin(self) -> None:
        self._since = time.monotonic()
        self._held.start()
        self._paint.start()

    def _end(self) -> None:
        self._since = None
        self._held.stop()
        self._paint.stop()
        self.update()

    def _open(self) -> None:
        self._end()
        self.hide()
        self.setParent(None)
        self.deleteLater()
        self.opened.emit()

    # what it shows

    def paintEvent(self, _event: object) -> None:
        """Paint an edge around the window, and the foot with how long it was held."""
        theme = look().theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), colour(theme.paper, 0.35))
        painter.setPen(QPen(QColor(theme.ember), 6))
        painter.drawRect(self.rect().adjusted(3, 3, -3, -3))
        foot = self.foot()
        painter.setPen(QPen(QColor(theme.ember), 3))
        painter.setBrush(QColor(theme.card))
        painter.drawRoundedRect(foot, tokens.TAP_RADIUS, tokens.TAP_RADIUS)
        if self._since is not None:
            share = min(1.0, (time.monotonic() - self._since) * 1000 / HOLD)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(theme.ember_tint if theme.name != "sun" else theme.grid))
            done = foot.adjusted(3, 3, -3, -3)
            done.setWidth(done.width() * share)
            painter.drawRoundedRect(done, tokens.TAP_RADIUS - 3, tokens.TAP_RADIUS - 3)
        painter.setPen(QColor(theme.ink))
        painter.setFont(bold_letters(tokens.LARGE))
        middle = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(foot, middle, "Locked. Hold here, or the key L, to unlock")
        painter.end()
