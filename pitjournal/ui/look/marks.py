"""Paint an arm's mark: its colour and its shape, the same everywhere."""

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from pitjournal.files.summary.marks import outline
from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import look


def path(arm_look: int, size: float) -> QPainterPath:
    """Return the outline of a look's shape within ±`size` px about the origin."""
    found = QPainterPath()
    corners = outline(arm_look)
    if not corners:
        found.addEllipse(QPointF(0, 0), 0.9 * size, 0.9 * size)
    else:
        found.addPolygon(QPolygonF([QPointF(x * size, y * size) for x, y in corners]))
        found.closeSubpath()
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
    """Paint an arm's mark about (x, y); a piece without an arm is a small dot.

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
        return QSize(3 * tokens.MARK, 3 * tokens.MARK)

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        painter = QPainter(self)
        paint_mark(painter, self.width() / 2, self.height() / 2, self._look)
        painter.end()
