"""A line in amber with its triangle: what has to be known before anything else is read."""

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.words import unbroken, words
from pitjournal.ui.look.theme import at_size, look, sized


class Sign(QWidget):
    """The triangle of what is to be looked at."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("look at this")
        sized(self, width=22, height=20)
        look().changed.connect(self.update)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        at_size(painter, self.rect())
        painter.setPen(
            QPen(
                QColor(look().theme.look),
                2,
                Qt.PenStyle.SolidLine,
                Qt.PenCapStyle.RoundCap,
                Qt.PenJoinStyle.RoundJoin,
            )
        )
        painter.drawPolygon(QPolygonF([QPointF(11, 2), QPointF(20, 18), QPointF(2, 18)]))
        painter.drawLine(QPointF(11, 8), QPointF(11, 12))
        painter.drawPoint(QPointF(11, 15))
        painter.end()


class AmberLine(QFrame):
    """What has to be known, in amber, with a quiet line below; out of sight while there is none."""

    def __init__(self, *beside: QWidget) -> None:
        super().__init__()
        self.setProperty("role", "but")
        self.told = words("", "large")
        self.quiet = words("", "quiet")
        self.line = QHBoxLayout(self)
        self.line.setContentsMargins(tokens.L, tokens.XS, tokens.L, tokens.XS)
        self.line.setSpacing(tokens.S)
        self.line.addWidget(Sign(), alignment=Qt.AlignmentFlag.AlignTop)
        lines = QVBoxLayout()
        lines.setSpacing(0)
        lines.addWidget(self.told)
        lines.addWidget(self.quiet)
        self.line.addLayout(lines, 1)
        for part in beside:
            self.line.addWidget(part)
        self.hide()

    def say(self, text: str, quiet: str = "") -> None:
        """Say it; with an empty text there is no such line."""
        self.told.setText(unbroken(text))
        self.quiet.setText(quiet)
        self.quiet.setVisible(bool(quiet))
        self.setVisible(bool(text))
