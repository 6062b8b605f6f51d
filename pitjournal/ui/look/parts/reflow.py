"""Cards that lie side by side where there is room, and otherwise move below each other."""

from collections.abc import Mapping

from PySide6.QtCore import QEvent, QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLayout, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.scroll import Scroll
from pitjournal.ui.look.theme import look, px

Place = tuple[int, int, int, int]
"""Row, column, rows and columns of a card in a grid of twelve columns."""

COLUMNS = 12

NARROW, WIDE = 0, 1
"""The two layouts of what lies side by side where there is room."""

SINGLE = -1
"""The layout of a `Reflow` in which each card has the whole width."""

LEAST_BESIDE = 600
"""Nothing lies side by side in less, px at 100 %: large words leave no room for it."""


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

    def room(self) -> int:
        """Return the width there is.

        Where the parts scroll, what counts is the width of what scrolls: below each other they may
        ask for so much that they would then lie side by side, where they ask for less, and so on.
        """
        above = self.parentWidget()
        while above is not None and not isinstance(above, Scroll):
            above = above.parentWidget()
        return self.width() if above is None else above.room(self)

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

    def event(self, event: QEvent) -> bool:
        """Look again where a part wants another width."""
        found = super().event(event)
        if event.type() is QEvent.Type.LayoutRequest and self.laid is not None:
            self.fit()
        return found


class Beside(ByWidth):
    """Two parts side by side, or below each other where they do not fit.

    Parameters
    ----------
    left, right
        The parts; a layout becomes a widget.
    shares
        How much of the width each takes.
    right_first
        Whether the right one is above where they lie below each other.
    """

    def __init__(
        self,
        left: QWidget | QLayout,
        right: QWidget | QLayout,
        shares: tuple[int, int],
        *,
        right_first: bool = False,
    ) -> None:
        super().__init__(tokens.M)
        self.setObjectName("scrolled")
        self._parts = tuple(_as_widget(part) for part in (left, right))
        self._right_first = right_first
        for column, share in enumerate(shares):
            self.grid.setColumnStretch(column, share)
        self.fit()

    def fitting(self) -> int:
        """Return whether the parts fit side by side."""
        needed = sum(map(_least, self._parts)) + tokens.M
        return WIDE if self.room() >= max(px(LEAST_BESIDE), needed) else NARROW

    def lay(self, layout: int) -> None:
        """Lay the parts beside or below each other."""
        for part in self._parts:
            self.grid.removeWidget(part)
        for place, part in enumerate(self._parts):
            if layout == WIDE:
                self.grid.addWidget(part, 0, place)
            else:
                self.grid.addWidget(part, int(place != self._right_first), 0, 1, 2)

    def minimumSizeHint(self) -> QSize:
        """Ask for no width where the parts lie side by side: they must be able to get narrower."""
        return super().minimumSizeHint() if self.laid == WIDE else self.grid.totalMinimumSize()


def _least(part: QWidget) -> int:
    """Return the least width of a part, px: the one it is given, or that of what is in it."""
    return max(part.minimumSizeHint().width(), part.minimumWidth())


def _as_widget(part: QWidget | QLayout) -> QWidget:
    if isinstance(part, QWidget):
        return part
    holder = QWidget()
    holder.setObjectName("scrolled")
    part.setContentsMargins(0, 0, 0, 0)
    holder.setLayout(part)
    return holder


class Reflow(ByWidth):
    """A grid of twelve columns with two layouts of the same cards; a third is one below the other.

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
        order = sorted(narrow, key=lambda card: narrow[card][:2])
        single = {card: (line, 0, 1, COLUMNS) for line, card in enumerate(order)}
        self._layouts = {NARROW: dict(narrow), WIDE: dict(wide), SINGLE: single}
        self._break_at = break_at
        for column in range(COLUMNS):
            self.grid.setColumnStretch(column, 1)
        if loose:
            self.grid.setRowStretch(len(narrow), 1)
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
        """Return whether the cards have room side by side."""
        width = self.room()
        if width >= px(self._break_at):
            return WIDE
        narrow = self._layouts[NARROW]
        asks = [_least(card) * COLUMNS / narrow[card][3] for card in narrow]
        return NARROW if width >= max(px(LEAST_BESIDE), *asks) else SINGLE
