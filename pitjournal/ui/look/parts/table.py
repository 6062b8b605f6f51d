"""A small table of words and numbers on a card: hairlines between rows, numbers at the right."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import Mark
from pitjournal.ui.look.parts.words import clear, rule, words

Head = tuple[str, int | None]
"""A column's heading, with the look of an arm or None."""


class FactTable(QWidget):
    """Rows with a label at the left and a cell for each column."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(tokens.M)
        self._grid.setVerticalSpacing(5)

    def show_rows(
        self,
        heads: Sequence[Head],
        rows: Sequence[tuple[str, Sequence[str]]],
        arms: Sequence[Head] = (),
    ) -> None:
        """Show rows under headings; `arms` are those of the rows, which then bear their marks."""
        clear(self._grid)
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        for place, (text, look) in enumerate(heads, 1):
            head = QWidget()
            line = QHBoxLayout(head)
            line.setContentsMargins(0, 0, 0, 0)
            line.setSpacing(2)
            line.addStretch(1)
            if look is not None:
                line.addWidget(Mark(look, text))
            line.addWidget(words(text, "heading", wrap=False))
            self._grid.addWidget(head, 0, place)
        self._grid.addWidget(rule(), 1, 0, 1, len(heads) + 1)
        for number, (label, cells) in enumerate(rows):
            below = 2 * number + 2
            arm = arms[number] if number < len(arms) else ("", None)
            self._grid.addWidget(_marked(label, arm), below, 0)
            for place, cell in enumerate(cells, 1):
                quiet = cell in {"–", "not recorded"}
                shown = words(cell, "quiet" if quiet else "", wrap=False, tabular=not quiet)
                shown.setAlignment(right)
                self._grid.addWidget(shown, below, place)
            self._grid.addWidget(rule(), below + 1, 0, 1, len(heads) + 1)
        self._grid.setColumnStretch(0, 1)
        self.updateGeometry()


def _marked(label: str, arm: Head) -> QWidget:
    """Return a row's label, behind the mark of its arm where it has one."""
    name, look = arm
    if look is None:
        return words(label)
    made = QWidget()
    line = QHBoxLayout(made)
    line.setContentsMargins(0, 0, 0, 0)
    line.setSpacing(tokens.XS)
    line.addWidget(Mark(look, name))
    line.addWidget(words(label), 1)
    return made
