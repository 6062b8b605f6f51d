"""Cards that lie side by side where there is room, and otherwise move below each other."""

from collections.abc import Mapping

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.scroll import Scroll
from pitjournal.ui.look.theme import look, px

Place = tuple[int, int, int, int]
"""Row, column, rows and columns of a card in a grid of twelve columns."""

COLUMNS = 12

NARROW, WIDE = 0, 1
"""The two layouts of a `Reflow`."""


class ByWidth(QWidget):
    """A grid whose parts lie otherwise where there is less room, at the least as high as they are.

    Subclasses say in `fitting` how they lie in the width there is, and lay them so in `lay`;
    they call `fit` once all is there.
    """

    def __init__(self, space: int) -> None:
        super().__init__()
        self.grid = QGridLayout(self)
        self.grid.setContentsMargins(0, 0, 0, 0)
        self.grid.setSpacing(space)
        self.laid: int | None = None
        look().resized.connect(self.fit)

    def fitting(self) -> int:
        """Return which of its layouts fits the width there is."""
        raise NotImplementedError

    def lay(self, layout: int) -> None:
        """Lay the parts so."""
        raise NotImplementedError

    def fit(self) -> None:
        """Lay the parts anew where the width asks for another layout."""
        wanted = self.fitting()
        if wanted != self.laid:
            self.laid = wanted
            self.lay(wanted)
            self.updateGeometry()

    def minimumSizeHint(self) -> QSize:
        """Ask for no width: the parts lie as there is room."""
        return QSize(0, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the parts for the width there is."""
        super().resizeEvent(event)
        self.fit()


class Reflow(ByWidth):
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
        super().__init__(tokens.M)
        self.setObjectName("scrolled")
        self._layouts = (dict(narrow), dict(wide))
        self._break_at = break_at
        for column in range(COLUMNS):
            self.grid.setColumnStretch(column, 1)
        if loose:
            self.grid.setRowStretch(max(line for line, *_ in narrow.values()) + 1, 1)
        for card in wide:
            card.setParent(self)
        self.laid = NARROW
        self.lay(NARROW)

    def lay(self, layout: int) -> None:
        """Lay the cards as they are told for wide or narrow."""
        for card in self._layouts[layout]:
            self.grid.removeWidget(card)
        for card, (line, column, lines, columns) in self._layouts[layout].items():
            self.grid.addWidget(card, line, column, lines, columns)

    def minimumSizeHint(self) -> QSize:
        """Ask for no width where cards lie side by side: they must be able to get narrower."""
        return super().minimumSizeHint() if self.laid == WIDE else self.grid.totalMinimumSize()

    def fitting(self) -> int:
        """Return whether the cards have room side by side.

        Where they scroll, what counts is the width of what scrolls: below each other they may ask
        for so much that they would then lie side by side, where they ask for less, and so on.
        """
        return WIDE if self._room() >= px(self._break_at) else NARROW

    def _room(self) -> int:
        above = self.parentWidget()
        while above is not None and not isinstance(above, Scroll):
            above = above.parentWidget()
        return self.width() if above is None else above.room(self)
