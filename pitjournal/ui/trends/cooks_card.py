"""The cooks behind a mark: one tap opens one."""

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout

from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.words import clear
from pitjournal.ui.trends.drawing import CooksOfMark

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

    def show_cooks(self, behind: CooksOfMark) -> None:
        """Show the cooks of a mark."""
        clear(self.lines)
        self.heading.setText(f"Cooks behind {behind.words}")
        ids = list(dict.fromkeys(behind.cook_ids))
        found = self._desk.journal.cooks.lines(ids)
        for line in found[:MOST_COOKS]:
            self.lines.addWidget(
                button(f"{line.number}: {line.title}", self._opener(line.id), "link")
            )
        if 2 <= len(found) <= COMPARED:
            together = self._goer(Destination(place="compare", cook_ids=tuple(ids)))
            self.lines.addWidget(button("Side by side", together, "link"))
        if len(found) > MOST_COOKS:
            text = f"All {len(found)} in the list of cooks"
            listed = Destination(place="cooks", cook_ids=tuple(ids), named=behind.words)
            self.lines.addWidget(button(text, self._goer(listed), "link"))
        self.setVisible(bool(found))

    def _opener(self, cook_id: str) -> Callable[[], None]:
        return self._goer(Destination(place="cook", cook_id=cook_id, page="findings"))

    def _goer(self, there: Destination) -> Callable[[], None]:
        return lambda: self._desk.go_to(there)
