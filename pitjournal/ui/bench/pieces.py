"""The pieces at the left of the bench, each as a card that can be chosen."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from pitjournal.ui.bench.model import Life, PieceNow
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import at_size, bold, font, high, look, px

LOW_CARD, CARD, HIGH_CARD = 50, 62, 70
"""How low and how high a card may be, px; below the middle one it has two lines, not three."""

BETWEEN = 6
EDGE = 13
NUMBER = 21
_RIGHT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
_LEFT = Qt.AlignmentFlag.AlignVCenter


class PieceCard(QAbstractButton):
    """A piece: its mark and label, its last temperature and rise, and where it is in its life."""

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
        ahead = now.ahead[0] if now.ahead else now.off
        parts = (now.piece.label, now.meat, now.number or "not probed", now.words, ahead)
        rise = now.rise if now.rise != "–" else ""
        cold = now.below[0] if now.below and now.life is Life.OFF else ""
        self.setAccessibleName(", ".join(part for part in (*parts, rise, cold) if part))
        self.setToolTip(cold or ahead)
        self.update()

    def sizeHint(self) -> QSize:
        """Return a target for gloves."""
        return QSize(px(240), high(tokens.TAP_HEIGHT, 2))

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        now = self._now
        if now is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        room = at_size(painter, self.rect())
        self._paint_ground(painter, room, now)
        paint = _paint_three if room.height() >= CARD else _paint_two
        paint(painter, room, now)
        painter.end()

    def _paint_ground(self, painter: QPainter, room: QRectF, now: PieceNow) -> None:
        theme = look().theme
        edge, ground, width = theme.hairline, theme.card, float(theme.edge)
        acts = 4.0 if theme.name == "sun" else 2.0
        if now.life is Life.RIGHT:
            edge, ground, width = theme.right, theme.right_tint, acts
        elif now.life is Life.OVER:
            edge, ground, width = theme.look, theme.look_tint, acts
        if self.isChecked():
            edge, width = theme.ink, max(width, 2.5)
        if self.hasFocus():
            edge, width = theme.ember, max(width, 3.0)
        painter.setPen(QPen(QColor(edge), width))
        painter.setBrush(QColor(ground))
        inside = room.adjusted(width / 2, width / 2, -width / 2, -width / 2)
        painter.drawRoundedRect(inside, tokens.CARD_RADIUS, tokens.CARD_RADIUS)


def _ink(now: PieceNow) -> QColor:
    theme = look().theme
    return QColor(theme.quiet if now.life is Life.OFF else theme.ink)


def _paint_three(painter: QPainter, room: QRectF, now: PieceNow) -> None:
    """Paint three lines: who and how hot; when it comes off; how it is and how it rises."""
    line = room.height() / 3
    first = QRectF(EDGE, 3, room.width() - 2 * EDGE, line + 2)
    left = _paint_name(painter, first, now)
    right = _paint_number(painter, first, now.number, now)
    _paint_place(painter, QRectF(left, first.top(), right - left - 8, first.height()), now)
    second = QRectF(EDGE, line + 1, first.width(), line)
    third = QRectF(EDGE, 2 * line - 2, first.width(), line)
    if _paint_cold(painter, second, now):
        _paint_state(painter, third, now)
        return
    _paint_ahead(painter, second, now, [text for text in now.ahead if text != _span(now)])
    below = third if now.ahead else second.united(third)
    free = _paint_rise(painter, below, now.rise)
    _paint_state(painter, QRectF(EDGE, below.top(), free - EDGE - 8, below.height()), now)


def _paint_two(painter: QPainter, room: QRectF, now: PieceNow) -> None:
    """Paint two lines, where there is no room for three."""
    line = room.height() / 2
    first = QRectF(EDGE, 1, room.width() - 2 * EDGE, line + 1)
    left = _paint_name(painter, first, now)
    right = _paint_number(painter, first, now.number.split(" ")[0], now)
    room = QRectF(left, first.top(), right - left - 6, first.height())
    said = _paint_ahead(painter, room, now, now.ahead)
    second = QRectF(EDGE, line - 3, first.width(), line)
    if _paint_cold(painter, second, now):
        return
    free = _paint_rise(painter, second, now.rise.replace(" in 10 min", "/10 min"))
    state = QRectF(EDGE, second.top(), free - EDGE - 6, line)
    likely = f"likely {now.off.removeprefix('off ')}" if said and said == _span(now) else ""
    before = (*filter(None, (likely, now.meat)),)
    _paint_state(painter, state, now, before)


def _paint_ahead(painter: QPainter, room: QRectF, now: PieceNow, said: Sequence[str]) -> str:
    """Paint when it comes off, as fully as there is room for; return what was painted."""
    if not said:
        return ""
    known = bool(now.off)
    painter.setFont((bold if known else font)(tokens.SMALL, tabular=True))
    painter.setPen(_ink(now) if known else QColor(look().theme.quiet))
    metrics = painter.fontMetrics()
    fits = (text for text in said if metrics.horizontalAdvance(text) <= room.width())
    found = next(fits, said[-1])
    _say(painter, room, found)
    return found


def _paint_cold(painter: QPainter, room: QRectF, now: PieceNow) -> bool:
    """Paint that a piece came off colder than is asked, as fully as there is room for."""
    if now.life is not Life.OFF or not now.below:
        return False
    theme = look().theme
    paint_triangle(painter, QPointF(room.left() + 6, room.center().y()), theme.look)
    painter.setPen(QColor(theme.look))
    painter.setFont(bold(tokens.SMALL, tabular=True))
    free = room.adjusted(18, 0, 0, 0)
    metrics = painter.fontMetrics()
    fits = (text for text in now.below if metrics.horizontalAdvance(text) <= free.width())
    _say(painter, free, next(fits, now.below[-1]))
    return True


def _span(now: PieceNow) -> str:
    """Return the words of a span without its likeliest time, which is said apart then."""
    return now.ahead[2] if len(now.ahead) > 3 else ""


def _paint_name(painter: QPainter, room: QRectF, now: PieceNow) -> float:
    """Paint the mark and the label; return where they end."""
    paint_mark(painter, room.left() + tokens.MARK, room.center().y(), now.arm)
    painter.setPen(_ink(now))
    painter.setFont(bold(tokens.LARGE))
    left = room.left() + 25
    painter.drawText(QRectF(left, room.top(), 120, room.height()), _LEFT, now.piece.label)
    return left + painter.fontMetrics().horizontalAdvance(now.piece.label) + 8


def _paint_number(painter: QPainter, room: QRectF, number: str, now: PieceNow) -> float:
    """Paint how hot it is at the right; return where that begins."""
    painter.setPen(_ink(now))
    painter.setFont(bold(NUMBER, tabular=True))
    shown = number + "°" * (bool(number) and "°" not in number)
    painter.drawText(room, _RIGHT, shown)
    return room.right() - painter.fontMetrics().horizontalAdvance(shown)


def _paint_place(painter: QPainter, room: QRectF, now: PieceNow) -> None:
    """Paint what meat it is, where there are several, and its shelf, where that has a name."""
    slot = "" if now.piece.slot.isdecimal() else now.piece.slot
    said = ", ".join(part for part in (now.meat, slot) if part)
    if said:
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(look().theme.quiet))
        _say(painter, room, said)


def _paint_rise(painter: QPainter, room: QRectF, rise: str) -> float:
    """Paint how it rises at the right; return where that begins."""
    painter.setFont(font(tokens.SMALL, tabular=True))
    painter.setPen(QColor(look().theme.quiet))
    painter.drawText(room, _RIGHT, rise)
    return room.right() - painter.fontMetrics().horizontalAdvance(rise)


def _paint_state(
    painter: QPainter, room: QRectF, now: PieceNow, before: Sequence[str] = ()
) -> None:
    """Paint where a piece is in its life: right with a tick, over with a triangle.

    Where there is no room for what stands before it and when that was, the time is left out.
    """
    theme = look().theme
    ink = {Life.RIGHT: theme.right, Life.OVER: theme.look}.get(now.life, theme.quiet)
    painter.setFont(bold(tokens.SMALL) if now.life in _SIGNS else font(tokens.SMALL))
    at = QPointF(room.left() + 6, room.center().y())
    if now.life in _SIGNS:
        _SIGNS[now.life](painter, at, ink)
        room = room.adjusted(18, 0, 0, 0)
    painter.setPen(QColor(ink))
    said = ", ".join((*before, now.words))
    if before and painter.fontMetrics().horizontalAdvance(said) > room.width():
        said = ", ".join((*before, now.words.split(" at ")[0]))
    _say(painter, room, said)


def _say(painter: QPainter, room: QRectF, text: str) -> None:
    if text and room.width() > 12:
        cut = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, int(room.width()))
        painter.drawText(room, _LEFT, cut)


def paint_tick(painter: QPainter, at: QPointF, ink: str, size: float = 5.0) -> None:
    """Paint a tick about a place."""
    painter.setPen(QPen(QColor(ink), max(2.0, size / 2.4)))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    corners = ((-1.0, 0.0), (-0.2, 0.8), (1.0, -0.9))
    painter.drawPolyline([at + QPointF(size * x, size * y) for x, y in corners])


def paint_triangle(painter: QPainter, at: QPointF, ink: str, size: float = 6.0) -> None:
    """Paint a warning triangle about a place."""
    painter.setPen(QPen(QColor(ink), 1.6))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    corners = ((0.0, -1.0), (1.0, 0.8), (-1.0, 0.8))
    painter.drawPolygon([at + QPointF(size * x, size * y) for x, y in corners])
    painter.drawLine(at + QPointF(0, -0.3 * size), at + QPointF(0, 0.2 * size))
    painter.drawPoint(at + QPointF(0, 0.55 * size))


_SIGNS: dict[Life, Callable[[QPainter, QPointF, str], None]] = {
    Life.RIGHT: paint_tick,
    Life.OVER: paint_triangle,
}


class PieceColumn(QWidget):
    """All pieces, those to act on first; they share the height there is.

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
        self._layout.setSpacing(BETWEEN)
        self._layout.addStretch(1)
        self.cards: list[PieceCard] = []
        self._ids: list[str] = []
        look().resized.connect(self.share)

    def show_pieces(self, pieces: Sequence[PieceNow], chosen: Sequence[str]) -> None:
        """Show pieces; those chosen have a heavy edge."""
        while len(self.cards) < len(pieces):
            card = PieceCard()
            card.clicked.connect(self._picker(len(self.cards)))
            self._layout.insertWidget(len(self.cards), card)
            self.cards.append(card)
        more = len(pieces) != len(self._ids)
        self._ids = [now.piece.id for now in pieces]
        for place, card in enumerate(self.cards):
            card.setVisible(place < len(pieces))
            if place < len(pieces):
                card.show_piece(pieces[place])
                card.setChecked(pieces[place].piece.id in chosen)
        if more:
            self.share()

    def hold_on(self, area: QScrollArea) -> None:
        """Share the height of what it scrolls in, now and when that changes; ask for none."""
        area.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Ignored)
        area.viewport().installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Share the height anew."""
        if event.type() is QEvent.Type.Resize and isinstance(watched, QWidget):
            self.share()
        return super().eventFilter(watched, event)

    def share(self) -> None:
        """Let the cards share the height there is, none too low and none too high."""
        above = self.parentWidget()
        if above is None or not self._ids:
            return
        count = len(self._ids)
        free = (above.height() - BETWEEN * (count - 1)) // count
        wanted = min(max(free, high(LOW_CARD, 2)), high(HIGH_CARD, 3))
        for card in self.cards:
            card.setFixedHeight(wanted)

    def _picker(self, place: int) -> Callable[..., None]:
        return lambda *_: self.picked.emit(self._ids[place])
