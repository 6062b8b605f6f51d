"""Sums beside the fields they come from: what, how much, and in quiet letters how."""

from collections.abc import Sequence

from PySide6.QtWidgets import QGridLayout, QWidget

from pitjournal.analysis.plan.calculators import Sum
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.words import clear, words


class Sums(QWidget):
    """A few sums; out of sight while there are none."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self._shown: tuple[Sum, ...] = ()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, tokens.XS, 0, tokens.XS)
        self._grid.setHorizontalSpacing(tokens.M)
        self._grid.setVerticalSpacing(0)
        self._grid.setColumnMinimumWidth(0, 116)
        self._grid.setColumnStretch(1, 1)
        self.hide()

    def show_sums(self, sums: Sequence[Sum]) -> None:
        """Show sums in their order."""
        self.setVisible(bool(sums))
        if tuple(sums) == self._shown:
            return
        self._shown = tuple(sums)
        clear(self._grid)
        for place, one in enumerate(self._shown):
            line = 3 * place
            self._grid.addWidget(words(one.what, "heading"), line, 0)
            value = words(one.value, "error" if one.look else "strong", tabular=True)
            self._grid.addWidget(value, line, 1)
            source = f" ({one.source})" if one.source else ""
            self._grid.addWidget(words(f"{one.formula}{source}", "quiet"), line + 1, 1)
            self._grid.setRowMinimumHeight(line + 2, tokens.XS)
        said = "; ".join(f"{one.what}: {one.value}" for one in self._shown)
        self.setAccessibleDescription(said)
        self.updateGeometry()
