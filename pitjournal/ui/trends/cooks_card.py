"""The cooks behind a mark: one tap opens one."""

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout

from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.words import clear
from pitjournal.ui.trends.drawing import Behind

MOST_COOKS = 20
"""So many cooks are named under the chart; the list of cooks shows the rest."""

COMPARED = 6


class CooksCard(Card):
    """Cooks by name, with a way to all of them and to a comparison of a few."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("Cooks behind it")
        self._desk = desk
        self.lines = QVBoxLayout()
        self.body.addLayout(self.lines)
        self.hide()

    def show_cooks(self, behind: Behind) -> None:
        """Show the cooks of a mark."""
        clear(self.lines)
        self.heading.setText(f"Cooks behind {behind.words}")
        ids = list(dict.fromkeys(behind.cook_ids))
        found = self._desk.journal.lines_of(ids)
        for line in found[:MOST_COOKS]:
            self.lines.addWidget(
                button(f"{line.number}: {line.title}", self._opener(line.id), "link")
            )
        if 2 <= len(found) <= COMPARED:
            side = button("Side by side", lambda: self._desk.compare(ids), "link")
            self.lines.addWidget(side)
        if len(found) > MOST_COOKS:
            text = f"All {len(found)} in the list of cooks"
            self.lines.addWidget(button(text, self._lister(ids, behind.words), "link"))
        self.setVisible(bool(found))

    def _opener(self, cook_id: str) -> Callable[[], None]:
        return lambda: self._desk.go("cook", cook_id, "findings")

    def _lister(self, ids: list[str], words: str) -> Callable[[], None]:
        return lambda: self._desk.listing.emit(ids, words)
