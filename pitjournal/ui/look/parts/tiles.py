"""Tiles in lines, of which only those in sight cost anything, however many there are."""

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemDelegate, QListView

from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import look, px

OPENS = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space, Qt.Key.Key_Select})


class TileList(QListView):
    """Tiles of one size side by side and below each other; a tap or Enter opens one.

    Letters and digits typed here are left to the page.

    Signals
    -------
    opened(QModelIndex)
        One was tapped, or chosen by keys.
    """

    opened = Signal(QModelIndex)

    def __init__(
        self, name: str, model: QAbstractItemModel, delegate: QAbstractItemDelegate, tile: QSize
    ) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setModel(model)
        delegate.setParent(self)
        self.setItemDelegate(delegate)
        self.setFlow(QListView.Flow.LeftToRight)
        self.setWrapping(True)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setUniformItemSizes(True)
        self._tile = tile
        self._lay_grid()
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.clicked.connect(self.opened)
        look().changed.connect(self.viewport().update)
        look().resized.connect(self._lay_grid)

    def _lay_grid(self) -> None:
        """Give a tile, whose size is px at 100 %, the room it needs at the text size set."""
        high = px(self._tile.height())
        self.setGridSize(QSize(px(self._tile.width()) + tokens.M, high + tokens.M))
        self.verticalScrollBar().setSingleStep(high // 4)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open the tile that is marked; move by arrows and pages."""
        if event.key() in OPENS and not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            if self.currentIndex().isValid() and not event.isAutoRepeat():
                self.opened.emit(self.currentIndex())
            return
        super().keyPressEvent(event)

    def keyboardSearch(self, search: str) -> None:
        """Find nothing by letters: they are keys of the page."""
