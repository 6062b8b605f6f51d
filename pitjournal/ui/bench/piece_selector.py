"""For which pieces the next tap is, and what the last one saved."""

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QMoveEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.bridge import Bridge
from pitjournal.ui.event_words import everyone, named_pieces
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import TALL, Choice
from pitjournal.ui.look.parts.messages import MessageBar
from pitjournal.ui.look.parts.scroll import scroll
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import high, look, px, sized

ALL = "all"
SOME = "some"

LEAST = 90
"""The fewest px a message is cut to."""

LEAST_BAR = 270
"""What is always kept free for what was saved, px: the chips never move for it."""

FRAME = 180
"""What of that the tick and Undo take, px."""

BEFORE = 36
"""What the word before the chips takes, px."""

MOST_LINES = 3
"""So many lines of chips are seen at once."""


def choice_of(whole: WholeCook, chosen: tuple[str, ...]) -> str:
    """Return what the chosen pieces are together: all, an arm (its id), or some."""
    if not chosen or len(chosen) == len(whole.pieces):
        return ALL
    for arm in whole.arms:
        if {piece.id for piece in whole.pieces_of(arm)} == set(chosen):
            return arm.id
    return SOME


FULL = 560
"""The width of a message said in full, px."""


class InFull(QFrame):
    """What was refused, in full, where the line has no room for it."""

    def __init__(self, put_away: Callable[[], object]) -> None:
        super().__init__()
        self.setProperty("role", "card")
        self.setObjectName("overlay")
        self.text = words("")
        line = row(self.text, button("Put away", put_away), space=tokens.M)
        line.setContentsMargins(tokens.L, tokens.M, tokens.L, tokens.M)
        line.setStretch(0, 1)
        self.setLayout(line)

    def say(self, text: str, above: QWidget) -> None:
        """Say it right above another widget, over what lies there."""
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

    def __init__(self, bridge: Bridge) -> None:
        self.room = 10_000
        self.full = InFull(self._put_full_away)
        super().__init__(bridge)
        sized(self, lines=1, most_height=tokens.CONTROL_HEIGHT + tokens.S)

    def _say(self, text: str) -> None:
        super()._say(text)
        cut = Qt.TextElideMode.ElideRight
        shown = self.text.fontMetrics().elidedText(self.text.text(), cut, max(self.room, px(LEAST)))
        self.text.setText(shown)
        self.text.setToolTip(text)

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
        if self._bridge.held:
            self.full.hide()
        else:
            self.put_away()

    def _show(self, *parts: QWidget) -> None:
        super()._show(*parts)
        self.full.hide()


class PieceSelector(QWidget):
    """Chips of all pieces, of each arm, and of the pieces that are picked one by one.

    Signals
    -------
    changed()
        The cook chose other pieces; `chosen` has their ids, none for all.
    """

    changed = Signal()

    def __init__(self, bridge: Bridge, show_arms: Callable[[], object], *beside: QWidget) -> None:
        super().__init__()
        self.chosen: tuple[str, ...] = ()
        self._whole: WholeCook | None = None
        self.chips = Choice("for which pieces", tall=True)
        self.chips.chosen.connect(self.choose)
        self.bar = SavedBar(bridge)
        self.hidden = button("Arms hidden", show_arms, "link", about="on this screen: show them")
        self.hidden.hide()
        heading = words("For", "strong", wrap=False)
        sized(heading, width=BEFORE)
        self._area = scroll(self.chips, "for which pieces")
        line = row(heading, self._area, None, self.hidden, self.bar, *beside, space=tokens.M)
        for part in (self.bar, *beside):
            line.setAlignment(part, Qt.AlignmentFlag.AlignTop)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addLayout(line)
        self._beside = beside
        self._make_room()
        look().resized.connect(self._make_room)

    def show_cook(self, whole: WholeCook, *, hidden: bool = False) -> None:
        """Offer a cook's arms, unless they are hidden; pieces that are gone are let go."""
        self._whole = whole
        self.hidden.setVisible(hidden)
        ids = {piece.id for piece in whole.pieces}
        self.chosen = tuple(piece for piece in self.chosen if piece in ids)
        options: list[tuple[object, str, int | None]] = [(ALL, everyone(len(whole.pieces)), -1)]
        if len(whole.arms) > 1:
            options += [(a.id, a.name, whole.arm_index(a.id)) for a in whole.arms]
        value = choice_of(whole, self.chosen)
        if value not in {option[0] for option in options}:
            options.append((value, named_pieces(whole, self.chosen), -1))
        self.chips.offer(options)
        self.chips.choose(value)

        self._make_room()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the message what room there is, and what stands above it."""
        super().resizeEvent(event)
        self._make_room()
        QTimer.singleShot(0, self, self._follow)

    def moveEvent(self, event: QMoveEvent) -> None:
        """Take along what stands above."""
        super().moveEvent(event)
        QTimer.singleShot(0, self, self._follow)

    def _follow(self) -> None:
        full = self.bar.full
        if full.isVisible():
            full.say(full.text.text(), self)

    def _make_room(self) -> None:
        """Give the chips their width, in two lines where need be, and the message what is left."""
        parts = [*self._beside, *([] if self.hidden.isHidden() else [self.hidden])]
        taken = sum(min(p.sizeHint().width(), p.maximumWidth()) + tokens.M for p in parts)
        free = self.width() - taken - px(BEFORE) - 2 * tokens.M
        bar = max(px(LEAST_BAR), free - self.chips.row_width() - tokens.S)
        chips = max(free - bar, px(LEAST))
        self._area.setFixedWidth(chips)
        self.bar.setMaximumWidth(bar)
        self.bar.room = bar - px(FRAME)
        lines = MOST_LINES * (high(TALL) + tokens.S) - tokens.S
        height = max(high(tokens.TAP_HEIGHT), min(self.chips.height_at(chips), lines))
        if height != self.maximumHeight():
            self.setFixedHeight(height)

    def take(self, chosen: tuple[str, ...]) -> None:
        """Choose these pieces."""
        self.chosen = chosen
        if self._whole is not None:
            self.show_cook(self._whole, hidden=not self.hidden.isHidden())
        self.changed.emit()

    def pick(self, piece_id: str) -> None:
        """Choose one piece; while single ones are chosen it joins or leaves them."""
        whole = self._whole
        if whole is None:
            return
        loose = choice_of(whole, self.chosen) == SOME
        chosen = set(self.chosen) ^ {piece_id} if loose else {piece_id}
        self.take(tuple(p.id for p in whole.pieces if p.id in chosen))

    def choose(self, value: object) -> None:
        """Choose all pieces, or those of an arm."""
        if self._whole is not None and value != SOME:
            self.take(tuple(p.id for p in self._whole.pieces if p.arm_id == value))
