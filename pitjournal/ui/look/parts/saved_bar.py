"""The message bar in a line with other things, and what it says in full above that line."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from pitjournal.ui.bridge import Bridge
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.messages import STAYS, MessageBar
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import px, sized

LEAST = 90
"""The room that words of a message want, px."""

NARROW = 1100
"""In a window narrower than this a bare tick leaves its room to the words, px at 100 %."""

SHORTEST = 12
"""What they are cut to where there is next to no room, px: all of it is on hovering."""

FULL = 560
"""The width of a message said in full, px."""


class InFull(QFrame):
    """What was refused, in full, where the line has no room for it."""

    def __init__(self, put_away: Callable[[], object]) -> None:
        super().__init__()
        self.setProperty("role", "card")
        self.setObjectName("overlay")
        self._laid = False
        self.text = words("")
        line = row(self.text, button("Put away", put_away), space=tokens.M)
        line.setContentsMargins(tokens.L, tokens.M, tokens.L, tokens.M)
        line.setStretch(0, 1)
        self.setLayout(line)

    def stand_in(self, lines: QVBoxLayout, before: QWidget) -> None:
        """Have a line of its own on a page that scrolls: it then covers nothing."""
        self._laid = True
        lines.insertWidget(lines.indexOf(before), self)
        self.hide()

    def say(self, text: str, above: QWidget) -> None:
        """Say it right above another widget: in its own line, else over what lies there."""
        if self._laid:
            self.text.setText(text)
            self.show()
            return
        page = above.parentWidget()
        if page is None:
            return
        self.setParent(page)
        self.text.setText(text)
        width = min(px(FULL), above.width())
        layout = self.layout()
        height = layout.totalHeightForWidth(width) if layout is not None else tokens.TAP_HEIGHT
        right = above.geometry().right() + 1
        self.setGeometry(right - width, above.y() - tokens.S - height, width, height)
        self.show()
        self.raise_()


class SavedBar(MessageBar):
    """The message bar in a line with other things: its words are cut to the room there is."""

    def __init__(self, bridge: Bridge, stays: int = STAYS) -> None:
        self.room = 10_000
        self.full = InFull(self._put_full_away)
        super().__init__(bridge)
        self._fade.setInterval(stays)
        self.full.setParent(self)  # goes with it, also where it never had anything to say
        self.full.hide()
        inside = self.layout()
        assert inside is not None  # Undo is as high as gloves ask: none of it is cut off
        inside.setContentsMargins(tokens.M, 0, 6, 0)
        sized(self, lines=1, most_height=tokens.GLOVE + tokens.S)

    @property
    def around(self) -> int:
        """What stands about its words takes so much, px: the tick, and what undoes it."""
        parts = self.tick.sizeHint().width() + self.undo.sizeHint().width()
        return parts + 2 * tokens.L + 2 * tokens.M + 2 * tokens.S

    def _say(self, text: str) -> None:
        super()._say(text)
        self._cut(self.text.text(), self.room)
        self.text.setToolTip(text)

    def _cut(self, text: str, room: int) -> None:
        """Show as much of a text as there is room for, px."""
        cut = Qt.TextElideMode.ElideRight
        shown = self.text.fontMetrics().elidedText(text, cut, max(room, px(SHORTEST)))
        self.text.setText(shown)

    def say_saved(self, text: str) -> None:
        """Say that something is on the disk, with a bare tick where there is little room."""
        super().say_saved(text)
        said = self.tick.text()
        self.tick.setAccessibleName(said)
        cut = self.text.text() != text and self.window().width() < px(NARROW)
        if self.room < px(LEAST) or cut:
            metrics = self.tick.fontMetrics()
            self.tick.setText("✓")
            gained = metrics.horizontalAdvance(said) - metrics.horizontalAdvance("✓")
            self._cut(text, self.room + max(gained, 0))

    def say_refused(self, text: str) -> None:
        """Say what could not be done, once: above the line where it has no room for it."""
        super().say_refused(text)
        line = self.parentWidget()
        if self.isVisible() and line is not None and self.text.text() != text:
            self._show()
            self.full.say(text, line)

    def _say_holding(self, count: int) -> None:
        """Say what is not saved; why stands above the line, where it has no room for it."""
        super()._say_holding(count)
        line, said = self.parentWidget(), self.text.toolTip()
        if count and self.isVisible() and line is not None and self.text.text() != said:
            self.full.say(said, line)

    def _put_full_away(self) -> None:
        """Put away what stands above; what is not saved yet stays said in the line."""
        if self._bridge.unsaved:
            self.full.hide()
        else:
            self.put_away()

    def _show(self, *parts: QWidget) -> None:
        super()._show(*parts)
        self.full.hide()
