"""Tiles in lines, of which only those in sight cost anything, however many there are."""

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemDelegate, QListView

from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import look

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
        self.setGridSize(tile + QSize(tokens.M, tokens.M))
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.verticalScrollBar().setSingleStep(tile.height() // 4)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.clicked.connect(self.opened)
        look().changed.connect(self.viewport().update)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open the tile that is marked; move by arrows and pages."""
        if event.key() in OPENS and not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            if self.currentIndex().isValid() and not event.isAutoRepeat():
                self.opened.emit(self.currentIndex())
            return
        super().keyPressEvent(event)

    def keyboardSearch(self, search: str) -> None:
        """Find nothing by letters: they are keys of the page."""
