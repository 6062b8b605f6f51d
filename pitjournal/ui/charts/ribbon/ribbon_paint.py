"""Paint a ribbon that is laid out, in the theme's colours."""

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from pitjournal.domain.day.course import CARVING, Part
from pitjournal.files.summary.ribbon import MARK
from pitjournal.files.summary.ribbon_shapes import Box, Hump, Picture, Pill
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, colour, font, look

LEAST_MARK = 4.0
ROUND, LOW_BOX = 3.0, 9.0
"""How round a box is, unless it is lower than so many px."""


def paint_ribbon(painter: QPainter, picture: Picture) -> None:
    """Paint a ribbon: bars, strokes, words, when it comes off, and the present over all."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for box in picture.boxes:
        _paint_box(painter, box)
    theme = look().theme
    alike: dict[tuple[str, float], list[QLineF]] = {}
    for stroke in picture.strokes:
        line = QLineF(stroke.x1, stroke.y1, stroke.x2, stroke.y2)
        alike.setdefault((stroke.ink, stroke.width), []).append(line)
    for (ink, width), lines in alike.items():
        painter.setPen(QPen(QColor(getattr(theme, ink)), width))
        painter.drawLines(lines)
    for word in picture.words:
        strong = bold(tokens.SMALL, tabular=True)
        painter.setFont(strong if word.bold else font(tokens.SMALL, tabular=True))
        painter.setPen(QColor(theme.quiet if word.quiet else theme.ink))
        painter.drawText(QPointF(word.x, word.y), word.text)
    if picture.hump is not None:
        _paint_hump(painter, picture.hump)
    if picture.pill is not None:
        paint_pill(painter, picture.pill)


def _paint_box(painter: QPainter, box: Box) -> None:
    theme = look().theme
    room = QRectF(box.x, box.y, box.width, box.height)
    middle = room.center().y()
    if box.part == Part.SLACK:
        painter.setPen(QPen(QColor(theme.ink), 2, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(box.x + 2, middle), QPointF(box.right, middle))
        return
    if box.part in CARVING:
        style = Qt.PenStyle.SolidLine if box.solid else Qt.PenStyle.DotLine
        painter.setPen(QPen(QColor(theme.ink), 4 if box.solid else 2, style))
        painter.drawLine(QPointF(box.x + 2, middle), QPointF(box.right, middle))
        return
    edge, ground, ink = _colours(box)
    width = max(1.4, theme.edge) if box.height > LOW_BOX else 1.0
    painter.setPen(QPen(QColor(edge), width))
    painter.setBrush(QColor(ground))
    inner = room.adjusted(width / 2, width / 2, -width / 2, -width / 2)
    if inner.width() > 0:
        curve = ROUND if box.height > LOW_BOX else 0.0
        painter.drawRoundedRect(inner, curve, curve)
    _paint_word(painter, box, room, ink)


def _colours(box: Box) -> tuple[str, str, str]:
    """Return the edge, the ground and the ink of a box."""
    theme = look().theme
    if box.part == Part.WRAPPED:
        return theme.look, theme.wrap_tint if box.solid else theme.card, theme.look
    if box.part in {Part.REST, Part.HELD}:
        return theme.right, theme.rest_tint if box.solid else theme.card, theme.right
    if box.part == "prepared" and box.look is not None:
        arm = theme.arm(box.look)
        return arm, arm if box.solid else theme.card, theme.card if box.solid else theme.ink
    dark = theme.quiet if box.part == Part.LIT else theme.ink
    return dark, dark if box.solid else theme.card, theme.card if box.solid else theme.ink


def _paint_word(painter: QPainter, box: Box, room: QRectF, ink: str) -> None:
    """Say what a box is where it is long and high enough, the arm's mark before it."""
    painter.setFont(font(tokens.SMALL))
    metrics = painter.fontMetrics()
    size = min(MARK, box.height / 2 - 1)
    marked = box.look is not None and size >= LEAST_MARK and room.width() >= 4 * size
    before = (2 * size + 6) * marked
    wide = metrics.horizontalAdvance(box.word) + before
    fits = metrics.capHeight() + 4 <= room.height() and wide + 8 <= room.width()
    said = box.word if fits else ""
    left = room.center().x() - wide / 2 if said and box.part == "prepared" else room.left() + 5
    if marked:
        _paint_look(painter, left + size, room.center().y(), box, size)
    if said:
        high = metrics.height()
        top, width = room.center().y() - high / 2, wide - before + 4
        begin = left + before if box.part == "prepared" else room.center().x() - width / 2 + 2
        painter.setPen(QColor(ink))
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.drawText(QRectF(begin, top, width, high), middle, said)


def _paint_look(painter: QPainter, x: float, y: float, box: Box, size: float) -> None:
    """Paint an arm's mark, on a light ground where the box is filled."""
    if box.solid:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(look().theme.card))
        painter.drawEllipse(QPointF(x, y), size + 1, size + 1)
    paint_mark(painter, x, y, box.look, size - 1)


def _paint_hump(painter: QPainter, hump: Hump) -> None:
    theme = look().theme
    painter.setPen(QPen(QColor(theme.ember), 1.4))
    painter.setBrush(colour(theme.ember, 0.18))
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in hump.points]))
    if hump.inner:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour(theme.ember, 0.34))
        painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in hump.inner]))
    painter.setPen(QPen(QColor(theme.ember), theme.line))
    painter.drawLine(QPointF(hump.x, hump.top), QPointF(hump.x, hump.bottom))
    painter.setFont(bold(tokens.SMALL, tabular=True))
    metrics = painter.fontMetrics()
    wide, over = metrics.horizontalAdvance(hump.text), metrics.capHeight() + 3
    ground = QRectF(hump.left - 3, hump.y - over, wide + 6, over + 3)
    painter.fillRect(ground, QColor(theme.card))  # it may stand on the hump's low end
    painter.setPen(QColor(theme.ink))
    painter.drawText(QPointF(hump.left, hump.y), hump.text)


def paint_pill(painter: QPainter, pill: Pill) -> None:
    """Paint the present: a line through the bar and the time on it."""
    theme = look().theme
    painter.setPen(QPen(QColor(theme.ink), theme.line))
    painter.drawLine(QPointF(pill.x, pill.top), QPointF(pill.x, pill.bottom))
    if not pill.text:
        painter.setBrush(QColor(theme.ink))
        painter.drawEllipse(QPointF(pill.x, pill.top + 3), 2.5, 2.5)
        return
    room = QRectF(pill.left, pill.top - 10, pill.width, 20)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(theme.ink))
    painter.drawRoundedRect(room, 10, 10)
    painter.setFont(bold(tokens.SMALL, tabular=True))
    painter.setPen(QColor(theme.card))
    painter.drawText(room, Qt.AlignmentFlag.AlignCenter, pill.text)
