"""Panels that lie over the page: nothing is lost by putting one away with Escape."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, SignalInstance
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QVBoxLayout,
    QWidget,
)

from pitjournal.ui.bridge import PUT_AWAY
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.reading import ENTERS, move_on, scroll_by_key, stops
from pitjournal.ui.look.parts.scrim import Scrim
from pitjournal.ui.look.parts.scroll import scroll_layout
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import high, look, px


@dataclass(frozen=True)
class Action:
    """Something that can be done here: what, by which key ("" for none), and how."""

    text: str
    key: str
    run: Callable[[], object]


class Overlay(QDialog):
    """A panel over the page with a heading; put things into `body`.

    While it is open it holds the focus, and Escape closes it wherever that is. What it covers
    takes neither clicks nor keys.
    """

    GLOVES = False
    """Whether hands are in gloves where it opens."""

    LATER = 0
    """What may appear in it while hands are at it, px: it opens so high that it grows downward."""

    def __init__(self, over: QWidget, heading: str, width: int = 620) -> None:
        super().__init__(over)
        self.setWindowFlags(Qt.WindowType.Widget)  # a dialog to a screen reader, and no window
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setObjectName("overlay")
        self.setProperty("gloves", self.GLOVES)
        self.setAccessibleName(heading)
        self._width = width
        self._before = over.window().focusWidget()
        self._inside: QWidget | None = None
        self._scrim: Scrim | None = None
        self._listening: list[tuple[SignalInstance, Callable[..., object]]] = []
        outer = QVBoxLayout(self)
        outer.setContentsMargins(tokens.XL, tokens.L, tokens.XL, tokens.L)
        outer.setSpacing(tokens.M)
        close = button("Close", self.close_panel, about=heading, tip="Esc")
        self._head = row(words(heading, "title"), close)
        self._head.setStretch(0, 1)
        outer.addLayout(self._head)
        self.body = QVBoxLayout()
        self.body.setContentsMargins(0, 0, 0, 0)
        self.body.setSpacing(tokens.M)
        area = scroll_layout(self.body, heading, sideways=True)
        outer.addWidget(area)
        self._scrolled = area.widget()
        if self._scrolled is not None:
            self._scrolled.installEventFilter(self)
        over.installEventFilter(self)
        look().changed.connect(self._place)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), self)
        escape.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        escape.activated.connect(self.close_panel)

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it and put the focus into it."""
        over = self.parentWidget()
        if self._scrim is None and over is not None:
            self._scrim = Scrim(over)
            application = QApplication.instance()
            assert isinstance(application, QApplication)
            self.listen(application.focusChanged, self._hold_focus)
        look().restyling.catch_up(self)
        self.show()
        self._place()
        self.raise_()
        (first or self).setFocus()
        self._tell(over)

    def listen(self, signal: SignalInstance, run: Callable[..., object]) -> None:
        """Hear a signal for as long as it is open."""
        signal.connect(run)
        self._listening.append((signal, run))

    def close_panel(self) -> None:
        """Put it away; it hears nothing more, and the focus goes back."""
        for signal, run in self._listening:
            signal.disconnect(run)
        self._listening = []
        self.setProperty(PUT_AWAY, True)
        over = self.parentWidget()
        self.hide()
        if self._scrim is not None:
            self._scrim.hide()
            self._scrim.deleteLater()
            self._scrim = None
        self.setParent(None)
        self.deleteLater()
        self._tell(over)
        try:
            if self._before is not None and self._before.isVisible():
                self._before.setFocus()
        except RuntimeError:  # what had the focus is gone
            return

    @staticmethod
    def _tell(over: QWidget | None) -> None:
        """Let a window that has keys of its own look again whether it is covered."""
        told = None if over is None else getattr(over.window(), "cover_changed", None)
        if callable(told):
            told()

    # the focus

    def _hold_focus(self, _old: object, new: QWidget | None) -> None:
        """Take the focus back where something below took it."""
        if new is None or new.window() is not self.window() or top_panel(self.window()) != self:
            return
        if new is self or self.isAncestorOf(new):
            self._inside = new
            return
        inside = self._inside
        try:
            back = inside if inside is not None and inside.isVisible() else self
        except RuntimeError:  # it is gone
            back = self
        back.setFocus()

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Go round within the panel."""
        return move_on(stops(self), self.window().focusWidget(), forward=forward)

    # its place

    def _place(self) -> None:
        over = self.parentWidget()
        if over is None:
            return
        if self._scrim is not None:
            self._scrim.setGeometry(over.rect())
        width = min(px(self._width), over.width() - 2 * tokens.XL)
        self.setFixedWidth(width)
        room = over.height() - ABOVE - below()
        height = min(self._wanted(width), room)
        grown = min(height + px(self.LATER), room)
        self.setGeometry(_left(over, width), ABOVE + (room - grown) // 4, width, height)

    def _wanted(self, width: int) -> int:
        """Return the height that what is in it takes, px."""
        inner = width - 2 * tokens.XL - 2 * EDGE
        high = self.body.minimumSize().height()
        if self.body.hasHeightForWidth():
            high = max(high, self.body.heightForWidth(inner))
        else:
            high = max(high, self.body.sizeHint().height())
        head = max(self._head.heightForWidth(inner), self._head.minimumSize().height())
        return high + head + tokens.M + 2 * tokens.L + 2 * EDGE

    def _grow(self) -> None:
        """Make room for what appeared; the panel stays where the hand expects it, if it can."""
        over = self.parentWidget()
        if over is None:
            return
        height = min(self._wanted(self.width()), over.height() - ABOVE - below())
        if height > self.height():
            top = max(ABOVE, min(self.y(), over.height() - below() - height))
            self.setGeometry(self.x(), top, self.width(), height)

    def event(self, event: QEvent) -> bool:
        """Grow with what is in it."""
        done = super().event(event)
        if event.type() is QEvent.Type.LayoutRequest and self.isVisible():
            self._grow()
        return done

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay in the middle when the window changes size, and grow with what is in it."""
        if watched is self._scrolled:
            if event.type() is QEvent.Type.LayoutRequest and self.isVisible():
                QTimer.singleShot(0, self, self._grow)  # once its lines are found
        elif event.type() is QEvent.Type.Resize:
            self._place()
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape puts it away, arrows scroll; of the rest only Enter goes on to the window."""
        if event.key() == Qt.Key.Key_Escape:
            self.close_panel()
        elif event.key() in ENTERS:
            event.ignore()
            return
        else:
            scroll_by_key(self, event)
        event.accept()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Keep it from what lies below."""
        event.accept()


class GlovePanel(Overlay):
    """A panel of the bench: what is in it is large enough for gloves."""

    GLOVES = True


EDGE = 2
"""The edge of a panel, px."""

ABOVE = tokens.M
"""What stays free above a panel, px."""


def _left(over: QWidget, width: int) -> int:
    """Return where a panel begins: in the middle of the page, which lies beside the rail."""
    rail = over.findChild(QWidget, "rail")
    beside = 0 if rail is None or rail.isHidden() else rail.width()
    page = over.width() - beside
    return beside + (page - width) // 2 if width <= page else (over.width() - width) // 2


def below() -> int:
    """Return what stays free below a panel, px: the message bar has its place there."""
    return high(tokens.BAR_HEIGHT)


def panels_over(window: QWidget) -> list[Overlay]:
    """Return the panels that lie over a window, the uppermost last."""
    return [panel for panel in _over(window) if panel.isVisible()]


def top_panel(window: QWidget) -> Overlay | None:
    """Return the uppermost panel over a window."""
    return next(reversed(panels_over(window)), None)


def put_away_all(over: QWidget) -> None:
    """Put away every panel over a window, the uppermost first."""
    for panel in reversed(_over(over)):
        panel.close_panel()


def _over(window: QWidget) -> list[Overlay]:
    """Return the panels of a window, open or not: they hang at the window itself.

    To look through all that is in a window takes ten milliseconds.
    """
    return window.findChildren(Overlay, options=Qt.FindChildOption.FindDirectChildrenOnly)


def open_alone(panel: Overlay) -> None:
    """Show a panel in the place of those that are open."""
    over = panel.parentWidget()
    for other in _over(over) if over is not None else ():
        if other is not panel:
            other.close_panel()
    panel.open_panel()
