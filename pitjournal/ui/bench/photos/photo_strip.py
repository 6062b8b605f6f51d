"""The photos of a cook as a strip of tiles; one opens large."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import (
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from pitjournal.domain.event import Photo
from pitjournal.domain.photo_stage import words_of_photos
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.bench.photos.small_pictures import SmallPictures
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.tiles import TileList
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import at_size, bold, font, look, px

SIDE, LINE = 150, 21
SHOWN = Qt.ItemDataRole.UserRole
Index = QModelIndex | QPersistentModelIndex


@dataclass(frozen=True)
class Tile:
    """A photo as the strip shows it: the piece and stage, and the caption."""

    photo: Photo
    about: str
    text: str

    def __str__(self) -> str:
        return ", ".join(part for part in ("photo", self.about, self.text) if part)


class PhotoTiles(QAbstractListModel):
    """The tiles; what a change leaves alone stays as it is."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._tiles: list[Tile] = []

    def show_tiles(self, tiles: Sequence[Tile]) -> None:
        """Show these: those that are new come in, and those that changed are painted anew."""
        start, end = unlike([one.photo.id for one in self._tiles], [t.photo.id for t in tiles])
        nowhere = QModelIndex()
        gone, come = len(self._tiles) - end, len(tiles) - end
        if start < gone:
            self.beginRemoveRows(nowhere, start, gone - 1)
            del self._tiles[start:gone]
            self.endRemoveRows()
        if start < come:
            self.beginInsertRows(nowhere, start, come - 1)
            self._tiles[start:start] = tiles[start:come]
            self.endInsertRows()
        for place, (old, new) in enumerate(zip(self._tiles, tiles, strict=True)):
            if old != new:
                self._tiles[place] = new
                self.dataChanged.emit(self.index(place), self.index(place))

    def rowCount(self, parent: Index | None = None) -> int:
        """Return how many there are."""
        return 0 if parent is not None and parent.isValid() else len(self._tiles)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return a tile, or what is read aloud for it."""
        if not index.isValid() or not 0 <= index.row() < len(self._tiles):
            return None
        if role == SHOWN:
            return self._tiles[index.row()]
        aloud = {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}
        return str(self._tiles[index.row()]) if role in aloud else None


def unlike(before: Sequence[str], after: Sequence[str]) -> tuple[int, int]:
    """Return how many of two sequences are the same from the front, and then from the back."""
    least = min(len(before), len(after))
    start = next((n for n in range(least) if before[n] != after[n]), least)
    left = least - start
    return start, next((n for n in range(left) if before[-1 - n] != after[-1 - n]), left)


class TilePainter(QStyledItemDelegate):
    """Paints a photo, cut to a square, with its piece and stage and its caption."""

    def __init__(self, pictures: SmallPictures) -> None:
        super().__init__()
        self._pictures = pictures

    def sizeHint(self, _option: object, _index: object) -> QSize:
        """Return a square with two lines below."""
        return QSize(px(SIDE), px(SIDE + 2 * LINE))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one."""
        tile = index.data(SHOWN)
        if not isinstance(tile, Tile):
            return
        theme = look().theme
        state: QStyle.StateFlag = option.state
        painter.save()
        at_size(painter, option.rect)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        frame = QPainterPath()
        frame.addRoundedRect(QRectF(1, 1, SIDE - 2, SIDE - 2), tokens.S, tokens.S)
        painter.save()
        painter.setClipPath(frame)
        painter.fillPath(frame, QColor(theme.grid))
        scale = painter.device().devicePixelRatioF() * look().sizes.scale
        picture = self._pictures.of(tile.photo.thumbnail, round(SIDE * scale))
        if picture is not None and not picture.isNull():
            painter.drawPixmap(QRectF(0, 0, SIDE, SIDE), picture, QRectF(picture.rect()))
        painter.restore()
        marked = state & QStyle.StateFlag.State_HasFocus
        painter.setPen(QPen(QColor(theme.ember if marked else theme.hairline), 3 if marked else 1))
        painter.drawPath(frame)
        lines = (
            (tile.about, bold(tokens.SMALL), theme.ink),
            (tile.text, font(tokens.SMALL), theme.quiet),
        )
        for place, (said, face, ink) in enumerate(line for line in lines if line[0]):
            painter.setFont(face)
            painter.setPen(QColor(ink))
            text = painter.fontMetrics().elidedText(said, Qt.TextElideMode.ElideRight, SIDE)
            room = QRectF(0, SIDE + 2 + place * LINE, SIDE, LINE - 1)
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, text)
        painter.restore()


class PhotoStrip(QWidget):
    """All photos of a cook, in the order they came."""

    def __init__(self, desk: Desk, open_photo: Callable[[Photo], None]) -> None:
        super().__init__()
        self._desk, self._open = desk, open_photo
        self._whole: WholeCook | None = None
        self.empty = words("No photos yet. Tap Photo, or drop pictures here.")
        self.four = button("Four side by side", self._lay_four, "link", about="by stage")
        self._pictures = SmallPictures(desk.journal.files.read, self)
        self._tiles = PhotoTiles(self)
        tile = QSize(SIDE, SIDE + 2 * LINE)
        self.tiles = TileList("photos", self._tiles, TilePainter(self._pictures), tile)
        self.tiles.opened.connect(self._opened)
        self._pictures.there.connect(self.tiles.viewport().update)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.empty)
        layout.addLayout(row(self.four, None))
        layout.addWidget(self.tiles, 1)

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's photos."""
        self._whole = whole
        about = words_of_photos(whole, whole.photos)
        shown = [Tile(one, about[one.id], one.caption or one.name) for one in whole.photos]
        self._tiles.show_tiles(shown)
        self.four.setVisible(len(shown) > 1)
        self.empty.setVisible(not shown)
        self.tiles.setVisible(bool(shown))

    @property
    def pictures_wait(self) -> bool:
        """Whether photos in sight are still to be unpacked."""
        return self._pictures.waits

    def _lay_four(self) -> None:
        from pitjournal.ui.bench.photos.compare_panel import FourPanel  # noqa: PLC0415 - seldom needed

        if self._whole is not None:
            FourPanel(self.window(), self._desk, self._whole).open_panel()

    def _opened(self, index: QModelIndex) -> None:
        tile = index.data(SHOWN)
        if isinstance(tile, Tile):
            self._open(tile.photo)
