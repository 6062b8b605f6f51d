"""What lies between a panel and the page below it."""

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from pitjournal.ui.look.theme import colour, look

DIM = 0.38
"""How much darker what lies under a panel is."""

TOUCHES = frozenset(
    {
        QEvent.Type.MouseButtonPress,
        QEvent.Type.MouseButtonRelease,
        QEvent.Type.MouseButtonDblClick,
        QEvent.Type.Wheel,
        QEvent.Type.TouchBegin,
        QEvent.Type.TouchUpdate,
        QEvent.Type.TouchEnd,
        QEvent.Type.ContextMenu,
        QEvent.Type.DragEnter,
        QEvent.Type.DragMove,
        QEvent.Type.Drop,
    }
)
"""Whatever hands do to what lies in sight: a scrim and the lock take all of it."""


class Scrim(QWidget):
    """Lies between a panel and what it covers: that is seen, and cannot be touched."""

    def __init__(self, over: QWidget) -> None:
        super().__init__(over)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAcceptDrops(True)  # and drops nothing
        look().changed.connect(self.update)
        self.setGeometry(over.rect())
        self.show()
        self.raise_()

    def event(self, event: QEvent) -> bool:
        """Take each touch, turn of the wheel and file."""
        if event.type() in TOUCHES:
            event.setAccepted(event.type() not in {QEvent.Type.DragEnter, QEvent.Type.DragMove})
            return True
        return super().event(event)

    def paintEvent(self, _event: object) -> None:
        """Dim what lies below."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), colour("#000000", DIM))
        painter.end()
