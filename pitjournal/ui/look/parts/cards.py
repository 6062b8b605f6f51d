"""Cards: a titled ground for one thing, a value, a note, and the empty state."""

from collections.abc import Callable

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Flow
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import look, sized


class Card(QFrame):
    """A card with a quiet heading; put things into `body`."""

    def __init__(
        self, heading: str = "", *, role: str = "card", side: QWidget | None = None
    ) -> None:
        super().__init__()
        self.setProperty("role", role)
        self.body = QVBoxLayout(self)
        self.body.setContentsMargins(tokens.L, tokens.M, tokens.L, tokens.M)
        self.body.setSpacing(tokens.S)
        self.heading = words(heading, "heading", wrap=False)
        if heading or side is not None:
            self.body.addLayout(row(self.heading, None, *([side] if side else [])))

    def tall(self) -> "Card":
        """Let it take the height that is left."""
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
        return self


class WideCard(Card):
    """A card of hundreds of fields, which are restyled row by row: it paints its ground itself.

    A sheet of its own would be one of all that is in it.
    """

    def __init__(self, heading: str = "", *, side: QWidget | None = None) -> None:
        super().__init__(heading, role="wide", side=side)
        self.setContentsMargins(1, 1, 1, 1)  # as wide as the edge of another card

    def paintEvent(self, _event: object) -> None:
        """Paint a card."""
        theme, painter = look().theme, QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.hairline), theme.edge))
        painter.setBrush(QColor(theme.card))
        inset = theme.edge / 2
        room = QRectF(self.rect()).adjusted(inset, inset, -inset, -inset)
        painter.drawRoundedRect(room, tokens.CARD_RADIUS - inset, tokens.CARD_RADIUS - inset)


class ValueCard(Card):
    """One number with what it is, and a line below."""

    def __init__(self, heading: str, value: str = "", below: str = "") -> None:
        super().__init__(heading)
        self.value = words(value, "big", wrap=False)
        self.below = words(below, "quiet")
        self.body.addWidget(self.value)
        self.body.addWidget(self.below)


class NoteCard(QFrame):
    """A line to look at, with one thing to do about it."""

    def __init__(
        self, text: str = "", label: str = "", run: Callable[[], object] | None = None
    ) -> None:
        super().__init__()
        self.setProperty("role", "note")
        layout = QHBoxLayout(self)
        layout.setContentsMargins(tokens.M, tokens.S, tokens.M, tokens.S)
        self.text = words(text)
        layout.addWidget(self.text, 1)
        if run is not None:
            layout.addWidget(button(label, run))
        if not text:
            self.hide()

    def say(self, text: str) -> None:
        """Show a line, or with none go away."""
        self.text.setText(text)
        self.setVisible(bool(text))


class EmptyState(QWidget):
    """What stands where nothing is yet: what goes here, and the one next step (or three)."""

    def __init__(
        self,
        heading: str,
        text: str,
        *steps: tuple[str, Callable[[], object]],
        primary: bool = True,
    ) -> None:
        super().__init__()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(tokens.XL, tokens.XL, tokens.XL, tokens.XL)
        layout.setSpacing(tokens.M)
        layout.addStretch(2)
        title = words(heading, "title")
        title.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        layout.addWidget(title)
        said = words(text, "large")
        said.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        sized(said, most_width=600)
        self._said = said
        look().changed.connect(self._give_lines)
        layout.addLayout(row(None, said, None))  # a row, so that its height follows its width
        buttons = [
            button(label, run, "primary" if primary and not place else "")
            for place, (label, run) in enumerate(steps)
        ]
        taps = Flow(tokens.M, middle=True)
        for one in buttons:
            taps.addWidget(one)
        holder = QWidget()
        holder.setObjectName("scrolled")
        holder.setLayout(taps)
        layout.addWidget(holder)
        layout.addStretch(3)

    def showEvent(self, event: QShowEvent) -> None:
        """Give the text all its lines, once the letters are those of the look."""
        super().showEvent(event)
        self._give_lines()

    def _give_lines(self) -> None:
        self._said.ensurePolished()
        self._said.setMinimumHeight(self._said.heightForWidth(self._said.width()))
