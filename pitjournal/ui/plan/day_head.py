"""The head of a planned day: when it is served, and how sure that is, in a line or in two."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.reflow import NARROW, WIDE, ByWidth
from pitjournal.ui.look.theme import px

LEAST_WORDS = 220
"""What the words beside the chance take at least, px."""


class DayHead(ByWidth):
    """Serving time, chance, its words and a tap; the chance is in a line of its own where narrow.

    Parameters
    ----------
    serving
        The serving time with its words.
    chance, said, work
        The chance, what it rests on, and the tap that works the day out again.
    """

    def __init__(
        self, serving: QHBoxLayout, chance: QLabel, said: QLabel, work: QPushButton
    ) -> None:
        super().__init__(tokens.XS)
        self.setObjectName("scrolled")
        self.grid.setHorizontalSpacing(tokens.M)
        self._serving = QWidget()
        self._serving.setLayout(serving)
        self._chance, self._said, self._work = chance, said, work
        self.grid.setColumnStretch(2, 1)
        self.fit()

    def fitting(self) -> int:
        """Return whether all has room in a line."""
        parts = (self._serving, self._chance, self._work)
        needed = sum(part.sizeHint().width() + tokens.M for part in parts) + px(LEAST_WORDS)
        return WIDE if self.width() >= needed else NARROW

    def lay(self, layout: int) -> None:
        """Lay the parts in a line, or in two."""
        middle = Qt.AlignmentFlag.AlignVCenter
        for part in (self._serving, self._chance, self._said, self._work):
            self.grid.removeWidget(part)
        if layout == WIDE:
            for place, part in enumerate((self._serving, self._chance, self._said, self._work)):
                self.grid.addWidget(part, 0, place, middle)
            return
        self.grid.addWidget(self._serving, 0, 0, 1, 4, middle | Qt.AlignmentFlag.AlignLeft)
        for place, part in enumerate((self._chance, self._said, self._work)):
            self.grid.addWidget(part, 1, place + (place > 0), middle)

    def minimumSizeHint(self) -> QSize:
        """Ask for the height that its lines take."""
        return QSize(0, self.grid.totalMinimumSize().height())
