"""Draw the cooker from above: its shelves, and which piece lies in which slot."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count
from math import ceil

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from pitjournal.analysis.plan.layout import swapped
from pitjournal.domain.cooker_rows import MOST_ACROSS, rows_of, slot_map
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import at_size, bold, font, look, px

_SLOT = 48


@dataclass(frozen=True)
class Placed:
    """A piece in its slot: label, arm's look, and what it is compared within."""

    label: str
    arm: int | None
    block: str


@dataclass(frozen=True)
class Shelf:
    """A shelf of the cooker with its pieces, left to right."""

    name: str
    pieces: tuple[Placed, ...]


def in_rows(pieces: Sequence[Placed], across: int) -> tuple[Shelf, ...]:
    """Return pieces in the order of their slots as shelves, `across` in a row."""
    across = max(1, min(across, MOST_ACROSS))
    rows = [tuple(pieces[start : start + across]) for start in range(0, len(pieces), across)]
    return tuple(Shelf(f"shelf {n}" if len(rows) > 1 else "", row) for n, row in enumerate(rows, 1))


def shelves_of(whole: WholeCook) -> tuple[Shelf, ...]:
    """Return where a cook's pieces lie, as shelves; with empty slots where the cooker has them."""
    mapped = slot_map(whole)
    if mapped:
        numbers = count(1)
        return tuple(
            Shelf(
                f"shelf {place}" if len(mapped) > 1 else "",
                tuple(
                    Placed("", None, f"{number} free") if piece is None else _placed(whole, piece)
                    for piece, number in zip(row, numbers, strict=False)
                ),
            )
            for place, row in enumerate(mapped, 1)
        )
    return tuple(
        Shelf(row.name, tuple(_placed(whole, piece) for piece in row.pieces))
        for row in rows_of(whole)
    )


def _placed(whole: WholeCook, piece: Piece) -> Placed:
    return Placed(piece.label, whole.arm_index(piece.arm_id), piece.cut_from)


class CookerDrawing(QWidget):
    """The slots of a cooker, back at the top and door at the bottom, a shelf a row."""

    def __init__(self) -> None:
        super().__init__()
        self._shelves: tuple[Shelf, ...] = ()
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        look().changed.connect(self.update)

    def show_pieces(self, pieces: Sequence[Placed], across: int = 3) -> None:
        """Show pieces in the order of their slots, `across` in a row."""
        self.show_shelves(in_rows(pieces, across))

    def show_shelves(self, shelves: Sequence[Shelf]) -> None:
        """Show shelves, the one at the back first."""
        self._shelves = tuple(shelves)
        said = "; ".join(
            ", ".join([shelf.name, *(f"{p.label} {p.block}".strip() for p in shelf.pieces)])
            for shelf in self._shelves
        )
        self.setAccessibleName("where each piece goes")
        self.setAccessibleDescription(said)
        self.updateGeometry()
        self.update()

    def hasHeightForWidth(self) -> bool:
        """Its height depends on the shelves only, yet is asked for by width."""
        return True

    def heightForWidth(self, _width: int) -> int:
        """Return the height of all shelves."""
        return px(44 + max(len(self._shelves), 1) * (_SLOT + tokens.S))

    def sizeHint(self) -> QSize:
        """Return a size that shows all slots."""
        return QSize(px(260), self.heightForWidth(260))

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        theme = look().theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        wide = at_size(painter, self.rect()).width()
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(theme.quiet))
        names = any(shelf.name for shelf in self._shelves)
        metrics = QFontMetricsF(font(tokens.SMALL))
        left = max((metrics.horizontalAdvance(shelf.name) for shelf in self._shelves), default=0.0)
        left = max(58, ceil(left) + 10) if names else 0
        painter.drawText(left + 2, 14, "back of cooker")
        top = 22
        for shelf in self._shelves:
            painter.setFont(font(tokens.SMALL))
            painter.setPen(QColor(theme.quiet))
            room = QRectF(0, top, left - 8, _SLOT)
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, shelf.name)
            self._shelf(painter, shelf, QRectF(left, top, wide - left, _SLOT))
            top += _SLOT + tokens.S
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(left + 2, top + 12, "door")
        painter.end()

    def _shelf(self, painter: QPainter, shelf: Shelf, room: QRectF) -> None:
        widest = max((len(one.pieces) for one in self._shelves), default=1) or 1
        step = (room.width() + tokens.S) / widest
        for place, piece in enumerate(shelf.pieces):
            slot = QRectF(room.left() + place * step + 1, room.top(), step - tokens.S - 2, _SLOT)
            _paint_slot(painter, slot, piece)


def _paint_slot(painter: QPainter, slot: QRectF, piece: Placed) -> None:
    theme = look().theme
    painter.setPen(QPen(QColor(theme.hairline), max(1.6, theme.edge)))
    painter.setBrush(QColor(theme.card))
    painter.drawRoundedRect(slot, tokens.S, tokens.S)
    narrow = slot.width() < 76
    bare = not piece.label or (
        narrow and piece.arm is None
    )  # no mark to see: the label needs the room
    if not bare:
        mark = slot.left() + (13 if narrow else 20)
        paint_mark(painter, mark, slot.center().y() + 6, piece.arm, 7)
    painter.setFont(bold(tokens.BODY if narrow else tokens.LARGE))
    painter.setPen(QColor(theme.ink))
    room = slot.adjusted(6 if bare else 24 if narrow else 36, 12, -2, 0)
    painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, piece.label)
    painter.setFont(font(tokens.SMALL))
    painter.setPen(QColor(theme.quiet))
    inset = 4 if narrow else 8
    corner = slot.adjusted(inset, 4, -inset, 0)
    cut = painter.fontMetrics().elidedText(
        piece.block, Qt.TextElideMode.ElideRight, int(corner.width())
    )
    right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
    painter.drawText(corner, right, cut)


def swap_words(whole: WholeCook) -> str:
    """Say how the places were drawn, and which are swapped half way."""
    if len(whole.arms) < 2:
        return ""
    slots = sorted({p.slot for p in whole.pieces if p.slot.isdecimal()}, key=int)
    pairs = ", ".join(f"{one} with {two}" for one, two in swapped(slots))
    lot = f"Lot {whole.cook.seed}. " if whole.cook.seed is not None else ""
    return f"{lot}Half way, swap slots {pairs}." if pairs else lot
