"""The pieces at the left of the bench, each as a card that can be chosen."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from pitjournal.ui.bench.model import Life, PieceNow
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import at_size, bold, font, look, px


class PieceCard(QAbstractButton):
    """A piece: its mark and label, its last temperature, and where it is in its life."""

    def __init__(self) -> None:
        super().__init__()
        self._now: PieceNow | None = None
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look().changed.connect(self.update)

    def show_piece(self, now: PieceNow) -> None:
        """Show a piece."""
        if now == self._now:
            return
        self._now = now
        self.setText(now.piece.label)
        self.setAccessibleName(f"{now.piece.label}, {now.words}, {now.number or 'not probed'}")
        self.update()

    def sizeHint(self) -> QSize:
        """Return a target for gloves."""
        return QSize(px(240), px(tokens.TAP_HEIGHT))

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        now, theme = self._now, look().theme
        if now is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        edge, ground, width = theme.hairline, theme.card, float(theme.edge)
        if now.life is Life.RIGHT:
            edge, ground, width = theme.right, theme.right_tint, 2.0
        elif now.life is Life.OVER:
            edge, ground, width = theme.look, theme.look_tint, 2.0
        if self.isChecked():
            edge, width = theme.ink, 2.5
        if self.hasFocus():
            edge, width = theme.ember, 3.0
        painter.setPen(QPen(QColor(edge), width))
        painter.setBrush(QColor(ground))
        whole = at_size(painter, self.rect())
        inside = whole.adjusted(width / 2, width / 2, -width / 2, -width / 2)
        painter.drawRoundedRect(inside, tokens.CARD_RADIUS, tokens.CARD_RADIUS)
        paint_mark(painter, 20, 20, now.arm)
        faint = now.life is Life.OFF
        painter.setPen(QColor(theme.quiet if faint else theme.ink))
        painter.setFont(bold(tokens.LARGE))
        left, right = Qt.AlignmentFlag.AlignVCenter, Qt.AlignmentFlag.AlignRight
        painter.drawText(QRectF(38, 4, whole.width() - 120, 32), left, now.piece.label)
        after = 46 + painter.fontMetrics().horizontalAdvance(now.piece.label)
        self._paint_place(painter, now, after, int(whole.width()))
        painter.setPen(QColor(theme.quiet if faint else theme.ink))
        painter.setFont(bold(20, tabular=True))
        number = QRectF(80, 4, whole.width() - 92, 32)
        painter.drawText(number, left | right, now.number)
        painter.setPen(QColor(theme.ink if now.life is Life.RIGHT else theme.quiet))
        painter.setFont(font(tokens.SMALL))
        room = QRectF(13, 33, whole.width() - 26, 22)
        text = painter.fontMetrics().elidedText(
            now.words, Qt.TextElideMode.ElideRight, int(room.width())
        )
        painter.drawText(room, left, text)
        painter.end()

    @staticmethod
    def _paint_place(painter: QPainter, now: PieceNow, after: int, wide: int) -> None:
        """Paint the shelf a piece lies on, where it has a name, between its label and number."""
        if not now.piece.slot or now.piece.slot.isdecimal():
            return
        painter.setFont(bold(20, tabular=True))
        room = wide - 24 - painter.fontMetrics().horizontalAdvance(now.number) - after
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(look().theme.quiet))
        cut = Qt.TextElideMode.ElideRight
        text = painter.fontMetrics().elidedText(now.piece.slot, cut, room)
        painter.drawText(QRectF(after, 5, room, 32), Qt.AlignmentFlag.AlignVCenter, text)


class PieceColumn(QWidget):
    """All pieces in working order.

    Signals
    -------
    picked(str)
        A piece was tapped.
    """

    picked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 2, 0)
        self._layout.setSpacing(tokens.S)
        self._layout.addStretch(1)
        self.cards: list[PieceCard] = []
        self._ids: list[str] = []

    def show_pieces(self, pieces: Sequence[PieceNow], chosen: Sequence[str]) -> None:
        """Show pieces; those chosen have a heavy edge."""
        while len(self.cards) < len(pieces):
            card = PieceCard()
            card.clicked.connect(self._picker(len(self.cards)))
            self._layout.insertWidget(len(self.cards), card)
            self.cards.append(card)
        self._ids = [now.piece.id for now in pieces]
        for place, card in enumerate(self.cards):
            card.setVisible(place < len(pieces))
            if place < len(pieces):
                card.show_piece(pieces[place])
                card.setChecked(pieces[place].piece.id in chosen)

    def _picker(self, place: int) -> Callable[..., None]:
        return lambda *_: self.picked.emit(self._ids[place])
