"""What a page is: a header, a body, what can be done on it, and when it looks again."""

from collections.abc import Sequence

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLayout, QScrollArea, QVBoxLayout, QWidget

from pitjournal.journal import Changes
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.messages import MessageBar
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.scroll import Scroll, scroll_layout
from pitjournal.ui.look.parts.words import Elided, column, rule, words
from pitjournal.ui.look.theme import look, px


class Page(QWidget):
    """A page. Subclasses show what is there in `refresh`."""

    GROUND = True
    """Whether it has a ground of its own; what holds pages leaves that to them."""

    turned = Signal()
    """Another page of the place is seen, with other keys."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.setObjectName("page")
        self.desk = desk
        self._stale = True
        desk.units_changed.connect(self._look_again)
        look().restyling.wait_with(self)
        look().resized.connect(self._look_again)

    def showEvent(self, event: QShowEvent) -> None:
        """Take the style sheet of now, if that changed while it was hidden."""
        look().restyling.catch_up(self)
        super().showEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the ground: a page that is restyled card by card has no sheet of its own."""
        if self.GROUND:
            QPainter(self).fillRect(event.rect(), QColor(look().theme.paper))

    @property
    def own_bar(self) -> MessageBar | None:
        """Where the page says itself what was saved; None where the window does."""
        return None

    @property
    def first_field(self) -> QWidget | None:
        """What is typed into first, for a page on which that is clear."""
        return None

    def take_key(self, event: QKeyEvent) -> bool:
        """Take a key that nothing else took; whether it was taken."""
        del event
        return False

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done on this page, with its keys."""
        return ()

    def to_top(self) -> None:
        """Be seen from the top, also where Qt scrolls to what has the focus in this turn."""

        def up() -> None:
            for area in self.findChildren(QScrollArea):
                area.verticalScrollBar().setValue(0)

        up()
        QTimer.singleShot(0, self, up)

    def meet(self, there: Destination) -> None:
        """Take over what led here, before the page is seen.

        Raises
        ------
        JournalError
            If it cannot be shown; what was seen before stays.
        """

    def take(self, there: Destination) -> None:
        """Take over what led here, once the page is seen."""

    def read_ahead(self) -> None:
        """Have the worker read what will be shown first; the page is made but not seen yet."""

    def refresh(self) -> None:
        """Show what is there now."""

    def concerned(self, changes: Changes) -> bool:
        """Whether a change touches what this page shows."""
        return bool(changes)

    def hear(self, changes: Changes) -> None:
        """Look again after a change: now if this page is seen, else when it is."""
        if self.concerned(changes):
            self._look_again()

    def _look_again(self) -> None:
        self._stale = True
        if self.isVisible():
            self.arrive()

    def arrive(self) -> None:
        """Be shown: look again if something changed meanwhile."""
        if self._stale:
            self._stale = False
            self.refresh()

    def leave(self) -> None:
        """Save what still stands in a field."""
        focus = self.focusWidget()
        if focus is not None:
            focus.clearFocus()


TITLE = 120
"""A title keeps so much room, px."""


class Header(QWidget):
    """The head of a place: a quiet line, the title, and what stands at the right."""

    def __init__(self, title: str = "", over: str = "", *, ruled: bool = False) -> None:
        super().__init__()
        outer = QVBoxLayout(self)
        outer.setContentsMargins(tokens.XL, tokens.L, tokens.XL, 0)
        outer.setSpacing(tokens.S)
        self.over = Elided(over, "over")
        if not over:
            self.over.hide()
        self.title = Elided(title, "title")
        self.beside = words("", "quiet", wrap=False)
        self.right = QHBoxLayout()
        self.right.setSpacing(tokens.M)
        line = QHBoxLayout()
        line.setSpacing(tokens.S)
        line.addLayout(column(self.over, self.title, space=2), 1)
        line.addWidget(self.beside)
        line.addLayout(self.right)
        outer.addLayout(line)
        if ruled:
            outer.addWidget(rule())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out what stands beside the title where the buttons need its room."""
        super().resizeEvent(event)
        wanted = self.right.sizeHint().width() + max(self.beside.sizeHint().width(), px(TITLE))
        fits = wanted + px(TITLE) + 2 * tokens.XL <= self.width()
        self.beside.setVisible(fits)

    def show_title(self, title: str, over: str = "") -> None:
        """Show a title, cut short where there is no room."""
        self.title.show_text(title)
        self.over.show_text(over)
        self.over.setVisible(bool(over))


def scrolled(layout: QLayout, name: str, into: QBoxLayout | None = None) -> Scroll:
    """Return a page's layout within its margins, scrolling up and down where it must."""
    layout.setContentsMargins(tokens.XL, tokens.M, tokens.XL, tokens.XL)
    return scroll_layout(layout, name, sideways=True, into=into)
