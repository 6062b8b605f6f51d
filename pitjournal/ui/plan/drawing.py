"""Draw the cooker from above: which piece lies in which slot."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, font, look

_SLOT = 56


@dataclass(frozen=True)
class Placed:
    """A piece in its slot: label, arm's look, and what it is compared within."""

    label: str
    arm: int | None
    block: str


class CookerDrawing(QWidget):
    """The slots of a cooker, back at the top and door at the bottom, as many a row as fit."""

    def __init__(self) -> None:
        super().__init__()
        self._pieces: Sequence[Placed] = ()
        self._across = 3
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        look().changed.connect(self.update)

    def show_pieces(self, pieces: Sequence[Placed], across: int = 3) -> None:
        """Show pieces in the order of their slots, `across` in a row."""
        self._pieces, self._across = tuple(pieces), max(1, min(across, 6))
        said = ", ".join(f"{p.label} ({p.block})" if p.block else p.label for p in pieces)
        self.setAccessibleName("where each piece goes")
        self.setAccessibleDescription(said)
        self.updateGeometry()
        self.update()

    def _rows(self) -> int:
        return ceil(len(self._pieces) / self._across) if self._pieces else 1

    def hasHeightForWidth(self) -> bool:
        """Its height depends on the rows only, yet is asked for by width."""
        return True

    def heightForWidth(self, _width: int) -> int:
        """Return the height of all rows."""
        return 40 + self._rows() * (_SLOT + tokens.S)

    def sizeHint(self) -> QSize:
        """Return a size that shows all slots."""
        return QSize(260, self.heightForWidth(260))

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        theme = look().theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(2, 14, "back of cooker")
        step = (self.width() + tokens.S) / self._across
        for place, piece in enumerate(self._pieces):
            line, column = divmod(place, self._across)
            top = 22 + line * (_SLOT + tokens.S)
            slot = QRectF(column * step + 1, top, step - tokens.S - 2, _SLOT)
            painter.setPen(QPen(QColor(theme.hairline), max(1.6, theme.edge)))
            painter.setBrush(QColor(theme.card))
            painter.drawRoundedRect(slot, tokens.S, tokens.S)
            paint_mark(painter, slot.left() + 20, slot.center().y() + 4, piece.arm, 8)
            painter.setFont(bold(tokens.LARGE))
            painter.setPen(QColor(theme.ink))
            room = slot.adjusted(36, 8, -4, 0)
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, piece.label)
            painter.setFont(font(12))
            painter.setPen(QColor(theme.quiet))
            corner = slot.adjusted(34, 4, -8, 0)
            cut = painter.fontMetrics().elidedText(
                piece.block, Qt.TextElideMode.ElideRight, int(corner.width())
            )
            right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
            painter.drawText(corner, right, cut)
        painter.setFont(font(tokens.SMALL))
        painter.drawText(2, 22 + self._rows() * (_SLOT + tokens.S) + 12, "door")
        painter.end()
