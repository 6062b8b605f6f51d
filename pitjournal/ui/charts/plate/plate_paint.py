"""Paint a verdict plate that is laid out, in the theme's colours."""

from collections.abc import Sequence

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPolygonF

from pitjournal.files.summary.plate_shapes import (
    GRID,
    HAIR,
    THREAD,
    PlateBar,
    PlateLine,
    PlatePicture,
    PlateText,
    PlateTip,
)
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, colour, font, look

UNDER = frozenset({GRID, HAIR})


def paint_plate(painter: QPainter, picture: PlatePicture) -> None:
    """Paint a plate: lines, bars, marks over them, and words over all."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    under, over = picture.under_and_over(UNDER)
    _paint_lines(painter, under)
    for bar in picture.bars:
        _paint_bar(painter, bar)
    _paint_lines(painter, over)
    for tip in picture.tips:
        _paint_tip(painter, tip)
    for text in picture.texts:
        if text.ground is not None:
            painter.fillRect(QRectF(*text.ground), QColor(look().theme.card))
    for mark in picture.marks:
        paint_mark(painter, mark.x, mark.y, mark.look, mark.size)
    for text in picture.texts:
        _paint_text(painter, text)


def _paint_lines(painter: QPainter, these: Sequence[PlateLine]) -> None:
    """Paint lines, those that are alike at once."""
    alike: dict[tuple[str, int | None, float, bool], list[QLineF]] = {}
    for line in these:
        ends = QLineF(line.x1, line.y1, line.x2, line.y2)
        alike.setdefault((line.ink, line.look, line.width, line.dashed), []).append(ends)
    for key, lines in alike.items():
        painter.setPen(_pen(*key))
        painter.drawLines(lines)


def _pen(ink: str, arm: int | None, width: float, dashed: bool) -> QPen:
    theme = look().theme
    if arm is not None:
        shade = QColor(theme.arm(arm))
    elif ink == THREAD:
        shade = colour(theme.quiet, 0.7)
    else:
        shade = QColor({HAIR: theme.hairline}.get(ink) or getattr(theme, ink))
    heavy = theme.line / tokens.LIGHT.line
    pen = QPen(shade, width * heavy if width > 1 else width)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dashed:
        pen.setDashPattern([2.0, 2.0])
    return pen


def _shade(arm: int) -> QColor:
    theme = look().theme
    return QColor(theme.quiet if arm < 0 else theme.arm(arm))


def _paint_bar(painter: QPainter, bar: PlateBar) -> None:
    room = QRectF(bar.x, bar.y, bar.width, bar.height)
    if bar.filled:
        painter.fillRect(room, _shade(bar.look))
        return
    painter.setPen(QPen(_shade(bar.look), 1.2))
    painter.setBrush(QBrush(QColor(look().theme.card)))
    painter.drawRect(room.adjusted(0, 0.6, -0.6, -0.6))


def _paint_tip(painter: QPainter, tip: PlateTip) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(_shade(tip.look))
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in tip.corners]))


def _paint_text(painter: QPainter, text: PlateText) -> None:
    size = int(text.size)
    painter.setFont(bold(size, tabular=True) if text.bold else font(size, tabular=True))
    painter.setPen(QColor(getattr(look().theme, text.ink)))
    painter.drawText(QPointF(text.x, text.y), text.text)
