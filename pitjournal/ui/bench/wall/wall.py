"""The bench at arm's length: tiles in their true places, read from afar and tapped in gloves."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, QPoint, QRectF, Qt, QTimer
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from pitjournal.domain.cooker_rows import CookerRow, rows_of
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.bench.taps import TAPS
from pitjournal.ui.bench.wall.tile_card import TileCard
from pitjournal.ui.bench.wall.tiles import Sign, Tile
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.words import Elided, clear, column, row, words
from pitjournal.ui.look.theme import bold, look, sized

HEAD, GAP, SIDE = 96, 16, 24
SINKS = 20_000
"""Milliseconds after the last touch the taps sink by themselves."""

KEYS = "1234567890"


@dataclass(frozen=True)
class Seen:
    """What is read on the wall: the clock, the next thing and its reason, when it comes off."""

    clock: str
    due: str
    why: str
    over_off: str
    off: str
    below_off: str
    tap: str
    lit: bool = False


@dataclass(frozen=True)
class WallActions:
    """What the wall does: a tap for some pieces, undo, and putting itself away."""

    tap: Callable[[str, Sequence[str]], object]
    undo: Callable[[], object]
    back: Callable[[], object]


class DueBox(QFrame):
    """The next thing in an edge of ember, large, and why."""

    def __init__(self) -> None:
        super().__init__()
        self.due, self.why = "", ""
        self.setMinimumWidth(200)
        self.setFixedHeight(HEAD)
        look().changed.connect(self.update)

    def say(self, due: str, why: str) -> None:
        """Say another thing."""
        if (due, why) != (self.due, self.why):
            self.due, self.why = due, why
            self.setAccessibleName(f"{due}. {why}")
            self.update()

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        theme = look().theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.ember), 5))
        painter.setBrush(QColor(theme.card))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(2.5, 2.5, -2.5, -2.5), 10, 10)
        inner = QRectF(self.rect()).adjusted(22, 8, -16, -8)
        for size in (40, 34, 28, 24, 20):
            painter.setFont(bold(size))
            if painter.fontMetrics().horizontalAdvance(self.due) <= inner.width():
                break
        left = Qt.AlignmentFlag.AlignVCenter
        painter.setPen(QColor(theme.ink))
        cut = Qt.TextElideMode.ElideRight
        upper = QRectF(inner.left(), inner.top(), inner.width(), inner.height() * 0.62)
        shown = painter.fontMetrics().elidedText(self.due, cut, int(inner.width()))
        painter.drawText(upper, left, shown)
        for size in (20, 18, 16, 14):
            painter.setFont(bold(size))
            if painter.fontMetrics().horizontalAdvance(self.why) <= inner.width():
                break
        lower = QRectF(inner.left(), upper.bottom(), inner.width(), inner.height() * 0.38)
        why = painter.fontMetrics().elidedText(self.why, cut, int(inner.width()))
        painter.drawText(lower, left, why)
        painter.end()


class Sheet(QFrame):
    """The taps for a tile, risen from the foot."""

    def __init__(self, does: WallActions, close: Callable[[], object]) -> None:
        super().__init__()
        self.setObjectName("wall-sheet")
        self._does, self._close = does, close
        self.pieces: tuple[str, ...] = ()
        self.everyone: tuple[str, ...] = ()
        self.heading = Elided("", "wall-said")
        every = _wide("All pieces", self._take_all, "for every piece")
        self.every = every
        top = row(
            self.heading,
            every,
            _wide("Undo", does.undo, "the last tap"),
            _wide("Close", close, "the taps"),
            space=tokens.M,
        )
        top.setStretch(0, 1)
        grid = QGridLayout()
        grid.setSpacing(tokens.M)
        self.taps: dict[str, QPushButton] = {}
        for place, (name, text) in enumerate(TAPS):
            tap = button(text, self._tapper(name), "wall-tap")
            self.taps[name] = tap
            grid.addWidget(tap, place // 5, place % 5)
        for place in range(5):
            grid.setColumnStretch(place, 1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(SIDE, tokens.M, SIDE, tokens.L)
        outer.setSpacing(tokens.M)
        outer.addLayout(top)
        outer.addLayout(grid)

    def rise(self, tile: Tile, everyone: Sequence[str]) -> None:
        """Show the taps for a piece."""
        self.pieces, self.everyone = (tile.piece_id,), tuple(everyone)
        self.heading.show_text(tile.spoken)
        self.taps["on"].setText("On" if tile.sign is Sign.WAITING else "Off")
        self.every.setVisible(len(self.everyone) > 1)
        self.show()

    def _take_all(self) -> None:
        self.pieces = self.everyone
        self.heading.show_text(f"All {len(self.everyone)} pieces")

    def _tapper(self, name: str) -> Callable[[], None]:
        return lambda: self.tap(name)

    def tap(self, name: str) -> None:
        """Tap for the pieces that are meant; then sink."""
        pieces = self.pieces
        self._close()
        self._does.tap(name, pieces)


def _wide(text: str, run: Callable[[], object], about: str) -> QPushButton:
    return button(text, run, "wall", about=about)


class Wall(GlovePanel):
    """The whole window as a board: clock, next thing, when it comes off, a tile a piece."""

    def __init__(self, over: QWidget, does: WallActions) -> None:
        self._laid: object = None
        super().__init__(over, "The bench at arm's length", 4000)
        self._does = does
        clear(self._head)
        around = self.layout()
        if around is not None:
            around.setContentsMargins(0, 0, 0, 0)
        self.setObjectName("wall")
        self.body.setContentsMargins(0, 0, 0, 0)
        self.body.setSpacing(0)
        self.clock = words("", "wall-clock", wrap=False)
        self.due = DueBox()
        self.over_off, self.below_off = (words("", "wall-small", wrap=False) for _ in range(2))
        self.off = words("", "wall-off", wrap=False)
        off = column(self.over_off, self.off, self.below_off, space=0)
        self.back = button("Back to\nbench", does.back, "wall-back", tip="F11 or Esc")
        self.back.setAccessibleName("Back to bench")
        head = row(self.clock, self.due, off, self.back, space=GAP)
        head.setStretch(1, 1)
        head.setContentsMargins(SIDE, 14, SIDE, 0)
        self.body.addLayout(head)
        self.above = QVBoxLayout()
        self.above.setContentsMargins(SIDE, 0, SIDE, 0)
        self.body.addLayout(self.above)
        self.behind = words("back of the cooker", "wall-small", wrap=False)
        self.behind.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        self.body.addWidget(self.behind)
        self.rows = QVBoxLayout()
        self.rows.setContentsMargins(SIDE, 4, SIDE, 0)
        self.rows.setSpacing(GAP)
        self.body.addLayout(self.rows, 1)
        self.door = words("", "wall-small", wrap=False)
        sized(self.door, height=tokens.BAR_HEIGHT)  # what was saved is said here, over no tap
        self.sheet = Sheet(does, self.sink)
        self.sheet.hide()
        self.body.addWidget(self.sheet)
        foot = row(self.door)
        foot.setContentsMargins(SIDE, 0, SIDE, 0)
        self.body.addLayout(foot)
        self.tiles: dict[str, TileCard] = {}
        self._lines: list[list[TileCard]] = []
        self._holders: list[QWidget] = []
        self._sinks = QTimer(self, interval=SINKS, singleShot=True)
        self._sinks.timeout.connect(self.sink)
        over.installEventFilter(self)

    # what it shows

    def show_seen(self, whole: WholeCook, seen: Seen, tiles: Sequence[Tile], fills: str) -> None:
        """Show a cook as it is now."""
        self._lay(rows_of(whole))
        self.clock.setText(seen.clock)
        self.due.say(seen.due, seen.why)
        self.over_off.setText(seen.over_off)
        self.off.setText(seen.off)
        self.below_off.setText(seen.below_off)
        for tile in tiles:
            if tile.piece_id in self.tiles:
                self.tiles[tile.piece_id].show_tile(tile)
        self.door.setText(f"door · {fills} · touch a tile to note something")
        self.sheet.taps["lit"].setText("Fuel" if seen.lit else "Lit")
        for name, tap in self.sheet.taps.items():
            wanted = "wall-due" if name == seen.tap else "wall-tap"
            if tap.property("role") != wanted:
                tap.setProperty("role", wanted)
                tap.style().polish(tap)

    def _lay(self, shelves: Sequence[CookerRow]) -> None:
        """Lay the tiles as the pieces lie, where they lie elsewhere than before."""
        laid = tuple(tuple(piece.id for piece in shelf.pieces) for shelf in shelves)
        if laid == self._laid:
            return
        self._laid = laid
        clear(self.rows)
        self.tiles, self._lines, self._holders = {}, [], []
        widest = max((len(line) for line in laid), default=1)
        for line in laid:
            cards = []
            laid_out = QHBoxLayout()
            laid_out.setContentsMargins(0, 0, 0, 0)
            laid_out.setSpacing(GAP)
            for piece_id in line:
                card = TileCard()
                card.clicked.connect(self._raiser(piece_id))
                card.walked.connect(self._walk)
                card.keyed.connect(self._key)
                self.tiles[piece_id] = card
                cards.append(card)
                laid_out.addWidget(card, 1)
            for _ in range(widest - len(line)):
                laid_out.addStretch(1)
            holder = QWidget()
            holder.setLayout(laid_out)
            self.rows.addWidget(holder, 1)
            self._lines.append(cards)
            self._holders.append(holder)

    # the taps

    def _raiser(self, piece_id: str) -> Callable[..., None]:
        return lambda *_: self.lift(piece_id)

    def lift(self, piece_id: str) -> None:
        """Let the taps for a piece rise; its row stays in sight."""
        card = self.tiles[piece_id]
        if card.tile is None:
            return
        for cards, holder in zip(self._lines, self._holders, strict=True):
            holder.setVisible(card in cards)
        self.behind.hide()
        self.sheet.rise(card.tile, list(self.tiles))
        self._sinks.start()

    def sink(self) -> None:
        """Let the taps sink, and show all tiles."""
        self._sinks.stop()
        inside = self.sheet.isAncestorOf(self.focusWidget() or self)
        pieces = self.sheet.pieces
        self.sheet.hide()
        for holder in self._holders:
            holder.show()
        self.behind.show()
        if inside and pieces and pieces[0] in self.tiles:
            self.tiles[pieces[0]].setFocus()

    def _key(self, digit: str) -> None:
        """Tap by a digit for the tile that has the focus, or for all that are meant."""
        card = self.focusWidget()
        name = TAPS[KEYS.index(digit)][0]
        if self.sheet.isVisible():
            self.sheet.tap(name)
        elif isinstance(card, TileCard) and card.tile is not None:
            self._does.tap(name, (card.tile.piece_id,))

    def _walk(self, down: int, right: int) -> None:
        """Move the focus to the tile beside, above or below."""
        now = self.focusWidget()
        for line, cards in enumerate(self._lines):
            if now in cards:
                to = self._lines[min(max(line + down, 0), len(self._lines) - 1)]
                place = min(max(cards.index(now) + right, 0), len(to) - 1)
                if to[place].isVisible():
                    to[place].setFocus()
                return

    # over the whole window

    def close_panel(self) -> None:
        """Let the taps sink if they are up; else go back to the bench."""
        if self.sheet.isVisible() and not self.property("leaving"):
            self.sink()
        elif self.property("leaving"):
            super().close_panel()
        else:
            self._does.back()

    def leave(self) -> None:
        """Go back to the bench."""
        self.setProperty("leaving", True)
        self.close_panel()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back by F11; a digit taps while the taps are up."""
        if event.key() == Qt.Key.Key_F11:
            self._does.back()
        elif event.text().isdigit() and event.text():
            self._key(event.text())
        else:
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Fill the window whatever its size."""
        if event.type() is QEvent.Type.Resize and watched is self.parentWidget():
            self._place()
        return super().eventFilter(watched, event)

    def _place(self) -> None:
        over = self.parentWidget()
        if over is not None:
            if self._scrim is not None:
                self._scrim.setGeometry(over.rect())
            self.setFixedSize(over.size())
            self.move(QPoint(0, 0))
