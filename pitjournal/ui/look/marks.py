"""Paint an arm's mark: its colour and its shape, the same everywhere."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget

from pitjournal.files.marks import outline
from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import at_size, look, px


def path(arm_look: int, size: float) -> QPainterPath:
    """Return the outline of a look's shape within ±`size` px about the origin.

    The look of a series (`tokens.series`) has a shape that no arm has.
    """
    found = QPainterPath()
    if arm_look >= tokens.SERIES:
        return _series_path((arm_look - tokens.SERIES) % SHAPES, size)
    corners = outline(arm_look)
    if not corners:
        found.addEllipse(QPointF(0, 0), 0.9 * size, 0.9 * size)
    else:
        found.addPolygon(QPolygonF([QPointF(x * size, y * size) for x, y in corners]))
        found.closeSubpath()
    return found


SHAPES = 8
"""So many shapes there are for series that are no arms."""


def _series_path(place: int, size: float) -> QPainterPath:
    """Return the outline of a series' shape: none that an arm has."""
    found = QPainterPath()
    wide = QRectF(-size, -size, 2 * size, 2 * size)
    thin, half = 0.36 * size, 0.72 * size
    if place == 0:  # a full disc
        found.addEllipse(QPointF(0, 0), half, half)
    elif place == 1:  # a bar that lies
        found.addRect(QRectF(-size, -thin, 2 * size, 2 * thin))
    elif place == 2:  # a saltire
        found.addRect(QRectF(-size, -thin * 0.8, 2 * size, 1.6 * thin))
        found.addRect(QRectF(-thin * 0.8, -size, 1.6 * thin, 2 * size))
        found.setFillRule(Qt.FillRule.WindingFill)
        found = QTransform().rotate(45).map(found)
    elif place == 3:  # half a disc, round above
        found.arcMoveTo(wide.translated(0, size / 2), 0)
        found.arcTo(wide.translated(0, size / 2), 0, 180)
        found.closeSubpath()
    elif place == 4:  # a bar that stands
        found.addRect(QRectF(-thin, -size, 2 * thin, 2 * size))
    elif place == 5:  # an hourglass
        corners = ((-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0))
        found.addPolygon(QPolygonF([QPointF(0.8 * x * size, y * size) for x, y in corners]))
        found.closeSubpath()
    elif place == 6:  # half a disc, round below
        found.arcMoveTo(wide.translated(0, -size / 2), 180)
        found.arcTo(wide.translated(0, -size / 2), 180, 180)
        found.closeSubpath()
    else:  # two dots
        for side in (-1, 1):
            found.addEllipse(QPointF(side * 0.55 * size, 0), 0.42 * size, 0.42 * size)
    return found


def paint_mark(
    painter: QPainter,
    x: float,
    y: float,
    arm_look: int | None,
    size: float = tokens.MARK,
    *,
    grey: bool = False,
) -> None:
    """Paint an arm's or a series' mark about (x, y); a piece without an arm is a small dot.

    `grey` keeps the shape and leaves the colour away: it rests on too little.
    """
    theme = look().theme
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(x, y)
    shade = QColor(theme.quiet if grey else theme.arm(arm_look))
    if arm_look is None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(shade)
        painter.drawEllipse(QPointF(0, 0), size / 2, size / 2)
    elif arm_look == 0:
        painter.setPen(QPen(shade, theme.line))
        painter.setBrush(QColor(theme.card))
        painter.drawPath(path(0, size))
    else:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(shade)
        painter.drawPath(path(arm_look, size))
    painter.restore()


class Mark(QWidget):
    """An arm's mark by itself."""

    def __init__(self, arm_look: int | None = None, name: str = "") -> None:
        super().__init__()
        self.show_arm(arm_look, name)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        look().changed.connect(self.update)

    def show_arm(self, arm_look: int | None, name: str = "") -> None:
        """Show the mark of another arm."""
        self._look = arm_look
        self.setAccessibleName(name or "mark")
        self.update()

    def sizeHint(self) -> QSize:
        """Return a square that holds the mark."""
        return QSize(px(3 * tokens.MARK), px(3 * tokens.MARK))

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        painter = QPainter(self)
        middle = at_size(painter, self.rect()).center()
        paint_mark(painter, middle.x(), middle.y(), self._look)
        painter.end()
