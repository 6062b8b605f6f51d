"""For which pieces the next tap is, and what the last one saved."""

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QMoveEvent, QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.bridge import Bridge
from pitjournal.ui.event_words import everyone, named_pieces
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import TALL, Choice
from pitjournal.ui.look.parts.saved_bar import LEAST, SavedBar
from pitjournal.ui.look.parts.scroll import scroll
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import high, look, px, sized

ALL = "all"
SOME = "some"

LEAST_BAR = 270
"""What is always kept free for what was saved, px: the chips never move for it."""

ROOMY, BAR_SHARE = 520, 0.4
"""Where chips and message have less room, px, the message takes no more than that share of it."""

AT_THE_FIRE = 120_000
"""Milliseconds that what was saved stays with its Undo where eyes are on the meat."""

FRAME = 180
"""What of that the tick and Undo take, px."""

BEFORE = 36
"""What the word before the chips takes, px."""

MOST_LINES = 3
"""So many lines of chips are seen at once."""


MEAT = "meat:"
"""Before the name of a meat, all pieces of which are chosen together."""


def choice_of(whole: WholeCook, chosen: tuple[str, ...]) -> str:
    """Return what the chosen pieces are together: all, an arm (its id), a meat, or some."""
    if not chosen or len(chosen) == len(whole.pieces):
        return ALL
    for arm in whole.arms:
        if {piece.id for piece in whole.pieces_of(arm)} == set(chosen):
            return arm.id
    for meat, pieces in whole.meats.items():
        if {piece.id for piece in pieces} == set(chosen):
            return f"{MEAT}{meat}"
    return SOME


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
        self.bar = SavedBar(bridge, AT_THE_FIRE)
        self.hidden = button("Arms hidden", show_arms, "link", about="on this screen: show them")
        self.hidden.hide()
        heading = words("For", "strong", wrap=False)
        self._heading = sized(heading, least_width=BEFORE)
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
        options += [(f"{MEAT}{meat}", meat, -1) for meat in whole.meats]
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
        before = max(px(BEFORE), self._heading.sizeHint().width())
        free = self.width() - taken - before - 3 * tokens.M
        share = free if free >= px(ROOMY) else BAR_SHARE * free  # large words leave it less
        least = round(min(px(LEAST_BAR), max(free - px(LEAST), 0), share))
        least = max(least, min(self.bar.around, free - px(LEAST)))  # never cut into Undo
        bar = max(least, free - self.chips.row_width() - tokens.S)
        chips = max(free - bar, px(LEAST))
        self._area.setFixedWidth(chips)
        self.bar.setMaximumWidth(bar)
        self.bar.room = bar - max(px(FRAME), self.bar.around)
        lines = MOST_LINES * (high(TALL) + tokens.S) - tokens.S
        wanted = self.chips.height_at(chips)
        height = max(high(tokens.TAP_HEIGHT), min(wanted, lines))
        # A bar takes width, by which what had room needs another line, and the bar with it.
        policy = Qt.ScrollBarPolicy
        self._area.setVerticalScrollBarPolicy(
            policy.ScrollBarAsNeeded if wanted > height else policy.ScrollBarAlwaysOff
        )
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
        """Choose all pieces, or those of an arm or a meat."""
        if self._whole is None or value == SOME:
            return
        of_meat = self._whole.meats.get(str(value).removeprefix(MEAT), ())
        pieces = of_meat or [p for p in self._whole.pieces if p.arm_id == value]
        self.take(tuple(piece.id for piece in pieces))
