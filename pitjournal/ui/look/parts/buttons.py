"""Buttons: plain, primary, danger, link, chip, tab; and the tap, for gloves."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import QAbstractButton, QApplication, QPushButton, QSizePolicy, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.spoken import spoken
from pitjournal.ui.look.theme import at_size, bold, font, high, look, px, sized

TAP_HIGH = tokens.TAP_HEIGHT + tokens.L
"""The height of a tap with its two lines, px."""

HOLD = 500
"""Milliseconds after which a press is a hold."""


class Button(QPushButton):
    """A button whose name for a screen reader is what stands on it, and what it is about."""

    def __init__(self, text: str = "", about: str = "") -> None:
        super().__init__()
        self._about = about
        self.setText(text)

    def setText(self, text: str) -> None:
        """Show another text, by which it is called from now on."""
        super().setText(text.replace("&", "&&"))
        self.setAccessibleName(spoken(text, self._about))

    def tell_about(self, about: str) -> None:
        """Tell which of several alike it is."""
        self._about = about
        self.setAccessibleName(spoken(self.text().replace("&&", "&"), about))


def button(
    text: str, run: Callable[[], object], role: str = "", *, about: str = "", tip: str = ""
) -> Button:
    """Return a button of a role: "", "primary", "danger", "link", "glove".

    `about` tells a screen reader what it does it to, where only the eye sees that.
    """
    made = Button(text, about)
    if role:
        made.setProperty("role", role)
    made.setToolTip(tip)
    made.setAutoDefault(False)
    made.setCursor(Qt.CursorShape.PointingHandCursor)
    made.clicked.connect(lambda *_: run())
    return made


class Tap(QAbstractButton):
    """A large target with a word and a line below it, for one tap in gloves.

    `clicked` is the tap; `held` comes instead when it is pressed for half a second, or with
    Shift and the key.
    """

    held = Signal()

    def __init__(self, text: str, parent: QWidget | None = None, *, primary: bool = False) -> None:
        super().__init__(parent)
        self._about = ""
        self.setText(text)
        self._below = ""
        self._primary = primary
        self._holding = False
        self._last: int | None = None
        self._timer = QTimer(self, interval=HOLD, singleShot=True)
        self._timer.timeout.connect(self._hold)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        sized(self, lines=2, least_width=tokens.TAP_WIDTH, least_height=TAP_HIGH)
        look().changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """Return a size that gloves find."""
        return QSize(px(106), high(TAP_HIGH, 2))

    def setText(self, text: str) -> None:
        """Show another word, by which it is called from now on."""
        super().setText(text)
        self.setAccessibleName(spoken(text, self._about))

    def tell_about(self, about: str) -> None:
        """Tell which of several alike it is, or more than has room on it."""
        self._about = about
        self.setAccessibleName(spoken(self.text(), about))

    def say_below(self, text: str) -> None:
        """Set the line below the word, such as "2 min ago"."""
        if text != self._below:
            self._below = text
            self.setAccessibleDescription(text)
            self.update()

    def make_primary(self, primary: bool) -> None:
        """Make it the thing to do now, or not."""
        if primary != self._primary:
            self._primary = primary
            self.update()

    def _hold(self) -> None:
        self._holding = True
        self.setDown(False)
        self.held.emit()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin to time the press, unless the finger bounced."""
        if self._bounced(event):
            event.accept()
            return
        self._holding = False
        self._timer.start()
        super().mousePressEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Take a finger that bounced for one tap: On would be Off, and a feel the next piece's."""
        self._bounced(event)
        event.accept()

    def _bounced(self, event: QMouseEvent) -> bool:
        """Whether a press comes so soon after the last one that it is one tap with it.

        However often the finger bounces, each press is held against the one before it.
        """
        last, self._last = self._last, event.timestamp() or None
        if last is None or self._last is None:
            return False
        return 0 <= self._last - last < QApplication.doubleClickInterval()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End it: a hold is no tap."""
        self._timer.stop()
        if self._holding:
            self.setDown(False)
            event.accept()
            return
        super().mouseReleaseEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        """Hold nothing once the finger slides off."""
        self._timer.stop()
        super().leaveEvent(event)

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        theme = look().theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ground, ink, below = theme.card, theme.ink, theme.quiet
        edge, width = theme.hairline, float(max(2, theme.edge))
        if self._primary:
            ground, ink, below, edge = theme.ember, theme.on_ember, theme.on_ember, theme.ember
        if not self.isEnabled():
            ground, ink = theme.paper, theme.quiet
        if self.isDown():
            ground, ink, below = theme.ink, theme.card, theme.card
        if self.hasFocus():
            edge, width = theme.ink if self._primary else theme.ember, 3.0
        painter.setPen(QPen(QColor(edge), width))
        painter.setBrush(QColor(ground))
        whole = at_size(painter, self.rect())
        inside = whole.adjusted(width / 2, width / 2, -width / 2, -width / 2)
        painter.drawRoundedRect(inside, tokens.TAP_RADIUS, tokens.TAP_RADIUS)
        room = inside.adjusted(4, 0, -4, 0)
        painter.setPen(QColor(ink))
        for size in (
            tokens.DUE if len(self.text()) < 9 else tokens.LARGE,
            tokens.BODY,
            tokens.SMALL,
        ):
            painter.setFont(bold(size))
            if painter.fontMetrics().horizontalAdvance(self.text()) <= room.width() - 4:
                break
        middle = Qt.AlignmentFlag.AlignCenter
        if not self._below:
            middle |= Qt.TextFlag.TextWordWrap
            painter.drawText(room, middle, self.text())
        else:
            wide = painter.fontMetrics().horizontalAdvance(self.text())
            if wide > room.width():  # two lines, closer to the top
                middle |= Qt.TextFlag.TextWordWrap
            painter.drawText(room.adjusted(0, 0, 0, -20), middle, self.text())
            middle = Qt.AlignmentFlag.AlignCenter
            painter.setPen(QColor(below))
            painter.setFont(font(tokens.SMALL))
            line = painter.fontMetrics().elidedText(
                self._below, Qt.TextElideMode.ElideRight, int(room.width())
            )
            painter.drawText(room.adjusted(0, room.height() / 2, 0, -4), middle, line)
        painter.end()
