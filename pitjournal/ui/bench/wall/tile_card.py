"""Paint a tile of the bench at arm's length."""

from collections.abc import Callable
from math import ceil, cos, pi, sin

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QKeyEvent,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QAbstractButton, QSizePolicy

from pitjournal.ui.bench.pieces import paint_tick
from pitjournal.ui.bench.wall.tiles import Sign, Tile
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, font, look, px

ROOMY, LOW = 240, 200
"""A tile that is lower has a smaller ring, and below the other none, px."""

NARROW = 300
"""Nor has a narrower one, px."""

WIDE = 460
"""A low tile that is so wide has room for a ring beside its words, px."""

LEAST_HIGH = 132
LEAST_WIDE, LEAST_LOW = 290, 180
"""A low tile has room for larger words from this size on, px."""

PADDING = 22
RADIUS = 14
_ARROWS = {
    Qt.Key.Key_Left: (0, -1),
    Qt.Key.Key_Right: (0, 1),
    Qt.Key.Key_Up: (-1, 0),
    Qt.Key.Key_Down: (1, 0),
}


def larger(width: float, height: float) -> float:
    """Return how much larger a tile of a size, px, is painted at the text size that is set.

    Not so much that its ring goes, or that a low tile has no room for its words.
    """
    least = (NARROW, LOW) if height >= LOW and width >= NARROW else (LEAST_WIDE, LEAST_LOW)
    return max(1.0, min(look().sizes.scale, width / least[0], height / least[1]))


def _small(painter: QPainter, size: int) -> int:
    """Return a size, px, or more where the tile is not as much larger as words are to be."""
    return max(size, ceil(px(tokens.SMALL) / painter.worldTransform().m11()))


class TileCard(QAbstractButton):
    """A piece in its place in the cooker; it is touched to note something.

    Signals
    -------
    walked(int, int)
        An arrow was pressed: rows down and places to the right.
    keyed(str)
        A digit was pressed, which is a tap.
    """

    walked = Signal(int, int)
    keyed = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.tile: Tile | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(150, LEAST_HIGH)
        look().changed.connect(self.update)

    def show_tile(self, tile: Tile) -> None:
        """Show a piece."""
        if tile != self.tile:
            self.tile = tile
            self.setText(tile.label)
            self.setAccessibleName(tile.spoken)
            self.update()

    def sizeHint(self) -> QSize:
        """Ask for room to be read from afar."""
        return QSize(380, 290)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk by arrows, tap by digits, open by Enter."""
        step = _ARROWS.get(Qt.Key(event.key()))
        if step is not None:
            self.walked.emit(*step)
        elif event.text().isdigit():
            self.keyed.emit(event.text())
        elif event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.click()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        tile = self.tile
        if tile is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale = larger(self.width(), self.height())
        painter.scale(scale, scale)
        room = QRectF(0, 0, self.width() / scale, self.height() / scale)
        _paint_edge(painter, room, tile)
        if self.hasFocus():
            painter.setPen(QPen(QColor(look().theme.ember), 3))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(room.adjusted(17, 17, -17, -17), 8, 8)
        low = room.height() < LOW or room.width() < NARROW
        (_paint_low if low else _paint_full)(painter, room, tile)
        painter.end()


def _edge_of(sign: Sign) -> tuple[float, str, Qt.PenStyle]:
    theme = look().theme
    dash, solid = Qt.PenStyle.DashLine, Qt.PenStyle.SolidLine
    return {
        Sign.RIGHT: (10.0, theme.right, solid),
        Sign.OVER: (14.0, theme.ember, solid),
        Sign.UNDER: (5.0, theme.ink, solid),
        Sign.OFF: (2.0, theme.hairline, solid),
    }.get(sign, (3.0, theme.ink, dash))


def _paint_edge(painter: QPainter, room: QRectF, tile: Tile) -> None:
    """Paint the edge: dashed, solid, thick and green, or striped."""
    theme = look().theme
    width, colour, style = _edge_of(tile.sign)
    inner = room.adjusted(width / 2, width / 2, -width / 2, -width / 2)
    painter.setBrush(QColor(theme.card))
    painter.setPen(QPen(QColor(colour), width, style))
    painter.drawRoundedRect(inner, RADIUS, RADIUS)
    if tile.sign is Sign.OVER:
        painter.save()
        ring = QPainterPath()
        ring.addRoundedRect(room.adjusted(1, 1, -1, -1), RADIUS, RADIUS)
        hole = QPainterPath()
        hole.addRoundedRect(room.adjusted(width, width, -width, -width), 6, 6)
        painter.setClipPath(ring.subtracted(hole))
        painter.setPen(QPen(QColor(theme.card), 7))
        reach = int(room.width() + room.height())
        for x in range(-int(room.height()), reach, 20):
            painter.drawLine(QPointF(x, room.height()), QPointF(x + room.height(), 0))
        painter.restore()
        painter.setPen(QPen(QColor(colour), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(room.adjusted(1, 1, -1, -1), RADIUS, RADIUS)
        painter.drawRoundedRect(room.adjusted(width, width, -width, -width), 6, 6)


def _paint_full(painter: QPainter, room: QRectF, tile: Tile) -> None:
    """Paint the ring, the temperature large, and below them how it is and when it comes off."""
    roomy = room.height() >= ROOMY and room.width() >= 360
    size = 148.0 if roomy else 104.0
    ring = QRectF(PADDING + 6, PADDING, size, size)
    _paint_ring(painter, ring, tile, 18.0 if roomy else 14.0)
    left = ring.right() + 18
    wide = room.width() - left - PADDING
    _write(painter, QRectF(left, ring.top() - 4, wide, 36), tile.label, bold(34 if roomy else 26))
    high = 76 if roomy else 56
    number = QRectF(left, ring.top() + (26 if roomy else 20), wide, high + 10)
    _write(painter, number, tile.number or "–", bold(high, tabular=True), _ink(tile))
    rise = QRectF(left, number.bottom() - 4, wide, 26)
    _write(painter, rise, tile.rise, font(20 if roomy else tokens.LARGE, tabular=True))
    foot = QRectF(PADDING + 6, ring.bottom() + 8, room.width() - 2 * PADDING - 12, 0)
    foot.setBottom(room.bottom() - PADDING)
    _paint_foot(painter, foot, tile)


def _paint_low(painter: QPainter, room: QRectF, tile: Tile) -> None:
    """Paint a low tile: the ring at its left where it is wide, else a bar along its foot."""
    theme = look().theme
    wide = room.width() >= WIDE
    left, foot = float(PADDING), room.height() - PADDING - 92
    if wide:
        size = room.height() - 2 * PADDING
        _paint_ring(painter, QRectF(PADDING + 4, PADDING, size, size), tile, size / 8)
        left, foot = PADDING + size + 24, room.height() - 2 * PADDING - 52
    else:
        paint_mark(painter, PADDING + 14, PADDING + 16, tile.look, 11)
    label = QRectF(left if wide else PADDING + 34, PADDING - 4, 110, 40)
    after = label.left() + _write(painter, label, tile.label, bold(26)) + 16
    end = room.right() - PADDING
    number = _write(
        painter,
        QRectF(left, PADDING - 10, end - left, 62),
        tile.number or "–",
        bold(56, tabular=True),
        _ink(tile),
        right=True,
    )
    rise = QRectF(after, label.top() + 2, end - number - 12 - after, 40)
    _paint_rise(painter, rise, tile.rise)
    _paint_foot(painter, QRectF(left, PADDING + 52, end - left, foot), tile)
    if wide:
        return
    bar = QRectF(PADDING, room.bottom() - PADDING - 12, end - PADDING, 10)
    painter.setPen(QPen(QColor(theme.ink), 1.4))
    painter.setBrush(QColor(theme.card))
    painter.drawRect(bar)
    if tile.share:
        filled = QRectF(bar.left(), bar.top(), bar.width() * tile.share, bar.height())
        painter.fillRect(filled, QColor(theme.arm(tile.look)))


def _paint_rise(painter: QPainter, room: QRectF, rise: str) -> None:
    """Paint how a piece rises as large as there is room for; cut short it would say nothing."""
    for text in (rise, rise.replace(" in 10 min", "/10 min").removeprefix("by hand, ")):
        for size in (20, max(17, min(20, _small(painter, 17)))):
            letters = font(size, tabular=True)
            if QFontMetricsF(letters).horizontalAdvance(text) <= room.width():
                _write(painter, room, text, letters)
                return


def _ink(tile: Tile) -> str:
    theme = look().theme
    return theme.quiet if tile.quiet or tile.sign is Sign.OFF else theme.ink


def _paint_ring(painter: QPainter, room: QRectF, tile: Tile, width: float) -> None:
    """Paint the ring, filled as far as the piece has come towards being probed."""
    theme = look().theme
    inner = room.adjusted(width / 2, width / 2, -width / 2, -width / 2)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    style = Qt.PenStyle.DashLine if tile.share is None else Qt.PenStyle.SolidLine
    painter.setPen(QPen(QColor(theme.grid), width if tile.share is not None else 3, style))
    painter.drawEllipse(inner)
    if tile.share:
        pen = QPen(QColor(theme.arm(tile.look)), width)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        painter.drawArc(inner, 90 * 16, -round(360 * 16 * tile.share))
    painter.setPen(QPen(QColor(theme.ink), 1.4))
    painter.drawEllipse(room)
    painter.drawEllipse(room.adjusted(width, width, -width, -width))
    paint_mark(painter, room.center().x(), room.center().y(), tile.look, room.width() / 5.7)


def _paint_foot(painter: QPainter, room: QRectF, tile: Tile) -> None:
    """Paint how it is, by sign and word, and at the right when it comes off."""
    theme = look().theme
    ink = {Sign.RIGHT: theme.right, Sign.OVER: theme.ember}.get(tile.sign, theme.ink)
    loud = tile.sign.value.isupper()
    high = min(room.height(), 62.0)
    top = room.bottom() - high
    size = min(24.0, high / 2 - 2)
    paint = _SIGNS.get(tile.sign)
    if paint is not None:
        paint(painter, QPointF(room.left() + size + 2, top + high / 2), ink, size)
    left = room.left() + (2 * size + 14 if paint is not None else 0)
    after = _paint_off(painter, QRectF(left, top, room.right() - left, high), tile)
    wide = after - left - 8
    word = bold(_fitting(tile.sign.value, wide, (36, 30, 26, 22, 20) if loud else (28, 22, 20)))
    _write(painter, QRectF(left, top, wide, high * 0.6), tile.sign.value, word, ink)
    below = QRectF(left, top + high * 0.6, wide, high * 0.4)
    _write(painter, below, tile.below, font(_small(painter, 18), tabular=True))


def _paint_off(painter: QPainter, room: QRectF, tile: Tile) -> float:
    """Paint when it comes off at the right; return where that begins."""
    theme = look().theme
    over = tile.sign is Sign.OVER
    first, second = ("take", "it off") if over else ("off", tile.off)
    if not over and (not tile.off or tile.sign is Sign.OFF):
        return room.right()
    ink = theme.ember if over else theme.ink
    lowest = int(room.height() * 0.58 / 0.76)  # figures are three quarters of their size high
    big = bold(min(28 if over else 34, max(lowest, _small(painter, 13))), tabular=True)
    upper = QRectF(room.left(), room.top(), room.width(), room.height() * 0.42)
    lower = QRectF(room.left(), upper.bottom(), room.width(), room.height() * 0.58)
    one = _write(painter, upper, first, big if over else font(20), ink, right=True)
    two = _write(painter, lower, second, big, ink, right=True)
    return room.right() - max(one, two)


def _fitting(text: str, wide: float, sizes: tuple[int, ...]) -> int:
    for size in sizes:
        if QFontMetricsF(bold(size)).horizontalAdvance(text) <= wide:
            return size
    return sizes[-1]


def _write(
    painter: QPainter,
    room: QRectF,
    text: str,
    letters: QFont,
    ink: str = "",
    *,
    right: bool = False,
) -> float:
    """Write a text in the middle of a line; return how wide it is."""
    painter.setFont(letters)
    painter.setPen(QColor(ink or look().theme.ink))
    cut = painter.fontMetrics().elidedText(
        text, Qt.TextElideMode.ElideRight, max(int(room.width()), 12)
    )
    side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
    painter.drawText(room, side | Qt.AlignmentFlag.AlignVCenter, cut)
    return float(painter.fontMetrics().horizontalAdvance(cut))


def _disc(painter: QPainter, at: QPointF, ink: str, size: float) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(ink))
    painter.drawEllipse(at, size, size)
    paint_tick(painter, at, look().theme.card, size / 2)


def _octagon(painter: QPainter, at: QPointF, ink: str, size: float) -> None:
    corners = [
        at + QPointF(size * cos(pi / 8 + n * pi / 4), size * sin(pi / 8 + n * pi / 4))
        for n in range(8)
    ]
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(QColor(ink)))
    painter.drawPolygon(QPolygonF(corners))
    painter.setPen(QPen(QColor(look().theme.card), size / 5))
    painter.drawLine(at + QPointF(0, -0.55 * size), at + QPointF(0, 0.15 * size))
    painter.drawPoint(at + QPointF(0, 0.5 * size))


def _arrow(painter: QPainter, at: QPointF, ink: str, size: float) -> None:
    painter.setPen(QPen(QColor(ink), size / 3.4))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawLine(at + QPointF(0, size * 0.9), at + QPointF(0, -size * 0.7))
    painter.drawPolyline(
        [at + QPointF(size * x, size * y) for x, y in ((-0.7, -0.05), (0, -0.8), (0.7, -0.05))]
    )


def _broken(painter: QPainter, at: QPointF, ink: str, size: float) -> None:
    painter.setPen(QPen(QColor(ink), size / 4.5, Qt.PenStyle.DotLine))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(at, size * 0.85, size * 0.85)


_SIGNS: dict[Sign, Callable[[QPainter, QPointF, str, float], None]] = {
    Sign.RIGHT: _disc,
    Sign.OVER: _octagon,
    Sign.UNDER: _arrow,
    Sign.NOT_FELT: _broken,
    Sign.PROBE: _broken,
}
