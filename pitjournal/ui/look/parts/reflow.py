"""Cards that lie side by side where there is room, and otherwise move below each other."""

from collections.abc import Mapping

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import look, px

Place = tuple[int, int, int, int]
"""Row, column, rows and columns of a card in a grid of twelve columns."""

COLUMNS = 12


class Reflow(QWidget):
    """A grid of twelve columns with two layouts of the same cards.

    Parameters
    ----------
    wide, narrow
        Where each card lies at `break_at` px or more, and below it.
    break_at
        The width at which they change, px.
    loose
        Whether height that is left over stays free below the cards, which else grow into it.
    """

    def __init__(
        self,
        wide: Mapping[QWidget, Place],
        narrow: Mapping[QWidget, Place],
        break_at: int = 1080,
        *,
        loose: bool = False,
    ) -> None:
        super().__init__()
        self.setObjectName("scrolled")
        self._layouts = {True: dict(wide), False: dict(narrow)}
        self._break_at = break_at
        self._wide: bool | None = None
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(tokens.M)
        for column in range(COLUMNS):
            self._grid.setColumnStretch(column, 1)
        if loose:
            self._grid.setRowStretch(max(line for line, *_ in narrow.values()) + 1, 1)
        for card in wide:
            card.setParent(self)
        self._lay(wide=False)
        look().resized.connect(self._choose)

    def _lay(self, *, wide: bool) -> None:
        if wide is self._wide:
            return
        self._wide = wide
        for card in self._layouts[wide]:
            self._grid.removeWidget(card)
        for card, (line, column, lines, columns) in self._layouts[wide].items():
            self._grid.addWidget(card, line, column, lines, columns)

    def minimumSizeHint(self) -> QSize:
        """Ask for no width where cards lie side by side: they must be able to get narrower."""
        least = super().minimumSizeHint()
        return QSize(0, least.height()) if self._wide else least

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the cards for the width there is."""
        super().resizeEvent(event)
        self._choose()

    def _choose(self) -> None:
        self._lay(wide=self.width() >= px(self._break_at))
