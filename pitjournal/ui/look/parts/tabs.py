"""The tabs of a cook: one stop for Tab, arrows turn, and tabs to a screen reader."""

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QTabBar

from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import bold, look


class Tabs(QTabBar):
    """Names of pages, of which one is open.

    Signals
    -------
    turned(str)
        The cook turned to the page of this key; not when it was shown so.
    """

    turned = Signal(str)

    def __init__(self, name: str, pages: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self._keys = [key for key, _ in pages]
        self.setAccessibleName(name)
        self.setDrawBase(False)
        self.setExpanding(False)
        self.setUsesScrollButtons(False)
        self.setElideMode(Qt.TextElideMode.ElideNone)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        for place, (_, text) in enumerate(pages):
            self.addTab(text)
            self.setTabToolTip(place, f"Alt+{place + 1}")
        self.currentChanged.connect(self._turn)
        look().changed.connect(self._lay_anew)

    def show_page(self, key: str) -> None:
        """Show which page is open."""
        self.blockSignals(True)
        self.setCurrentIndex(self._keys.index(key))
        self.blockSignals(False)

    def _turn(self, place: int) -> None:
        self.turned.emit(self._keys[place])

    def _lay_anew(self) -> None:
        """Take the room that the words need in their size."""
        self.setTabText(0, self.tabText(0))  # or it keeps the sizes it had
        self.updateGeometry()

    def tabSizeHint(self, index: int) -> QSize:
        """Return a size that keeps its width when its name turns bold."""
        found = super().tabSizeHint(index)
        wide = QFontMetrics(bold()).horizontalAdvance(self.tabText(index)) + 2 * tokens.L
        return QSize(max(found.width(), wide), found.height())
